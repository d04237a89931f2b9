//! A suspension ready to be moved: its linkage, what is mounted on it, and its positions.

mod axle;
mod axle_geometry;
mod axle_sweep;
mod contact_point;
mod corner;
mod corner_geometry;
mod corner_sweep;
mod length_curve;
mod mounted;
mod ride;

pub use axle::{Axle, AxleAlong, AxlePosition, AxleTravel};
pub(crate) use axle::{AxleState, ROLL};
pub(crate) use axle_geometry::{AxleGeometry, AxleNumbers};
pub(crate) use contact_point::contact_point;
pub(crate) use corner::CornerState;
pub use corner::{Along, Corner, CornerPosition};
pub(crate) use corner_geometry::{CornerGeometry, CornerNumbers};
pub(crate) use length_curve::LengthCurve;
pub(crate) use mounted::Mounted;
