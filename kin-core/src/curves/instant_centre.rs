//! Instant centres of the carrier in front and side view.

use crate::numeric::real::Real;
use nalgebra::Vector3;

/// Below this turn per mm of travel (rad/mm) the instant centre is farther than 10 km: taken as at infinity.
const PARALLEL: f64 = 1e-7;

/// Front-view instant centre: the point, in the plane across the car through `place`, that has no motion within
/// that plane. None where the carrier does not turn there (parallel arms).
///
/// * `place`: a point of the plane, usually the contact point (mm)
/// * `rate`: rate of the carrier's material point there, per wheel travel
/// * `angular_rate`: angular rate of the carrier (rad/mm)
///
/// From `rate + w cross d = 0` in Y and Z with `d_x = 0`.
pub fn front_view_instant_centre<T: Real>(
    place: &Vector3<T>,
    rate: &Vector3<T>,
    angular_rate: &Vector3<T>,
) -> Option<Vector3<T>> {
    let turn = angular_rate.x;
    (turn.re().abs() > PARALLEL)
        .then(|| Vector3::new(place.x, place.y - rate.z / turn, place.z + rate.y / turn))
}

/// Side-view instant centre: the point, in the plane along the car through `place`, that has no motion within that
/// plane. None where the carrier does not turn there.
///
/// Arguments as in [`front_view_instant_centre`]; from `rate + w cross d = 0` in X and Z with `d_y = 0`.
pub fn side_view_instant_centre<T: Real>(
    place: &Vector3<T>,
    rate: &Vector3<T>,
    angular_rate: &Vector3<T>,
) -> Option<Vector3<T>> {
    let turn = angular_rate.y;
    (turn.re().abs() > PARALLEL)
        .then(|| Vector3::new(place.x + rate.z / turn, place.y, place.z - rate.x / turn))
}
