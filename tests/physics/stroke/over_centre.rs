//! A damper whose length turns round within the travel: limits met between two looks at the curve are met.

use super::close;
use kin_core::checks::{DamperStroke, Finding, Stopper, StrokeQuestion, Verdict, check_corner_stroke};
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

/// Length of the damper at a travel (mm).
fn length(pickups: &DoubleWishbone, travel: f64) -> f64 {
    let corner = Corner::new(pickups).expect("a corner");
    let position = corner.at(travel, 0.0).expect("within reach");
    C::DamperLength.value(&position).expect("a value")
}

/// The corner with a damper that is longest at a travel: as above, with the upper mount beyond the arm's axis.
fn longest_at(travel: f64) -> DoubleWishbone {
    let mut pickups = shortest_at(travel);
    let corner = Corner::new(&pickups).expect("a corner");
    let (upper, foot) = corner
        .at(travel, 0.0)
        .expect("within reach")
        .damper_ends()
        .expect("a damper");
    let outboard = (upper - foot).normalize();
    pickups.coilover.as_mut().expect("a coilover").upper_mount = foot - outboard * 450.0;
    pickups
}

fn asked(pickups: &DoubleWishbone, bump: f64, droop: f64) -> DamperStroke {
    let corner = Corner::new(pickups).expect("a corner");
    let question = StrokeQuestion {
        bump: Some(bump),
        droop: Some(droop),
        margin: None,
    };
    check_corner_stroke(&corner, &question).expect("an answer")
}

fn turned(answer: &DamperStroke) -> Option<&Finding> {
    let mut findings = answer.findings.iter();
    findings.find(|finding| finding.subject.contains("turns round"))
}

/// Bump first compresses this damper and then draws it out again: wanted bump beyond where it tops out fails.
#[test]
fn topping_out_in_bump_fails() {
    let mut pickups = shortest_at(20.0);
    let extended = length(&pickups, 55.0);
    assert!(extended > length(&pickups, 0.0));
    pickups.coilover.as_mut().expect("a coilover").extended = extended;
    let answer = asked(&pickups, 65.0, 0.0);
    close(
        answer.budget.bump_to_top_out.expect("met"),
        55.0,
        1e-6,
        "bump to topping out",
    );
    let finding = turned(&answer).expect("a finding");
    assert_eq!(finding.verdict, Verdict::Fails);
    close(finding.margin, -10.0, 1e-6, "margin");
    let text = finding.to_string();
    assert!(text.contains("tops out at 55.0 mm of bump"), "{text}");
    assert_eq!(answer.first_in_bump.0, Stopper::Damper);
    close(answer.first_in_bump.1.expect("met"), 55.0, 1e-6, "end of bump");
    // Less bump is had without it.
    assert_eq!(turned(&asked(&pickups, 54.9, 0.0)), None);
}

/// Droop first draws this damper out and then compresses it again, onto its bump stop and onto metal.
#[test]
fn metal_in_droop_fails() {
    let mut pickups = longest_at(-20.0);
    let compressed = length(&pickups, -60.0);
    assert!(compressed < length(&pickups, 0.0));
    let touched = length(&pickups, -52.0);
    let damper = pickups.coilover.as_mut().expect("a coilover");
    (damper.extended, damper.compressed, damper.bump_stop) = (500.0, compressed, touched - compressed);
    let answer = asked(&pickups, 0.0, 70.0);
    close(
        answer.budget.droop_to_stop.expect("met"),
        52.0,
        1e-6,
        "droop to the stop",
    );
    close(
        answer.budget.droop_to_metal.expect("met"),
        60.0,
        1e-6,
        "droop to metal",
    );
    assert_eq!(answer.budget.droop_to_top_out, None);
    let finding = turned(&answer).expect("a finding");
    assert_eq!(finding.verdict, Verdict::Fails);
    let text = finding.to_string();
    assert!(
        text.contains("touches its bump stop at 52.0 mm of droop"),
        "{text}"
    );
    assert_eq!(answer.first_in_droop.0, Stopper::Damper);
    close(answer.first_in_droop.1.expect("met"), 60.0, 1e-6, "end of droop");
    // A stop of the suspension beyond metal is none.
    pickups.stops.droop = Some(65.0);
    let answer = asked(&pickups, 0.0, 40.0);
    assert_eq!(turned(&answer), None);
    let who = answer
        .findings
        .iter()
        .find(|finding| finding.subject.contains("who stops"))
        .expect("a finding");
    assert_eq!(who.verdict, Verdict::Fails, "{who}");
    assert!(
        who.to_string().contains("bottoms metal to metal at 60.0 mm"),
        "{who}"
    );
}
