//! The alignment card and bump steer: an invented wagon solved elsewhere, a planar linkage worked by hand, exact rates.

mod bump_steer;
mod card;
mod questions;
