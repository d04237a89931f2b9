//! From a position to numbers.

use crate::layout::ANSWER;
use kin_core::CornerPosition;
use kin_core::curves::CornerCurve;
use kin_core::pickups::Point;

/// Everything a page shows of one position, in the order of [`ANSWER`].
pub(crate) fn answer(position: &CornerPosition<'_>) -> Vec<f64> {
    let nowhere = Point::new(f64::NAN, f64::NAN, f64::NAN);
    let readings = position.readings();
    let (damper_upper, damper_lower) = position.damper_ends().unwrap_or((nowhere, nowhere));
    let (spring_upper, spring_lower) = position.spring_ends().unwrap_or((nowhere, nowhere));
    let mut numbers = Vec::with_capacity(ANSWER);
    for point in [
        readings.upper_ball_joint,
        readings.lower_ball_joint,
        position.tie_rod_inner(),
        readings.tie_rod_outer,
        readings.wheel_centre,
        position.contact_point(),
        position.spin_axis(),
        damper_upper,
        damper_lower,
        spring_upper,
        spring_lower,
    ] {
        numbers.extend(point.iter());
    }
    let value = |curve: CornerCurve| curve.value(position).unwrap_or(f64::NAN);
    let wheel_rate = CornerCurve::WheelRate.wheel_rate_at(position);
    let spring_length = value(CornerCurve::SpringLength);
    let spring = position.corner().pickups().spring.as_ref();
    numbers.extend([
        position.travel(),
        value(CornerCurve::Camber),
        value(CornerCurve::Toe),
        value(CornerCurve::Caster),
        value(CornerCurve::RollCentreHeight),
        value(CornerCurve::DamperLength),
        value(CornerCurve::MotionRatio),
        spring_length,
        value(CornerCurve::SpringMotionRatio),
        wheel_rate.map_or(f64::NAN, |rate| rate.from_spring),
        wheel_rate.and_then(|rate| rate.geometric).unwrap_or(f64::NAN),
        spring
            .filter(|_| spring_length.is_finite())
            .and_then(|spring| spring.force(spring_length))
            .unwrap_or(f64::NAN),
    ]);
    numbers
}
