//! Side-view slopes.

use crate::numeric::real::Real;
use nalgebra::Vector3;

/// Slope dx/dz of a point's path in side view, positive when it moves forward as it rises.
///
/// For the contact point with the brake locked, take the rate of the carrier's material point there; its negative
/// is the anti-squat slope of a driven live axle. None where the point does not rise.
///
/// * `rate`: rate of the point per wheel travel
pub fn side_view_slope<T: Real>(rate: &Vector3<T>) -> Option<T> {
    (rate.z.re().abs() > 1e-9).then(|| rate.x / rate.z)
}
