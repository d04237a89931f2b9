//! The balance of a carrier that is held by more rods than it needs.
//!
//! The pose minimises half the sum of `k (length - rigid length)^2` with the wheel heights prescribed. At the
//! minimum, the forces of the stretched rods and of the drives balance: six equations, and the drives add theirs.
//! Written once for any number type, the same lines give the balance, its exact Jacobian and the right-hand
//! side of the second rates, with the curvature of the stretched rods included.

use super::{LEVER_MM, Linkage};
use crate::numeric::real::{Over, Real, length};
use nalgebra::{Matrix3, Vector3};

/// Unknowns of the balance: linear (3), angular (3), and the force of each drive (2).
pub(crate) const STATIONARY: usize = 8;

/// A rod as measured, seen from the carrier's origin; `F` is the number type of the geometry.
pub(crate) struct StretchedRod<F> {
    /// The carrier joint.
    pub(crate) carrier: Vector3<F>,
    /// From the body joint to the carrier joint.
    pub(crate) span: Vector3<F>,
    pub(crate) length: F,
    /// Axial stiffness; only ratios matter.
    pub(crate) stiffness: F,
}

impl Linkage {
    /// The balance of this linkage, see [`stationarity`].
    pub(crate) fn stationarity<T: Real>(
        &self,
        displacement: &Vector3<T>,
        rotation: &Matrix3<T>,
        forces: [T; 2],
        command: [T; 2],
    ) -> [T; STATIONARY] {
        let rods = self.rods.iter().map(|rod| StretchedRod {
            carrier: rod.carrier,
            span: rod.span,
            length: rod.length,
            stiffness: rod.stiffness,
        });
        let half_axle = self.half_axle.as_ref();
        stationarity(rods, half_axle, displacement, rotation, forces, command)
    }
}

/// Unbalanced force and moment (the moment over a lever), and the miss of the drives.
///
/// * `displacement`, `rotation`: the pose
/// * `forces`: the two drive forces, in the units of the rods' stiffness times mm
/// * `command`: heave and half difference, as asked
pub(crate) fn stationarity<T: Over<F>, F: Real>(
    rods: impl Iterator<Item = StretchedRod<F>>,
    half_axle: Option<&Vector3<F>>,
    displacement: &Vector3<T>,
    rotation: &Matrix3<T>,
    forces: [T; 2],
    [heave, half_difference]: [T; 2],
) -> [T; STATIONARY] {
    let mut force = Vector3::new(T::from(0.0), T::from(0.0), forces[0]);
    let mut moment = Vector3::<T>::zeros();
    let mut misses = [displacement.z - heave, T::from(0.0)];
    if let Some(half_axle) = half_axle {
        let arm = rotation * half_axle.map(T::of);
        misses[1] = arm.z.minus(half_axle.z) - half_difference;
        moment += arm.cross(&Vector3::new(T::from(0.0), T::from(0.0), forces[1]));
    }
    for rod in rods {
        let (carrier, rigid_span) = (rod.carrier.map(T::of), rod.span.map(T::of));
        let arm = rotation * carrier;
        let shift = displacement + arm - carrier;
        let span = rigid_span + shift;
        let span_length = length(&span);
        // (l^2 - L^2) / (l + L), from the shift alone: no digits lost where the stretch is small
        let excess = shift.dot(&rigid_span) * 2.0 + shift.dot(&shift);
        let stretch = excess / span_length.plus(rod.length);
        let pull = span * (stretch.times(rod.stiffness) / span_length);
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
