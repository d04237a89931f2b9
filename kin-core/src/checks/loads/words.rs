//! Load cases in words.

use crate::Dimension;
use crate::checks::Sentence;

/// What the ground does to a wheel: parts that are zero are left out.
///
/// * `multiples`: along X, Y and Z, of the static load (N)
/// * `thrust_at`: where a force along the car acts, if not at the ground
pub(super) fn push(mut sentence: Sentence, multiples: [f64; 3], load: f64, thrust_at: &str) -> Sentence {
    let [longitudinal, lateral, vertical] = multiples;
    let mut said = false;
    for (multiple, positive, negative, place) in [
        (vertical, "up", "down", ""),
        (longitudinal, "forward", "rearward", thrust_at),
        (lateral, "to the left", "to the right", ""),
    ] {
        if multiple == 0.0 {
            continue;
        }
        let way = if multiple > 0.0 { positive } else { negative };
        sentence = sentence
            .words(format!("{}{way} with ", if said { ", " } else { " " }))
            .quantity((multiple * load).abs(), Dimension::Force)
            .words(format!(" ({} times its static load){place}", multiple.abs()));
        said = true;
    }
    if said {
        sentence
    } else {
        sentence.words(" not at all")
    }
}

/// Where a wheel stands.
pub(super) fn stands(sentence: Sentence, travel: f64) -> Sentence {
    if travel == 0.0 {
        return sentence.words(", at ride height");
    }
    let way = if travel > 0.0 { " of bump" } else { " of droop" };
    sentence
        .words(", at ")
        .length(travel.abs())
        .words(way)
        .words(" from ride height")
}

/// What all cases of corners and axles share.
pub(super) fn assumptions(usual_cases: bool, unsprung: f64) -> Vec<Sentence> {
    let mut sentences = vec![
        Sentence::new("An estimate by static balance: joints without friction, parts without mass but for ")
            .quantity(unsprung, Dimension::Mass)
            .words(
                " of unsprung weight, which acts once, at the wheel centre, in every case. Shocks, fatigue and loose \
                 joints are not in it.",
            ),
    ];
    if usual_cases {
        sentences.push(Sentence::new(
            "The multiples of the static wheel load are assumptions of common practice, not of any standard; state \
             your own where you know better.",
        ));
    }
    sentences
}
