//! The way out of a mount's bolt, on the invented wagon.

use super::close;
use kin_core::checks::{
    DamperEnd, RemedyKind, RoundObstacle, RoundPart, StrokeQuestion, Verdict, WithdrawalQuestion, WorkPlace,
    check_axle_withdrawal, check_corner_stroke, check_corner_withdrawal,
};
use kin_core::nalgebra::Vector3;
use kin_core::pickups::{DoubleWishbone, Measured, Point, Quantity, Side, Stops};
use kin_core::{Axle, Corner, samples};

/// The front lower mount: bolt fore and aft, half-inch, tabs 38.1 mm apart inside and 6.35 mm thick; spring as set.
fn question() -> WithdrawalQuestion {
    WithdrawalQuestion {
        name: "front lower mount".into(),
        end: DamperEnd::LowerMount,
        towards_head: Vector3::new(1.0, 0.0, 0.0),
        outside_width: 50.8,
        bolt_length: 76.2,
        head_diameter: 22.0,
        head_height: 8.0,
        socket_length: 60.0,
        socket_diameter: 26.0,
        travel: Some(0.0),
        damper: None,
        spring: Some(RoundPart {
            from_upper: 55.0,
            from_lower: 75.46,
            radius: 43.0,
        }),
        obstacles: Vec::new(),
        wanted_gap: Some(3.0),
    }
}

fn corner() -> Corner {
    Corner::new(&samples::wagon_front()).expect("a corner")
}

fn tube(name: &str, x: f64, height: f64) -> RoundObstacle {
    RoundObstacle {
        name: name.into(),
        start: Point::new(x, 0.0, 182.0 + height),
        end: Point::new(x, 900.0, 182.0 + height),
        radius: 20.0,
    }
}

/// By hand: the lower mount is at (0, 540, 182), so the path runs along X at that y and z from x = 25.4 to 109.6. A tube
/// across at x = 80, 50 mm higher, of radius 20 leaves 50 - 20 - 11; one beyond the end of the path at x = 169.6, level
/// with it, leaves 60 - 20 - 11.
#[test]
fn gaps_by_hand() {
    for (tube, expected) in [
        (tube("brake line", 80.0, 50.0), 19.0),
        (tube("brake line", 169.6, 0.0), 29.0),
    ] {
        let asked = WithdrawalQuestion {
            spring: None,
            obstacles: vec![tube],
            ..question()
        };
        let found = check_corner_withdrawal(&corner(), &asked).expect("an answer");
        close(found.head_side.start.x, 25.4, 1e-9, "start");
        close(found.head_side.end.x, 109.6, 1e-9, "end");
        close(found.head_side.gap, expected, 1e-9, "gap");
        assert_eq!(found.head_side.nearest, "brake line");
        assert_eq!(found.findings[0].verdict, Verdict::Holds);
    }
    // The spring begins 75.46 mm up a damper that leans inboard in the plane of the mount to within a few millimetres:
    // its middle line starts 75.46 mm from the mount, and more from the path that begins 25.4 mm ahead of it.
    let found = check_corner_withdrawal(&corner(), &question()).expect("an answer");
    assert_eq!(found.head_side.nearest, "the spring");
    let start = (75.46_f64.powi(2) + 25.4_f64.powi(2)).sqrt();
    close(found.head_side.gap, start - 43.0 - 11.0, 0.5, "spring");
}

#[test]
fn a_blocked_head_side_is_told_and_the_bolt_turned_round() {
    let mut asked = question();
    asked.obstacles = vec![tube("frame tube", 80.0, 5.0)];
    let found = check_corner_withdrawal(&corner(), &asked).expect("an answer");
    close(found.head_side.gap, 5.0 - 31.0, 1e-9, "overlap");
    let [head, nut] = found.findings.as_slice() else {
        panic!()
    };
    assert_eq!((head.verdict, nut.verdict), (Verdict::Fails, Verdict::Holds));
    assert!(
        head.to_string().contains("meets frame tube; 26.0 mm are lacking"),
        "{head}"
    );
    let [remedy] = head.remedies.as_slice() else {
        panic!()
    };
    assert_eq!(remedy.kind, RemedyKind::BoltTurnedRound);
    // Turned round, the same question holds on its head side.
    let turned = WithdrawalQuestion {
        towards_head: -asked.towards_head,
        ..asked.clone()
    };
    let turned = check_corner_withdrawal(&corner(), &turned).expect("an answer");
    assert_ne!(turned.findings[0].verdict, Verdict::Fails);
    // With a tube on either side no way round helps.
    asked.obstacles.push(tube("other tube", -80.0, 5.0));
    let found = check_corner_withdrawal(&corner(), &asked).expect("an answer");
    assert!(found.findings[0].remedies.is_empty());
    assert_eq!(found.findings[1].verdict, Verdict::Fails);
    assert_eq!(
        found.nut_side.map(|path| path.nearest).as_deref(),
        Some("other tube")
    );
    // Without the size of a socket nothing is said about it.
    asked.socket_length = 0.0;
    let found = check_corner_withdrawal(&corner(), &asked).expect("an answer");
    assert_eq!((found.nut_side, found.findings.len()), (None, 1));
}

/// The mount goes with the wheel: with the wheel hanging, a tube that was in the way above is not.
#[test]
fn the_travel_of_the_work_counts() {
    let blocked = WithdrawalQuestion {
        obstacles: vec![tube("frame tube", 80.0, 25.0)],
        ..question()
    };
    let hanging = WithdrawalQuestion {
        travel: Some(-50.0),
        ..blocked.clone()
    };
    let at = |asked: &WithdrawalQuestion| {
        check_corner_withdrawal(&corner(), asked)
            .expect("an answer")
            .head_side
            .gap
    };
    assert!(at(&blocked) < 0.0);
    assert!(at(&hanging) > 15.0, "{}", at(&hanging));
}

/// Where nothing else is said the car hangs on stands: as low as its damper lets it, or as its stop does, and where neither
/// is known the wheel stands at ride height. The sentence says which.
#[test]
fn without_a_travel_the_car_hangs_on_stands_if_it_is_known_how_low() {
    let unsaid = WithdrawalQuestion {
        travel: None,
        ..question()
    };
    let pickups = samples::wagon_front();
    let found = check_corner_withdrawal(&corner(), &unsaid).expect("an answer");
    let stroke = check_corner_stroke(&corner(), &StrokeQuestion::default()).expect("a damper");
    let droop = stroke.first_in_droop.1.expect("an end");
    close(found.travel, -droop, 1e-9, "full droop");
    assert_eq!(found.work_place, WorkPlace::FullDroop);
    let said = WithdrawalQuestion {
        travel: Some(-droop),
        ..question()
    };
    let said = check_corner_withdrawal(&corner(), &said).expect("an answer");
    close(found.head_side.gap, said.head_side.gap, 1e-9, "the same place");
    let words = found.findings[0].to_string();
    assert!(
        words.contains("at full droop as the car hangs on stands"),
        "{words}"
    );
    let stopped = DoubleWishbone {
        stops: Stops {
            droop: Some(20.0),
            ..pickups.stops.clone()
        },
        ..pickups
    };
    let stopped = Corner::new(&stopped).expect("a corner");
    let found = check_corner_withdrawal(&stopped, &unsaid).expect("an answer");
    close(found.travel, -20.0, 1e-9, "the stop");
}

#[test]
fn both_sides_of_an_axle_and_of_a_car() {
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    let asked = WithdrawalQuestion {
        spring: Some(RoundPart {
            from_upper: 55.0,
            from_lower: 72.88,
            radius: 35.0,
        }),
        ..question()
    };
    let gap = |side| {
        check_axle_withdrawal(&axle, side, &asked)
            .expect("an answer")
            .head_side
            .gap
    };
    close(gap(Side::Left), gap(Side::Right), 1e-9, "mirrored axle");
    let right = Corner::new(&samples::wagon_front().mirrored()).expect("a corner");
    let gap = |corner: &Corner| {
        check_corner_withdrawal(corner, &question())
            .expect("an answer")
            .head_side
            .gap
    };
    close(gap(&corner()), gap(&right), 1e-9, "mirrored corner");
}

fn refused(change: impl Fn(&mut WithdrawalQuestion), expected: &str) {
    let mut asked = question();
    change(&mut asked);
    let error = check_corner_withdrawal(&corner(), &asked)
        .expect_err("refused")
        .to_string();
    assert!(error.contains(expected), "{error}");
}

#[test]
fn wrong_questions_are_refused_with_sentences() {
    refused(
        |asked| asked.towards_head = Vector3::zeros(),
        "give the direction of the bolt",
    );
    refused(|asked| asked.towards_head.x = f64::NAN, "`towards_head` is NaN");
    refused(
        |asked| asked.bolt_length = 40.0,
        "shorter than the bracket is wide",
    );
    refused(|asked| asked.spring = None, "something that the bolt could meet");
    refused(|asked| asked.head_diameter = 0.0, "`head_diameter` is 0");
    refused(
        |asked| asked.spring.as_mut().expect("a spring").from_upper = 300.0,
        "only 316.2 mm apart here",
    );
    refused(
        |asked| asked.spring.as_mut().expect("a spring").radius = -43.0,
        "`spring.radius` is -43",
    );
    let mut bare = samples::wagon_front();
    (bare.coilover, bare.spring) = (None, None);
    let error = check_corner_withdrawal(&Corner::new(&bare).expect("a corner"), &question());
    assert!(error.is_err());
}

#[test]
fn every_number_of_a_question_can_be_converted() {
    let mut asked = question();
    asked.obstacles.push(tube("tube", 1.0, 2.0));
    let mut count = 0;
    asked.visit(&mut |_, quantity| {
        assert_eq!(quantity, Quantity::Length);
        count += 1;
    });
    assert_eq!(count, 8 + 3 + 7);
    let text = serde_json::to_string(&asked).expect("JSON");
    assert_eq!(
        serde_json::from_str::<WithdrawalQuestion>(&text).expect("a question"),
        asked
    );
}
