//! Hoses, brake lines and straps: against brute force over travel and steer.

use kin_core::checks::{
    Hose, HoseReach, HosesQuestion, MotionRange, RemedyKind, Verdict, check_axle_hoses, check_corner_hoses,
};
use kin_core::pickups::{Point, Strap};
use kin_core::{Axle, AxleTravel, Corner, samples};

fn hose(rides_on: &str, upper: [f64; 3], lower: [f64; 3], length: f64) -> Hose {
    Hose {
        name: "brake hose".into(),
        upper_mount: upper.into(),
        lower_mount: lower.into(),
        rides_on: rides_on.into(),
        length,
        slack: None,
    }
}

fn question(hose: Hose, bump: f64, droop: f64, rack: f64) -> HosesQuestion {
    HosesQuestion {
        hoses: vec![hose],
        range: MotionRange {
            bump: Some(bump),
            droop: Some(droop),
            rack: (rack > 0.0).then_some(rack),
        },
    }
}

const UPPER: [f64; 3] = [-110.0, 470.0, 440.0];

/// The outer tie-rod joint is a point of the upright whose place is told by the corner itself.
fn on_the_steering_arm(length: f64) -> Hose {
    let outer = samples::wagon_front().tie_rod.outer;
    hose("upright", UPPER, outer.into(), length)
}

fn front(question: &HosesQuestion) -> HoseReach {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    check_corner_hoses(&corner, question)
        .expect("an answer")
        .remove(0)
}

#[test]
fn longest_and_shortest_agree_with_brute_force_over_travel_and_steer() {
    let found = front(&question(on_the_steering_arm(400.0), 70.0, 50.0, 60.0));
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let (mut longest, mut shortest) = (0.0_f64, f64::INFINITY);
    for rack in 0..=120 {
        let travels: Vec<f64> = (0..=240).map(|step| -50.0 + 0.5 * f64::from(step)).collect();
        for position in corner
            .sweep_travel(&travels, f64::from(rack) - 60.0)
            .expect("within reach")
        {
            let distance = (position.tie_rod_outer() - Point::from(UPPER)).norm();
            (longest, shortest) = (longest.max(distance), shortest.min(distance));
        }
    }
    assert!(
        found.longest >= longest - 1e-9 && found.longest < longest + 1e-3,
        "{} {longest}",
        found.longest
    );
    assert!(
        found.shortest <= shortest + 1e-9 && found.shortest > shortest - 1e-3,
        "{} {shortest}",
        found.shortest
    );
    assert_eq!(found.findings[0].verdict, Verdict::Holds);
}

#[test]
fn a_short_hose_is_taut_where_told_and_a_longer_one_or_a_stop_mends_it() {
    let straight = |length: f64, droop: f64| question(on_the_steering_arm(length), 70.0, droop, 0.0);
    let at_ride = front(&straight(400.0, 50.0)).at_ride;
    let short = at_ride + 20.0;
    let found = front(&straight(short, 50.0));
    let finding = &found.findings[0];
    assert_eq!(finding.verdict, Verdict::Fails, "{finding}");
    let taut = found.taut_at.expect("taut").travel().expect("a corner");
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let there = corner.at(taut, 0.0).expect("within reach").tie_rod_outer();
    assert!(((there - Point::from(UPPER)).norm() - short).abs() < 1e-6);
    let kinds: Vec<RemedyKind> = finding.remedies.iter().map(|remedy| remedy.kind).collect();
    assert_eq!(kinds, [RemedyKind::LongerLine, RemedyKind::LessTravel]);
    let longer = front(&straight(short + finding.remedies[0].change + 1e-9, 50.0));
    assert_eq!(longer.findings[0].verdict, Verdict::Holds);
    let stopped = front(&straight(short, 50.0 - finding.remedies[1].change - 1e-6));
    assert_ne!(stopped.findings[0].verdict, Verdict::Fails);
}

#[test]
fn less_slack_than_wanted_is_tight() {
    let longest = front(&question(on_the_steering_arm(400.0), 70.0, 50.0, 0.0)).longest;
    let found = front(&question(on_the_steering_arm(longest + 8.0), 70.0, 50.0, 0.0));
    assert_eq!(found.findings[0].verdict, Verdict::Tight);
}

#[test]
fn straps_of_the_description_are_taken_when_no_hose_is_given() {
    let mut pickups = samples::wagon_front();
    pickups.stops.droop = None;
    pickups.stops.straps.push(Strap {
        name: "limiting strap".into(),
        upper_mount: Point::new(0.0, 560.0, 500.0),
        lower_mount: Point::new(0.0, 600.0, 188.0),
        rides_on: "lower_arm".into(),
        length: 340.0,
    });
    let corner = Corner::new(&pickups).expect("a corner");
    let found = check_corner_hoses(&corner, &HosesQuestion::default()).expect("an answer");
    // The strap itself ends the droop, so it is just taut there.
    assert!((found[0].longest - 340.0).abs() < 1e-6, "{}", found[0].longest);
    let mirrored = Corner::new(&pickups.mirrored()).expect("a corner");
    let other = check_corner_hoses(&mirrored, &HosesQuestion::default()).expect("an answer");
    assert!((found[0].at_ride - other[0].at_ride).abs() < 1e-9);
}

#[test]
fn a_hose_on_the_right_corner_lies_on_the_right() {
    let left = front(&question(on_the_steering_arm(400.0), 70.0, 50.0, 30.0));
    let corner = Corner::new(&samples::wagon_front().mirrored()).expect("a corner");
    let mut on_right = on_the_steering_arm(400.0);
    for point in [&mut on_right.upper_mount, &mut on_right.lower_mount] {
        point.y = -point.y;
    }
    let right = check_corner_hoses(&corner, &question(on_right, 70.0, 50.0, 30.0)).expect("an answer");
    assert!((left.longest - right[0].longest).abs() < 1e-9);
}

#[test]
fn a_hose_to_an_axle_is_held_over_all_travel_of_both_wheels() {
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    let lower = [-2840.0, -60.0, 350.0];
    let upper = [-2700.0, -120.0, 560.0];
    let question = question(hose("axle", upper, lower, 330.0), 50.0, 38.0, 0.0);
    let found = check_axle_hoses(&axle, &question).expect("an answer").remove(0);
    let mut longest = 0.0_f64;
    for left in 0..=44 {
        for right in 0..=44 {
            let travel = AxleTravel {
                left: -38.0 + 2.0 * f64::from(left),
                right: -38.0 + 2.0 * f64::from(right),
            };
            let now = axle.at(travel).expect("within reach").carried(&lower.into());
            longest = longest.max((now - Point::from(upper)).norm());
        }
    }
    assert!(
        found.longest >= longest - 1e-9 && found.longest < longest + 1e-2,
        "{} {longest}",
        found.longest
    );
}

#[test]
fn wrong_hoses_are_refused_by_name() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let good = || on_the_steering_arm(400.0);
    let cases = [
        (
            Hose {
                rides_on: "upright ".into(),
                ..good()
            },
            "did you mean `upright`",
        ),
        (
            Hose {
                rides_on: "body".into(),
                ..good()
            },
            "hoses[0].rides_on",
        ),
        (on_the_steering_arm(-1.0), "hoses[0].length"),
        (on_the_steering_arm(f64::NAN), "hoses[0].length"),
        (
            Hose {
                slack: Some(-1.0),
                ..good()
            },
            "hoses[0].slack",
        ),
        (
            Hose {
                upper_mount: Point::new(0.0, 1e9, 0.0),
                ..good()
            },
            "hoses[0].upper_mount",
        ),
    ];
    for (bad, words) in cases {
        let error = check_corner_hoses(&corner, &question(bad, 50.0, 50.0, 0.0))
            .expect_err(words)
            .to_string();
        assert!(error.contains(words), "{words}: {error}");
    }
    let error = check_corner_hoses(&corner, &HosesQuestion::default()).expect_err("none given");
    assert!(error.to_string().contains("hoses"), "{error}");
}
