//! The numbers that the page shows, from the native solver.

use kin_core::curves::CornerCurve as Curve;
use kin_core::pickups::{DoubleWishbone, Point};
use kin_core::{Corner, CornerPosition};

/// Positions agree within this (mm): a billionth of a millimetre, as the page says. The browser's arithmetic is the same; its sine,
/// cosine and arc tangent are those of another library, and differ in the last bits.
pub(crate) const CLOSE_MM: f64 = 1e-9;
/// Every other number agrees within this of its size: a billionth, as the page says.
pub(crate) const CLOSE: f64 = 1e-9;
/// Below this a number (rad, or a ratio) is compared as if it were this large.
pub(crate) const SMALL: f64 = 1e-3;

/// A point of a list.
pub(crate) fn point(list: &[f64], place: usize) -> Point {
    Point::new(list[place], list[place + 1], list[place + 2])
}

/// Puts the pickups of the page's list into a description.
fn moved(corner: &mut DoubleWishbone, list: &[f64]) {
    let point = |place: usize| point(list, place);
    for (arm, place) in [(&mut corner.upper_arm, 0), (&mut corner.lower_arm, 9)] {
        arm.front_pivot = point(place);
        arm.rear_pivot = point(place + 3);
        arm.ball_joint = point(place + 6);
    }
    corner.tie_rod.inner = point(18);
    corner.tie_rod.outer = point(21);
    if let Some(damper) = corner.coilover.as_mut().or(corner.damper.as_mut()) {
        damper.upper_mount = point(30);
        damper.lower_mount = point(33);
    }
    if let Some(spring) = &mut corner.spring
        && spring.upper_mount.is_some()
    {
        spring.upper_mount = Some(point(44));
        spring.lower_mount = Some(point(47));
    }
}

/// Holds what the page shows of its position to the native solver's numbers there.
///
/// * `described`: the corner that the page was made from, in millimetres
/// * `pickups`, `travel`, `answer`: what the page says it shows
/// * `cells`: the numbers of its table by name, in core units
pub(crate) fn compare(
    described: &DoubleWishbone,
    pickups: &[f64],
    travel: f64,
    answer: &[f64],
    cells: &[(String, f64)],
) {
    let mut description = described.clone();
    moved(&mut description, pickups);
    let corner = Corner::new(&description).unwrap();
    let at = corner.at(travel, 0.0).unwrap();
    let places = [
        at.upper_ball_joint(),
        at.lower_ball_joint(),
        at.tie_rod_inner(),
        at.tie_rod_outer(),
        at.wheel_centre(),
        at.contact_point(),
    ];
    for (index, place) in places.iter().enumerate() {
        for axis in 0..3 {
            near(
                &format!("place {index}"),
                answer[3 * index + axis],
                place[axis],
                CLOSE_MM,
            );
        }
    }
    let ends = [at.damper_ends(), at.spring_ends()];
    let ends = ends.iter().flat_map(|ends| match ends {
        Some((upper, lower)) => [Some(*upper), Some(*lower)],
        None => [None, None],
    });
    for (index, end) in ends.enumerate() {
        for axis in 0..3 {
            let shown = answer[3 * (7 + index) + axis];
            match end {
                Some(end) => near(&format!("end {index}"), shown, end[axis], CLOSE_MM),
                None => assert!(shown.is_nan()),
            }
        }
    }
    assert!(cells.len() >= 8, "{cells:?}");
    for (name, shown) in cells {
        let expected = expected(name, &at).unwrap_or_else(|| panic!("{name} has no native value"));
        near(name, *shown, expected, CLOSE * expected.abs().max(SMALL));
    }
}

fn expected(name: &str, at: &CornerPosition<'_>) -> Option<f64> {
    let spring = at.corner().pickups().spring.as_ref();
    let force = || spring?.force(Curve::SpringLength.value(at)?);
    let ratio = Curve::MotionRatio.value(at);
    match name {
        "motion_ratio_inverse" => ratio.map(|ratio| 1.0 / ratio),
        "motion_ratio_squared" => ratio.map(|ratio| ratio * ratio),
        "spring_force" => force(),
        "wheel_force" => Some(force()? * Curve::SpringMotionRatio.value(at)?),
        curve => Curve::from_key(curve)?.value(at),
    }
}

pub(crate) fn near(what: &str, shown: f64, expected: f64, within: f64) {
    assert!(
        (shown - expected).abs() <= within,
        "{what}: the page shows {shown}, the native solver gives {expected}: {:e} apart, {within:e} allowed",
        (shown - expected).abs()
    );
}
