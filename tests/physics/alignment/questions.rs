//! Questions about alignment that cannot be answered are refused by name.

use super::card::{adjuster, all_three};
use kin_core::checks::{Adjuster, AlignmentQuestion, WantedAngle, check_alignment};
use kin_core::pickups::Point;
use kin_core::{Corner, samples};

#[test]
fn wrong_questions_are_refused_by_name() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let with = |adjuster: Adjuster| all_three(-1.0, 6.0, 0.1, &[adjuster]);
    let cases = [
        (AlignmentQuestion::default(), "camber"),
        (all_three(f64::NAN, 6.0, 0.1, &[]), "camber.angle"),
        (
            AlignmentQuestion {
                toe: Some(WantedAngle {
                    angle: 0.1,
                    tolerance: Some(0.0),
                }),
                ..AlignmentQuestion::default()
            },
            "toe.tolerance",
        ),
        (with(adjuster("upper_arm.front")), "adjusters[0].pickup"),
        (
            with(Adjuster {
                direction: Some(Point::new(1.0, 0.0, 0.0)),
                ..adjuster("tie_rod")
            }),
            "adjusters[0].direction",
        ),
        (
            with(Adjuster {
                shim: Some(-1.0),
                ..adjuster("upper_arm")
            }),
            "adjusters[0].shim",
        ),
        (
            with(Adjuster {
                shim: Some(1.0),
                eccentric: Some(3.0),
                ..adjuster("upper_arm")
            }),
            "adjusters[0].eccentric",
        ),
        (
            with(Adjuster {
                least: Some(3.0),
                most: Some(-3.0),
                ..adjuster("upper_arm")
            }),
            "adjusters[0].least",
        ),
    ];
    for (bad, words) in cases {
        let error = check_alignment(&corner, &bad).expect_err(words).to_string();
        assert!(error.contains(words), "{words}: {error}");
    }
}
