//! Searches: planted optima, real steps, requirements and their prices, trade-offs.

mod requirements;

use kin_core::curves::{AxleCurve, CornerCurve};
use kin_core::pickups::{Arm, DoubleWishbone, Point, TieRod, Wheel};
use kin_core::samples;
use kin_core::study::search::{
    Candidate, Goal, GoalPoint, Hole, Holes, Move, SearchAnswer, SearchError, SearchQuestion, search,
};
use kin_core::study::{Outcome, Reading, Station, Subject, Unwatched};

const DEGREE: f64 = std::f64::consts::PI / 180.0;
const SIXTEENTH_INCH: f64 = 25.4 / 16.0;
const TOE: Reading = Reading::Corner(CornerCurve::Toe, None);

fn question(moves: Vec<Move>, goals: Vec<Goal>) -> SearchQuestion {
    SearchQuestion {
        moves,
        holes: Vec::new(),
        goals,
        keeps: Vec::new(),
        starts: 4,
        seed: 1,
        front: None,
    }
}

fn number(subject: &Subject, name: &str, from: f64, to: f64) -> Move {
    Move {
        name: name.to_owned(),
        along: vec![(subject.places(name).expect("a number")[0], 1.0)],
        range: (from, to),
        step: None,
    }
}

fn goal(name: &str, unit: f64, points: Vec<(Outcome, f64)>) -> Goal {
    let points = points
        .into_iter()
        .map(|(outcome, target)| GoalPoint { outcome, target });
    Goal {
        name: name.to_owned(),
        points: points.collect(),
        unit,
        weight: 1.0,
    }
}

/// Toe as at ride height all over this much bump and droop.
fn no_bump_steer(travel: f64) -> Goal {
    let bumps = [-1.0, -0.75, -0.5, -0.25, 0.25, 0.5, 0.75, 1.0];
    let points = bumps.map(|share| (Outcome::Change(TOE, 0.0, share * travel), 0.0));
    goal("no bump steer", DEGREE, points.to_vec())
}

fn found(subject: &Subject, question: &SearchQuestion) -> SearchAnswer {
    search(subject, question, &Unwatched).expect("a search")
}

fn best(answer: &SearchAnswer) -> &Candidate {
    answer.best.as_ref().expect("a candidate")
}

fn value(subject: &Subject, moved: &[Move], candidate: &Candidate, outcome: &Outcome) -> f64 {
    let along = moved.iter().zip(&candidate.moves);
    let changes: Vec<(usize, f64)> = along
        .flat_map(|(one, amount)| one.along.iter().map(move |(place, rate)| (*place, rate * amount)))
        .collect();
    outcome
        .value(&subject.changed(&changes).build().expect("a corner"))
        .expect("a value")
}

/// An invented corner of parallel arms of equal length with a tie rod parallel to them and as long: the upright is carried
/// round without turning, so toe never changes (parallelogram linkage, plane geometry).
fn parallel_corner() -> DoubleWishbone {
    let arm = Point::new(0.0, 340.0, -20.0);
    let arms = |height: f64| Arm {
        front_pivot: Point::new(150.0, 330.0, height),
        rear_pivot: Point::new(-150.0, 330.0, height),
        ball_joint: Point::new(0.0, 330.0, height) + arm,
    };
    let inner = Point::new(-120.0, 310.0, 290.0);
    DoubleWishbone {
        upper_arm: arms(440.0),
        lower_arm: arms(215.0),
        tie_rod: TieRod {
            inner,
            outer: inner + arm,
        },
        wheel: Wheel {
            centre: Point::new(0.0, 740.0, 310.0),
            tyre_radius: 310.0,
            camber: 0.0,
            toe: 0.0,
        },
        coilover: None,
        damper: None,
        spring: None,
        wanted: None,
        ..samples::wagon_front()
    }
}

#[test]
fn a_tie_rod_moved_away_from_zero_bump_steer_is_moved_back() {
    let planted = Subject::from(parallel_corner());
    let spread = Outcome::Spread(TOE, -50.0, 50.0);
    let none = spread
        .value(&planted.build().expect("a corner"))
        .expect("a value");
    assert!(none.abs() < 1e-11, "the planted corner has no bump steer: {none}");
    let (y, z) = ("tie_rod.inner.y", "tie_rod.inner.z");
    let away = [
        (planted.places(y).expect("y")[0], -6.0),
        (planted.places(z).expect("z")[0], 9.0),
    ];
    let subject = planted.changed(&away);
    let moves = vec![number(&subject, y, -20.0, 20.0), number(&subject, z, -20.0, 20.0)];
    let asked = question(moves, vec![no_bump_steer(50.0)]);
    let answer = found(&subject, &asked);
    let back = best(&answer);
    assert!(
        (back.moves[0] - 6.0).abs() < 1e-4 && (back.moves[1] + 9.0).abs() < 1e-4,
        "{back:?}"
    );
    assert!(value(&subject, &asked.moves, back, &spread).to_degrees() < 1e-5);
    // Every start finds the same place: there is no other in the box.
    for start in &answer.starts {
        let end = start.end.as_ref().expect("an end");
        assert!((end.moves[1] + 9.0).abs() < 1e-3, "{start:?}");
    }
    assert!(answer.binding.is_empty());
    assert_eq!(
        found(&subject, &asked),
        answer,
        "the same question has the same answer"
    );
}

/// The invented wagon's shims, solved by an independent program (the figures of the shim table): four of 1/16 in under the
/// outer tie-rod end leave 0.074 deg over 50 mm of bump and droop of 0.563 deg.
#[test]
fn the_wagons_shims_are_found_in_real_steps() {
    let subject = Subject::from(samples::wagon_front());
    let mut shims = number(&subject, "tie_rod.outer.z", -8.0 * SIXTEENTH_INCH, 0.0);
    shims.step = Some(SIXTEENTH_INCH);
    let asked = question(vec![shims], vec![no_bump_steer(50.0)]);
    let answer = found(&subject, &asked);
    let stepped = answer.stepped.as_ref().expect("a stepped answer");
    assert!(
        (stepped.moves[0] + 4.0 * SIXTEENTH_INCH).abs() < 1e-12,
        "{stepped:?}"
    );
    assert!(
        best(&answer).objective < stepped.objective,
        "anywhere is better than in steps"
    );
    let over = |from: f64, to: f64, moves: &Candidate| {
        value(&subject, &asked.moves, moves, &Outcome::Spread(TOE, from, to)).to_degrees()
    };
    let as_is = answer.as_is.as_ref().expect("a value as it is");
    assert!((over(-50.0, 50.0, as_is) - 0.563).abs() < 0.0006);
    assert!((over(-50.0, 50.0, stepped) - 0.074).abs() < 0.0006);
    assert!((over(-50.0, 75.0, as_is) - 0.76).abs() < 0.005);
    assert!((over(-50.0, 75.0, stepped) - 0.15).abs() < 0.005);
    // Every other stack is worse.
    for count in 0..=8 {
        let other = Candidate {
            moves: vec![-f64::from(count) * SIXTEENTH_INCH],
            ..stepped.clone()
        };
        let toes = asked.goals[0]
            .points
            .iter()
            .map(|point| value(&subject, &asked.moves, &other, &point.outcome));
        let deviation = asked.goals[0].deviation(&toes.collect::<Vec<f64>>());
        assert!(deviation >= stepped.deviation(&asked, 0) - 1e-12, "{count} shims");
    }
}

/// Brackets that were moved to make a wanted pair are found from the pair alone.
#[test]
fn a_bracket_layout_for_a_wanted_anti_squat_and_roll_steer_is_found() {
    let subject = Subject::from(samples::wagon_rear());
    let moves = vec![
        number(&subject, "links.lower_left.body.z", -40.0, 40.0),
        number(&subject, "links.upper_left.body.z", -40.0, 40.0),
    ];
    let planted: Vec<(usize, f64)> = vec![(moves[0].along[0].0, -17.0), (moves[1].along[0].0, 11.0)];
    let at = |curve: AxleCurve| Outcome::At(Reading::Axle(curve, None), Station::default());
    let outcomes = [at(AxleCurve::AntiSquatSlope), at(AxleCurve::RollSteer)];
    let built = subject.changed(&planted).build().expect("an axle");
    let goals = outcomes.map(|outcome| {
        let target = outcome.value(&built).expect("a value");
        goal("pair", 0.01, vec![(outcome, target)])
    });
    let answer = found(&subject, &question(moves, goals.to_vec()));
    let layout = best(&answer);
    assert!(
        (layout.moves[0] + 17.0).abs() < 1e-3 && (layout.moves[1] - 11.0).abs() < 1e-3,
        "{layout:?}"
    );
}

/// The spread of toe has a kink where it is least; the search without derivatives takes it from there. Held against a scan.
#[test]
fn the_least_spread_is_found_at_its_kink() {
    let subject = Subject::from(samples::wagon_front());
    let outer = number(&subject, "tie_rod.outer.z", -12.0, 0.0);
    let spread = Outcome::Spread(TOE, -50.0, 50.0);
    let asked = question(
        vec![outer],
        vec![goal("spread", DEGREE, vec![(spread.clone(), 0.0)])],
    );
    let answer = found(&subject, &asked);
    let least = best(&answer).goals[0][0];
    let scanned = (0..=1200).map(|step| {
        let candidate = Candidate {
            moves: vec![-0.01 * f64::from(step)],
            ..best(&answer).clone()
        };
        value(&subject, &asked.moves, &candidate, &spread)
    });
    let scanned = scanned.fold(f64::INFINITY, f64::min);
    assert!(
        least <= scanned + 1e-9,
        "{} against {} deg",
        least.to_degrees(),
        scanned.to_degrees()
    );
}

#[test]
fn a_trade_off_runs_from_one_goal_to_the_other() {
    let subject = Subject::from(samples::wagon_front());
    let camber = Reading::Corner(CornerCurve::Camber, None);
    let moves = vec![number(&subject, "upper_arm.front_pivot.z", -15.0, 15.0)];
    let mut tied = moves.clone();
    tied[0]
        .along
        .push((subject.places("upper_arm.rear_pivot.z").expect("z")[0], 1.0));
    let mut asked = question(
        tied,
        vec![
            goal(
                "camber in bump",
                DEGREE,
                vec![(Outcome::Change(camber, 0.0, 50.0), -1.6 * DEGREE)],
            ),
            goal(
                "roll centre",
                1.0,
                vec![(
                    Outcome::At(
                        Reading::Corner(CornerCurve::RollCentreHeight, None),
                        Station::default(),
                    ),
                    60.0,
                )],
            ),
        ],
    );
    asked.front = Some(7);
    let answer = found(&subject, &asked);
    assert!(answer.front.len() >= 3, "{:?}", answer.front);
    for pair in answer.front.windows(2) {
        assert!(
            pair[1].deviations[0] >= pair[0].deviations[0],
            "{:?}",
            answer.front
        );
        assert!(
            pair[1].deviations[1] <= pair[0].deviations[1],
            "{:?}",
            answer.front
        );
    }
}

#[test]
fn drilled_holes_are_all_tried() {
    let subject = Subject::from(samples::bench_rig());
    let [y, z] = ["coilover.lower_mount.y", "coilover.lower_mount.z"]
        .map(|name| subject.places(name).expect("a mount")[0]);
    // The rig's five holes along the lower arm, from the middle one.
    let holes = [
        (140.0, 89.64),
        (170.0, 88.0),
        (200.0, 86.36),
        (230.0, 84.73),
        (260.0, 83.09),
    ];
    let holes = holes.map(|(across, up)| Hole {
        name: format!("hole at {across}"),
        changes: vec![(y, across - 200.0), (z, up - 86.36)],
    });
    let ratio = Outcome::At(
        Reading::Corner(CornerCurve::MotionRatio, None),
        Station::default(),
    );
    let mut asked = question(Vec::new(), vec![goal("motion ratio", 0.01, vec![(ratio, 0.72)])]);
    asked.holes = vec![Holes {
        name: "arm".to_owned(),
        holes: holes.to_vec(),
    }];
    let answer = found(&subject, &asked);
    // The rig's table of motion ratios, solved by an independent program: 0.481, 0.605, 0.715 for the second to fourth hole.
    assert_eq!(best(&answer).holes, [3]);
    assert_eq!(answer.starts.len(), 5);
}

#[test]
fn what_cannot_be_searched_is_refused() {
    let subject = Subject::from(samples::wagon_front());
    let moved = |from: f64, to: f64, step: Option<f64>| Move {
        step,
        ..number(&subject, "tie_rod.outer.z", from, to)
    };
    let refused = |asked: SearchQuestion| search(&subject, &asked, &Unwatched).expect_err("a refusal");
    let goals = || vec![no_bump_steer(50.0)];
    assert_eq!(refused(question(Vec::new(), goals())), SearchError::NothingMoves);
    assert_eq!(
        refused(question(vec![moved(-1.0, 1.0, None)], Vec::new())),
        SearchError::NoGoal
    );
    for (from, to) in [(1.0, 1.0), (2.0, 1.0), (f64::NAN, 1.0), (0.0, f64::INFINITY)] {
        let error = refused(question(vec![moved(from, to, None)], goals()));
        assert!(matches!(error, SearchError::Range { .. }), "{error}");
    }
    for step in [0.0, -1.0, f64::NAN, 5.0] {
        let error = refused(question(vec![moved(1.0, 4.0, Some(step))], goals()));
        assert!(matches!(error, SearchError::Step { .. }), "{error}");
    }
    let mut asked = question(vec![moved(-1.0, 1.0, None)], goals());
    asked.front = Some(5);
    assert_eq!(refused(asked), SearchError::Front { count: 1 });
}

/// A range in which no suspension can be built is reported start by start, and nothing is called found.
#[test]
fn starts_that_cannot_be_built_are_rows_with_a_reason() {
    let subject = Subject::from(samples::wagon_front());
    let far = number(&subject, "tie_rod.outer.z", 5_000.0, 6_000.0);
    let answer = found(&subject, &question(vec![far], vec![no_bump_steer(50.0)]));
    for start in &answer.starts {
        assert!(
            start.end.as_ref().is_err_and(|reason| !reason.is_empty()),
            "{start:?}"
        );
    }
    assert!(answer.best.is_none() && answer.as_is.is_some());
}
