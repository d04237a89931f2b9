//! Roll centre height.

use crate::numeric::real::{Moving, Real, rate};
use nalgebra::Vector3;

/// A vertical rate of the contact point below this share of the wheel's makes the roll centre run off to infinity.
const VANISHING: f64 = 1e-9;

/// Roll centre height of a symmetric pair of independent wheels (mm), above the ground under the contact point.
///
/// `y dy/dz` of the geometric contact point: the line from the contact point at right angles to its path meets the
/// middle of the car there. None where the contact point stops rising with the wheel.
///
/// * `contact`: contact point of the left wheel with its rate per wheel travel (mm)
pub fn roll_centre_of_pair<T: Real>(contact: &Vector3<Moving<T>>) -> Option<T> {
    let rate = rate(contact);
    (rate.z.re().abs() > VANISHING).then(|| contact.y.re * rate.y / rate.z)
}

/// Roll centre height of a live axle (mm), above the middle between its contact points.
///
/// In pure roll the point at this height moves with the axle without sideways motion: `v_y / w_x`.
///
/// * `middle`: the middle between both contact points, moving with the axle in roll
/// * `angular_rate`: angular rate of the axle in the same roll
pub fn roll_centre_of_axle<T: Real>(middle: &Vector3<Moving<T>>, angular_rate: &Vector3<T>) -> Option<T> {
    (angular_rate.x.re().abs() > VANISHING * 1e-3).then(|| rate(middle).y / angular_rate.x)
}
