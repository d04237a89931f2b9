//! From results to pictures: which curves, bands and parts a figure or a drawing is made of.

mod curves;
mod linkage;
mod skeleton;

pub use curves::curves;
pub use linkage::{DrawnView, linkage};
