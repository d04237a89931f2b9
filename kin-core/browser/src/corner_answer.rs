//! From a position of a corner to numbers.

use crate::layout::CORNER_ANSWER;
use crate::written::{Written, or_nan};
use kin_core::CornerPosition;
use kin_core::curves::CornerCurve;

/// Everything a page shows of one position, in the order of [`CORNER_ANSWER`].
pub(crate) fn corner_answer(position: &CornerPosition<'_>) -> Vec<f64> {
    let readings = position.readings();
    let mut written = Written::with_room(CORNER_ANSWER);
    for point in [
        readings.upper_ball_joint,
        readings.lower_ball_joint,
        position.tie_rod_inner(),
        readings.tie_rod_outer,
        readings.wheel_centre,
        position.contact_point(),
        position.spin_axis(),
    ] {
        written.point(&point);
    }
    written.ends(position.damper_ends());
    written.ends(position.spring_ends());
    let value = |curve: CornerCurve| or_nan(curve.value(position));
    let wheel_rate = CornerCurve::WheelRate.wheel_rate_at(position);
    let spring_length = value(CornerCurve::SpringLength);
    let spring = position.corner().pickups().spring.as_ref();
    written.numbers([
        position.travel(),
        value(CornerCurve::Camber),
        value(CornerCurve::Toe),
        value(CornerCurve::Caster),
        value(CornerCurve::RollCentreHeight),
        value(CornerCurve::DamperLength),
        value(CornerCurve::MotionRatio),
        spring_length,
        value(CornerCurve::SpringMotionRatio),
        or_nan(wheel_rate.map(|rate| rate.from_spring)),
        or_nan(wheel_rate.and_then(|rate| rate.geometric)),
        or_nan(
            spring
                .filter(|_| spring_length.is_finite())
                .and_then(|spring| spring.force(spring_length)),
        ),
        value(CornerCurve::FrontViewInstantCentreY),
        value(CornerCurve::FrontViewInstantCentreHeight),
    ]);
    written.done()
}
