//! The wagon's front corner, with the replacement and the original arms.
//!
//! Provenance: invented vehicle; figures of an independent solver (Newton on rod lengths, rates by central differences),
//! printed to the digits shown. A few units of the last digit are allowed.

use super::close;
use kin_core::checks::{Stopper, StrokeQuestion, check_corner_stroke};
use kin_core::curves::CornerCurve as C;
use kin_core::pickups::{DoubleWishbone, Point};
use kin_core::{Along, Corner, CornerPosition, samples};

/// Travel (mm), camber, toe, caster, kingpin inclination (deg), damper (mm), motion ratio, roll centre and half track (mm).
type Row = [f64; 9];

const REPLACEMENT: [Row; 6] = [
    [-50.0, 0.285, 0.334, 4.297, 7.148, 346.36, 0.6038, 132.4, 752.82],
    [-25.0, -0.02, 0.231, 4.46, 7.461, 331.27, 0.6037, 105.4, 756.75],
    [0.0, -0.5, 0.1, 4.624, 7.953, 316.16, 0.605, 78.9, 759.79],
    [25.0, -1.152, -0.054, 4.791, 8.619, 301.01, 0.6074, 53.2, 761.97],
    [50.0, -1.979, -0.229, 4.96, 9.463, 285.78, 0.6109, 28.6, 763.31],
    [75.0, -2.993, -0.422, 5.132, 10.497, 270.46, 0.6154, 5.5, 763.87],
];

const ORIGINAL: [Row; 6] = [
    [-50.0, -0.343, 0.529, 0.307, 7.453, 347.35, 0.6254, 62.6, 752.97],
    [-25.0, 0.076, 0.326, 0.511, 7.034, 331.75, 0.6234, 40.0, 754.68],
    [0.0, 0.25, 0.1, 0.713, 6.862, 316.16, 0.6234, 15.9, 755.6],
    [25.0, 0.209, -0.147, 0.915, 6.907, 300.57, 0.6248, -8.5, 755.73],
    [50.0, -0.035, -0.414, 1.116, 7.157, 284.92, 0.6274, -32.7, 755.04],
    [75.0, -0.481, -0.701, 1.317, 7.611, 269.19, 0.6309, -56.0, 753.57],
];

/// Outer tie rod lowered (mm), bump steer at ride height (deg/in), toe change over 50 mm to either side (deg).
const SHIMS: [[f64; 3]; 9] = [
    [0.0, -0.145, 0.563],
    [1.59, -0.1099, 0.423],
    [3.17, -0.0749, 0.284],
    [4.76, -0.0399, 0.16],
    [6.35, -0.005, 0.074],
    [7.94, 0.0299, 0.155],
    [9.52, 0.0648, 0.273],
    [11.11, 0.0996, 0.41],
    [12.7, 0.1344, 0.549],
];

const MM_PER_INCH: f64 = 25.4;

/// Same frame holes; shorter upright and another upper arm. The spring is set 2 mm higher on it.
fn original_arms() -> DoubleWishbone {
    let mut corner = samples::wagon_front();
    corner.upper_arm.ball_joint = Point::new(3.0, 661.0, 431.0);
    corner.wheel.camber = 0.25;
    // Spring length at ride height 187.7 mm.
    corner.spring.as_mut().expect("a spring").lower_seat = 316.16 - 55.0 - 187.7;
    corner
}

fn value(curve: C, position: &CornerPosition<'_>) -> f64 {
    curve.value(position).expect("a value")
}

fn compare_table(pickups: &DoubleWishbone, table: &[Row]) {
    let corner = Corner::new(pickups).expect("a corner");
    let half_track = corner.at(0.0, 0.0).expect("as measured").contact_point().y;
    for &[
        travel,
        camber,
        toe,
        caster,
        kpi,
        damper,
        ratio,
        roll_centre,
        track,
    ] in table
    {
        let position = corner.at(travel, 0.0).expect("within reach");
        for (curve, expected) in [
            (C::Camber, camber),
            (C::Toe, toe),
            (C::Caster, caster),
            (C::KingpinInclination, kpi),
        ] {
            let label = format!("{curve:?} at {travel} mm");
            close(value(curve, &position).to_degrees(), expected, 0.001, &label);
        }
        for (curve, expected, tolerance) in [
            (C::DamperLength, damper, 0.01),
            (C::MotionRatio, ratio, 0.0001),
            (C::RollCentreHeight, roll_centre, 0.1),
            (C::HalfTrackChange, track - half_track, 0.01),
        ] {
            close(
                value(curve, &position),
                expected,
                tolerance,
                &format!("{curve:?} at {travel} mm"),
            );
        }
    }
}

#[test]
fn tables_of_both_arms() {
    compare_table(&samples::wagon_front(), &REPLACEMENT);
    compare_table(&original_arms(), &ORIGINAL);
}

#[test]
fn figures_at_ride_height() {
    // camber gain, bump steer (deg/in), motion ratio slope (1/mm), scrub radius, caster trail (mm), wheel rate and its
    // geometric term (N/mm)
    for (pickups, [gain, steer, slope, scrub, trail, rate, geometric]) in [
        (
            samples::wagon_front(),
            [-0.575, -0.145, 7.6e-5, 43.3, 21.4, 35.75, 0.5],
        ),
        (original_arms(), [0.064, -0.2404, 2.9e-5, 42.7, 8.4, 37.62, 0.19]),
    ] {
        let corner = Corner::new(&pickups).expect("a corner");
        let here = corner.at(0.0, 0.0).expect("as measured");
        let per_inch =
            |curve: C| curve.rate(&here, Along::Travel).expect("a rate").to_degrees() * MM_PER_INCH;
        close(per_inch(C::Camber), gain, 0.001, "camber gain");
        close(per_inch(C::Toe), steer, 0.0002, "bump steer");
        let found = C::MotionRatio.rate(&here, Along::Travel).expect("a rate");
        close(found, slope, 1e-6, "slope of the motion ratio");
        close(value(C::ScrubRadius, &here), scrub, 0.1, "scrub radius");
        close(value(C::CasterTrail, &here), trail, 0.1, "caster trail");
        let found = C::WheelRate.wheel_rate_at(&here).expect("a wheel rate");
        close(found.total(), rate, 0.02, "wheel rate");
        close(
            found.geometric.expect("a known force"),
            geometric,
            0.01,
            "geometric term",
        );
    }
}

#[test]
fn spring_at_ride_height() {
    let corner = samples::wagon_front();
    let spring = corner.spring.as_ref().expect("a spring");
    let force = spring.force(316.16).expect("a known force");
    // The lower seat is printed to 0.01 mm of a screw, and the figures to 0.05 mm of compression: 5 N.
    close(force, 6_581.0, 5.0, "spring force");
    close(force / spring.rate, 68.3, 0.1, "spring compression");
}

#[test]
fn shims_under_the_outer_tie_rod() {
    for [lowered, steer, change] in SHIMS {
        let mut pickups = samples::wagon_front();
        pickups.tie_rod.outer.z -= lowered;
        let corner = Corner::new(&pickups).expect("a corner");
        let travels: Vec<f64> = (-50..=50).map(f64::from).collect();
        let sweep = corner.sweep_travel(&travels, 0.0).expect("within reach");
        let toes: Vec<f64> = sweep
            .iter()
            .map(|position| value(C::Toe, position).to_degrees())
            .collect();
        let (least, most) = toes
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), toe| {
                (least.min(*toe), most.max(*toe))
            });
        close(
            most - least,
            change,
            0.002,
            &format!("toe change, {lowered} mm lower"),
        );
        let here = corner.at(0.0, 0.0).expect("as measured");
        let slope = C::Toe.rate(&here, Along::Travel).expect("a rate").to_degrees() * MM_PER_INCH;
        close(slope, steer, 0.0003, &format!("bump steer, {lowered} mm lower"));
    }
}

#[test]
fn travel_budget_of_both_arms() {
    // bump to the stop, bump to metal, droop to topping out (mm), with the tolerance of their digits
    for (pickups, budget, tolerance) in [
        (samples::wagon_front(), [69.2, 101.6, 54.8], 0.1),
        (original_arms(), [67.4, 99.0, 53.0], 0.1),
    ] {
        let corner = Corner::new(&pickups).expect("a corner");
        let found = check_corner_stroke(&corner, &StrokeQuestion::default()).expect("an answer");
        let found = [
            found.budget.bump_to_stop,
            found.budget.bump_to_metal,
            found.budget.droop_to_top_out,
        ];
        for (found, expected) in found.into_iter().zip(budget) {
            close(found.expect("met"), expected, tolerance, "budget");
        }
    }
    // The uncertainty table prints two of them to four digits.
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let found = check_corner_stroke(&corner, &StrokeQuestion::default()).expect("an answer");
    close(
        found.budget.bump_to_stop.expect("met"),
        69.2386,
        0.0003,
        "bump to the stop",
    );
    close(
        found.budget.droop_to_top_out.expect("met"),
        54.7848,
        0.0003,
        "droop to topping out",
    );
    close(found.budget.length_at_ride, 316.16, 0.01, "length at ride height");
    close(found.budget.motion_ratio_at_ride, 0.605, 0.0001, "motion ratio");
    // Its own rubber stop at 50 mm acts before the damper tops out at 54.8 mm: tight by the usual 5 mm.
    assert_eq!(found.first_in_droop, (Stopper::OwnStop, Some(50.0)));
    assert_eq!(found.first_in_bump.0, Stopper::Damper);
}
