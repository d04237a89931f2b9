//! Camber.

use crate::numeric::real::Real;
use nalgebra::Vector3;

/// Camber of a left wheel (rad): the lean of the wheel plane, positive when the top leans outboard.
///
/// * `spin_axis`: unit vector along the spin axis, pointing outboard
///
/// Sign after ISO 8855 (from memory). See [`conventions`](crate::conventions).
/// ```
/// use kin_core::nalgebra::Vector3;
/// let lean = 1.5_f64.to_radians();
/// let camber = kin_core::curves::camber(&Vector3::new(0.0, lean.cos(), -lean.sin()));
/// assert!((camber.to_degrees() - 1.5).abs() < 1e-12);
/// ```
pub fn camber<T: Real>(spin_axis: &Vector3<T>) -> T {
    (-spin_axis.z).asin()
}
