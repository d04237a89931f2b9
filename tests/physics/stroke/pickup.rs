//! The pickup's fifteen bracket holes.
//!
//! Provenance: invented vehicle; figures of an independent solver, printed to the digits shown. A few units of the last
//! digit are allowed.

use super::close;
use kin_core::checks::{RemedyKind, StrokeQuestion, Verdict, check_axle_stroke, worst};
use kin_core::curves::AxleCurve as C;
use kin_core::pickups::LiveAxle;
use kin_core::{Axle, AxleTravel, samples};

/// Hole: y, z; damper at ride height, bump to the stop, bump to metal, droop to topping out (mm); motion ratio of both
/// wheels and in roll.
const HOLES: [[f64; 8]; 15] = [
    [413.0, 540.0, 301.65, 21.7, 45.1, 72.2, 0.9515, 0.4948],
    [413.0, 559.05, 319.29, 39.9, 63.1, 53.5, 0.9609, 0.5084],
    [413.0, 578.1, 337.09, 58.0, 81.0, 34.8, 0.9689, 0.5203],
    [413.0, 597.15, 355.01, 76.0, 98.8, 16.2, 0.9757, 0.5309],
    [413.0, 616.2, 373.05, 93.8, 116.4, -2.3, 0.9816, 0.5402],
    [438.0, 540.0, 293.03, 12.2, 34.7, 79.3, 0.9795, 0.54],
    [438.0, 559.05, 311.16, 30.5, 52.9, 60.5, 0.986, 0.5506],
    [438.0, 578.1, 329.4, 48.7, 70.9, 41.8, 0.9915, 0.5597],
    [438.0, 597.15, 347.72, 66.7, 88.7, 23.2, 0.9962, 0.5678],
    [438.0, 616.2, 366.12, 84.6, 106.4, 4.7, 1.0002, 0.575],
    [463.0, 540.0, 286.34, 5.3, 27.2, 84.6, 1.0023, 0.584],
    [463.0, 559.05, 304.87, 23.6, 45.4, 65.8, 1.0063, 0.5914],
    [463.0, 578.1, 323.46, 41.8, 63.4, 47.1, 1.0097, 0.5978],
    [463.0, 597.15, 342.1, 59.9, 81.3, 28.5, 1.0125, 0.6034],
    [463.0, 616.2, 360.79, 77.9, 99.1, 9.9, 1.015, 0.6084],
];

fn with_hole(y: f64, z: f64) -> LiveAxle {
    let mut axle = samples::pickup_rear();
    let mount = &mut axle.coilovers.as_mut().expect("coilovers").left.upper_mount;
    (mount.y, mount.z) = (y, z);
    axle
}

#[test]
fn fifteen_holes() {
    let mut serve = Vec::new();
    for [y, z, damper, to_stop, to_metal, droop, ratio, in_roll] in HOLES {
        let axle = Axle::new(&with_hole(y, z)).expect("an axle");
        let answers = check_axle_stroke(&axle, &StrokeQuestion::default()).expect("an answer");
        let [answer] = &answers[..] else {
            panic!("{} answers for two equal sides", answers.len())
        };
        let budget = answer.budget;
        let here = axle.at(AxleTravel::default()).expect("as measured");
        let value = |curve: C| curve.value(&here).expect("a value");
        for (found, expected, tolerance, name) in [
            (budget.length_at_ride, damper, 0.01, "length at ride height"),
            (
                budget.bump_to_stop.expect("met"),
                to_stop,
                0.1,
                "bump to the stop",
            ),
            (budget.bump_to_metal.expect("met"), to_metal, 0.1, "bump to metal"),
            (
                budget.droop_to_top_out.expect("met"),
                droop,
                0.1,
                "droop to topping out",
            ),
            (budget.motion_ratio_at_ride, ratio, 0.0001, "motion ratio"),
            (value(C::MotionRatioLeft), ratio, 0.0001, "motion ratio, left"),
            (
                value(C::MotionRatioRollLeft),
                in_roll,
                0.0001,
                "motion ratio in roll",
            ),
        ] {
            close(
                found,
                expected,
                tolerance,
                &format!("{name} of the hole at y {y}, z {z}"),
            );
        }
        if to_stop >= 45.0 && droop >= 38.0 {
            serve.push((y, z));
        }
        let holds = answer
            .findings
            .iter()
            .take(2)
            .all(|finding| finding.verdict != Verdict::Fails);
        assert_eq!(holds, to_stop >= 45.0 && droop >= 38.0, "hole at y {y}, z {z}");
    }
    // Row 3 of the middle column is the only one that serves.
    assert_eq!(serve, [(438.0, 578.1)]);
}

#[test]
fn the_drilled_hole_fails_and_says_how_far_up_to_go() {
    let axle = Axle::new(&samples::pickup_rear()).expect("an axle");
    let answers = check_axle_stroke(&axle, &StrokeQuestion::default()).expect("an answer");
    let findings = &answers[0].findings;
    assert_eq!(worst(findings), Verdict::Fails);
    let bump = &findings[0];
    close(bump.value, 12.2, 0.1, "bump found");
    close(bump.limit, 45.0, 0.0, "bump wanted");
    let up = bump
        .remedies
        .iter()
        .find(|remedy| remedy.kind == RemedyKind::UpperMountUp)
        .expect("a way up");
    // Up by 34.2 mm at least; from 42.0 mm on the droop falls under 38 mm.
    close(up.change, 34.2, 0.1, "smallest move up");
    close(up.window.0, 34.2, 0.1, "window from");
    close(up.window.1, 42.0, 0.1, "window to");
    close(540.0 + up.window.0, 574.2, 0.1, "lowest eye");
    close(540.0 + up.window.1, 582.0, 0.1, "highest eye");
}
