//! A list of springs on the wagon's front corner.

use super::support::{wagon_corner, wagon_front};
use kin_core::checks::{ListedSpring, RideHeightQuestion, Verdict, choose_corner_spring};

fn spring(name: &str, rate: f64, free_length: f64, solid_length: f64) -> ListedSpring {
    ListedSpring {
        name: name.into(),
        rate,
        free_length,
        solid_length: Some(solid_length),
        helper: None,
    }
}

/// Invented springs: good, too long, too short to stay seated and to reach the thread, binding, far too long.
fn list() -> Vec<ListedSpring> {
    vec![
        spring("soft and long", 70.0, 320.0, 130.0),
        spring("good", 96.32, 254.0, 114.0),
        spring("thick wire", 96.32, 254.0, 126.0),
        spring("stub", 220.0, 150.0, 80.0),
        spring("other damper", 96.32, 400.0, 150.0),
        spring("good as well", 105.0, 250.0, 112.0),
    ]
}

#[test]
fn springs_that_fit_come_first_and_every_other_has_its_reason() {
    let question = RideHeightQuestion {
        wanted_frequency: Some(1.5),
        ..wagon_front()
    };
    let choice = choose_corner_spring(&wagon_corner(), &list(), &question).expect("an answer");
    let fitting: Vec<&str> = choice.fitting().map(|spring| spring.name.as_str()).collect();
    assert_eq!(fitting, ["good", "good as well"]);
    let of = |name: &str| {
        choice
            .candidates
            .iter()
            .find(|spring| spring.name == name)
            .unwrap_or_else(|| panic!("`{name}` is missing"))
    };
    let reasons = |name: &str| {
        let all = of(name).reasons.iter().map(ToString::to_string);
        all.collect::<Vec<_>>().join(" ")
    };
    assert!(reasons("soft and long").contains("its thread runs from 50.0 mm to 125.0 mm"));
    assert!(reasons("thick wire").contains("the coils would bind"));
    assert!(reasons("stub").contains("hangs loose"));
    assert!(reasons("other damper").contains("longer than the whole damper fully extended"));
    assert_eq!(of("other damper").rides, []);
    assert!(choice.fitting().all(|spring| spring.reasons.is_empty()));
    assert_eq!(choice.candidates.len(), list().len());
    assert_eq!(choice.findings[0].value, 2.0);
}

#[test]
fn without_a_frequency_the_seat_farthest_from_the_ends_of_its_thread_leads() {
    let choice = choose_corner_spring(&wagon_corner(), &list(), &wagon_front()).expect("an answer");
    let left: Vec<f64> = choice
        .fitting()
        .map(|spring| {
            let seat = spring.rides[0].needed.seat;
            (seat - 50.0).min(125.0 - seat)
        })
        .collect();
    assert!(left.windows(2).all(|pair| pair[0] >= pair[1]), "{left:?}");
}

#[test]
fn a_spring_that_cannot_be_right_is_named() {
    let mut springs = list();
    springs[2].rate = -3.0;
    let error = choose_corner_spring(&wagon_corner(), &springs, &wagon_front()).expect_err("a wrong rate");
    let said = error.to_string();
    assert!(
        said.contains("springs[2] (thick wire)") && said.contains("above 0"),
        "{said}"
    );
    let empty = choose_corner_spring(&wagon_corner(), &[], &wagon_front()).expect_err("no springs");
    assert!(empty.to_string().contains("the list is empty"));
}

#[test]
fn tight_springs_rank_behind_those_that_hold() {
    let springs = vec![
        spring("little clearance", 96.32, 254.0, 119.0),
        spring("good", 96.32, 254.0, 114.0),
    ];
    let choice = choose_corner_spring(&wagon_corner(), &springs, &wagon_front()).expect("an answer");
    assert_eq!(
        choice
            .candidates
            .iter()
            .map(|spring| spring.verdict)
            .collect::<Vec<_>>(),
        [Verdict::Holds, Verdict::Tight]
    );
    assert_eq!(choice.candidates[0].place, 1);
}
