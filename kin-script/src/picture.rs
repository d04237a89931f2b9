//! From results to pictures: which curves, bands and parts a figure or a drawing is made of.

mod animation;
mod curves;
mod linkage;
mod skeleton;

pub use animation::animation;
pub use curves::curves;
pub use linkage::{DrawnView, linkage};
