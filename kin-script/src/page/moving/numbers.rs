//! A corner as the list of numbers that the browser's solver reads: see `kin-core/browser/src/layout.rs`.

use kin_core::pickups::{Damper, DoubleWishbone, Point, Spring};

/// The list; none where there is no number, such as the rate of a spring that is not there.
pub(super) fn of_corner(corner: &DoubleWishbone) -> Vec<Option<f64>> {
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
    damper(&mut list, corner.any_damper());
    spring(&mut list, corner.spring.as_ref());
    list
}

/// Lengths between the turning points of the mounts, so that studs need no words there.
fn damper(list: &mut Vec<Option<f64>>, damper: Option<&Damper>) {
    let Some(damper) = damper else {
        list.extend([None; 10]);
        return;
    };
    points(list, [&damper.upper_mount, &damper.lower_mount]);
    list.extend([
        Some(carrier(&damper.rides_on)),
        Some(damper.extended_between_mounts()),
        Some(damper.compressed_between_mounts()),
        Some(damper.bump_stop),
    ]);
}

fn spring(list: &mut Vec<Option<f64>>, spring: Option<&Spring>) {
    let Some(spring) = spring else {
        list.extend([None; 11]);
        return;
    };
    list.extend([Some(spring.rate), spring.free_length]);
    list.extend([spring.upper_seat, spring.lower_seat].map(Some));
    match (&spring.upper_mount, &spring.lower_mount, &spring.rides_on) {
        (Some(upper), Some(lower), Some(rides_on)) => {
            points(list, [upper, lower]);
            list.push(Some(carrier(rides_on)));
        }
        _ => list.extend([None; 7]),
    }
}

fn points<const N: usize>(list: &mut Vec<Option<f64>>, points: [&Point; N]) {
    list.extend(points.iter().flat_map(|point| point.iter().copied().map(Some)));
}

fn carrier(rides_on: &str) -> f64 {
    match rides_on {
        "lower_arm" => 0.0,
        "upper_arm" => 1.0,
        _ => 2.0,
    }
}
