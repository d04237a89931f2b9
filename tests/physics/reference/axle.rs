//! Live axles: triangulated four-links, and five links that bind in roll.

use super::case::{list, load, number, point};
use super::tolerance::{ANGLE_DEG, POSITION_MM, rate_is_close};
use kin_core::curves::AxleCurve;
use kin_core::pickups::{AxleSides, AxleWheels, Damper, Link, LiveAxle, Pinion, RightSide, Stops};
use kin_core::{Axle, AxleAlong, AxlePosition, AxleTravel};
use serde_json::Value;

const CASES: [&str; 4] = [
    "B_axle_s1_triangulated_upper",
    "B_axle_s2_parallel_panhard",
    "B_axle_s3_three_link_panhard",
    "B_axle_s4_triangulated_both",
];

pub(crate) fn pickups(case: &Value) -> LiveAxle {
    let geometry = &case["geometry"];
    let damper = |side: &str| {
        let ends = &geometry["dampers"][side];
        Damper {
            upper_mount: point(ends, "body"),
            lower_mount: point(ends, "axle"),
            rides_on: "axle".into(),
            extended: 2_000.0,
            compressed: 60.0,
            bump_stop: 0.0,
            upper_stud: None,
            lower_stud: None,
        }
    };
    let links = list(case, "link_order").iter().map(|name| {
        let name = name.as_str().expect("a name");
        let ends = &geometry["links"][name];
        (
            name.to_owned(),
            Link {
                body: point(ends, "body"),
                axle: point(ends, "axle"),
                stiffness: None,
            },
        )
    });
    LiveAxle {
        right: RightSide::Given,
        links: links.collect(),
        wheels: AxleWheels {
            left: point(geometry, "wheel_centre_left"),
            right: Some(point(geometry, "wheel_centre_right")),
            tyre_radius: number(geometry, "tyre_radius"),
        },
        pinion: Some(Pinion {
            point: point(geometry, "wheel_centre_left"),
            nose_up: 0.0,
        }),
        coilovers: Some(AxleSides {
            left: damper("left"),
            right: Some(damper("right")),
        }),
        dampers: None,
        springs: None,
        ride_height: None,
        stops: Stops::default(),
        wanted: None,
    }
}

fn value(curve: AxleCurve, position: &AxlePosition<'_>) -> f64 {
    curve
        .value(position)
        .unwrap_or_else(|| panic!("{curve:?} has no value"))
}

fn compare(position: &AxlePosition<'_>, step: &Value, label: &str) {
    use AxleCurve as C;
    let (wheel_left, wheel_right) = position.wheel_centres();
    let (contact_left, contact_right) = position.contact_points();
    let [damper_left, damper_right] = position.damper_ends().expect("dampers");
    for (found, key) in [
        (position.pose().displacement(), "origin_displacement"),
        (wheel_left, "wheel_centre_left"),
        (wheel_right, "wheel_centre_right"),
        (contact_left, "contact_point_left"),
        (contact_right, "contact_point_right"),
        (damper_left.1, "damper_axle_left"),
        (damper_right.1, "damper_axle_right"),
    ] {
        let miss = (found - point(step, key)).amax();
        assert!(miss <= POSITION_MM, "{label}: {key} is off by {miss:e} mm");
    }
    let rotation = position.pose().rotation();
    for row in 0..3 {
        for column in 0..3 {
            let expected = step["R"][row][column].as_f64().expect("a matrix");
            assert!(
                (rotation[(row, column)] - expected).abs() <= 1e-11,
                "{label}: R[{row}][{column}]"
            );
        }
    }
    for (curve, key) in [
        (C::DamperLengthLeft, "damper_length_left"),
        (C::DamperLengthRight, "damper_length_right"),
        (C::LateralShift, "axle_lateral_shift"),
    ] {
        let miss = (value(curve, position) - number(step, key)).abs();
        assert!(miss <= POSITION_MM, "{label}: {key} is off by {miss:e} mm");
    }
    let nose_up = value(C::PinionAngle, position).to_degrees();
    assert!(
        (nose_up - number(step, "pinion_nose_up_deg")).abs() <= ANGLE_DEG,
        "{label}: pinion"
    );
    if let Some(expected) = step["link_residual"].as_array() {
        for ((name, found), expected) in position.link_stretch().iter().zip(expected) {
            let miss = (found - expected.as_f64().expect("a number")).abs();
            assert!(
                miss <= POSITION_MM,
                "{label}: stretch of {name} is off by {miss:e} mm"
            );
        }
    }
    compare_rates(position, step, label);
}

fn compare_rates(position: &AxlePosition<'_>, step: &Value, label: &str) {
    use AxleCurve as C;
    let (heave_left, heave_right) = (
        value(C::MotionRatioLeft, position),
        value(C::MotionRatioRight, position),
    );
    let (roll_left, roll_right) = (
        value(C::MotionRatioRollLeft, position),
        value(C::MotionRatioRollRight, position),
    );
    let pinion = C::PinionAngle
        .rate(position, AxleAlong::Heave)
        .expect("a rate")
        .to_degrees();
    let lateral = C::LateralShift.rate(position, AxleAlong::Heave).expect("a rate");
    for (found, key) in [
        (heave_left, "MR_heave_left"),
        (heave_right, "MR_heave_right"),
        (roll_left, "MR_roll_left"),
        (roll_right, "MR_roll_right"),
        (0.5 * (heave_left + roll_left), "dcomp_L_dzL"),
        (0.5 * (heave_left - roll_left), "dcomp_L_dzR"),
        (0.5 * (heave_right - roll_right), "dcomp_R_dzL"),
        (0.5 * (heave_right + roll_right), "dcomp_R_dzR"),
        (value(C::RollCentreHeight, position), "roll_centre_height"),
        (-value(C::AntiSquatSlope, position), "contact_dx_dz_locked_left"),
        (value(C::AxleCentreSlope, position), "axle_origin_dx_dz"),
        (pinion, "dpinion_nose_up_dtravel_deg_per_mm"),
        (lateral, "dlateral_shift_dtravel"),
    ] {
        let expected = number(step, key);
        assert!(
            rate_is_close(found, expected, f64::INFINITY),
            "{label}: {key} is {found:e}, not {expected:e} (off by {:e})",
            found - expected
        );
    }
}

#[test]
fn axles_agree_with_the_independent_solution() {
    for name in CASES {
        let case = load(name);
        let axle = Axle::new(&pickups(&case)).expect("an axle");
        for step in list(&case, "steps") {
            let travel = AxleTravel {
                left: number(step, "zL"),
                right: number(step, "zR"),
            };
            let label = format!("{name} {travel:?}");
            let position = axle.at(travel).unwrap_or_else(|error| panic!("{label}: {error}"));
            compare(&position, step, &label);
        }
        assert_eq!(list(&case, "steps").len(), 28);
    }
}
