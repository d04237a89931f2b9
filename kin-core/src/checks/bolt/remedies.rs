//! What mends a bolt that is asked too much: each verified by running the check again.

use super::check::run;
use super::effects::BoltEffect;
use super::question::{BoltQuestion, Shear};
use crate::Error;
use crate::checks::bolt_data::BoltSize;
use crate::checks::{Remedy, RemedyKind, Sentence};

/// Whether an effect keeps its limit with another bolt. A bolt that does not exist mends nothing.
fn holds(question: &BoltQuestion, effect: BoltEffect) -> bool {
    run(question).is_ok_and(|result| {
        result
            .effects
            .iter()
            .filter(|found| found.effect == effect)
            .all(|found| found.share().is_none_or(|share| share <= 1.0))
    })
}

fn remedy(kind: RemedyKind, change: f64, sentence: Sentence) -> Remedy {
    Remedy {
        kind,
        change,
        window: (change, f64::INFINITY),
        sentence,
    }
}

/// How a remedy starts: after another one it is a choice.
fn one(before: &[Remedy]) -> &'static str {
    if before.is_empty() { "A" } else { "Or a" }
}

/// The remedies of one effect: a second tab, the least stronger grade, the next thicker bolt that serves.
pub(super) fn remedies(
    question: &BoltQuestion,
    size: &BoltSize,
    effect: BoltEffect,
) -> Result<Vec<Remedy>, Error> {
    let mut found = Vec::new();
    if question.shear == Shear::Single {
        let double = BoltQuestion {
            shear: Shear::Double,
            lever: None,
            ..question.clone()
        };
        if holds(&double, effect) {
            let sentence = Sentence::new("A second tab on the other side (double shear) mends it.");
            found.push(remedy(RemedyKind::DoubleShear, 0.0, sentence));
        }
    }
    let stronger = question.grade.stronger().iter().find(|grade| {
        let other = BoltQuestion {
            grade: **grade,
            ..question.clone()
        };
        effect != BoltEffect::Bearing && holds(&other, effect)
    });
    if let Some(grade) = stronger {
        let sentence = Sentence::new(format!("{} bolt of {}.", one(&found), grade.name()));
        found.push(remedy(RemedyKind::StrongerGrade, 0.0, sentence));
    }
    let thicker = size.larger().find(|other| {
        let other = BoltQuestion {
            size: other.name.to_owned(),
            ..question.clone()
        };
        holds(&other, effect)
    });
    if let Some(other) = thicker {
        let sentence = Sentence::new(format!(
            "{} {} bolt, with bracket and eye made for it: mind the edge that is left.",
            one(&found),
            other.name
        ));
        found.push(remedy(
            RemedyKind::ThickerBolt,
            other.diameter - size.diameter,
            sentence,
        ));
    }
    if effect == BoltEffect::Bearing
        && let Some(thickness) = thicker_tab(question)?
    {
        let more = thickness - question.tab.map_or(0.0, |tab| tab.thickness);
        let start = if found.is_empty() {
            "Tabs of "
        } else {
            "Or tabs of "
        };
        let sentence = Sentence::new(start)
            .at_least(thickness, f64::INFINITY)
            .words(" thickness or more.");
        found.push(remedy(RemedyKind::ThickerTab, more, sentence));
    }
    Ok(found)
}

/// The least thickness of a tab that holds, verified.
fn thicker_tab(question: &BoltQuestion) -> Result<Option<f64>, Error> {
    let share = run(question)?
        .effects
        .iter()
        .find(|found| found.effect == BoltEffect::Bearing)
        .and_then(super::effects::Effect::share);
    let (Some(share), Some(tab)) = (share, question.tab) else {
        return Ok(None);
    };
    // Bearing stress goes with one over the thickness; a millionth more keeps rounding on the safe side.
    let thickness = tab.thickness * share * (1.0 + 1e-6);
    let mut thicker = tab;
    thicker.thickness = thickness;
    let other = BoltQuestion {
        tab: Some(thicker),
        ..question.clone()
    };
    Ok(holds(&other, BoltEffect::Bearing).then_some(thickness))
}
