//! The steering axis: the line through both ball joints.

use crate::numeric::real::Real;
use nalgebra::Vector3;

/// Caster (rad): lean of the steering axis in side view, positive when its top leans rearward.
///
/// * `lower`, `upper`: ball joints (mm)
pub fn caster<T: Real>(lower: &Vector3<T>, upper: &Vector3<T>) -> T {
    (lower.x - upper.x).angle(upper.z - lower.z)
}

/// Kingpin inclination, also steering-axis inclination (rad), of a left wheel: lean of the steering axis in front
/// view, positive when its top leans inboard.
///
/// * `lower`, `upper`: ball joints (mm)
pub fn kingpin_inclination<T: Real>(lower: &Vector3<T>, upper: &Vector3<T>) -> T {
    (lower.y - upper.y).angle(upper.z - lower.z)
}

/// Scrub radius (mm) of a left wheel, along Y of the vehicle: from where the steering axis meets the ground to the
/// contact point, positive when the axis meets the ground inboard of it.
///
/// Sign: D. C. Barton, J. D. Fieldhouse, Automotive Chassis Engineering, Springer 2018, p. 117.
///
/// * `lower`, `upper`: ball joints; `contact`: contact point (mm)
pub fn scrub_radius<T: Real>(lower: &Vector3<T>, upper: &Vector3<T>, contact: &Vector3<T>) -> T {
    contact.y - ground_point(lower, upper, contact.z).y
}

/// Caster trail (mm) along X of the vehicle: from the contact point to where the steering axis meets the ground,
/// positive when the axis meets the ground ahead of it.
///
/// * `lower`, `upper`: ball joints; `contact`: contact point (mm)
pub fn caster_trail<T: Real>(lower: &Vector3<T>, upper: &Vector3<T>, contact: &Vector3<T>) -> T {
    ground_point(lower, upper, contact.z).x - contact.x
}

/// Where the line through both ball joints is at a height.
fn ground_point<T: Real>(lower: &Vector3<T>, upper: &Vector3<T>, height: T) -> Vector3<T> {
    let along = upper - lower;
    lower + along * ((height - lower.z) / along.z)
}
