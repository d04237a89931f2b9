//! The first-order quantities of a corner, all at once.

use super::{ValueAndRate, camber, caster, toe};
use crate::numeric::real::value;
use crate::pickups::{Point, Side, mirrored};
use crate::suspension::CornerPosition;

/// What a sweep reads from one position: the moving points, and angles and damper length with their exact rates.
///
/// The same numbers as from [`CornerCurve`](super::CornerCurve) and the position, without a second solve for the rates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CornerReadings {
    /// Centre of the upper ball joint (mm).
    pub upper_ball_joint: Point,
    /// Centre of the lower ball joint (mm).
    pub lower_ball_joint: Point,
    /// Outer joint of the tie rod (mm).
    pub tie_rod_outer: Point,
    /// Wheel centre (mm).
    pub wheel_centre: Point,
    /// The damper's moving mount (mm); none without a damper.
    pub damper_lower_mount: Option<Point>,
    /// See [`camber`](super::camber()).
    pub camber: ValueAndRate,
    /// See [`toe`](super::toe()).
    pub toe: ValueAndRate,
    /// See [`caster`](super::caster()).
    pub caster: ValueAndRate,
    /// Distance between the damper's mounts; none without a damper.
    pub damper_length: Option<ValueAndRate>,
}

impl CornerReadings {
    /// See [`motion_ratio`](super::motion_ratio()); none without a damper.
    #[must_use]
    pub fn motion_ratio(&self) -> Option<f64> {
        self.damper_length.map(|length| -length.rate)
    }

    /// Puts the points on the other side of the car.
    #[cold]
    fn mirror(&mut self) {
        let points = [
            &mut self.upper_ball_joint,
            &mut self.lower_ball_joint,
            &mut self.tie_rod_outer,
            &mut self.wheel_centre,
        ];
        for point in points.into_iter().chain(&mut self.damper_lower_mount) {
            *point = mirrored(point);
        }
    }
}

impl CornerPosition<'_> {
    /// Moving points, angles and damper length with their exact rates per mm of travel, in one go.
    #[must_use]
    #[inline]
    pub fn readings(&self) -> CornerReadings {
        let state = self.state_as_solved();
        let spin_axis = state.spin_axis();
        let (lower, upper) = (state.lower_ball_joint(), state.upper_ball_joint());
        let damper = state.geometry.damper.as_ref();
        let damper = damper.map(|part| part.lower_and_length(&state.carrier));
        let mut readings = CornerReadings {
            upper_ball_joint: value(&upper),
            lower_ball_joint: value(&lower),
            tie_rod_outer: value(&state.tie_rod_outer()),
            wheel_centre: value(&state.wheel_centre()),
            damper_lower_mount: damper.map(|(lower, _)| value(&lower)),
            camber: camber(&spin_axis).into(),
            toe: toe(&spin_axis).into(),
            caster: caster(&lower, &upper).into(),
            damper_length: damper.map(|(_, length)| length.into()),
        };
        if self.corner().side() == Side::Right {
            readings.mirror();
        }
        readings
    }
}
