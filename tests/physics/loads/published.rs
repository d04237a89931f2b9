//! Loads of a front corner with published data.
//!
//! Source: S. Frik, G. Leister, W. Schwartz, Simulation of the IAVSD Road Vehicle Benchmark (title shortened), Vehicle
//! System Dynamics 22 (suppl.), 1993, pp. 215-253. The paper itself was not seen; points and values come from an open
//! reproduction of it (UCLouvain, 2022-23): status "seen (secondary)". The file is in metres and radians.

use crate::published::{benchmark, pickups};
use crate::reference::case::number;
use kin_core::checks::loads::{CornerForces, CornerLoad, PartForce, corner_forces};
use kin_core::nalgebra::Vector3;
use kin_core::{Corner, CornerPosition};
use serde_json::Value;

/// The source's leaf spring: its force on the upper ball joint (N), up positive in body axes.
fn leaf_force(position: &CornerPosition<'_>) -> f64 {
    let leaf = 0.707 - position.upper_ball_joint().z * 1e-3 - 0.1;
    35_906.0 * (leaf - 0.152)
}

/// The source's damper and spring law (N), compression positive; the source counts it negative.
fn damper_force(position: &CornerPosition<'_>) -> f64 {
    let (upper, lower) = position.damper_ends().expect("a damper");
    let length = (upper - lower).norm() * 1e-3;
    4.0092e6 - 2.8397e7 * length + 6.7061e7 * length.powi(2) - 5.2796e7 * length.powi(3)
}

/// The travel at which the upper rod has an angle (rad), by halving: the angle grows with travel.
fn travel_of(corner: &Corner, angle: f64) -> f64 {
    let (mut low, mut high) = (-100.0, 110.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        let ball = corner.at(middle, 0.0).expect("within reach").upper_ball_joint();
        if (ball.z - 600.0).atan2(ball.y - 158.5) < angle {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// Half of the last printed digit of forces printed to a tenth, and what the rounding of the printed constants does.
const TOLERANCE_N: f64 = 0.05;

fn close(found: f64, expected: f64, label: &str) {
    let miss = (found - expected).abs();
    assert!(
        miss <= TOLERANCE_N,
        "{label}: {found} is not {expected} N (off by {miss:e})"
    );
}

#[test]
fn nominal_forces() {
    let file = benchmark();
    let corner = Corner::new(&pickups()).expect("a corner");
    let here = corner.at(0.0, 0.0).expect("as measured");
    let published = &file["published_nominal"];
    close(-damper_force(&here), number(published, "damper_N"), "damper");
    close(leaf_force(&here), number(published, "leaf_N"), "leaf");
}

/// The front corner at the equilibrium of the whole car, with the load path that the file states: massless tie rod, tyre
/// force and weight of wheel and carrier through the wheel centre along gravity, weight of the lower arm at its own mass
/// centre, leaf force on the upper ball joint upright in body axes.
fn at_equilibrium(file: &Value) -> (f64, CornerForces) {
    let corner = Corner::new(&pickups()).expect("a corner");
    let equilibrium = &file["front_equilibrium"];
    let reproduced = &equilibrium["reproduction"];
    let travel = travel_of(&corner, number(reproduced, "upper_rod_angle_rad"));
    let position = corner.at(travel, 0.0).expect("within reach");

    let masses = &file["forces"]["masses"];
    let gravity = number(masses, "g");
    // The body pitches nose down, so that upwards leans rearward as the body sees it.
    let pitch = number(reproduced, "body_pitch_rad");
    let up = Vector3::new(-pitch.sin(), 0.0, pitch.cos());
    let tyre = number(&equilibrium["recomputed"], "tyre_N");
    let carried = number(masses, "wheel_with_carrier_each") * gravity;
    let arm = &corner.pickups().lower_arm;
    let inboard = Vector3::new(
        0.0,
        arm.front_pivot.y - arm.ball_joint.y,
        arm.front_pivot.z - arm.ball_joint.z,
    );
    let to_centre = 1_000.0 * number(masses, "lower_arm_com_from_lower_ball_m");
    let load = CornerLoad {
        at_contact_point: Vector3::zeros(),
        at_wheel_centre: up * (tyre - carried),
        part_forces: vec![
            PartForce {
                name: "weight of the lower arm".into(),
                rides_on: "lower_arm".into(),
                point: arm.ball_joint + inboard.normalize() * to_centre,
                force: up * (-number(masses, "lower_arm_each") * gravity),
            },
            PartForce {
                name: "leaf".into(),
                rides_on: "upright".into(),
                point: corner.pickups().upper_arm.ball_joint,
                force: Vector3::new(0.0, 0.0, leaf_force(&position)),
            },
        ],
    };
    let forces = corner_forces(&position, &load).expect("forces");
    // The balance asks of the damper what its law gives there.
    close(
        forces.support.compression,
        damper_force(&position),
        "law of the damper",
    );
    close(leaf_force(&position), number(reproduced, "leaf_N"), "leaf");
    (travel, forces)
}

#[test]
fn forces_at_equilibrium() {
    let file = benchmark();
    let (travel, forces) = at_equilibrium(&file);
    let equilibrium = &file["front_equilibrium"];
    let (reproduced, recomputed) = (&equilibrium["reproduction"], &equilibrium["recomputed"]);
    assert!((travel - number(recomputed, "wheel_centre_dz_mm")).abs() < 1e-3);
    close(
        -forces.support.compression,
        number(reproduced, "damper_N"),
        "damper",
    );
    // The upper arm stands for a two-point rod in a plane across the car; what it does to the ball joint lies along it.
    let upper = &forces.upper_arm;
    close(upper.across_legs, 0.0, "nothing rides on the upper rod");
    let on_ball = &upper.ball_joint_on_upright;
    // Outboard of the axis, a rod in compression pushes the ball outboard.
    let along = -on_ball.y.signum() * on_ball.y.hypot(on_ball.z);
    close(along, number(reproduced, "upper_rod_axial_N"), "upper rod");
    // Force of the upright on the lower arm along it, outboard positive.
    let position = Corner::new(&pickups())
        .expect("a corner")
        .at(travel, 0.0)
        .map(|position| position.lower_ball_joint());
    let ball = position.expect("within reach");
    let outboard = Vector3::new(0.0, ball.y - 259.0, ball.z - 302.0).normalize();
    let along = -forces.lower_arm.ball_joint_on_upright.dot(&outboard);
    close(
        along,
        number(recomputed, "lower_arm_ball_force_along_arm_N"),
        "lower arm",
    );
    close(
        forces.tie_rod_tension.abs(),
        number(recomputed, "tie_rod_axial_abs_N"),
        "tie rod",
    );
}
