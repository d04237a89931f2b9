//! The sentences of the clearance check.

use super::motions::MotionKind;
use super::report::{LeastGap, Overlap, PairClearance};
use crate::checks::Sentence;
use crate::checks::motion_range::WheelPlace;

/// Travels nearer to ride height than this (mm) are called ride height.
const AT_RIDE_MM: f64 = 0.05;
/// Gaps nearer to each other than this (mm) read the same.
const SAME_GAP_MM: f64 = 0.05;

/// The travel of a place that one number can tell, from ride height (mm).
pub(super) fn one_travel(least: &LeastGap) -> Option<f64> {
    match least.motion {
        MotionKind::BumpAndDroop | MotionKind::BumpAndSteer | MotionKind::BothWheels => {
            Some(least.wheels.left())
        }
        MotionKind::Steer => Some(0.0),
        _ => None,
    }
}

/// The number, the limit, where, and what follows.
pub(super) fn statement(pair: &PairClearance) -> Sentence {
    let least = &pair.least;
    let subject = format!("The {} ", pair.part);
    let sentence = if least.gap >= 0.0 && !least.cores_meet {
        let sentence = Sentence::new(subject)
            .words(format!("clears the {} by ", pair.other))
            .length(least.gap);
        placed(sentence.words(", "), least.motion, &least.wheels)
            .words("; ")
            .fine_length(pair.wanted)
            .words(" wanted.")
    } else {
        let met = if least.cores_meet { "at least " } else { "" };
        let mut sentence = Sentence::new(subject).words(format!("touches the {}", pair.other));
        if pair.at_ride <= 0.0 {
            sentence = sentence.words(" already at ride height");
        } else if let Some(overlap) = pair
            .overlaps
            .iter()
            .find(|overlap| overlap.motion == least.motion)
        {
            sentence = stretch(sentence.words(" "), overlap);
        }
        let sentence = sentence
            .words("; the worst is ")
            .words(met)
            .length(-least.gap)
            .words(" of overlap, ");
        placed(sentence, least.motion, &least.wheels)
            .words("; ")
            .fine_length(pair.wanted)
            .words(" of room is wanted.")
    };
    beside(sentence, pair)
}

/// What the first kind of motion alone would have said, where another is worse.
fn beside(sentence: Sentence, pair: &PairClearance) -> Sentence {
    let Some(first) = pair
        .by_motion
        .first()
        .filter(|first| first.motion != pair.least.motion && first.gap - pair.least.gap >= SAME_GAP_MM)
    else {
        return sentence;
    };
    let words = match first.motion {
        MotionKind::BothWheels => " With both wheels moving together it is ",
        _ => " In bump and droop straight ahead it is ",
    };
    let overlap = if first.gap < 0.0 { " of overlap, " } else { ", " };
    let sentence = sentence.words(words).length(first.gap.abs()).words(overlap);
    // Which wheels move has been said already.
    placed(sentence, MotionKind::BumpAndDroop, &first.wheels).words(".")
}

/// From where to where there is an overlap, from the side nearer to ride height.
fn stretch(sentence: Sentence, overlap: &Overlap) -> Sentence {
    let away = |place: &WheelPlace| place.left().abs() + place.right().abs() + place.rack().abs();
    let (begin, end) = if away(&overlap.from) <= away(&overlap.to) {
        (&overlap.from, &overlap.to)
    } else {
        (&overlap.to, &overlap.from)
    };
    let sentence = standing(sentence.words("from "), overlap.motion, begin, "");
    standing(sentence.words(" to "), overlap.motion, end, "")
}

/// Where the wheels stand, in words.
fn placed(sentence: Sentence, motion: MotionKind, wheels: &WheelPlace) -> Sentence {
    standing(sentence, motion, wheels, "at ")
}

fn standing(sentence: Sentence, motion: MotionKind, wheels: &WheelPlace, at: &'static str) -> Sentence {
    match motion {
        MotionKind::BumpAndDroop => travel(sentence, at, wheels.left()),
        MotionKind::Steer => rack(sentence.words(at).words("ride height with "), wheels.rack()),
        MotionKind::BumpAndSteer => rack(travel(sentence, at, wheels.left()).words(" with "), wheels.rack()),
        MotionKind::BothWheels => travel(sentence.words("both wheels "), "at ", wheels.left()),
        MotionKind::LeftWheel => travel(sentence.words("the left wheel alone "), "at ", wheels.left()),
        MotionKind::RightWheel => travel(sentence.words("the right wheel alone "), "at ", wheels.right()),
        MotionKind::LeftUpRightDown | MotionKind::LeftDownRightUp | MotionKind::AnyWheels => {
            let sentence = travel(sentence.words("the left wheel "), "at ", wheels.left());
            travel(sentence.words(" and the right one "), "at ", wheels.right())
        }
    }
}

fn travel(sentence: Sentence, at: &'static str, travel: f64) -> Sentence {
    let sentence = sentence.words(at);
    if travel.abs() < AT_RIDE_MM {
        return sentence.words("ride height");
    }
    let direction = if travel > 0.0 { " bump" } else { " droop" };
    sentence.length(travel.abs()).words(direction)
}

fn rack(sentence: Sentence, rack: f64) -> Sentence {
    if rack.abs() < AT_RIDE_MM {
        return sentence.words("the wheel straight ahead");
    }
    let side = if rack > 0.0 {
        " to the left"
    } else {
        " to the right"
    };
    sentence.words("the rack ").length(rack.abs()).words(side)
}
