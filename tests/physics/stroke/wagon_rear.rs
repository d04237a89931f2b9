//! The wagon's rear axle on its triangulated four-link.
//!
//! Provenance: invented vehicle; figures of an independent solver, printed to the digits shown. A few units of the last
//! digit are allowed.

use super::close;
use kin_core::checks::{StrokeQuestion, check_axle_stroke};
use kin_core::curves::AxleCurve as C;
use kin_core::{Axle, AxlePosition, AxleTravel, samples};

const WHEELBASE_MM: f64 = 2_860.0;
const CENTRE_OF_GRAVITY_MM: f64 = 560.0;

/// Travel of both wheels, damper (mm), motion ratio of both wheels and in roll, pinion nose up (deg), fore-and-aft shift
/// without sign, roll centre above ground, side-view instant centre: x and height above ground (mm), anti-squat (%).
const TABLE: [[f64; 10]; 6] = [
    [
        -40.0, 380.44, 0.9831, 0.6195, 3.08, 1.17, 478.6, -331.0, 510.0, 103.0,
    ],
    [
        -20.0, 360.77, 0.9837, 0.6106, 2.58, 0.15, 483.1, -735.0, 386.0, 92.8,
    ],
    [0.0, 341.09, 0.9843, 0.6009, 2.0, 0.0, 487.5, -1026.0, 297.0, 82.7],
    [
        20.0, 321.4, 0.9847, 0.5899, 1.33, 0.73, 491.9, -1249.0, 230.0, 72.9,
    ],
    [
        40.0, 301.7, 0.9845, 0.5771, 0.58, 2.34, 496.4, -1426.0, 177.0, 63.2,
    ],
    [
        60.0, 282.02, 0.9834, 0.5619, -0.27, 4.84, 501.1, -1572.0, 135.0, 53.8,
    ],
];

/// Left and right travel, lateral shift (mm), axle steer (deg), left and right damper (mm).
const CROSSED: [[f64; 6]; 5] = [
    [-38.0, -38.0, 0.0, 0.0, 378.47, 378.47],
    [0.0, 0.0, 0.0, 0.0, 341.09, 341.09],
    [50.0, 50.0, 0.0, 0.0, 291.86, 291.86],
    [-38.0, 50.0, -9.65, 0.078, 362.01, 309.42],
    [50.0, -38.0, 9.65, -0.078, 309.42, 362.01],
];

fn value(curve: C, position: &AxlePosition<'_>) -> f64 {
    curve.value(position).expect("a value")
}

#[test]
fn table_in_heave() {
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    for row in TABLE {
        let [
            travel,
            damper,
            ratio,
            in_roll,
            pinion,
            fore_aft,
            roll_centre,
            x,
            height,
            anti_squat,
        ] = row;
        let position = axle.at(AxleTravel::both(travel)).expect("within reach");
        let slope = value(C::AntiSquatSlope, &position);
        for (found, expected, tolerance, name) in [
            (value(C::DamperLengthLeft, &position), damper, 0.01, "left damper"),
            (
                value(C::DamperLengthRight, &position),
                damper,
                0.01,
                "right damper",
            ),
            (
                value(C::MotionRatioLeft, &position),
                ratio,
                0.0001,
                "motion ratio",
            ),
            (
                value(C::MotionRatioRight, &position),
                ratio,
                0.0001,
                "motion ratio, right",
            ),
            (
                value(C::MotionRatioRollLeft, &position),
                in_roll,
                0.0001,
                "motion ratio in roll",
            ),
            (
                value(C::MotionRatioRollRight, &position),
                in_roll,
                0.0001,
                "motion ratio in roll, right",
            ),
            (
                value(C::PinionAngle, &position).to_degrees(),
                pinion,
                0.01,
                "pinion angle",
            ),
            (
                value(C::ForeAftShift, &position).abs(),
                fore_aft,
                0.01,
                "fore-and-aft shift",
            ),
            (value(C::LateralShift, &position), 0.0, 1e-9, "lateral shift"),
            (
                value(C::RollCentreHeight, &position),
                roll_centre,
                0.2,
                "roll centre",
            ),
            (
                value(C::SideViewInstantCentreX, &position),
                x,
                1.0,
                "instant centre, x",
            ),
            (
                value(C::SideViewInstantCentreHeight, &position),
                height,
                1.0,
                "instant centre, height",
            ),
            (
                100.0 * slope * WHEELBASE_MM / CENTRE_OF_GRAVITY_MM,
                anti_squat,
                0.1,
                "anti-squat",
            ),
        ] {
            close(found, expected, tolerance, &format!("{name} at {travel} mm"));
        }
    }
}

#[test]
fn one_wheel_up_and_one_down() {
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    for [left, right, shift, steer, left_damper, right_damper] in CROSSED {
        let position = axle.at(AxleTravel { left, right }).expect("within reach");
        for (found, expected, tolerance, name) in [
            (value(C::LateralShift, &position), shift, 0.01, "lateral shift"),
            (
                value(C::AxleSteer, &position).to_degrees(),
                steer,
                0.001,
                "axle steer",
            ),
            (
                value(C::DamperLengthLeft, &position),
                left_damper,
                0.01,
                "left damper",
            ),
            (
                value(C::DamperLengthRight, &position),
                right_damper,
                0.01,
                "right damper",
            ),
        ] {
            close(
                found,
                expected,
                tolerance,
                &format!("{name} at {left} and {right} mm"),
            );
        }
    }
}

#[test]
fn wheel_rates_and_travel_budget() {
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    let here = axle.at(AxleTravel::default()).expect("as measured");
    close(
        value(C::WheelRateLeft, &here),
        34.02,
        0.02,
        "wheel rate, both wheels",
    );
    // Printed without the geometric term.
    let in_roll = C::WheelRateRollLeft.wheel_rate_at(&here).expect("a wheel rate");
    close(in_roll.from_spring, 12.65, 0.01, "wheel rate in roll");
    let answers = check_axle_stroke(&axle, &StrokeQuestion::default()).expect("an answer");
    let [answer] = &answers[..] else {
        panic!("{} answers for two equal sides", answers.len())
    };
    let budget = answer.budget;
    close(budget.length_at_ride, 341.09, 0.01, "length at ride height");
    close(budget.bump_to_metal.expect("met"), 73.0, 0.1, "bump to metal");
    close(budget.bump_to_stop.expect("met"), 52.7, 0.1, "bump to the stop");
    close(
        budget.droop_to_top_out.expect("met"),
        40.6,
        0.1,
        "droop to topping out",
    );
}
