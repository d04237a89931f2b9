//! From a position of an axle to numbers.

use crate::layout::{AXLE_ANSWER, LINK_ANSWER};
use crate::written::{Written, or_nan};
use kin_core::curves::AxleCurve as Curve;
use kin_core::nalgebra::Vector3;
use kin_core::pickups::{Point, Side};
use kin_core::{AxleAlong, AxlePosition};

/// The curves of an axle that a page knows, in their order.
pub const AXLE_CURVES: [Curve; 19] = [
    Curve::RollAngle,
    Curve::AxleSteer,
    Curve::RollSteer,
    Curve::PinionAngle,
    Curve::LateralShift,
    Curve::DamperLengthLeft,
    Curve::DamperLengthRight,
    Curve::MotionRatioLeft,
    Curve::MotionRatioRight,
    Curve::MotionRatioRollLeft,
    Curve::MotionRatioRollRight,
    Curve::WheelRateLeft,
    Curve::WheelRateRight,
    Curve::WheelRateRollLeft,
    Curve::WheelRateRollRight,
    Curve::RollCentreHeight,
    Curve::SideViewInstantCentreX,
    Curve::SideViewInstantCentreHeight,
    Curve::AntiSquatSlope,
];

/// Everything a page shows of one position, in the order of [`AXLE_ANSWER`], and of [`LINK_ANSWER`] for each link.
pub(crate) fn axle_answer(position: &AxlePosition<'_>) -> Vec<f64> {
    let links = position.links();
    let mut written = Written::with_room(AXLE_ANSWER + LINK_ANSWER * links.len());
    let (left, right) = position.wheel_centres();
    let (contact_left, contact_right) = position.contact_points();
    let spin = position.pose().rotation() * Vector3::y();
    let pinion = position.axle().pickups().pinion;
    let pinion = pinion.map_or(Point::repeat(f64::NAN), |pinion| position.carried(&pinion.point));
    for point in [left, right, contact_left, contact_right, spin, pinion] {
        written.point(&point);
    }
    for ends in [position.damper_ends(), position.spring_ends()] {
        let [left, right] = ends.map_or([None; 2], |sides| sides.map(Some));
        written.ends(left);
        written.ends(right);
    }
    written.numbers([position.travel().left, position.travel().right]);
    written.numbers(AXLE_CURVES.map(|curve| or_nan(curve.value(position))));
    for side in [Side::Left, Side::Right] {
        let spring = position.spring(side, AxleAlong::Heave);
        written.numbers([
            or_nan(spring.map(|spring| spring.between_mounts)),
            or_nan(spring.and_then(|spring| spring.force)),
            or_nan(spring.and_then(|spring| spring.wheel_force())),
        ]);
    }
    let stretch = position.link_stretch();
    for (name, (body, axle)) in &links {
        written.point(body);
        written.point(axle);
        written.numbers([or_nan(stretch.get(name).copied())]);
    }
    written.done()
}
