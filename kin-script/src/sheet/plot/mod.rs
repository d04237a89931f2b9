//! Curves over a shared axis, in one to six panels, as SVG text.
//!
//! ```
//! use kin_script::sheet::plot::{Axis, Figure, Panel, Series};
//!
//! let camber = Series::new("original arms", vec![(-40.0, 0.3), (0.0, -0.5), (40.0, -1.4)]);
//! let figure = Figure {
//!     title: "Camber over travel".into(),
//!     x: Axis::new("Wheel travel", "mm").with_words("droop", "bump"),
//!     panels: vec![Panel { series: vec![camber], ..Panel::new(Axis::new("Camber", "deg").with_words("leans in", "leans out")) }],
//!     ..Figure::default()
//! };
//! assert!(figure.svg()?.contains("Camber (deg)"));
//! # Ok::<(), kin_script::sheet::PictureError>(())
//! ```

mod beside;
pub(super) mod canvas;
mod check;
mod curve;
mod figure;
mod flags;
mod frame;
mod layout;
mod look;
mod margin;
mod marks;
mod model;
mod panel;
#[cfg(test)]
mod samples;
#[cfg(test)]
mod tests;
pub(crate) mod ticks;
mod zone;

pub use model::{Axis, Band, BandKind, Emphasis, Envelope, Figure, Limit, LimitKind, Mark, Panel, Series};
