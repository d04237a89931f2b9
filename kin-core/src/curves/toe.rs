//! Toe.

use crate::numeric::real::Real;
use nalgebra::Vector3;

/// Toe of a left wheel (rad): the turn of the wheel plane about the vertical, positive toe-in.
///
/// * `spin_axis`: unit vector along the spin axis, pointing outboard
///
/// ISO 8855:2011, 7.1.6: static toe about Z of the vehicle, toe-in positive.
/// ```
/// use kin_core::nalgebra::Vector3;
/// let turn = 0.2_f64.to_radians();
/// let toe = kin_core::curves::toe(&Vector3::new(turn.sin(), turn.cos(), 0.0));
/// assert!((toe.to_degrees() - 0.2).abs() < 1e-12);
/// ```
pub fn toe<T: Real>(spin_axis: &Vector3<T>) -> T {
    spin_axis.x.angle(spin_axis.y)
}
