//! Contact point of the wheel with the ground.

use crate::numeric::real::Over;
use nalgebra::Vector3;

/// The lowest point of the wheel disc (mm).
///
/// * `centre`: wheel centre
/// * `spin_axis`: unit vector along the spin axis
/// * `tyre_radius`: loaded radius (mm)
///
/// The direction down the wheel plane is `((e_z . s) s - e_z)`, made a unit vector.
pub(crate) fn contact_point<T: Over<F>, F>(
    centre: &Vector3<T>,
    spin_axis: &Vector3<T>,
    tyre_radius: F,
) -> Vector3<T> {
    let mut down = spin_axis * spin_axis.z;
    down.z -= T::from(1.0);
    let length = (T::from(1.0) - spin_axis.z * spin_axis.z).sqrt();
    centre + down * (T::of(tyre_radius) / length)
}
