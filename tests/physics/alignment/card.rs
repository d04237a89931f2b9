//! Camber, caster and toe at ride height, and what to set.

use kin_core::checks::{
    Adjuster, Alignment, AlignmentQuestion, RemedyKind, Verdict, WantedAngle, check_alignment,
};
use kin_core::curves::CornerCurve;
use kin_core::pickups::{Arm, DoubleWishbone, Point, RideHeight, TieRod};
use kin_core::{Along, Corner, samples};

pub(super) fn adjuster(pickup: &str) -> Adjuster {
    Adjuster {
        pickup: pickup.into(),
        direction: None,
        shim: None,
        eccentric: None,
        least: None,
        most: None,
    }
}

fn wanted(angle: f64) -> Option<WantedAngle> {
    Some(WantedAngle {
        angle,
        tolerance: None,
    })
}

pub(super) fn all_three(camber: f64, caster: f64, toe: f64, adjusters: &[Adjuster]) -> AlignmentQuestion {
    AlignmentQuestion {
        camber: wanted(camber),
        caster: wanted(caster),
        toe: wanted(toe),
        adjusters: adjusters.to_vec(),
    }
}

fn upper_pivots_and_tie_rod() -> [Adjuster; 3] {
    [
        adjuster("upper_arm.front_pivot"),
        adjuster("upper_arm.rear_pivot"),
        adjuster("tie_rod"),
    ]
}

fn card(pickups: &DoubleWishbone, question: &AlignmentQuestion) -> Alignment {
    check_alignment(&Corner::new(pickups).expect("a corner"), question).expect("an answer")
}

#[test]
fn the_angles_found_are_those_of_the_curves_at_ride_height() {
    let mut pickups = samples::wagon_front();
    pickups.ride_height = Some(RideHeight {
        travel: Some(-25.0),
        ..RideHeight::default()
    });
    let found = card(&pickups, &all_three(0.0, 4.5, 0.2, &[]));
    let corner = Corner::new(&pickups).expect("a corner");
    let position = corner.at(-25.0, 0.0).expect("within reach");
    for (found, curve) in [
        (found.found.camber, CornerCurve::Camber),
        (found.found.caster, CornerCurve::Caster),
        (found.found.toe, CornerCurve::Toe),
    ] {
        assert!((found - curve.value(&position).expect("an angle")).abs() < 1e-13);
    }
    // Invented wagon, solved elsewhere, at 25 mm of droop: camber -0.020, caster 4.460, toe 0.231 deg.
    assert!((found.found.camber.to_degrees() + 0.020).abs() < 0.000_51);
    let verdicts: Vec<Verdict> = found.findings.iter().map(|finding| finding.verdict).collect();
    assert_eq!(verdicts, [Verdict::Holds; 3]);
    assert!(found.settings.is_empty() && found.reached);
    assert!((found.after.toe - found.found.toe).abs() < 1e-13);
}

/// Two equal level arms of 300 mm, the tie rod beside the lower one: the linkage moves in one plane across the car.
fn planar() -> DoubleWishbone {
    let arm = |z: f64| Arm {
        front_pivot: Point::new(100.0, 400.0, z),
        rear_pivot: Point::new(-100.0, 400.0, z),
        ball_joint: Point::new(0.0, 700.0, z),
    };
    let mut pickups = samples::wagon_front();
    pickups.upper_arm = arm(440.0);
    pickups.lower_arm = arm(200.0);
    pickups.tie_rod = TieRod {
        inner: Point::new(-120.0, 400.0, 200.0),
        outer: Point::new(-120.0, 700.0, 200.0),
    };
    pickups.wheel.centre = Point::new(0.0, 750.0, 320.0);
    pickups.wheel.camber = 0.0;
    pickups.wheel.toe = 0.0;
    pickups
}

/// Lean of the upright (rad, top outboard) with the upper pivots moved inboard and the upper arm of another length, by
/// bisection on the lean alone: the lower ball joint follows from the height of the wheel centre and the lower arm, and
/// the upper arm must close.
fn lean_by_hand(inboard: f64, upper_arm: f64) -> f64 {
    let miss = |lean: f64| {
        let (sine, cosine) = f64::sin_cos(lean);
        // From the wheel centre to the ball joints: 50 inboard, 120 down and 120 up, leant outboard at the top.
        let turned = |y: f64, z: f64| (y * cosine + z * sine, -y * sine + z * cosine);
        let (lower_y, lower_z) = turned(-50.0, -120.0);
        let (upper_y, upper_z) = turned(-50.0, 120.0);
        let drop = 320.0 + lower_z - 200.0;
        let lower_ball = 400.0 + (300.0_f64.powi(2) - drop * drop).sqrt();
        let (y, z) = (lower_ball - lower_y + upper_y, 320.0 + upper_z);
        (y - (400.0 - inboard)).hypot(z - 440.0) - upper_arm
    };
    let (mut low, mut high) = (-0.5, 0.5);
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if miss(middle) > 0.0 {
            high = middle;
        } else {
            low = middle;
        }
    }
    0.5 * (low + high)
}

#[test]
fn a_planar_linkage_leans_as_worked_by_hand() {
    let lean = lean_by_hand(5.0, 300.0);
    assert!((lean.to_degrees() + 1.19).abs() < 0.02, "{}", lean.to_degrees());
    let both = AlignmentQuestion {
        camber: wanted(lean.to_degrees()),
        adjusters: vec![adjuster("upper_arm")],
        ..AlignmentQuestion::default()
    };
    let found = card(&planar(), &both);
    assert!(found.reached);
    assert!(
        (found.settings[0].amount - 5.0).abs() < 1e-8,
        "{}",
        found.settings[0].amount
    );
    assert!((found.after.camber - lean).abs() < 1e-11);
    assert!(found.after.toe.abs() < 1e-12 && (found.after.caster - found.found.caster).abs() < 1e-12);
    let step = 1e-3;
    let rate = (lean_by_hand(step, 300.0) - lean_by_hand(-step, 300.0)) / (2.0 * step);
    assert!((found.settings[0].per_mm.camber - rate).abs() < 1e-9);
}

#[test]
fn a_ball_joint_moved_inboard_on_its_arm_is_a_shorter_arm() {
    let target = AlignmentQuestion {
        camber: wanted(-1.0),
        adjusters: vec![adjuster("upper_arm.ball_joint")],
        ..AlignmentQuestion::default()
    };
    let found = card(&planar(), &target);
    let lean = lean_by_hand(0.0, 300.0 - found.settings[0].amount);
    assert!(found.reached && (found.after.camber - lean).abs() < 1e-10);
}

/// A tie rod longer by d moves the upright as a rack displaced by d L / (outer y - inner y), to first order.
#[test]
fn the_rate_of_the_tie_rod_follows_from_that_of_the_rack() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let found = card(
        &samples::wagon_front(),
        &all_three(-0.5, 4.6, 0.3, &[adjuster("tie_rod")]),
    );
    let position = corner.at(0.0, 0.0).expect("ride");
    let rod = corner.pickups().tie_rod.outer - corner.pickups().tie_rod.inner;
    let scale = rod.norm() / rod.y;
    let per_mm = found.settings[0].per_mm;
    for (found, curve) in [
        (per_mm.camber, CornerCurve::Camber),
        (per_mm.caster, CornerCurve::Caster),
        (per_mm.toe, CornerCurve::Toe),
    ] {
        let rack = curve.rate(&position, Along::Rack).expect("a rate");
        assert!(
            (found - rack * scale).abs() < 1e-12,
            "{curve:?}: {found} {}",
            rack * scale
        );
    }
}

#[test]
fn every_rate_is_the_central_difference_of_what_is_set() {
    let pickups = samples::wagon_front();
    let base = card(&pickups, &all_three(-0.5, 4.6, 0.1, &[])).found;
    let names = [
        "upper_arm.front_pivot",
        "upper_arm.rear_pivot",
        "upper_arm",
        "upper_arm.ball_joint",
        "lower_arm.front_pivot",
        "lower_arm.rear_pivot",
        "lower_arm",
        "lower_arm.ball_joint",
        "tie_rod",
    ];
    for name in names {
        // Held at both ends of a tiny range, the adjuster is set there, whatever is wanted.
        let set = |amount: f64| {
            let held = Adjuster {
                direction: (name != "tie_rod").then(|| Point::new(0.2, -0.9, 0.3)),
                least: Some(amount),
                most: Some(amount),
                ..adjuster(name)
            };
            card(&pickups, &all_three(-9.0, 9.0, 5.0, &[held]))
        };
        let step = 0.02;
        let (up, down) = (set(step), set(-step));
        assert_eq!(up.settings[0].amount, step);
        let per_mm = up.settings[0].per_mm;
        for (rate, high, low) in [
            (per_mm.camber, up.after.camber, down.after.camber),
            (per_mm.caster, up.after.caster, down.after.caster),
            (per_mm.toe, up.after.toe, down.after.toe),
        ] {
            let slope = (high - low) / (2.0 * step);
            assert!((rate - slope).abs() < 1e-8, "{name}: {rate} {slope}");
        }
        assert!(
            (up.after.camber - base.camber).abs() > 1e-7 || name == "tie_rod",
            "{name}"
        );
    }
}

#[test]
fn three_adjusters_bring_three_angles_exactly() {
    let found = card(
        &samples::wagon_front(),
        &all_three(-1.0, 6.0, 0.1, &upper_pivots_and_tie_rod()),
    );
    assert!(found.reached);
    for (found, wanted) in [
        (found.after.camber, -1.0),
        (found.after.caster, 6.0),
        (found.after.toe, 0.1),
    ] {
        assert!(
            (found.to_degrees() - wanted).abs() < 1e-7,
            "{} {wanted}",
            found.to_degrees()
        );
    }
    let camber = &found.findings[0];
    assert_eq!(camber.verdict, Verdict::Fails);
    assert_eq!(camber.remedies[0].kind, RemedyKind::MovePickups);
    // Caster comes from the rear pivot in and the front one out.
    assert!(found.settings[1].amount > 0.0 && found.settings[0].amount < 0.0);
    // Toe is as wanted already: nothing to mend.
    assert_eq!(found.findings[2].verdict, Verdict::Holds);
}

#[test]
fn whole_shims_come_as_close_as_they_can_and_the_tie_rod_takes_toe_back() {
    let thickness = 0.8;
    let [front, rear, tie_rod] = upper_pivots_and_tie_rod();
    let shimmed = |adjuster: Adjuster| Adjuster {
        shim: Some(thickness),
        ..adjuster
    };
    let adjusters = [shimmed(front), shimmed(rear), tie_rod];
    let found = card(&samples::wagon_front(), &all_three(-1.0, 6.0, 0.1, &adjusters));
    assert!(found.reached);
    for setting in &found.settings[..2] {
        let shims = setting.shims.expect("shims");
        assert!((setting.amount - shims as f64 * thickness).abs() < 1e-12);
    }
    // A shim is 0.1 deg of camber: half of one is left at most; toe is set back to well within its tolerance.
    assert!((found.after.camber.to_degrees() + 1.0).abs() < 0.15);
    assert!(
        (found.after.toe.to_degrees() - 0.1).abs() < 0.01,
        "{}",
        found.after.toe.to_degrees()
    );
    assert!(
        found.findings[0].to_string().contains("shims)"),
        "{}",
        found.findings[0]
    );
}

#[test]
fn an_eccentric_at_the_end_of_its_range_is_told() {
    let eccentric = Adjuster {
        eccentric: Some(3.0),
        ..adjuster("lower_arm")
    };
    let in_range = AlignmentQuestion {
        camber: wanted(0.0),
        adjusters: vec![eccentric.clone()],
        ..AlignmentQuestion::default()
    };
    let found = card(&samples::wagon_front(), &in_range);
    assert!(found.reached);
    let setting = &found.settings[0];
    assert!((setting.eccentric_turn.expect("a cam").sin() * 3.0 - setting.amount).abs() < 1e-12);
    let beyond = AlignmentQuestion {
        camber: wanted(5.0),
        ..in_range
    };
    let found = card(&samples::wagon_front(), &beyond);
    assert!(!found.reached && (found.settings[0].amount.abs() - 3.0).abs() < 1e-12);
    assert!(found.findings[0].remedies.is_empty());
    assert!(
        found.findings[0].to_string().contains("at best"),
        "{}",
        found.findings[0]
    );
}

/// What hardly changes an angle is moved as far as its range goes and no farther, and the angle is not reached.
#[test]
fn an_angle_out_of_reach_is_an_answer_and_no_error() {
    let fore_and_aft = Adjuster {
        direction: Some(Point::new(1.0, 0.0, 0.0)),
        ..adjuster("lower_arm.ball_joint")
    };
    let shimmed = Adjuster {
        shim: Some(1.5),
        ..adjuster("upper_arm")
    };
    let cases = [
        (Some(15.0), None, adjuster("tie_rod")),
        (Some(15.0), None, adjuster("upper_arm")),
        (Some(15.0), None, shimmed),
        (None, Some(-20.0), fore_and_aft),
        (None, Some(-20.0), adjuster("lower_arm.front_pivot")),
    ];
    for (caster, camber, adjuster) in cases {
        let asked = AlignmentQuestion {
            caster: caster.and_then(wanted),
            camber: camber.and_then(wanted),
            adjusters: vec![adjuster],
            ..AlignmentQuestion::default()
        };
        let found = card(&samples::wagon_front(), &asked);
        assert!(!found.reached);
        assert!(
            found.settings[0].amount.abs() <= 20.0 + 1e-9,
            "{:?}",
            found.settings
        );
        let words = found.findings[0].to_string();
        assert!(words.contains("not reached by what can be set"), "{words}");
        let (before, after) = match caster {
            Some(_) => (found.found.caster, found.after.caster),
            None => (found.found.camber, found.after.camber),
        };
        let goal = caster.or(camber).unwrap_or(0.0).to_radians();
        assert!(
            (after - goal).abs() <= (before - goal).abs(),
            "{before} {after} {goal}"
        );
    }
}

#[test]
fn with_more_adjusters_than_angles_the_smallest_moves_are_taken() {
    let two = AlignmentQuestion {
        camber: wanted(-1.0),
        adjusters: vec![
            adjuster("upper_arm.front_pivot"),
            adjuster("upper_arm.rear_pivot"),
        ],
        ..AlignmentQuestion::default()
    };
    let found = card(&samples::wagon_front(), &two);
    assert!(found.reached);
    let size = found.settings[0].amount.hypot(found.settings[1].amount);
    for held in [0.5, 2.0, 4.0] {
        let one_held = Adjuster {
            least: Some(held),
            most: Some(held),
            ..adjuster("upper_arm.front_pivot")
        };
        let mut other = two.clone();
        other.adjusters[0] = one_held;
        let other = card(&samples::wagon_front(), &other);
        let larger = other.settings[0].amount.hypot(other.settings[1].amount);
        assert!(other.reached && larger > size - 1e-3, "{held}: {larger} {size}");
    }
}

#[test]
fn the_right_corner_is_set_the_same() {
    let question = all_three(-1.0, 6.0, 0.1, &upper_pivots_and_tie_rod());
    let left = card(&samples::wagon_front(), &question);
    let mut on_right = question;
    // Inboard is the other way on the right; without a direction it is understood.
    on_right.adjusters[0].direction = Some(Point::new(0.0, 1.0, 0.0));
    let right = card(&samples::wagon_front().mirrored(), &on_right);
    for (left, right) in left.settings.iter().zip(&right.settings) {
        assert!((left.amount - right.amount).abs() < 1e-8, "{}", left.pickup);
    }
}
