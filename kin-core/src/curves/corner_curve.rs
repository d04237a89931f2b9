//! The curves of a corner, by name.

use super::quantity::CurveInfo;
use super::{
    WheelRate, camber, caster, caster_trail, front_view_instant_centre, kingpin_inclination, motion_ratio,
    roll_centre_of_pair, scrub_radius, side_view_instant_centre, side_view_slope, toe, wheel_rate,
};
use crate::Dimension;
use crate::numeric::real::{Moving, Over, Real, rate, value};
use crate::suspension::{Along, CornerPosition, CornerState};

/// A quantity of a double-wishbone corner.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum CornerCurve {
    /// See [`camber`](super::camber()).
    Camber,
    /// See [`toe`](super::toe()).
    Toe,
    /// See [`caster`](super::caster()).
    Caster,
    /// See [`kingpin_inclination`](super::kingpin_inclination()).
    KingpinInclination,
    /// See [`scrub_radius`](super::scrub_radius()).
    ScrubRadius,
    /// See [`caster_trail`](super::caster_trail()).
    CasterTrail,
    /// Outboard shift of the contact point since the pickups were measured.
    HalfTrackChange,
    /// Distance between the damper's mounts.
    DamperLength,
    /// See [`motion_ratio`](super::motion_ratio()).
    MotionRatio,
    /// Distance between the mounts of a spring that stands apart from the damper. The spring itself is shorter: by its
    /// `upper_seat` and its `lower_seat`.
    SpringLength,
    /// Motion ratio of the spring, where it stands apart from the damper.
    SpringMotionRatio,
    /// See [`wheel_rate`](super::wheel_rate()).
    WheelRate,
    /// See [`roll_centre_of_pair`](super::roll_centre_of_pair()).
    RollCentreHeight,
    /// Outboard place of the front-view instant centre, in the plane x of the contact point: what the upright turns about, bump
    /// steer included. Without bump steer it is where the lines of the arms meet; with it, it lies beside.
    FrontViewInstantCentreY,
    /// Its height above the ground.
    FrontViewInstantCentreHeight,
    /// Forward place of the side-view instant centre, brake locked, in the plane y of the contact point.
    SideViewInstantCentreX,
    /// Its height above the ground.
    SideViewInstantCentreHeight,
    /// Side-view slope of the contact point, brake locked.
    ContactPointSlope,
    /// Side-view slope of the wheel centre.
    WheelCentreSlope,
}

use CornerCurve as C;

impl CornerCurve {
    /// Every curve, in the order of tables.
    pub const ALL: [Self; 19] = [
        C::Camber,
        C::Toe,
        C::Caster,
        C::KingpinInclination,
        C::ScrubRadius,
        C::CasterTrail,
        C::HalfTrackChange,
        C::DamperLength,
        C::MotionRatio,
        C::SpringLength,
        C::SpringMotionRatio,
        C::WheelRate,
        C::RollCentreHeight,
        C::FrontViewInstantCentreY,
        C::FrontViewInstantCentreHeight,
        C::SideViewInstantCentreX,
        C::SideViewInstantCentreHeight,
        C::ContactPointSlope,
        C::WheelCentreSlope,
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
            C::Camber => ("camber", "Camber", Angle, "top leans in", "top leans out"),
            C::Toe => ("toe", "Toe", Angle, "toe-out", "toe-in"),
            C::Caster => (
                "caster",
                "Caster",
                Angle,
                "top leans forward",
                "top leans rearward",
            ),
            C::KingpinInclination => (
                "kingpin_inclination",
                "Kingpin inclination",
                Angle,
                "top leans out",
                "top leans in",
            ),
            C::ScrubRadius => (
                "scrub_radius",
                "Scrub radius",
                Length,
                "axis meets ground outboard",
                "axis meets ground inboard",
            ),
            C::CasterTrail => (
                "caster_trail",
                "Caster trail",
                Length,
                "axis meets ground behind",
                "axis meets ground ahead",
            ),
            C::HalfTrackChange => (
                "half_track_change",
                "Half-track change",
                Length,
                "inboard",
                "outboard",
            ),
            C::DamperLength => ("damper_length", "Damper length", Length, "shorter", "longer"),
            C::MotionRatio => (
                "motion_ratio",
                "Motion ratio (damper travel over wheel travel)",
                Ratio,
                "",
                "",
            ),
            C::SpringLength => (
                "spring_length",
                "Distance between the spring's mounts",
                Length,
                "shorter",
                "longer",
            ),
            C::SpringMotionRatio => (
                "spring_motion_ratio",
                "Motion ratio of the spring (spring over wheel travel)",
                Ratio,
                "",
                "",
            ),
            C::WheelRate => ("wheel_rate", "Wheel rate", Rate, "softer", "stiffer"),
            C::RollCentreHeight => (
                "roll_centre_height",
                "Roll centre above ground",
                Length,
                "below ground",
                "above ground",
            ),
            C::FrontViewInstantCentreY => (
                "front_view_instant_centre_y",
                "Front-view instant centre, outboard of centreline",
                Length,
                "across the car",
                "outboard",
            ),
            C::FrontViewInstantCentreHeight => (
                "front_view_instant_centre_height",
                "Front-view instant centre above ground",
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
            C::ContactPointSlope => (
                "contact_point_slope",
                "Side-view slope of the contact point, brake locked",
                Ratio,
                "rearward in bump",
                "forward in bump",
            ),
            C::WheelCentreSlope => (
                "wheel_centre_slope",
                "Side-view slope of the wheel centre",
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

    pub(crate) fn evaluate<T: Over<F>, F: Real>(self, state: &CornerState<'_, T, F>) -> Option<T>
    where
        Moving<T>: Over<F>,
    {
        let geometry = state.geometry;
        let ball_joints = || (value(&state.lower_ball_joint()), value(&state.upper_ball_joint()));
        let contact = || value(&state.contact_point());
        let front_view =
            || front_view_instant_centre(&contact(), &state.locked_contact_rate(), &state.carrier.angular);
        let side_view =
            || side_view_instant_centre(&contact(), &state.locked_contact_rate(), &state.carrier.angular);
        let damper = || geometry.damper.as_ref().map(|part| part.length(&state.carrier));
        let spring = || geometry.spring.as_ref().map(|part| part.length(&state.carrier));
        match self {
            C::Camber => Some(camber(&value(&state.spin_axis()))),
            C::Toe => Some(toe(&value(&state.spin_axis()))),
            C::Caster => {
                let (lower, upper) = ball_joints();
                Some(caster(&lower, &upper))
            }
            C::KingpinInclination => {
                let (lower, upper) = ball_joints();
                Some(kingpin_inclination(&lower, &upper))
            }
            C::ScrubRadius => {
                let (lower, upper) = ball_joints();
                Some(scrub_radius(&lower, &upper, &contact()))
            }
            C::CasterTrail => {
                let (lower, upper) = ball_joints();
                Some(caster_trail(&lower, &upper, &contact()))
            }
            C::HalfTrackChange => Some(contact().y.minus(geometry.half_track)),
            C::DamperLength => damper().map(|length| length.re),
            C::MotionRatio => damper().map(|length| motion_ratio(&length)),
            C::SpringLength => spring().map(|length| length.re),
            C::SpringMotionRatio => spring().map(|length| motion_ratio(&length)),
            // Needs the slope of the motion ratio: see `value`.
            C::WheelRate => None,
            C::RollCentreHeight => roll_centre_of_pair(&state.contact_point()),
            C::FrontViewInstantCentreY => front_view().map(|centre| centre.y),
            C::FrontViewInstantCentreHeight => front_view().map(|centre| centre.z - contact().z),
            C::SideViewInstantCentreX => side_view().map(|centre| centre.x),
            C::SideViewInstantCentreHeight => side_view().map(|centre| centre.z - contact().z),
            C::ContactPointSlope => side_view_slope(&state.locked_contact_rate()),
            C::WheelCentreSlope => side_view_slope(&rate(&state.wheel_centre())),
        }
    }

    /// The value at a position (mm, rad, N/mm or a ratio).
    ///
    /// None where it does not exist: without a damper or spring, or with an instant centre at infinity.
    #[must_use]
    pub fn value(self, position: &CornerPosition<'_>) -> Option<f64> {
        let value = match self {
            C::WheelRate => self.wheel_rate_at(position).map(|rate| rate.total()),
            _ => self.evaluate(&position.state()),
        };
        value.filter(|value| value.is_finite())
    }

    /// The exact rate at a position, per mm of travel or of rack displacement.
    ///
    /// None where the value does not exist, at the very limit of reach, and for the wheel rate.
    #[must_use]
    pub fn rate(self, position: &CornerPosition<'_>, along: Along) -> Option<f64> {
        let dual = self.evaluate(&position.state_along(along)?)?;
        Some(dual.eps).filter(|rate| rate.is_finite())
    }

    /// Both parts of the wheel rate at a position; none without a spring.
    #[must_use]
    pub fn wheel_rate_at(self, position: &CornerPosition<'_>) -> Option<WheelRate> {
        let corner = position.corner();
        let spring = corner.pickups().spring.as_ref()?;
        let ratio = C::SpringMotionRatio.evaluate(&position.state_along(Along::Travel)?)?;
        let length = C::SpringLength.evaluate(&position.state())?;
        Some(wheel_rate(spring.rate, ratio.re, ratio.eps, spring.force(length)))
    }
}
