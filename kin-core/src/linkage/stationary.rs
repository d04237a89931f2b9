//! The balance of a carrier that is held by more rods than it needs.
//!
//! The pose minimises half the sum of `k (length - rigid length)^2` with the wheel heights prescribed. At the
//! minimum, the forces of the stretched rods and of the drives balance: six equations, and the drives add theirs.
//! Written once for any number type, the same lines give the balance, its exact Jacobian and the right-hand
//! side of the second rates, with the curvature of the stretched rods included.

use super::{LEVER_MM, Linkage};
use crate::numeric::real::{Real, fixed, length};
use nalgebra::{Matrix3, Vector3};

/// Unknowns of the balance: linear (3), angular (3), and the force of each drive (2).
pub(crate) const STATIONARY: usize = 8;

/// Unbalanced force and moment (the moment over a lever), and the miss of the drives.
///
/// * `displacement`, `rotation`: the pose
/// * `forces`: the two drive forces, in the units of the rods' stiffness times mm
/// * `heave`, `half_difference`: what is asked
pub(crate) fn stationarity<T: Real>(
    linkage: &Linkage,
    displacement: &Vector3<T>,
    rotation: &Matrix3<T>,
    forces: [T; 2],
    heave: T,
    half_difference: T,
) -> [T; STATIONARY] {
    let mut force = Vector3::new(T::from(0.0), T::from(0.0), forces[0]);
    let mut moment = Vector3::<T>::zeros();
    let mut misses = [displacement.z - heave, T::from(0.0)];
    if let Some(half_axle) = &linkage.half_axle {
        let arm = rotation * fixed::<T>(half_axle);
        misses[1] = arm.z - T::from(half_axle.z) - half_difference;
        moment += arm.cross(&Vector3::new(T::from(0.0), T::from(0.0), forces[1]));
    }
    for rod in &linkage.rods {
        let arm = rotation * fixed::<T>(&rod.carrier);
        let shift = displacement + arm - fixed::<T>(&rod.carrier);
        let span = fixed::<T>(&rod.span) + shift;
        let span_length = length(&span);
        // (l^2 - L^2) / (l + L), from the shift alone: no digits lost where the stretch is small
        let excess = shift.dot(&fixed::<T>(&rod.span)) * 2.0 + shift.dot(&shift);
        let stretch = excess / (span_length + rod.length);
        let pull = span * (stretch * rod.stiffness / span_length);
        force += pull;
        moment += arm.cross(&pull);
    }
    let lever = 1.0 / LEVER_MM;
    [
        force.x,
        force.y,
        force.z,
        moment.x * lever,
        moment.y * lever,
        moment.z * lever,
        misses[0],
        misses[1],
    ]
}
