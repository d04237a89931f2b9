//! Requirements: what binds, what it costs, and what cannot be kept.

use super::{best, found, goal, number, question};
use kin_core::samples;
use kin_core::study::search::{Bound, Keep, Side};
use kin_core::study::{Outcome, StrokeReading, Subject};

fn stroke(reading: StrokeReading) -> Outcome {
    Outcome::Stroke(reading, kin_core::pickups::Side::Left)
}

fn keep(name: &str, reading: StrokeReading, at_least: f64) -> Keep {
    Keep {
        name: name.to_owned(),
        outcome: stroke(reading),
        at_least: Some(at_least),
        at_most: None,
        unit: 1.0,
    }
}

/// A shorter damper at ride height is wanted than the bump travel allows: the requirement binds, and its price is what one
/// millimetre less of bump travel brings.
#[test]
fn a_binding_requirement_is_named_with_its_price() {
    let subject = Subject::from(samples::wagon_front());
    let lower = number(&subject, "coilover.upper_mount.z", -40.0, 40.0);
    let short = goal("short", 1.0, vec![(stroke(StrokeReading::LengthAtRide), 290.0)]);
    let mut asked = question(vec![lower], vec![short]);
    asked.keeps = vec![
        keep("bump", StrokeReading::BumpToStop, 65.0),
        keep("droop", StrokeReading::DroopToTopOut, 50.0),
    ];
    let answer = found(&subject, &asked);
    let ended = best(&answer);
    assert!(ended.holds() && (ended.keeps[0] - 65.0).abs() < 1e-4, "{ended:?}");
    let [binding] = answer.binding.as_slice() else {
        panic!("one requirement binds: {:?}", answer.binding);
    };
    assert_eq!(binding.bound, Bound::Keep(0, Side::Low));
    assert!(binding.costs && (binding.relaxed.keeps[0] - 64.0).abs() < 1e-4);
    // Damper length and bump travel hang together by the motion ratio (0.605 to 0.62 there): one millimetre of wheel travel is
    // that much of damper length, to the millimetre's own curvature.
    let cheaper = ended.goals[0][0] - binding.relaxed.goals[0][0];
    assert!((0.59..0.64).contains(&cheaper), "{cheaper}");
    // A range that ends before the requirement binds instead.
    asked.moves[0].range.0 = -1.0;
    let ended = found(&subject, &asked);
    assert_eq!(ended.binding[0].bound, Bound::Move(0, Side::Low));
    assert!((best(&ended).moves[0] + 1.0).abs() < 1e-6);
}

#[test]
fn what_cannot_be_kept_together_is_said_with_the_nearest_miss() {
    let subject = Subject::from(samples::wagon_front());
    let mount = number(&subject, "coilover.upper_mount.z", -60.0, 60.0);
    let length = goal("length", 1.0, vec![(stroke(StrokeReading::LengthAtRide), 316.0)]);
    let mut asked = question(vec![mount], vec![length]);
    // The damper's whole stroke is worth about 124 mm of wheel travel to the stop: 90 and 60 are 26 mm too many.
    asked.keeps = vec![
        keep("bump", StrokeReading::BumpToStop, 90.0),
        keep("droop", StrokeReading::DroopToTopOut, 60.0),
    ];
    let answer = found(&subject, &asked);
    let nearest = best(&answer);
    assert!(!nearest.holds() && nearest.miss > 10.0, "{nearest:?}");
    // The least sum of squares shares the miss between both.
    assert!(
        (nearest.keeps[0] - 90.0 - (nearest.keeps[1] - 60.0)).abs() < 0.5,
        "{nearest:?}"
    );
    assert!(answer.binding.is_empty() && answer.front.is_empty());
}
