//! Loads of a front corner with published data.
//!
//! Source: S. Frik, G. Leister, W. Schwartz, Simulation of the IAVSD Road Vehicle Benchmark (title shortened), Vehicle
//! System Dynamics 22 (suppl.), 1993, pp. 215-253. The paper itself was not seen; points and values come from an open
//! reproduction of it (UCLouvain, 2022-23): status "seen (secondary)". The file is in metres and radians.

use crate::reference::case::{number, point};
use kin_core::checks::loads::{CornerForces, CornerLoad, PartForce, corner_forces};
use kin_core::nalgebra::Vector3;
use kin_core::pickups::{Arm, Damper, DoubleWishbone, Side, Stops, TieRod, Wheel};
use kin_core::{Corner, CornerPosition};
use serde_json::Value;

fn benchmark() -> Value {
    let path = format!(
        "{}/../tests/published/iavsd-front.json",
        env!("CARGO_MANIFEST_DIR")
    );
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
    serde_json::from_str(&text).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// Each arm turns about an axis along X; its two pickups stand 100 mm to either side.
fn corner(file: &Value) -> Corner {
    let at = |key: &str| point(&file["hardpoints"], key) * 1_000.0;
    let arm = |axis: &str, ball: &str| Arm {
        front_pivot: at(axis) + Vector3::new(100.0, 0.0, 0.0),
        rear_pivot: at(axis) - Vector3::new(100.0, 0.0, 0.0),
        ball_joint: at(ball),
    };
    let pickups = DoubleWishbone {
        side: Side::Left,
        upper_arm: arm("upper_rod_axis_point", "upper_ball"),
        lower_arm: arm("lower_arm_axis_point", "lower_ball"),
        tie_rod: TieRod {
            inner: at("tie_inner"),
            outer: at("tie_outer"),
        },
        wheel: Wheel {
            centre: at("wheel_centre"),
            tyre_radius: 356.0,
            camber: 0.0,
            toe: 0.0,
        },
        coilover: Some(Damper {
            upper_mount: at("damper_top_on_body"),
            lower_mount: at("damper_bottom_on_lower_arm"),
            rides_on: "lower_arm".into(),
            // The source knows no stroke.
            extended: 1_000.0,
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
    };
    Corner::new(&pickups).expect("a corner")
}

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
    let corner = corner(&file);
    let here = corner.at(0.0, 0.0).expect("as measured");
    let published = &file["published_nominal"];
    close(-damper_force(&here), number(published, "damper_N"), "damper");
    close(leaf_force(&here), number(published, "leaf_N"), "leaf");
}

/// The front corner at the equilibrium of the whole car, with the load path that the file states: massless tie rod, tyre
/// force and weight of wheel and carrier through the wheel centre along gravity, weight of the lower arm at its own mass
/// centre, leaf force on the upper ball joint upright in body axes.
fn at_equilibrium(file: &Value) -> (f64, CornerForces) {
    let corner = corner(file);
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
    let position = corner(&file)
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
