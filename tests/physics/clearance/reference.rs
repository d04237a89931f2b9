//! Gaps along wheel travel, solved independently with 60 digits: `tests/reference`, section E.

use super::{block, question, rod, solid, tube};
use crate::reference::case::{list, load, number, point};
use crate::reference::corner_pickups;
use kin_core::Corner;
use kin_core::checks::{AlongDamper, Shape, Solid, check_corner_clearance};
use serde_json::Value;

const CASES: [&str; 3] = [
    "E_s1_coilover_vs_tube",
    "E_s2_coilover_vs_rail",
    "E_s3_lower_arm_tube_vs_rotated_box",
];
const GAP_MM: f64 = 1e-6;
const TRAVEL_MM: f64 = 1e-4;

fn numbers(value: &Value, key: &str) -> [f64; 3] {
    point(value, key).into()
}

fn moving(case: &Value) -> Solid {
    let moving = &case["moving"];
    let radius = number(moving, "radius");
    match (moving["from"].as_str(), moving["to"].as_str()) {
        (Some("damper_body"), Some("damper_moving")) => {
            let part = AlongDamper {
                from_upper: Some(0.0),
                from_lower: Some(0.0),
                radius,
                ..AlongDamper::default()
            };
            solid("coilover", Shape::AlongDamper(part))
        }
        (Some("lower_front"), Some("lower_ball")) => rod(
            "arm",
            "lower_arm.front_pivot",
            "lower_arm.ball_joint",
            0.0,
            radius,
        ),
        other => panic!("{other:?}"),
    }
}

fn fixed(case: &Value) -> Solid {
    let fixed = &case["fixed"];
    if fixed["type"] == "capsule" {
        return tube(
            "obstacle",
            &[numbers(fixed, "a"), numbers(fixed, "b")],
            number(fixed, "radius"),
        );
    }
    let size = numbers(fixed, "half_size").map(|half| 2.0 * half);
    block(
        "obstacle",
        numbers(fixed, "centre"),
        size,
        numbers(fixed, "yaw_pitch_roll_deg"),
    )
}

#[test]
fn least_gaps_agree_with_the_independent_solution() {
    for name in CASES {
        let case = load(name);
        let corner = Corner::new(&corner_pickups(&case["geometry"])).expect("a corner");
        let question = question(vec![moving(&case)], vec![fixed(&case)], 80.0, 80.0);
        let found = check_corner_clearance(&corner, &question).expect("an answer");
        let least = found.pairs[0].least;
        let expected = &case["minimum"];
        let miss = (least.gap - number(expected, "clearance")).abs();
        assert!(miss <= GAP_MM, "{name}: gap {} is off by {miss:e} mm", least.gap);
        let miss = (least.wheels.left() - number(expected, "travel")).abs();
        assert!(
            miss <= TRAVEL_MM,
            "{name}: travel {} is off by {miss:e} mm",
            least.wheels.left()
        );
        let travels = case["zero_clearance_travels"].as_array().expect("a list");
        let starts: Vec<f64> = found.pairs[0]
            .overlaps
            .iter()
            .map(|overlap| overlap.from.left())
            .collect();
        assert_eq!(starts.len(), travels.len(), "{name}: overlaps {starts:?}");
        for (start, travel) in starts.iter().zip(travels) {
            let miss = (start - travel.as_f64().expect("a travel")).abs();
            assert!(
                miss <= GAP_MM,
                "{name}: overlap from {start} is off by {miss:e} mm"
            );
        }
    }
}

#[test]
fn the_points_and_every_step_agree_with_the_independent_solution() {
    for name in CASES {
        let case = load(name);
        let corner = Corner::new(&corner_pickups(&case["geometry"])).expect("a corner");
        let radii = number(&case["moving"], "radius") + case["fixed"]["radius"].as_f64().unwrap_or(0.0);
        for step in list(&case, "sweep").iter().chain([&case["minimum"]]) {
            // No bump and no droop: the gap at one ride height.
            let travel = number(step, "travel");
            let mut pickups = corner.pickups().clone();
            pickups.ride_height = Some(kin_core::pickups::RideHeight {
                travel: Some(travel),
                damper_length: None,
                hub_to_lip: None,
                hub_to_lip_as_measured: None,
            });
            let corner = Corner::new(&pickups).expect("a corner");
            let question = question(vec![moving(&case)], vec![fixed(&case)], 0.0, 0.0);
            let found = check_corner_clearance(&corner, &question).expect("an answer");
            let least = found.pairs[0].least;
            let label = format!("{name} at {travel}");
            let miss = (least.gap - number(step, "clearance")).abs();
            assert!(miss <= 1e-8, "{label}: gap {} is off by {miss:e} mm", least.gap);
            assert!(
                (found.pairs[0].at_ride - least.gap).abs() < 1e-12,
                "{label}: at ride height"
            );
            // Points on the surfaces lie their radii off the reference's points on the axes.
            let axes = point(step, "closest_on_moving_axis") - point(step, "closest_on_fixed");
            let along = axes / (number(step, "clearance") + radii);
            let on_part = point(step, "closest_on_moving_axis") - along * number(&case["moving"], "radius");
            let on_other =
                point(step, "closest_on_fixed") + along * case["fixed"]["radius"].as_f64().unwrap_or(0.0);
            let miss = (least.on_part - on_part)
                .amax()
                .max((least.on_other - on_other).amax());
            assert!(miss <= 1e-6, "{label}: points are off by {miss:e} mm");
        }
    }
}
