//! What is asked, what margin counts as tight, and questions that cannot be answered.

use super::close;
use crate::laws::random::{axle, corner, hold};
use kin_core::checks::{DamperStroke, StrokeQuestion, Verdict, check_axle_stroke, check_corner_stroke};
use kin_core::pickups::{LiveAxle, RideHeight, Wanted};
use kin_core::{Axle, Corner, Error, samples};
use proptest::prelude::*;

/// The wagon has 69.24 mm of bump to its stop.
#[test]
fn the_margin_decides_what_is_tight() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    for (bump, margin, verdict) in [
        (60.0, None, Verdict::Holds),
        (65.0, None, Verdict::Tight),
        (65.0, Some(4.0), Verdict::Holds),
        (69.3, Some(0.0), Verdict::Fails),
        (69.2, Some(0.0), Verdict::Holds),
        (40.0, Some(30.0), Verdict::Tight),
    ] {
        let question = StrokeQuestion {
            bump: Some(bump),
            droop: Some(0.0),
            margin,
        };
        let answer = check_corner_stroke(&corner, &question).expect("an answer");
        assert_eq!(
            answer.findings[0].verdict, verdict,
            "{question:?}: {}",
            answer.findings[0]
        );
        close(answer.findings[0].margin, 69.2386 - bump, 1e-3, "margin");
    }
}

#[test]
fn a_question_overrides_what_the_description_wants() {
    let mut pickups = samples::wagon_front();
    pickups.wanted = Some(Wanted {
        bump: Some(10.0),
        droop: Some(20.0),
        margin: Some(1.0),
    });
    let corner = Corner::new(&pickups).expect("a corner");
    let limits = |question| {
        let answer = check_corner_stroke(&corner, &question).expect("an answer");
        (answer.findings[0].limit, answer.findings[1].limit)
    };
    assert_eq!(limits(StrokeQuestion::default()), (10.0, 20.0));
    let asked = StrokeQuestion {
        bump: Some(33.0),
        ..StrokeQuestion::default()
    };
    assert_eq!(limits(asked), (33.0, 20.0));
}

#[test]
fn numbers_that_are_none_are_refused() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    for number in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1.0, 1e9] {
        for (question, name) in [
            (
                StrokeQuestion {
                    bump: Some(number),
                    ..StrokeQuestion::default()
                },
                "bump",
            ),
            (
                StrokeQuestion {
                    droop: Some(number),
                    ..StrokeQuestion::default()
                },
                "droop",
            ),
            (
                StrokeQuestion {
                    margin: Some(number),
                    ..StrokeQuestion::default()
                },
                "margin",
            ),
        ] {
            let refused = check_corner_stroke(&corner, &question)
                .expect_err("an error")
                .to_string();
            assert!(refused.contains(name), "{refused}");
            let refused = check_axle_stroke(&axle, &question)
                .expect_err("an error")
                .to_string();
            assert!(refused.contains(name), "{refused}");
        }
    }
}

#[test]
fn without_a_damper_there_is_no_answer() {
    let mut pickups = samples::wagon_front();
    pickups.coilover = None;
    pickups.spring = None;
    let corner = Corner::new(&pickups).expect("a corner");
    let refused = check_corner_stroke(&corner, &StrokeQuestion::default());
    let Err(Error::Missing { field, .. }) = &refused else {
        panic!("{refused:?}")
    };
    assert_eq!(*field, "coilover");
    let mut pickups = samples::wagon_rear();
    pickups.coilovers = None;
    pickups.springs = None;
    let axle = Axle::new(&pickups).expect("an axle");
    let refused = check_axle_stroke(&axle, &StrokeQuestion::default()).expect_err("an error");
    assert!(refused.to_string().contains("`coilovers`"), "{refused}");
}

/// Sides that differ get an answer each, by name; equal ones share one.
#[test]
fn both_sides_of_an_axle_are_answered() {
    let mut pickups = samples::wagon_rear().with_both_sides();
    let question = StrokeQuestion::default();
    let names = |pickups: &LiveAxle| {
        let axle = Axle::new(pickups).expect("an axle");
        let answers = check_axle_stroke(&axle, &question).expect("an answer");
        answers
            .into_iter()
            .map(|answer| answer.damper)
            .collect::<Vec<_>>()
    };
    assert_eq!(names(&pickups), ["coilover on either side"]);
    let right = pickups.coilovers.as_mut().expect("coilovers").right.as_mut();
    right.expect("a right side").upper_mount.z += 12.0;
    assert_eq!(names(&pickups), ["left coilover", "right coilover"]);
}

fn wishes() -> impl Strategy<Value = StrokeQuestion> {
    (0.0..1_000.0_f64, 0.0..1_000.0_f64, 0.0..30.0_f64).prop_map(|(bump, droop, margin)| StrokeQuestion {
        bump: Some(bump),
        droop: Some(droop),
        margin: Some(margin),
    })
}

/// Wishes beyond all reach are answered, not refused: what ends the travel is said, and every number is one.
#[test]
fn any_wish_gets_an_answer() {
    let sound = |answer: &DamperStroke| -> Result<(), TestCaseError> {
        for finding in &answer.findings {
            let text = finding.to_string();
            prop_assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
            let numbers = [finding.value, finding.limit, finding.margin];
            prop_assert!(numbers.iter().all(|number| number.is_finite()), "{finding:?}");
        }
        Ok(())
    };
    let ride = |travel| {
        Some(RideHeight {
            travel: Some(travel),
            ..RideHeight::default()
        })
    };
    hold(
        60,
        (corner(), wishes(), -30.0..30.0_f64),
        |(mut pickups, question, travel)| {
            pickups.ride_height = ride(travel);
            let corner = Corner::new(&pickups).expect("a corner");
            let answer = check_corner_stroke(&corner, &question).expect("an answer");
            sound(&answer)
        },
    );
    hold(
        60,
        (axle(), wishes(), -30.0..30.0_f64),
        |(mut pickups, question, travel)| {
            pickups.ride_height = ride(travel);
            let axle = Axle::new(&pickups).expect("an axle");
            let answers = check_axle_stroke(&axle, &question).expect("an answer");
            answers.iter().try_for_each(sound)
        },
    );
}

/// A wish that the linkage cannot meet with one wheel up and the other down fails in so many words.
#[test]
fn crossed_wheels_out_of_reach_fail() {
    let axle = Axle::new(&samples::pickup_rear()).expect("an axle");
    let question = StrokeQuestion {
        bump: Some(900.0),
        droop: Some(800.0),
        margin: None,
    };
    let answers = check_axle_stroke(&axle, &question).expect("an answer");
    let crossed = answers[0]
        .findings
        .iter()
        .find(|finding| finding.subject.contains("one wheel at a time"))
        .expect("a finding");
    assert_eq!(crossed.verdict, Verdict::Fails);
    assert!(crossed.margin < 0.0, "{crossed:?}");
    let text = crossed.to_string();
    assert!(text.contains("the linkage itself ends"), "{text}");
    assert!(text.contains("of bump") && text.contains("of droop"), "{text}");
}
