//! Shortest distances between simple solids, in closed form; round parts are a core with a radius around it.
//!
//! A capsule is a [`Segment`] with a radius, a sphere a segment without length, a tyre a [`Disc`] with half the
//! section width around it. The gap between two round parts is the distance of their cores less both radii: it goes
//! on below zero while they overlap, until the cores themselves meet. Beyond that nothing sensible can be said about
//! the depth, and [`Closest::touches`] says so.
//!
//! Segment, box, plane and point go by exact formulas (errors of the order of round-off, 1e-13 of the size of the
//! coordinates). Only the disc needs an iteration, one bounded bracketed root for each edge of the other body; its
//! distances are good to 1e-9 mm.

mod closest;
mod cuboid;
mod disc;
mod half_space;
mod segment;

pub use closest::{Closest, Core, closest};
pub use cuboid::Cuboid;
pub use disc::Disc;
pub use half_space::HalfSpace;
pub use segment::Segment;

/// Cores nearer than this (mm) count as touching: the direction between them is lost in round-off.
const TOUCHING_MM: f64 = 1e-9;
