//! Questions that cannot be right are refused with a sentence that names the field.

use super::{ball, block, plane, question, rod, solid, spring, tube};
use kin_core::checks::{
    AlongDamper, ClearanceQuestion, Shape, Solid, Tyre, check_axle_clearance, check_corner_clearance,
};
use kin_core::pickups::{Measured, Quantity};
use kin_core::{Axle, Corner, samples};

fn refused(question: &ClearanceQuestion) -> String {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let answer = check_corner_clearance(&corner, question);
    answer.map_or_else(|error| error.to_string(), |found| panic!("accepted: {found:?}"))
}

fn with_obstacle(obstacle: Solid) -> ClearanceQuestion {
    question(vec![spring(75.0, 55.0, 43.0)], vec![obstacle], 50.0, 50.0)
}

fn with_part(part: Solid) -> ClearanceQuestion {
    question(
        vec![part],
        vec![ball("stay", [0.0, 300.0, 300.0], 10.0)],
        50.0,
        50.0,
    )
}

#[test]
fn wrong_numbers_and_names_are_named() {
    let along = |part: AlongDamper| solid("spring", Shape::AlongDamper(part));
    let mut moving_plane = plane("floor", [0.0; 3], [0.0, 0.0, 1.0]);
    moving_plane.fixed_to = Some("upright".to_owned());
    let mut on_nothing = ball("stay", [0.0, 300.0, 300.0], 10.0);
    on_nothing.fixed_to = Some("lower_arms".to_owned());
    let tyre = |width: f64| {
        let tyre = Tyre {
            side: None,
            width,
            radius: None,
        };
        solid("tyre", Shape::Tyre(tyre))
    };
    for (asked, expected) in [
        (question(vec![], vec![], 50.0, 50.0), "clearance.parts"),
        (
            with_obstacle(ball("spring", [0.0; 3], 1.0)),
            "there is another `spring`",
        ),
        (
            with_obstacle(tube("pipe", &[[0.0; 3]], 10.0)),
            "at least two points",
        ),
        (
            with_obstacle(tube("pipe", &[[0.0; 3], [1.0, 0.0, 0.0]], -3.0)),
            "radius` is -3",
        ),
        (
            with_obstacle(tube("pipe", &[[0.0; 3], [f64::NAN, 0.0, 0.0]], 3.0)),
            "points[1] x` is NaN",
        ),
        (
            with_obstacle(block("rail", [0.0; 3], [10.0, 0.0, 10.0], [0.0; 3])),
            "size (width)` is 0",
        ),
        (
            with_obstacle(plane("floor", [0.0; 3], [0.0; 3])),
            "direction towards the free side",
        ),
        (with_obstacle(moving_plane), "a plane stands on the body"),
        (with_obstacle(on_nothing), "did you mean `lower_arm`"),
        (
            with_part(rod(
                "leg",
                "upper_arm.ball_jont",
                "upper_arm.rear_pivot",
                0.0,
                9.0,
            )),
            "did you mean `upper_arm.ball_joint`",
        ),
        (
            with_part(rod(
                "leg",
                "upper_arm.ball_joint",
                "upper_arm.rear_pivot",
                400.0,
                9.0,
            )),
            "nothing is left of `leg`",
        ),
        (
            with_part(spring(200.0, 200.0, 43.0)),
            "nothing is left of `spring`",
        ),
        (
            with_part(along(AlongDamper {
                radius: 43.0,
                from_upper: Some(20.0),
                ..AlongDamper::default()
            })),
            "exactly two of",
        ),
        (
            with_part(along(AlongDamper {
                radius: 43.0,
                from_upper: Some(20.0),
                length: Some(20.0),
                on_spring: true,
                ..AlongDamper::default()
            })),
            "no spring stands apart",
        ),
        (with_part(tyre(700.0)), "less than the tyre's diameter"),
        (
            ClearanceQuestion {
                bump: Some(-5.0),
                ..with_part(tyre(225.0))
            },
            "clearance.bump",
        ),
        (
            ClearanceQuestion {
                bump: Some(900.0),
                ..with_part(tyre(225.0))
            },
            "out of reach",
        ),
        (
            ClearanceQuestion {
                except: vec![("tyre".to_owned(), "wing".to_owned())],
                ..with_part(tyre(225.0))
            },
            "`wing`",
        ),
    ] {
        let message = refused(&asked);
        assert!(message.contains(expected), "{message} (expected: {expected})");
    }
}

#[test]
fn an_axle_does_not_steer_and_a_bare_corner_needs_travels() {
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    let mut asked = with_part(spring(70.0, 55.0, 43.0));
    asked.lock = Some(20.0);
    let error = check_axle_clearance(&axle, &asked).expect_err("no steering");
    assert!(error.to_string().contains("does not steer"), "{error}");
    let mut pickups = samples::wagon_front();
    pickups.wanted = None;
    let corner = Corner::new(&pickups).expect("a corner");
    asked.lock = None;
    asked.droop = None;
    let error = check_corner_clearance(&corner, &asked).expect_err("no droop");
    assert!(error.to_string().contains("`droop`"), "{error}");
}

#[test]
fn every_length_of_a_question_is_visited_and_survives_writing() {
    let mut asked = question(
        vec![
            spring(75.0, 55.0, 43.0),
            rod("leg", "upper_arm.rear_pivot", "upper_arm.ball_joint", 45.0, 15.0),
        ],
        vec![
            tube("pipe", &[[1.0, 2.0, 3.0], [4.0, 5.0, 6.0]], 7.0),
            block("rail", [1.0, 2.0, 3.0], [4.0, 5.0, 6.0], [7.0, 8.0, 9.0]),
            plane("floor", [1.0, 2.0, 3.0], [0.0, 0.0, 1.0]),
        ],
        50.0,
        50.0,
    );
    let (mut lengths, mut angles) = (0, 0);
    asked.visit(&mut |_, quantity| match quantity {
        Quantity::Angle => angles += 1,
        _ => lengths += 1,
    });
    // Spring 3, leg 3, pipe 7, rail 6, floor 3, bump and droop.
    assert_eq!((lengths, angles), (24, 3));
    let text = serde_json::to_string(&asked).expect("writable");
    let back: ClearanceQuestion = serde_json::from_str(&text).expect("readable");
    assert_eq!(back, asked);
    let wrong = text.replace("\"radius\":7.0", "\"radious\":7.0");
    let error = serde_json::from_str::<ClearanceQuestion>(&wrong).expect_err("an unknown field");
    assert!(error.to_string().contains("radious"), "{error}");
}
