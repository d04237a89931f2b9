//! Points, dampers and springs as numbers of a list.

use kin_core::pickups::{Damper, Point, Spring};

/// Numbers, none where there is none.
pub(super) type Numbers = Vec<Option<f64>>;

pub(super) fn points<const N: usize>(list: &mut Numbers, points: [&Point; N]) {
    list.extend(points.iter().flat_map(|point| point.iter().copied().map(Some)));
}

/// Lengths between the turning points of the mounts, so that studs need no words there.
///
/// * `carrier`: the number of the part that it rides on
pub(super) fn damper(list: &mut Numbers, damper: Option<&Damper>, carrier: &dyn Fn(&str) -> f64) {
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

pub(super) fn spring(list: &mut Numbers, spring: Option<&Spring>, carrier: &dyn Fn(&str) -> f64) {
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
