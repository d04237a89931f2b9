//! Linkages without a limit of reach of their own are searched as far as there are positions, and answered.

use crate::closed_form::axle::parallel_links;
use crate::closed_form::corner::parallel_arms;
use kin_core::checks::{StrokeQuestion, Verdict, check_axle_stroke, check_corner_stroke};
use kin_core::pickups::{AxleSides, Damper, Point};
use kin_core::{Axle, AxleTravel, Corner, samples};

/// A damper that no travel brings to a limit.
fn never_in_the_way(upper_mount: Point, lower_mount: Point, part: &str) -> Damper {
    Damper {
        upper_mount,
        lower_mount,
        rides_on: part.to_owned(),
        extended: 2_000.0,
        compressed: 50.0,
        bump_stop: 0.0,
        upper_stud: None,
        lower_stud: None,
    }
}

/// Links of 350 mm and a panhard rod of 900 mm: by the closed form the axle ends at `1 / sqrt(1/L^2 + 1/P^2)`, 326 mm.
/// It is held too much, so its bushings give, but not beyond where its links fold: the limit of reach stops short of it.
#[test]
fn an_axle_held_too_much() {
    let mut pickups = parallel_links();
    for (name, link) in &mut pickups.links {
        if name != "panhard_rod" {
            link.body.x = link.axle.x + 350.0;
        }
    }
    let damper = |side: f64| {
        never_in_the_way(
            Point::new(-2_560.0, side * 430.0, 1_000.0),
            Point::new(-2_590.0, side * 540.0, 250.0),
            "axle",
        )
    };
    pickups.coilovers = Some(AxleSides {
        left: damper(1.0),
        right: Some(damper(-1.0)),
    });
    let axle = Axle::new(&pickups).expect("an axle");
    assert!(axle.is_held_too_much());
    let end = 1.0 / (350.0_f64.powi(-2) + 900.0_f64.powi(-2)).sqrt();
    let highest = axle.reach().highest.expect("an end");
    assert!(highest <= end && highest > end - 4.0, "{highest} {end}");
    assert!(axle.at(AxleTravel::both(320.0)).is_ok());
    let answers = check_axle_stroke(&axle, &StrokeQuestion::default()).expect("an answer");
    for answer in answers {
        assert_eq!(answer.budget.bump_to_stop, None);
        assert_eq!(answer.budget.droop_to_top_out, None);
        for finding in answer.findings {
            assert_ne!(finding.verdict, Verdict::Fails, "{finding}");
        }
    }
}

/// Doubled links hold an axle too much and fold where single ones do: the axle ends there, and its stroke is checked.
#[test]
fn an_axle_with_doubled_links() {
    let single = Axle::new(&samples::wagon_rear()).expect("an axle");
    let mut pickups = samples::wagon_rear();
    for (name, link) in pickups.links.clone() {
        if name.starts_with("lower") {
            pickups.links.insert(format!("second_{name}"), link);
        }
    }
    let doubled = Axle::new(&pickups).expect("an axle");
    assert!(doubled.is_held_too_much());
    let (one, two) = (single.reach(), doubled.reach());
    for (one, two) in [(one.highest, two.highest), (one.lowest, two.lowest)] {
        let (one, two) = (one.expect("an end"), two.expect("an end"));
        assert!(
            two.abs() <= one.abs() && two.abs() > one.abs() - 4.0,
            "{one} {two}"
        );
    }
    let question = StrokeQuestion::default();
    let one = check_axle_stroke(&single, &question).expect("an answer");
    let two = check_axle_stroke(&doubled, &question).expect("an answer");
    for (one, two) in one.iter().zip(&two) {
        let (one, two) = (one.budget.bump_to_stop, two.budget.bump_to_stop);
        let (one, two) = (one.expect("a stop"), two.expect("a stop"));
        assert!((one - two).abs() < 1e-6, "{one} {two}");
    }
}

/// Equal parallel arms of 350 mm end where all rods stand upright at once: the path branches there.
#[test]
fn equal_parallel_arms() {
    let mut pickups = parallel_arms();
    pickups.coilover = Some(never_in_the_way(
        Point::new(0.0, 420.0, 1_100.0),
        Point::new(0.0, 480.0, 190.0),
        "lower_arm",
    ));
    let corner = Corner::new(&pickups).expect("a corner");
    let answer = check_corner_stroke(&corner, &StrokeQuestion::default()).expect("an answer");
    assert_eq!(answer.budget.bump_to_stop, None);
    assert_eq!(answer.budget.droop_to_top_out, None);
    for finding in answer.findings {
        assert_ne!(finding.verdict, Verdict::Fails, "{finding}");
    }
}
