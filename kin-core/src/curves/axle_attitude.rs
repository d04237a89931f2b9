//! How a live axle stands: steer, roll and pinion angle.

use crate::numeric::real::Real;
use nalgebra::Matrix3;

/// Axle steer (rad), positive when the axle steers to the left.
///
/// * `rotation`: rotation of the axle since the pickups were measured
///
/// The turn of the line through both wheel centres, seen from above: `-atan2(R01, R11)`, consistent with toe.
pub fn axle_steer<T: Real>(rotation: &Matrix3<T>) -> T {
    -(rotation[(0, 1)].angle(rotation[(1, 1)]))
}

/// Roll of the axle relative to the body (rad), positive with the left wheel up.
///
/// * `rotation`: rotation of the axle since the pickups were measured
///
/// The rise of the line through both wheel centres over its length across and along: `asin(R21)`.
pub fn axle_roll<T: Real>(rotation: &Matrix3<T>) -> T {
    rotation[(2, 1)].asin()
}

/// Change of the pinion angle (rad), positive when the pinion's nose has turned up.
///
/// * `rotation`: rotation of the axle since the pickups were measured
///
/// The rise of the axle's own forward direction in side view: `asin(R20)`.
pub fn pinion_nose_up_change<T: Real>(rotation: &Matrix3<T>) -> T {
    rotation[(2, 0)].asin()
}
