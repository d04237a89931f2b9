//! Double wishbones: six invented corners, steered, at their limits and in between.

use super::case::{list, load, number, point};
use super::tolerance::{ANGLE_DEG, LIMIT_MM, POSITION_MM, rate_is_close};
use kin_core::curves::CornerCurve;
use kin_core::pickups::{Arm, Damper, DoubleWishbone, Side, Stops, TieRod, Wheel};
use kin_core::{Along, Corner, CornerPosition, PoseError};
use serde_json::Value;

const CASES: [&str; 6] = [
    "A_dw_s1_coilover_lower_arm",
    "A_dw_s2_coilover_upper_arm",
    "A_dw_s3_coilover_upright",
    "A_dw_s4_inclined_axes",
    "A_dw_s5_rack_steer",
    "A_dw_s6_locks",
];

pub(crate) fn pickups(geometry: &Value) -> DoubleWishbone {
    let at = |key| point(geometry, key);
    DoubleWishbone {
        side: Side::Left,
        upper_arm: Arm {
            front_pivot: at("upper_front"),
            rear_pivot: at("upper_rear"),
            ball_joint: at("upper_ball"),
        },
        lower_arm: Arm {
            front_pivot: at("lower_front"),
            rear_pivot: at("lower_rear"),
            ball_joint: at("lower_ball"),
        },
        tie_rod: TieRod {
            inner: at("tie_inner"),
            outer: at("tie_outer"),
        },
        wheel: Wheel {
            centre: at("wheel_centre"),
            tyre_radius: number(geometry, "tyre_radius"),
            camber: number(geometry, "static_camber_deg"),
            toe: number(geometry, "static_toe_deg"),
        },
        coilover: Some(Damper {
            upper_mount: at("damper_body"),
            lower_mount: at("damper_moving"),
            rides_on: geometry["damper_attached_to"]
                .as_str()
                .expect("a part")
                .to_owned(),
            // The reference knows no stroke: lengths that hold any case.
            extended: 2_000.0,
            compressed: 60.0,
            bump_stop: 0.0,
            upper_stud: None,
            lower_stud: None,
        }),
        damper: None,
        spring: None,
        ride_height: None,
        stops: Stops::default(),
        wanted: None,
    }
}

fn value(curve: CornerCurve, position: &CornerPosition<'_>) -> f64 {
    curve
        .value(position)
        .unwrap_or_else(|| panic!("{curve:?} has no value"))
}

fn rate(curve: CornerCurve, position: &CornerPosition<'_>) -> f64 {
    curve
        .rate(position, Along::Travel)
        .unwrap_or_else(|| panic!("{curve:?} has no rate"))
}

/// Compares everything that the file gives for one position.
fn compare(position: &CornerPosition<'_>, step: &Value, to_limit_mm: f64, label: &str) {
    use CornerCurve as C;
    for (found, key) in [
        (position.wheel_centre(), "wheel_centre"),
        (position.upper_ball_joint(), "upper_ball"),
        (position.lower_ball_joint(), "lower_ball"),
        (position.tie_rod_outer(), "tie_outer"),
        (position.contact_point(), "contact_point"),
        (position.damper_ends().expect("a damper").1, "damper_moving"),
    ] {
        let miss = (found - point(step, key)).amax();
        assert!(miss <= POSITION_MM, "{label}: {key} is off by {miss:e} mm");
    }
    let spin_miss = (position.spin_axis() - point(step, "spin_axis")).amax();
    assert!(
        spin_miss <= POSITION_MM / 300.0,
        "{label}: spin axis is off by {spin_miss:e}"
    );
    for (curve, key) in [
        (C::DamperLength, "damper_length"),
        (C::HalfTrackChange, "half_track_change"),
        (C::ScrubRadius, "scrub_radius"),
        (C::CasterTrail, "caster_trail"),
    ] {
        let miss = (value(curve, position) - number(step, key)).abs();
        assert!(miss <= POSITION_MM, "{label}: {key} is off by {miss:e} mm");
    }
    for (curve, key) in [
        (C::Camber, "camber_deg"),
        (C::Toe, "toe_deg"),
        (C::Caster, "caster_deg"),
        (C::KingpinInclination, "kpi_deg"),
    ] {
        let miss = (value(curve, position).to_degrees() - number(step, key)).abs();
        assert!(miss <= ANGLE_DEG, "{label}: {key} is off by {miss:e} deg");
    }
    for (found, key) in [
        (value(C::MotionRatio, position), "motion_ratio"),
        (rate(C::MotionRatio, position), "dmotion_ratio_dtravel"),
        (
            rate(C::Camber, position).to_degrees(),
            "dcamber_dtravel_deg_per_mm",
        ),
        (rate(C::Toe, position).to_degrees(), "dtoe_dtravel_deg_per_mm"),
        (
            rate(C::Caster, position).to_degrees(),
            "dcaster_dtravel_deg_per_mm",
        ),
        (value(C::RollCentreHeight, position), "roll_centre_height"),
        (value(C::ContactPointSlope, position), "contact_dx_dz_locked"),
        (value(C::WheelCentreSlope, position), "wheel_centre_dx_dz"),
    ] {
        // The entries close to the limit of reach leave the side-view slopes out.
        let Some(expected) = step[key].as_f64() else {
            assert!(
                to_limit_mm.is_finite() && key.ends_with("_dx_dz") | key.ends_with("_locked"),
                "no {key}"
            );
            continue;
        };
        assert!(
            rate_is_close(found, expected, to_limit_mm),
            "{label}: {key} is {found:e}, not {expected:e} (off by {:e})",
            found - expected
        );
    }
    assert!(
        position.rod_residual() <= 1e-9,
        "{label}: rods are off by {:e} mm",
        position.rod_residual()
    );
}

#[test]
fn corners_agree_with_the_independent_solution() {
    for name in CASES {
        let case = load(name);
        let corner = Corner::new(&pickups(&case["geometry"])).expect("a corner");
        let mut compared = 0;
        for step in list(&case, "steps") {
            let travel = number(step, "travel");
            let rack = step["tie_inner_shift_y"].as_f64().unwrap_or(0.0);
            let label = format!("{name} travel {travel} rack {rack}");
            let position = corner.at(travel, rack);
            if step["reachable"] == Value::Bool(false) {
                assert!(
                    matches!(position, Err(PoseError::OutOfReach { .. })),
                    "{label}: {position:?}"
                );
                continue;
            }
            let position = position.unwrap_or_else(|error| panic!("{label}: {error}"));
            compare(&position, step, f64::INFINITY, &label);
            compared += 1;
        }
        assert!(compared > 10, "{name}: only {compared} positions compared");
    }
}

#[test]
fn corners_agree_close_to_the_limit_of_reach() {
    let name = "A_dw_s6_locks";
    let case = load(name);
    let corner = Corner::new(&pickups(&case["geometry"])).expect("a corner");
    for key in ["near_limit_bump", "near_limit_droop"] {
        for step in list(&case, key) {
            let short = number(step, "short_of_limit");
            let label = format!("{name} {key} {short}");
            let position = corner
                .at(number(step, "travel"), 0.0)
                .unwrap_or_else(|error| panic!("{label}: {error}"));
            compare(&position, step, short, &label);
        }
    }
}

#[test]
fn limits_of_reach_agree() {
    let mut compared = 0;
    for name in CASES {
        let case = load(name);
        let reach = Corner::new(&pickups(&case["geometry"]))
            .expect("a corner")
            .reach();
        for (found, key) in [(reach.highest, "bump"), (reach.lowest, "droop")] {
            let Some(expected) = case["linkage_travel_limit"][key].as_f64() else {
                continue;
            };
            let found = found.unwrap_or_else(|| panic!("{name}: no limit in {key}, expected {expected}"));
            let miss = (found - expected).abs();
            assert!(miss <= LIMIT_MM, "{name} {key}: {found} is off by {miss:e} mm");
            compared += 1;
        }
    }
    assert!(compared >= 10, "only {compared} limits compared");
}

#[test]
fn a_travel_just_beyond_the_limit_is_refused_and_just_short_of_it_is_not() {
    let case = load("A_dw_s6_locks");
    let corner = Corner::new(&pickups(&case["geometry"])).expect("a corner");
    for (key, sign) in [("bump", 1.0), ("droop", -1.0)] {
        let limit = number(&case["linkage_travel_limit"], key);
        let refused = corner.at(limit + sign * 1e-5, 0.0);
        let Err(PoseError::OutOfReach { limit_mm, .. }) = refused else {
            panic!("{key}: {refused:?}")
        };
        assert!((limit_mm - limit).abs() <= LIMIT_MM);
        corner
            .at(limit - sign * 1e-5, 0.0)
            .unwrap_or_else(|error| panic!("{key}: {error}"));
    }
}
