//! Load cases as a person asks for them: assumptions in words, limits, and wrong input.

use kin_core::checks::Verdict;
use kin_core::checks::loads::{
    AxleLoadCase, AxleLoadQuestion, CornerLoadCase, CornerLoadQuestion, PartForce, STANDARD_GRAVITY,
    check_axle_loads, check_corner_loads,
};
use kin_core::nalgebra::Vector3;
use kin_core::pickups::{DoubleWishbone, Measured, Point, Quantity};
use kin_core::{Axle, Corner, Error, samples};

fn corner() -> Corner {
    Corner::new(&samples::wagon_front()).expect("a corner")
}

/// The invented wagon's front: 406 kg sprung and 42 kg unsprung on each wheel.
fn question() -> CornerLoadQuestion {
    CornerLoadQuestion {
        wheel_load: 448.0,
        unsprung: 42.0,
        cases: Vec::new(),
        part_forces: Vec::new(),
        limits: Default::default(),
    }
}

/// The invented wagon's own numbers: 6581 N at the front coilover, from sprung weight over the motion ratio; its printed
/// motion ratio 0.605 is that of the wheel centre, and a load at the contact point differs by some tenths of a percent.
#[test]
fn the_wagon_stands_on_its_spring() {
    let loads = check_corner_loads(&corner(), &question()).expect("loads");
    let standing = &loads.cases[0];
    assert_eq!(standing.case.name, "static");
    let found = standing.forces.support.compression;
    assert!((found / 6_581.0 - 1.0).abs() < 0.005, "{found}");
    // Unsprung weight at the wheel centre, without which the coilover would seem to carry it too.
    let without = CornerLoadQuestion {
        unsprung: 0.0,
        ..question()
    };
    let all = check_corner_loads(&corner(), &without).expect("loads");
    let more = all.cases[0].forces.support.compression - found;
    assert!(
        (more * 0.605 / (42.0 * STANDARD_GRAVITY) - 1.0).abs() < 0.005,
        "{more}"
    );
}

#[test]
fn the_usual_cases_are_stated_as_assumptions() {
    let loads = check_corner_loads(&corner(), &question()).expect("loads");
    let names: Vec<&str> = loads.cases.iter().map(|case| case.case.name.as_str()).collect();
    assert_eq!(names, ["static", "bump", "braking", "cornering"]);
    let bump = loads.cases[1].assumption.to_string();
    assert!(
        bump.contains("pushes the wheel up with 13180 N (3 times its static load), at ride height."),
        "{bump}"
    );
    let said = loads
        .assumptions
        .iter()
        .map(ToString::to_string)
        .collect::<Vec<_>>()
        .join("\n");
    assert!(said.contains("assumptions of common practice"), "{said}");
    assert!(said.contains("An estimate by static balance"), "{said}");
    // The outer wheel of a corner is pushed inboard, on either side of the car.
    assert!(loads.cases[3].forces.force_at_contact_point.y < 0.0);
    let right = Corner::new(&samples::wagon_front().mirrored()).expect("a corner");
    let mirrored = check_corner_loads(&right, &question()).expect("loads");
    assert!(mirrored.cases[3].forces.force_at_contact_point.y > 0.0);
    assert_eq!(loads.worst, mirrored.worst);
    assert_eq!(loads.worst["coilover"].case, "bump");
    assert_eq!(loads.worst["lower_arm.front_pivot"].case, "braking");
}

#[test]
fn limits_are_held_against_the_worst_case() {
    let free = check_corner_loads(&corner(), &question()).expect("loads");
    let worst = free.worst["tie_rod"].clone();
    for (limit, verdict) in [
        (worst.force.abs() * 1.2, Verdict::Holds),
        (worst.force.abs() * 1.05, Verdict::Tight),
        (worst.force.abs() * 0.9, Verdict::Fails),
    ] {
        let mut asked = question();
        asked.limits.insert("tie_rod".into(), limit);
        let loads = check_corner_loads(&corner(), &asked).expect("loads");
        let [finding] = loads.findings.as_slice() else {
            panic!("{:?}", loads.findings)
        };
        assert_eq!(finding.verdict, verdict);
        assert!((finding.value - worst.force.abs()).abs() < 1e-9);
        assert!(
            finding.to_string().contains(&format!("in `{}`", worst.case)),
            "{finding}"
        );
        assert!(finding.to_string().contains("an estimated"), "{finding}");
    }
}

/// A drive shaft pushes at the height of the hub; brakes at the wheel hold the upright at the ground. The couple of the
/// difference is force times the height of the hub.
#[test]
fn thrust_through_a_shaft_acts_at_the_wheel_centre() {
    let case = |through_shaft| CornerLoadCase {
        name: "thrust".into(),
        vertical: 0.0,
        longitudinal: 1.0,
        lateral: 0.0,
        through_shaft,
        travel: 0.0,
        rack: 0.0,
    };
    let asked = CornerLoadQuestion {
        unsprung: 0.0,
        cases: vec![case(false), case(true)],
        ..question()
    };
    let loads = check_corner_loads(&corner(), &asked).expect("loads");
    let [ground, shaft] = loads.cases.as_slice() else {
        panic!()
    };
    assert_eq!(shaft.forces.force_at_contact_point.x, 0.0);
    // Moment about the crosswise line through the lower ball joint: the thrust at the hub stands 130 mm above it, at the
    // ground 190 mm below.
    let upper = |forces: &kin_core::checks::loads::CornerForces| forces.upper_arm.ball_joint_on_upright.x;
    assert!(upper(&ground.forces) > 0.0 && upper(&shaft.forces) < 0.0);
}

#[test]
fn a_spring_that_would_have_to_pull_is_a_finding() {
    let mut asked = question();
    asked.cases = vec![CornerLoadCase {
        name: "wheel off the ground".into(),
        vertical: 0.0,
        longitudinal: 0.0,
        lateral: 0.0,
        through_shaft: false,
        travel: -30.0,
        rack: 0.0,
    }];
    let loads = check_corner_loads(&corner(), &asked).expect("loads");
    let [finding, unjudged] = loads.findings.as_slice() else {
        panic!()
    };
    assert_eq!(finding.verdict, Verdict::Fails);
    assert_eq!(unjudged.verdict, Verdict::NotAsked);
    assert_eq!(finding.at_travel, Some(-30.0));
    assert!(finding.to_string().contains("would have to pull"), "{finding}");
}

#[test]
fn an_axle_has_its_own_cases() {
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    let asked = AxleLoadQuestion {
        wheel_load_left: 397.0,
        wheel_load_right: 397.0,
        unsprung: 150.0,
        cases: Vec::new(),
        part_forces: Vec::new(),
        limits: [("upper_left".to_owned(), 1_000.0)].into_iter().collect(),
    };
    let loads = check_axle_loads(&axle, &asked).expect("loads");
    assert_eq!(loads.cases.len(), AxleLoadCase::usual().len());
    let [left, right] = &loads.cases[0].forces.supports;
    // The invented wagon's own number: 3208 N, from 322 kg over the motion ratio of 0.984.
    assert!(
        (left.compression / 3_208.0 - 1.0).abs() < 0.005,
        "{}",
        left.compression
    );
    assert!((left.compression - right.compression).abs() < 1e-9);
    let failing: Vec<_> = loads
        .findings
        .iter()
        .filter(|finding| finding.subject == "upper_left")
        .collect();
    assert_eq!(failing.len(), 1);
    assert_eq!(failing[0].verdict, Verdict::Fails);
    // A right-hand corner leans on the left coilover.
    let cornering = &loads.cases[5].forces;
    assert!(cornering.supports[0].compression > cornering.supports[1].compression);
}

fn refused(change: impl Fn(&mut CornerLoadQuestion), expected: &str) {
    let mut asked = question();
    change(&mut asked);
    let error = check_corner_loads(&corner(), &asked)
        .expect_err("refused")
        .to_string();
    assert!(error.contains(expected), "{error}");
}

#[test]
fn wrong_questions_are_refused_with_sentences() {
    refused(
        |asked| asked.wheel_load = -3.0,
        "`wheel_load` is -3 kg, but it must be above 0",
    );
    refused(|asked| asked.wheel_load = f64::NAN, "`wheel_load` is NaN");
    refused(|asked| asked.unsprung = 500.0, "part of what the scales show");
    refused(
        |asked| {
            asked.limits.insert("tie_rid".into(), 1.0);
        },
        "did you mean `tie_rod`?",
    );
    refused(
        |asked| {
            asked.limits.insert("tie_rod".into(), 0.0);
        },
        "`limits.tie_rod` is 0",
    );
    refused(
        |asked| {
            asked.cases = CornerLoadCase::usual(Default::default());
            asked.cases[1].vertical = 13_000.0;
        },
        "multiples of the static wheel load, not forces",
    );
    refused(
        |asked| {
            asked.part_forces.push(PartForce {
                name: "bar link".into(),
                rides_on: "lower_arn".into(),
                point: Point::new(0.0, 600.0, 190.0),
                force: Vector3::zeros(),
            });
        },
        "did you mean `lower_arm`?",
    );
    let bare = DoubleWishbone {
        coilover: None,
        spring: None,
        ..samples::wagon_front()
    };
    let error = check_corner_loads(&Corner::new(&bare).expect("a corner"), &question());
    assert!(matches!(error, Err(Error::Missing { .. })), "{error:?}");
}

/// A coilover square to the way its mount moves carries nothing, whatever its force.
#[test]
fn a_spring_that_does_not_move_with_the_wheel_is_refused() {
    let mut pickups = samples::wagon_front();
    let arm = pickups.lower_arm;
    let coilover = pickups.coilover.as_mut().expect("a coilover");
    // Straight through the pivot axis.
    coilover.upper_mount = 0.5 * (arm.front_pivot + arm.rear_pivot);
    let error = check_corner_loads(&Corner::new(&pickups).expect("a corner"), &question());
    assert!(matches!(error, Err(Error::NotForThisLayout { .. })), "{error:?}");
}

#[test]
fn every_number_of_a_question_can_be_converted() {
    let mut asked = question();
    asked.cases = CornerLoadCase::usual(Default::default());
    asked.part_forces.push(PartForce {
        name: "bar link".into(),
        rides_on: "lower_arm".into(),
        point: Point::new(0.0, 600.0, 190.0),
        force: Vector3::new(0.0, 0.0, -500.0),
    });
    asked.limits.insert("tie_rod".into(), 9_000.0);
    let mut counts = [0; 3];
    asked.visit(&mut |_, quantity| match quantity {
        Quantity::Mass => counts[0] += 1,
        Quantity::Length => counts[1] += 1,
        Quantity::Force => counts[2] += 1,
        other => panic!("{other:?}"),
    });
    assert_eq!(counts, [2, 2 * 4 + 3, 3 + 1]);
    let text = serde_json::to_string(&asked).expect("JSON");
    assert_eq!(
        serde_json::from_str::<CornerLoadQuestion>(&text).expect("a question"),
        asked
    );
}
