//! What was measured or drawn: pickup points, dampers, stops and ride height, checked with sentences.

mod damper;
mod double_wishbone;
mod live_axle;
mod measured;
mod named;
mod ride_height;
mod stops;
pub(crate) mod validate;

pub use damper::{Damper, Spring};
pub use double_wishbone::{Arm, DoubleWishbone, RightSide, Side, TieRod, Wheel};
pub use live_axle::{AxleSides, AxleWheels, Link, LiveAxle, Pinion};
pub use measured::{Measured, Quantity};
pub use named::{Named, Walk};
pub use ride_height::RideHeight;
pub use stops::{Stops, Strap, Wanted};
pub use validate::PickupError;
pub(crate) use validate::wanted_travel;

pub(crate) use measured::lengths;
pub(crate) use validate::{
    angle_within, coordinates, finite, incomplete, known_part, length_within, positive, positive_of, within,
    within_of,
};

use nalgebra::Vector3;

/// A place in vehicle axes: X forward, Y left, Z up (mm), see [`conventions`](crate::conventions).
pub type Point = Vector3<f64>;

/// The same place on the other side of the car.
#[must_use]
pub fn mirrored(point: &Point) -> Point {
    Point::new(point.x, -point.y, point.z)
}
