//! A damper whose length turns round within the travel: limits met between two looks at the curve are met.

use super::close;
use kin_core::checks::{DamperStroke, StrokeQuestion, check_corner_stroke};
use kin_core::curves::CornerCurve as C;
use kin_core::pickups::{Damper, DoubleWishbone};
use kin_core::{Corner, samples};

/// The corner with a damper that is shortest at a travel: there its upper mount, its lower mount and the arm's axis lie
/// in one plane, the upper mount outboard.
fn shortest_at(travel: f64) -> DoubleWishbone {
    let mut pickups = samples::wagon_front();
    let corner = Corner::new(&pickups).expect("a corner");
    let position = corner.at(travel, 0.0).expect("within reach");
    let (_, foot) = position.damper_ends().expect("a damper");
    let arm = &pickups.lower_arm;
    let axis = (arm.front_pivot - arm.rear_pivot).normalize();
    let from_pivot = foot - arm.rear_pivot;
    let radial = (from_pivot - axis * axis.dot(&from_pivot)).normalize();
    let lower_mount = pickups.coilover.as_ref().expect("a coilover").lower_mount;
    pickups.coilover = Some(Damper {
        upper_mount: foot + radial * 200.0,
        lower_mount,
        rides_on: "lower_arm".to_owned(),
        extended: 400.0,
        compressed: 100.0,
        bump_stop: 0.0,
        upper_stud: None,
        lower_stud: None,
    });
    pickups.stops.droop = None;
    pickups
}

fn check(pickups: &DoubleWishbone) -> DamperStroke {
    let corner = Corner::new(pickups).expect("a corner");
    check_corner_stroke(&corner, &StrokeQuestion::default()).expect("an answer")
}

#[test]
fn the_length_is_least_where_it_was_built_to_be() {
    let pickups = shortest_at(31.0);
    let corner = Corner::new(&pickups).expect("a corner");
    let there = corner.at(31.0, 0.0).expect("within reach");
    close(
        C::MotionRatio.value(&there).expect("a value"),
        0.0,
        1e-12,
        "motion ratio",
    );
    close(
        C::DamperLength.value(&there).expect("a value"),
        200.0,
        1e-9,
        "least length",
    );
}

/// Whatever the travel of the turning point, a limit that lies a hair above the least length is met shortly before it.
#[test]
fn a_limit_just_above_the_least_length_is_met() {
    for turn in [17.3, 31.0, 44.9, 58.04] {
        for above in [0.1, 1e-3, 1e-5, 1e-7] {
            let mut pickups = shortest_at(turn);
            pickups.coilover.as_mut().expect("a coilover").compressed = 200.0 + above;
            let answer = check(&pickups);
            let travel = answer.budget.bump_to_metal.expect("met");
            let label = format!("turn at {turn} mm, limit {above} mm above");
            assert!(travel < turn && travel > turn - 15.0, "{label}: {travel}");
            let corner = Corner::new(&pickups).expect("a corner");
            let there = corner.at(travel, 0.0).expect("within reach");
            close(
                C::DamperLength.value(&there).expect("a value"),
                200.0 + above,
                1e-9,
                &label,
            );
        }
    }
}

/// A limit a hair below the least length is never met.
#[test]
fn a_limit_just_below_the_least_length_is_not_met() {
    for turn in [17.3, 31.0, 44.9] {
        for below in [0.1, 1e-3, 1e-6] {
            let mut pickups = shortest_at(turn);
            pickups.coilover.as_mut().expect("a coilover").compressed = 200.0 - below;
            let answer = check(&pickups);
            assert_eq!(
                answer.budget.bump_to_metal, None,
                "turn at {turn} mm, limit {below} mm below"
            );
        }
    }
}

/// Beyond the turning point bump makes the damper longer: it can top out in bump, and the damper that would be torn
/// apart there must not count as holding.
#[test]
fn the_way_back_is_found_from_either_side() {
    let mut pickups = shortest_at(31.0);
    pickups.coilover.as_mut().expect("a coilover").compressed = 201.0;
    let before = check(&pickups).budget.bump_to_metal.expect("met");
    // Sitting beyond the turning point, the same limit lies behind.
    pickups.ride_height = Some(kin_core::pickups::RideHeight {
        travel: Some(31.0),
        ..kin_core::pickups::RideHeight::default()
    });
    let at_turn = check(&pickups).budget.bump_to_metal.expect("met");
    close(at_turn, before - 31.0, 1e-8, "already passed");
}
