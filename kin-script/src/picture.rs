//! From results to pictures: which curves, bands and parts a figure or a drawing is made of.

mod animation;
mod bracket;
mod construction;
mod curves;
mod events;
mod least_gap;
mod linkage;
mod measures;
mod skeleton;
mod stroke_zones;

pub use animation::animation;
pub use bracket::BracketDrawing;
pub use curves::curves;
pub use events::{Event, mark, mark_places};
pub use least_gap::{gap_close_up, least_gap};
pub use linkage::{DrawnView, Extras, linkage, linkage_with};
pub(crate) use stroke_zones::{axle_stroke_zones, stroke_zones};
