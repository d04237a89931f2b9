//! The check of a bracket.

use super::CHECK;
use super::hole::{HoleAfterDrilling, after_drilling, edge, fit};
use super::plate::{PlateEffect, PlateStress, stresses, weld_direct};
use super::question::BracketQuestion;
use super::remedies::{FARTHEST, remedies};
use crate::checks::bolt_data::BoltSize;
use crate::checks::{Finding, RemedyKind, Sentence, Verdict};
use crate::{Dimension, Error};

/// A stress closer to its limit than this share of the limit is tight.
const WANTED_MARGIN: f64 = 0.1;

/// The check of one bracket.
#[derive(Debug, Clone, PartialEq)]
pub struct BracketCheck {
    /// The hole once it is drilled.
    pub hole: HoleAfterDrilling,
    /// The force that was counted with (N): static force times load factor.
    pub force: f64,
    /// Stresses with their limits.
    pub stresses: Vec<PlateStress>,
    /// Stress in the throat of the weld from the force alone (MPa), without the bending of its lever.
    pub weld_direct: Option<f64>,
    /// The stress nearest to its limit.
    pub rules: Option<PlateStress>,
    /// The answers.
    pub findings: Vec<Finding>,
}

/// Checks one bracket: hole and edge, tabs as plates, weld.
///
/// # Errors
/// A question that cannot be right, or a bolt that is not known.
pub fn check_bracket(question: &BracketQuestion) -> Result<BracketCheck, Error> {
    question.validate()?;
    let size = BoltSize::named_in("bolt", &question.bolt)?;
    let hole = after_drilling(question, size)?;
    let found = stresses(question, hole.diameter);
    let mut findings = vec![fit(question, size, &hole), edge(question, size, &hole)];
    for stress in &found {
        findings.push(stress_finding(question, stress, hole.diameter));
    }
    let force = question.load_factor * question.force.size();
    let share = |stress: &PlateStress| stress.stress / stress.limit;
    let rules = found.iter().max_by(|a, b| share(a).total_cmp(&share(b))).copied();
    Ok(BracketCheck {
        hole,
        force,
        weld_direct: question
            .weld
            .as_ref()
            .map(|weld| weld_direct(weld, f64::from(question.tabs), force)),
        rules,
        stresses: found,
        findings,
    })
}

fn stress_finding(question: &BracketQuestion, found: &PlateStress, hole: f64) -> Finding {
    let margin = found.limit - found.stress;
    let verdict = Verdict::from_margin(margin, WANTED_MARGIN * found.limit);
    let remedies = if verdict == Verdict::Fails {
        remedies(question, found.effect, hole)
    } else {
        Vec::new()
    };
    let mut statement = Sentence::new(format!(
        "{}: at {} times the static ",
        question.name, question.load_factor
    ))
    .quantity(question.force.size(), Dimension::Force)
    .words(format!(", {} comes to ", found.effect.name()))
    .quantity(found.stress, Dimension::Stress)
    .words(" in a plain plate estimate; the limit is ")
    .quantity(found.limit, Dimension::Stress)
    .words(".");
    let thicker = |kind| matches!(kind, RemedyKind::ThickerTab | RemedyKind::LongerWeld);
    if verdict == Verdict::Fails && !remedies.iter().any(|remedy| thicker(remedy.kind)) {
        statement = statement.words(match found.effect {
            PlateEffect::Weld => {
                format!(
                    " No run up to {FARTHEST} times as long serves: it takes another bracket or a larger leg."
                )
            }
            _ => {
                format!(" No tab up to {FARTHEST} times as thick serves: it takes another shape of bracket.")
            }
        });
    }
    Finding {
        check: CHECK,
        subject: format!("{}: {}", question.name, found.effect.name()),
        verdict,
        dimension: Dimension::Stress,
        value: found.stress,
        limit: found.limit,
        margin,
        at_travel: None,
        statement,
        remedies,
    }
}
