//! A corner as the list of numbers that the browser's solver reads: see `kin-core/browser/src/layout.rs`.

use super::part_numbers::{Numbers, damper, points, spring};
use kin_core::pickups::DoubleWishbone;

/// The list; none where there is no number, such as the rate of a spring that is not there.
pub(super) fn of_corner(corner: &DoubleWishbone) -> Numbers {
    let mut list = Vec::new();
    let wheel = &corner.wheel;
    for arm in [&corner.upper_arm, &corner.lower_arm] {
        points(&mut list, [&arm.front_pivot, &arm.rear_pivot, &arm.ball_joint]);
    }
    points(
        &mut list,
        [&corner.tie_rod.inner, &corner.tie_rod.outer, &wheel.centre],
    );
    list.extend([wheel.tyre_radius, wheel.camber, wheel.toe].map(Some));
    damper(&mut list, corner.any_damper(), &carrier);
    spring(&mut list, corner.spring.as_ref(), &carrier);
    list
}

fn carrier(rides_on: &str) -> f64 {
    match rides_on {
        "lower_arm" => 0.0,
        "upper_arm" => 1.0,
        _ => 2.0,
    }
}
