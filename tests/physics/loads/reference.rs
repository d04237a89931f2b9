//! Forces solved by an independent program with 60 digits: `tests/reference/README.md`, sections C and D.

use crate::reference::case::{list, load, number, point};
use crate::reference::{axle, corner};
use kin_core::checks::loads::{AxleLoad, CornerLoad, axle_forces, corner_forces};
use kin_core::curves::CornerCurve;
use kin_core::nalgebra::Vector3;
use kin_core::{Axle, AxleTravel, Corner};
use serde_json::Value;

/// Forces of some thousand newtons in doubles, on poses good to 1e-8 mm.
const FORCE_N: f64 = 1e-6;

fn close(found: f64, expected: f64, label: &str) {
    let miss = (found - expected).abs();
    assert!(
        miss <= FORCE_N,
        "{label}: {found} is not {expected} N (off by {miss:e})"
    );
}

fn close_vector(found: &Vector3<f64>, expected: &Vector3<f64>, label: &str) {
    let miss = (found - expected).amax();
    assert!(
        miss <= FORCE_N,
        "{label}: {found:?} is not {expected:?} N (off by {miss:e})"
    );
}

#[test]
fn corner_forces_agree_with_the_independent_solution() {
    for name in ["C_dw_s1_coilover_lower_arm", "C_dw_s3_coilover_upright"] {
        let case = load(name);
        let corner = Corner::new(&corner::pickups(&case["geometry"])).expect("a corner");
        let states = list(&case, "states");
        assert_eq!(states.len(), 8);
        for state in states {
            let travel = number(state, "travel");
            let label = format!("{name}, {} at {travel} mm", state["load"]);
            let applied = CornerLoad {
                at_contact_point: point(state, "force_contact"),
                ..CornerLoad::default()
            };
            let position = corner.at(travel, 0.0).expect("within reach");
            let forces = corner_forces(&position, &applied).expect("forces");
            for (arm, key) in [(&forces.upper_arm, "upper"), (&forces.lower_arm, "lower")] {
                for (found, part) in [
                    (&arm.ball_joint_on_upright, "ball_force_on_upright"),
                    (&arm.front_pivot_across, "front_pivot_perp_force_on_arm"),
                    (&arm.rear_pivot_across, "rear_pivot_perp_force_on_arm"),
                ] {
                    let key = format!("{key}_{part}");
                    close_vector(found, &point(state, &key), &format!("{label}: {key}"));
                }
                let axis = point(state, &format!("{key}_pivot_axis_unit_rear_to_front"));
                assert!((arm.axis - axis).amax() < 1e-12, "{label}: axis of {key}");
                let key = format!("{key}_pivots_axial_sum_on_arm");
                close(
                    arm.pivots_along_axis,
                    number(state, &key),
                    &format!("{label}: {key}"),
                );
            }
            close(
                forces.tie_rod_tension,
                number(state, "tie_rod_axial_tension"),
                &label,
            );
            close_vector(
                &forces.tie_rod_on_upright,
                &point(state, "tie_rod_force_on_upright"),
                &label,
            );
            let support = &forces.support;
            close(
                support.compression,
                number(state, "damper_axial_compression"),
                &label,
            );
            let on_mount = point(state, "damper_force_on_moving_mount");
            close_vector(&support.force_on_moving_part, &on_mount, &label);
            close_vector(&support.force_on_body, &-on_mount, &label);
        }
    }
}

#[test]
fn axle_forces_agree_with_the_independent_solution() {
    let name = "C_axle_s1_triangulated_upper";
    let mut case = load(name);
    let order: Vec<Value> = case["geometry"]["links"]
        .as_object()
        .expect("links")
        .keys()
        .map(|key| Value::from(key.as_str()))
        .collect();
    case["link_order"] = Value::from(order);
    let axle = Axle::new(&axle::pickups(&case)).expect("an axle");
    let states = list(&case, "states");
    assert_eq!(states.len(), 9);
    for state in states {
        let travel = AxleTravel {
            left: number(state, "zL"),
            right: number(state, "zR"),
        };
        let label = format!("{name}, {} at {travel:?}", state["load"]);
        let applied = AxleLoad {
            at_contact_points: ["force_contact_left", "force_contact_right"].map(|key| point(state, key)),
            ..AxleLoad::default()
        };
        let forces = axle_forces(&axle.at(travel).expect("within reach"), &applied).expect("forces");
        assert_eq!(forces.links.len(), 4);
        for (link, found) in &forces.links {
            close(
                found.tension,
                number(&state["link_axial_tension"], link),
                &format!("{label}: {link}"),
            );
            close_vector(&found.on_axle, &point(&state["link_force_on_axle"], link), &label);
            close_vector(
                &found.on_body,
                &-point(&state["link_force_on_axle"], link),
                &label,
            );
        }
        for (support, side) in forces.supports.iter().zip(["left", "right"]) {
            let key = format!("damper_axial_compression_{side}");
            close(
                support.compression,
                number(state, &key),
                &format!("{label}: {key}"),
            );
        }
    }
}

/// Where a car sits on its spring, the spring's force is the force that the loads ask of the coilover.
#[test]
fn the_coilover_carries_what_the_spring_gives_at_ride_height() {
    let case = load("D_dw_s1_coilover_lower_arm");
    let corner = Corner::new(&corner::pickups(&case["geometry"])).expect("a corner");
    let parameters = &case["parameters"];
    let weight = number(parameters, "sprung_corner_mass_kg") * number(parameters, "gravity_m_per_s2");
    let up = Vector3::new(0.0, 0.0, weight);
    let results = list(&case, "results");
    assert_eq!(results.len(), 4);
    for result in results {
        // The load acts at the wheel centre (the convention for ride height), or at the contact point.
        for (at_centre, ending) in [(true, ""), (false, "_contact_point_exact")] {
            let key = |name: &str| format!("{name}{ending}");
            let mut applied = CornerLoad::default();
            if at_centre {
                applied.at_wheel_centre = up;
            } else {
                applied.at_contact_point = up;
            }
            let travel = number(result, &key("travel"));
            let position = corner.at(travel, 0.0).expect("within reach");
            let forces = corner_forces(&position, &applied).expect("forces");
            let spring = number(result, &key("spring_force"));
            close(
                forces.support.compression,
                spring,
                &format!("at {travel} mm{ending}"),
            );
            let motion_ratio = CornerCurve::MotionRatio.value(&position).expect("a value");
            assert!((motion_ratio - number(result, &key("motion_ratio"))).abs() < 1e-8);
        }
    }
}
