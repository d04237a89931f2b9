//! The check of a bolt.

use super::effects::{BoltEffect, Effect, effects};
use super::question::BoltQuestion;
use super::remedies::remedies;
use super::torque::{Clamp, clamp, clamp_from_torque, usual_clamp};
use crate::checks::bolt_data::{BoltSize, Strength};
use crate::checks::{Finding, Remedy, RemedyKind, Sentence, Verdict};
use crate::{Dimension, Error, Rounding};

const CHECK: &str = "bolts";

/// A stress closer to its limit than this share of the limit is tight; so is a clamp close to the proof load.
const WANTED_MARGIN: f64 = 0.1;

/// The check of one bolt.
#[derive(Debug, Clone, PartialEq)]
pub struct BoltCheck {
    /// The thread.
    pub size: BoltSize,
    /// Strengths of its material.
    pub strength: Strength,
    /// The force that was counted with (N): static force times load factor.
    pub force: f64,
    /// Stresses with their limits.
    pub effects: Vec<Effect>,
    /// The effect nearest to its limit.
    pub rules: Option<Effect>,
    /// The clamp of the torque asked for.
    pub clamp: Option<Clamp>,
    /// The trade's usual torque and clamp beside it: three quarters of the proof load.
    pub usual: Clamp,
    /// The answers.
    pub findings: Vec<Finding>,
}

/// Checks one bolt: shear, bending, bearing, and the clamp of its torque against the proof load.
///
/// # Errors
/// A question that cannot be right, a size that is not known, or a grade that is not made in it.
pub fn check_bolt(question: &BoltQuestion) -> Result<BoltCheck, Error> {
    let mut result = run(question)?;
    let size = result.size;
    for found in result.effects.clone() {
        let Some(limit) = found.limit else { continue };
        let rules = result.rules.is_some_and(|rules| rules.effect == found.effect);
        let mut finding = stress_finding(question, &found, limit, rules && result.effects.len() > 1);
        if finding.verdict == Verdict::Fails {
            finding.remedies = remedies(question, &size, found.effect)?;
        }
        result.findings.push(finding);
    }
    if let Some(clamp) = result.clamp {
        let finding = clamp_finding(question, &size, &clamp, &result);
        result.findings.push(finding);
    }
    Ok(result)
}

/// The numbers without the answers.
pub(super) fn run(question: &BoltQuestion) -> Result<BoltCheck, Error> {
    question.validate()?;
    let size = BoltSize::named(&question.size)?;
    let strength = question.grade.strength(size)?;
    let effects = effects(question, size)?;
    let rules = effects
        .iter()
        .filter(|found| found.limit.is_some())
        .max_by(|a, b| {
            let share = |found: &Effect| found.share().unwrap_or(0.0);
            share(a).total_cmp(&share(b))
        })
        .copied();
    let tightened = question.torque.map(|torque| {
        let force = clamp_from_torque(size, question.condition, torque);
        clamp(size, strength.proof, torque, force)
    });
    Ok(BoltCheck {
        size: *size,
        strength,
        force: question.force * question.load_factor,
        effects,
        rules,
        clamp: tightened,
        usual: usual_clamp(size, question.grade, question.condition)?,
        findings: Vec::new(),
    })
}

fn stress_finding(question: &BoltQuestion, found: &Effect, limit: f64, rules: bool) -> Finding {
    let margin = limit - found.stress;
    let name = &question.name;
    let held = match found.effect {
        BoltEffect::Bending => "sticks out of its tab in single shear and bends with an estimated ",
        BoltEffect::Shear => "sees a shear stress estimated at ",
        BoltEffect::Bearing => "presses on its tabs with an estimated ",
    };
    let mut statement = Sentence::new(format!("{name}: at {} times the static ", question.load_factor))
        .quantity(question.force.abs(), Dimension::Force)
        .words(format!(
            " the {} bolt of {} {held}",
            question.size,
            question.grade.name()
        ))
        .quantity(found.stress, Dimension::Stress)
        .words("; the limit is ")
        .quantity(limit, Dimension::Stress)
        .words(".");
    if rules {
        statement = statement.words(format!(" This, {}, is what rules here.", found.effect.name()));
    }
    Finding {
        check: CHECK,
        subject: format!("{name}: {}", found.effect.name()),
        verdict: Verdict::from_margin(margin, WANTED_MARGIN * limit),
        dimension: Dimension::Stress,
        value: found.stress,
        limit,
        margin,
        at_travel: None,
        statement,
        remedies: Vec::new(),
    }
}

fn clamp_finding(question: &BoltQuestion, size: &BoltSize, clamp: &Clamp, result: &BoltCheck) -> Finding {
    let limit = result.strength.proof * size.stress_area();
    let margin = limit - clamp.force;
    let verdict = Verdict::from_margin(margin, WANTED_MARGIN * limit);
    let statement = Sentence::new(format!("{}: ", question.name))
        .quantity(clamp.torque, Dimension::Torque)
        .words(format!(
            " on {} of the {} bolt give a clamp of about ",
            question.condition.name(),
            question.size
        ))
        .quantity(clamp.force, Dimension::Force)
        .words(format!(
            ", {:.0} % of the proof load of {}; usual are 75 %, ",
            100.0 * clamp.share_of_proof,
            question.grade.name()
        ))
        .quantity(result.usual.torque, Dimension::Torque)
        .words(". The part maker's torque goes before this.");
    let remedies = if verdict == Verdict::Fails {
        less_torque(question, clamp, result)
    } else {
        Vec::new()
    };
    Finding {
        check: CHECK,
        subject: format!("{}: clamp", question.name),
        verdict,
        dimension: Dimension::Force,
        value: clamp.force,
        limit,
        margin,
        at_travel: None,
        statement,
        remedies,
    }
}

/// The usual torque instead, verified.
fn less_torque(question: &BoltQuestion, clamp: &Clamp, result: &BoltCheck) -> Vec<Remedy> {
    let usual = result.usual.torque;
    let other = BoltQuestion {
        torque: Some(usual),
        ..question.clone()
    };
    let holds = run(&other).is_ok_and(|other| other.clamp.is_some_and(|clamp| clamp.share_of_proof < 1.0));
    let change = usual - clamp.torque;
    let remedy = holds.then(|| Remedy {
        kind: RemedyKind::LessTorque,
        change,
        window: (-clamp.torque, change),
        sentence: Sentence::new("Tighten to ")
            .rounded(usual, Dimension::Torque, Rounding::Down { room: usual })
            .words(" instead; a bolt that was tightened beyond its proof load is scrap."),
    });
    remedy.into_iter().collect()
}
