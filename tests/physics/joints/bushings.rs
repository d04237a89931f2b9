//! How far bushings are twisted, and what that costs.

use kin_core::checks::{
    Bushing, BushingTwist, BushingsQuestion, MotionRange, RemedyKind, Verdict, check_axle_bushings,
    check_corner_bushings,
};
use kin_core::nalgebra::Vector3;
use kin_core::pickups::{Arm, Point};
use kin_core::{Axle, AxleTravel, Corner, samples};

fn bushing(at: &str) -> Bushing {
    Bushing {
        at: at.into(),
        axis: None,
        torsional_rate: None,
        twist_limit: None,
        tightened_at: 0.0,
    }
}

fn range(bump: f64, droop: f64) -> MotionRange {
    MotionRange {
        bump: Some(bump),
        droop: Some(droop),
        rack: None,
    }
}

fn one(corner: &Corner, bushing: Bushing, range: MotionRange) -> BushingTwist {
    let question = BushingsQuestion {
        bushings: vec![bushing],
        range,
    };
    check_corner_bushings(corner, &question)
        .expect("an answer")
        .remove(0)
}

/// Angle that the ball joint has turned about the pivots.
fn turned(arm: &Arm, now: &Point) -> f64 {
    let axis = (arm.front_pivot - arm.rear_pivot).normalize();
    let square = |point: &Point| {
        let seen = point - arm.rear_pivot;
        seen - axis * axis.dot(&seen)
    };
    square(&arm.ball_joint).angle(&square(now))
}

#[test]
fn an_arm_s_bushings_twist_by_the_turn_of_the_arm() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let lower = one(&corner, bushing("lower_arm"), range(70.0, 50.0));
    let upper = one(&corner, bushing("upper_arm"), range(70.0, 50.0));
    let (bump, droop) = (
        corner.at(70.0, 0.0).expect("bump"),
        corner.at(-50.0, 0.0).expect("droop"),
    );
    let pickups = corner.pickups();
    for (found, expected) in [
        (
            lower.at_full_bump,
            turned(&pickups.lower_arm, &bump.lower_ball_joint()),
        ),
        (
            -lower.at_full_droop,
            turned(&pickups.lower_arm, &droop.lower_ball_joint()),
        ),
        (
            upper.at_full_bump,
            turned(&pickups.upper_arm, &bump.upper_ball_joint()),
        ),
        (
            -upper.at_full_droop,
            turned(&pickups.upper_arm, &droop.upper_ball_joint()),
        ),
    ] {
        assert!((found - expected).abs() < 1e-9, "{found} {expected}");
    }
    assert_eq!(lower.at_ride, 0.0);
    assert!(lower.worst >= lower.at_full_bump);
    assert_eq!(lower.findings[0].verdict, Verdict::NotAsked);
    let words = lower.findings[0].to_string();
    assert!(words.contains("write it as `twist_limit`"), "{words}");
}

/// Energy k t^2 / 2 with the twist t: its first derivative is the force at the wheel, the second (at t = 0) the rate.
#[test]
fn force_and_rate_at_the_wheel_are_derivatives_of_the_energy() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let (rate, tightened, step) = (2_000.0, -40.0, 0.01);
    let per_radian = rate * 180.0 / std::f64::consts::PI;
    let rubber = Bushing {
        torsional_rate: Some(rate),
        tightened_at: tightened,
        ..bushing("lower_arm")
    };
    let found = one(&corner, rubber, range(70.0, 50.0));
    let arm = &corner.pickups().lower_arm;
    let turn = |travel: f64| {
        let now = corner.at(travel, 0.0).expect("within reach").lower_ball_joint();
        turned(arm, &now) * travel.signum()
    };
    let energy = |travel: f64| 0.5 * per_radian * (turn(travel) - turn(tightened)).powi(2);
    let force = (energy(step) - energy(-step)) / (2.0 * step);
    let expected = found.wheel_force_at_ride.expect("a rate");
    assert!((force - expected).abs() < 1e-5 * expected, "{force} {expected}");
    let slope = (turn(step) - turn(-step)) / (2.0 * step);
    let expected = found.wheel_rate.expect("a rate");
    assert!((per_radian * slope * slope - expected).abs() < 1e-6 * expected);
    assert!((found.worst_torque.expect("a rate") - per_radian * found.worst).abs() < 1e-9);
}

#[test]
fn bolts_tightened_hanging_are_told_and_tightening_at_ride_height_mends_the_twist() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let hanging = Bushing {
        twist_limit: Some(15.0),
        tightened_at: -50.0,
        ..bushing("lower_arm")
    };
    let found = one(&corner, hanging.clone(), range(70.0, 50.0));
    let verdicts: Vec<Verdict> = found.findings.iter().map(|finding| finding.verdict).collect();
    assert_eq!(verdicts, [Verdict::Fails, Verdict::Tight]);
    assert_eq!(
        found.findings[0].remedies[0].kind,
        RemedyKind::TightenAtRideHeight
    );
    let mended = Bushing {
        tightened_at: 0.0,
        ..hanging
    };
    let again = one(&corner, mended, range(70.0, 50.0));
    assert_eq!(again.findings.len(), 1);
    assert_ne!(again.findings[0].verdict, Verdict::Fails);
}

#[test]
fn a_link_twists_about_its_bolt() {
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    let across = |at: &str| Bushing {
        axis: Some(Point::new(0.0, 1.0, 0.0)),
        ..bushing(at)
    };
    let question = BushingsQuestion {
        bushings: vec![across("links.lower_left.body"), across("links.lower_left.axle")],
        range: range(50.0, 38.0),
    };
    let found = check_axle_bushings(&axle, &question).expect("an answer");
    let slope = |span: Vector3<f64>| span.z.atan2(-span.x);
    let position = axle.at(AxleTravel::both(50.0)).expect("within reach");
    let ride = axle.at(AxleTravel::both(0.0)).expect("within reach");
    let turn = |position: &kin_core::AxlePosition<'_>| {
        let (body, on_axle) = position.links()["lower_left"];
        slope(on_axle - body)
    };
    // Seen from the side: the link's own slope, and that slope less the turn of the axle.
    let expected = (turn(&position) - turn(&ride)).abs();
    assert!((found[0].at_full_bump - expected).abs() < 1e-9);
    let rotation = position.pose().rotation();
    let pitch = rotation[(2, 0)].atan2(rotation[(0, 0)]);
    let seen = (turn(&position) - turn(&ride) + pitch).abs();
    assert!(
        (found[1].at_full_bump - seen).abs() < 1e-9,
        "{} {seen}",
        found[1].at_full_bump
    );
}

#[test]
fn wrong_questions_are_refused_by_name() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let cases = [
        (bushing("lower_arms"), "did you mean `lower_arm`"),
        (
            Bushing {
                axis: Some(Point::new(1.0, 0.0, 0.0)),
                ..bushing("lower_arm")
            },
            "bushings[0].axis",
        ),
        (
            Bushing {
                torsional_rate: Some(-1.0),
                ..bushing("lower_arm")
            },
            "bushings[0].torsional_rate",
        ),
        (
            Bushing {
                twist_limit: Some(f64::NAN),
                ..bushing("lower_arm")
            },
            "bushings[0].twist_limit",
        ),
    ];
    for (bad, words) in cases {
        let question = BushingsQuestion {
            bushings: vec![bad],
            range: range(50.0, 50.0),
        };
        let error = check_corner_bushings(&corner, &question)
            .expect_err(words)
            .to_string();
        assert!(error.contains(words), "{words}: {error}");
    }
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    let along = Bushing {
        axis: Some(Point::new(-520.0, 42.0, -14.0)),
        ..bushing("links.lower_left.body")
    };
    let question = BushingsQuestion {
        bushings: vec![along],
        range: range(50.0, 38.0),
    };
    let error = check_axle_bushings(&axle, &question)
        .expect_err("along the link")
        .to_string();
    assert!(error.contains("axis"), "{error}");
}
