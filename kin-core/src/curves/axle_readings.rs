//! The first-order quantities of a live axle, all at once.

use super::{ValueAndRates, axle_roll, axle_steer, pinion_nose_up_change};
use crate::numeric::real::Moving;
use crate::pickups::AxleSides;
use crate::suspension::AxlePosition;
use nalgebra::{Matrix3, Vector3};
use num_dual::Dual64;

/// What a sweep reads from one position of an axle: where it is, and angles and damper lengths with their exact rates in
/// heave and in roll.
///
/// The same numbers as from [`AxleCurve`](super::AxleCurve) and the pose, without a second solve for the rates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxleReadings {
    /// Displacement of the middle between both wheel centres (mm).
    pub displacement: Vector3<f64>,
    /// Rotation of the axle since the pickups were measured.
    pub rotation: Matrix3<f64>,
    /// See [`axle_steer`](super::axle_steer()).
    pub steer: ValueAndRates,
    /// See [`axle_roll`](super::axle_roll()).
    pub roll: ValueAndRates,
    /// See [`pinion_nose_up_change`](super::pinion_nose_up_change()).
    pub pinion_nose_up_change: ValueAndRates,
    /// Distances between the mounts of the left and of the right damper; none without dampers.
    pub damper_lengths: Option<[ValueAndRates; 2]>,
}

impl AxlePosition<'_> {
    /// Pose, angles and damper lengths with their exact rates in heave and in roll, in one go.
    #[must_use]
    #[inline]
    pub fn readings(&self) -> AxleReadings {
        let state = self.state_as_solved();
        // One dual number within the other: both rates with one evaluation of each angle. Nothing reads their mixed rate.
        let rotation = state
            .heave
            .rotation()
            .zip_map(&state.roll.rotation(), |heave, roll| {
                Moving::new(Dual64::new(heave.re, roll.eps), Dual64::from_re(heave.eps))
            });
        let angle = |formula: fn(&Matrix3<Moving<Dual64>>) -> Moving<Dual64>| {
            let angle = formula(&rotation);
            ValueAndRates {
                value: angle.re.re,
                in_heave: angle.eps.re,
                in_roll: angle.re.eps,
            }
        };
        let damper_lengths = match &state.geometry.dampers {
            Some(AxleSides {
                left,
                right: Some(right),
            }) => Some(
                [left, right]
                    .map(|part| ValueAndRates::new(part.length(&state.heave), part.length(&state.roll))),
            ),
            _ => None,
        };
        AxleReadings {
            displacement: self.pose().displacement(),
            rotation: self.pose().rotation(),
            steer: angle(axle_steer),
            roll: angle(axle_roll),
            pinion_nose_up_change: angle(pinion_nose_up_change),
            damper_lengths,
        }
    }
}
