//! Linkages drawn to scale in one to three views, as SVG text.
//!
//! ```
//! use kin_script::sheet::drawing::{Bar, BarStyle, Direction, Drawing, Joint, Layer, Pose, Shape, View};
//!
//! let arm = Shape::Bar(Bar { from: (400.0, 410.0), to: (650.0, 460.0), style: BarStyle::Arm, label: Some("upper arm".into()) });
//! let joint = Shape::Joint(Joint { at: (650.0, 460.0), label: Some("ball joint".into()) });
//! let view = View {
//!     layers: vec![Layer { pose: Pose::Main, name: "ride height".into(), shapes: vec![arm, joint] }],
//!     ..View::new("Front view", Direction::new("left"), Direction::new("up"))
//! };
//! let drawing = Drawing { title: "Front corner".into(), views: vec![view], ..Drawing::default() };
//! assert!(drawing.svg()?.contains("ball joint"));
//! # Ok::<(), kin_script::sheet::PictureError>(())
//! ```

mod arrange;
mod bars;
mod check;
mod dimension;
mod dimension_rows;
mod footer;
mod labels;
mod lever;
mod model;
mod outline;
pub(in crate::sheet) mod pen;
mod picture;
mod projection;
#[cfg(test)]
mod samples;
mod spring;
mod template;
#[cfg(test)]
mod tests;
mod view;
mod wheel;

pub use lever::{LeverEnd, LeverPicture};
pub use model::{
    Bar, BarStyle, Construction, Dimension, DimensionPlace, Direction, Drawing, Joint, Layer, Marker,
    Outline, OutlineKind, Pose, ScaleUnit, Shape, View, Wheel,
};
pub use template::{Hole, Page, Template};
