//! The curves of a live axle, by name.

use super::quantity::CurveInfo;
use super::{
    WheelRate, axle_roll, axle_steer, motion_ratio, pinion_nose_up_change, roll_centre_of_axle,
    side_view_instant_centre, side_view_slope, wheel_rate,
};
use crate::Dimension;
use crate::numeric::real::{Moving, Over, Real, value};
use crate::pickups::AxleSides;
use crate::pose::CarrierMotion;
use crate::suspension::{AxleAlong, AxlePosition, AxleState, Mounted};
use nalgebra::Vector3;

/// A quantity of a live axle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum AxleCurve {
    /// See [`axle_roll`](super::axle_roll()).
    RollAngle,
    /// See [`axle_steer`](super::axle_steer()).
    AxleSteer,
    /// Axle steer per roll, in pure roll from here.
    RollSteer,
    /// Pinion angle: as measured, plus its change.
    PinionAngle,
    /// Sideways shift of the axle's middle since the pickups were measured.
    LateralShift,
    /// Fore-and-aft shift of the axle's middle since the pickups were measured.
    ForeAftShift,
    /// Distance between the left damper's mounts.
    DamperLengthLeft,
    /// Distance between the right damper's mounts.
    DamperLengthRight,
    /// Motion ratio of the left damper with both wheels moving together.
    MotionRatioLeft,
    /// Motion ratio of the right damper with both wheels moving together.
    MotionRatioRight,
    /// Motion ratio of the left damper in roll: damper travel over travel of its own wheel.
    MotionRatioRollLeft,
    /// Motion ratio of the right damper in roll: damper travel over travel of its own wheel.
    MotionRatioRollRight,
    /// Wheel rate of the left spring with both wheels moving together.
    WheelRateLeft,
    /// Wheel rate of the right spring with both wheels moving together.
    WheelRateRight,
    /// Wheel rate of the left spring in roll.
    WheelRateRollLeft,
    /// Wheel rate of the right spring in roll.
    WheelRateRollRight,
    /// See [`roll_centre_of_axle`](super::roll_centre_of_axle()).
    RollCentreHeight,
    /// Forward place of the side-view instant centre, left wheel.
    SideViewInstantCentreX,
    /// Its height above the ground.
    SideViewInstantCentreHeight,
    /// Minus the side-view slope of the left contact point, brake locked: positive means that drive lifts the body.
    AntiSquatSlope,
    /// Side-view slope of the axle's middle.
    AxleCentreSlope,
}

use AxleCurve as C;

impl AxleCurve {
    /// Every curve, in the order of tables.
    pub const ALL: [Self; 21] = [
        C::RollAngle,
        C::AxleSteer,
        C::RollSteer,
        C::PinionAngle,
        C::LateralShift,
        C::ForeAftShift,
        C::DamperLengthLeft,
        C::DamperLengthRight,
        C::MotionRatioLeft,
        C::MotionRatioRight,
        C::MotionRatioRollLeft,
        C::MotionRatioRollRight,
        C::WheelRateLeft,
        C::WheelRateRight,
        C::WheelRateRollLeft,
        C::WheelRateRollRight,
        C::RollCentreHeight,
        C::SideViewInstantCentreX,
        C::SideViewInstantCentreHeight,
        C::AntiSquatSlope,
        C::AxleCentreSlope,
    ];

    /// The curve of this name, if there is one.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|curve| curve.info().key == key)
    }

    /// Name, dimension and meaning.
    #[must_use]
    pub const fn info(self) -> CurveInfo {
        use Dimension::{Angle, Length, Rate, Ratio};
        let (key, title, dimension, low, high) = match self {
            C::RollAngle => (
                "roll_angle",
                "Roll of the axle",
                Angle,
                "left wheel down",
                "left wheel up",
            ),
            C::AxleSteer => ("axle_steer", "Axle steer", Angle, "steers right", "steers left"),
            C::RollSteer => ("roll_steer", "Roll steer (axle steer over roll)", Ratio, "", ""),
            C::PinionAngle => ("pinion_angle", "Pinion angle", Angle, "nose down", "nose up"),
            C::LateralShift => (
                "lateral_shift",
                "Lateral shift of the axle",
                Length,
                "to the right",
                "to the left",
            ),
            C::ForeAftShift => (
                "fore_aft_shift",
                "Fore-and-aft shift of the axle",
                Length,
                "rearward",
                "forward",
            ),
            C::DamperLengthLeft => (
                "damper_length_left",
                "Damper length, left",
                Length,
                "shorter",
                "longer",
            ),
            C::DamperLengthRight => (
                "damper_length_right",
                "Damper length, right",
                Length,
                "shorter",
                "longer",
            ),
            C::MotionRatioLeft => (
                "motion_ratio_left",
                "Motion ratio, both wheels, left damper",
                Ratio,
                "",
                "",
            ),
            C::MotionRatioRight => (
                "motion_ratio_right",
                "Motion ratio, both wheels, right damper",
                Ratio,
                "",
                "",
            ),
            C::MotionRatioRollLeft => (
                "motion_ratio_roll_left",
                "Motion ratio in roll, left damper",
                Ratio,
                "",
                "",
            ),
            C::MotionRatioRollRight => (
                "motion_ratio_roll_right",
                "Motion ratio in roll, right damper",
                Ratio,
                "",
                "",
            ),
            C::WheelRateLeft => (
                "wheel_rate_left",
                "Wheel rate, both wheels, left",
                Rate,
                "softer",
                "stiffer",
            ),
            C::WheelRateRight => (
                "wheel_rate_right",
                "Wheel rate, both wheels, right",
                Rate,
                "softer",
                "stiffer",
            ),
            C::WheelRateRollLeft => (
                "wheel_rate_roll_left",
                "Wheel rate in roll, left",
                Rate,
                "softer",
                "stiffer",
            ),
            C::WheelRateRollRight => (
                "wheel_rate_roll_right",
                "Wheel rate in roll, right",
                Rate,
                "softer",
                "stiffer",
            ),
            C::RollCentreHeight => (
                "roll_centre_height",
                "Roll centre above ground",
                Length,
                "below ground",
                "above ground",
            ),
            C::SideViewInstantCentreX => (
                "side_view_instant_centre_x",
                "Side-view instant centre, X",
                Length,
                "rearward",
                "forward",
            ),
            C::SideViewInstantCentreHeight => (
                "side_view_instant_centre_height",
                "Side-view instant centre above ground",
                Length,
                "below ground",
                "above ground",
            ),
            C::AntiSquatSlope => (
                "anti_squat_slope",
                "Anti-squat slope",
                Ratio,
                "drive squats the body",
                "drive lifts the body",
            ),
            C::AxleCentreSlope => (
                "axle_centre_slope",
                "Side-view slope of the axle's middle",
                Ratio,
                "rearward in bump",
                "forward in bump",
            ),
        };
        CurveInfo {
            key,
            title,
            dimension,
            low,
            high,
        }
    }

    pub(crate) fn evaluate<T: Over<F>, F: Real>(self, state: &AxleState<'_, T, F>) -> Option<T>
    where
        Moving<T>: Over<F>,
    {
        let geometry = state.geometry;
        let shift = || state.heave.displacement;
        let contact = || state.contact(&state.heave, 1.0);
        let side_view = || {
            let contact = value(&contact());
            let locked = state.heave.rate_at(&contact);
            side_view_instant_centre(&contact, &locked, &state.heave.angular)
        };
        match self {
            C::RollAngle => Some(axle_roll(&state.rotation())),
            C::AxleSteer => Some(axle_steer(&state.rotation())),
            C::RollSteer => {
                let rolling = state.roll.rotation();
                let (steer, roll): (Moving<T>, Moving<T>) = (axle_steer(&rolling), axle_roll(&rolling));
                Some(steer.eps / roll.eps)
            }
            C::PinionAngle => geometry
                .nose_up
                .map(|nose_up| pinion_nose_up_change(&state.rotation()).plus(nose_up)),
            C::LateralShift => Some(shift().y),
            C::ForeAftShift => Some(shift().x),
            C::DamperLengthLeft => {
                mounted_length(&geometry.dampers, 1.0, &state.heave).map(|length| length.re)
            }
            C::DamperLengthRight => {
                mounted_length(&geometry.dampers, -1.0, &state.heave).map(|length| length.re)
            }
            C::MotionRatioLeft => {
                mounted_length(&geometry.dampers, 1.0, &state.heave).map(|length| motion_ratio(&length))
            }
            C::MotionRatioRight => {
                mounted_length(&geometry.dampers, -1.0, &state.heave).map(|length| motion_ratio(&length))
            }
            C::MotionRatioRollLeft => {
                mounted_length(&geometry.dampers, 1.0, &state.roll).map(|length| motion_ratio(&length))
            }
            // The right wheel goes down in this roll; its own bump is the other way round.
            C::MotionRatioRollRight => {
                mounted_length(&geometry.dampers, -1.0, &state.roll).map(|length| -motion_ratio(&length))
            }
            // These need the slope of the motion ratio: see `wheel_rate_at`.
            C::WheelRateLeft | C::WheelRateRight | C::WheelRateRollLeft | C::WheelRateRollRight => None,
            C::RollCentreHeight => {
                let sum = state.contact_as_material(1.0) + state.contact_as_material(-1.0);
                let middle: Vector3<Moving<T>> = sum * Moving::from(0.5);
                roll_centre_of_axle(&middle, &state.roll.angular)
            }
            C::SideViewInstantCentreX => side_view().map(|centre| centre.x),
            C::SideViewInstantCentreHeight => side_view().map(|centre| centre.z - contact().z.re),
            C::AntiSquatSlope => {
                side_view_slope(&state.heave.rate_at(&value(&contact()))).map(|slope| -slope)
            }
            C::AxleCentreSlope => side_view_slope(&state.heave.linear),
        }
    }

    /// The value at a position (mm, rad, N/mm or a ratio).
    ///
    /// None where it does not exist: without dampers, springs or pinion, or with an instant centre at infinity.
    #[must_use]
    pub fn value(self, position: &AxlePosition<'_>) -> Option<f64> {
        let value = match self.spring_side() {
            Some(_) => self.wheel_rate_at(position).map(|rate| rate.total()),
            None => self.evaluate(&position.state()),
        };
        value.filter(|value| value.is_finite())
    }

    /// The exact rate at a position, per mm of heave, or per mm of the left wheel up and the right one down.
    ///
    /// None where the value does not exist, at the very limit of reach, and for wheel rates.
    #[must_use]
    pub fn rate(self, position: &AxlePosition<'_>, along: AxleAlong) -> Option<f64> {
        let dual = self.evaluate(&position.state_along(along)?)?;
        Some(dual.eps).filter(|rate| rate.is_finite())
    }

    /// For a wheel rate: the side (1 left, -1 right) and the motion.
    pub(crate) fn spring_side(self) -> Option<(f64, AxleAlong)> {
        match self {
            C::WheelRateLeft => Some((1.0, AxleAlong::Heave)),
            C::WheelRateRight => Some((-1.0, AxleAlong::Heave)),
            C::WheelRateRollLeft => Some((1.0, AxleAlong::Roll)),
            C::WheelRateRollRight => Some((-1.0, AxleAlong::Roll)),
            _ => None,
        }
    }

    /// Both parts of a wheel rate at a position; none without springs, and for curves that are no wheel rate.
    #[must_use]
    pub fn wheel_rate_at(self, position: &AxlePosition<'_>) -> Option<WheelRate> {
        let (side, along) = self.spring_side()?;
        let axle = position.axle();
        let springs = axle.pickups().springs.as_ref()?;
        let spring = if side > 0.0 {
            &springs.left
        } else {
            springs.right.as_ref()?
        };
        let state = position.state_along(along)?;
        let carrier = if along == AxleAlong::Heave {
            &state.heave
        } else {
            &state.roll
        };
        let length = mounted_length(&axle.geometry.springs, side, carrier)?;
        // In roll the right wheel's own bump is against the motion: the ratio changes sign, its slope does not.
        let own = if along == AxleAlong::Roll { side } else { 1.0 };
        let ratio = motion_ratio(&length);
        Some(wheel_rate(
            spring.rate,
            own * ratio.re,
            ratio.eps,
            spring.force(length.re.re),
        ))
    }
}

/// Length of the part on one side (1 left, -1 right), with its rates.
pub(crate) fn mounted_length<T: Over<F>, F: Real>(
    parts: &Option<AxleSides<Mounted<F>>>,
    side: f64,
    carrier: &CarrierMotion<T, F>,
) -> Option<Moving<T>>
where
    Moving<T>: Over<F>,
{
    let parts = parts.as_ref()?;
    let part = if side > 0.0 {
        Some(&parts.left)
    } else {
        parts.right.as_ref()
    };
    part.map(|part| part.length(carrier))
}
