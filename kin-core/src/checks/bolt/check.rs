//! The check of a bolt.

use super::effects::{BoltEffect, Effect, effects};
use super::question::BoltQuestion;
use super::remedies::remedies;
use super::torque::{Clamp, clamp, clamp_from_torque, usual_clamp};
use crate::checks::bolt_data::{BoltSize, HoleClass, Strength};
use crate::checks::{Finding, Remedy, RemedyKind, Sentence, Verdict};
use crate::{Dimension, Error, Rounding};

const CHECK: &str = "bolts";

/// A stress closer to its limit than this share of the limit is tight; so is a clamp close to the proof load.
const WANTED_MARGIN: f64 = 0.1;
/// A clamp below this share of the usual one is tight (common practice, no source).
const TIGHT_SHARE_OF_USUAL: f64 = 0.5;
/// A clamp below this share of the usual one holds nothing together (common practice, no source).
const LEAST_SHARE_OF_USUAL: f64 = 0.25;

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

impl BoltCheck {
    /// Whether the torque asked for gives a clamp that serves; true where none was asked for.
    #[must_use]
    pub fn torque_serves(&self) -> bool {
        self.clamp.is_none_or(|clamp| {
            clamp.share_of_proof <= 1.0 && clamp.force >= LEAST_SHARE_OF_USUAL * self.usual.force
        })
    }
}

/// Checks one bolt: shear, bending, bearing, and the clamp of its torque against the proof load.
///
/// # Errors
/// A question that cannot be right, a size that is not known, or a grade that is not made in it.
pub fn check_bolt(question: &BoltQuestion) -> Result<BoltCheck, Error> {
    let mut result = run(question)?;
    let size = result.size;
    let judged = result
        .effects
        .iter()
        .filter(|found| found.limit.is_some())
        .count();
    result.findings.extend(hole_finding(question, &size));
    for found in result.effects.clone() {
        let Some(limit) = found.limit else { continue };
        let rules = result.rules.is_some_and(|rules| rules.effect == found.effect);
        let mut finding = stress_finding(question, &found, limit, rules && judged > 1);
        if found.effect == BoltEffect::Shear {
            finding.statement = unjudged(finding.statement, &result.effects);
        }
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
        force: (question.force * question.load_factor).abs(),
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

/// Says of an effect without a limit that it was not judged.
fn unjudged(statement: Sentence, effects: &[Effect]) -> Sentence {
    let without = effects.iter().filter(|found| found.limit.is_none());
    without.fold(statement, |statement, found| {
        statement
            .words(format!(" The {}, estimated at ", found.effect.name()))
            .quantity(found.stress, Dimension::Stress)
            .words(", is not judged: give a `bearing_limit` of the tab, or its `tensile`, `hole` and `edge_distance`.")
    })
}

/// A bolt that is thicker than the hole in its tab.
fn hole_finding(question: &BoltQuestion, size: &BoltSize) -> Option<Finding> {
    let hole = question.tab?.hole?;
    let margin = hole - size.diameter;
    if margin >= 0.0 {
        return None;
    }
    let drill = size.clearance_hole(HoleClass::Close).map(|wanted| Remedy {
        kind: RemedyKind::LargerHole,
        change: wanted - hole,
        window: (-margin, size.largest_hole().unwrap_or(wanted) - hole),
        sentence: Sentence::new("Drill it to ")
            .length(wanted)
            .words(format!(" ({} fit).", HoleClass::Close.name())),
    });
    let statement = Sentence::new(format!(
        "{}: the {} bolt does not go into the hole of ",
        question.name, size.name
    ))
    .length(hole)
    .words(" in its tab: it is thicker by ")
    .fine_length(-margin)
    .words(".");
    Some(Finding {
        check: CHECK,
        subject: format!("{}: bolt in its hole", question.name),
        verdict: Verdict::Fails,
        dimension: Dimension::Length,
        value: hole,
        limit: size.diameter,
        margin,
        at_travel: None,
        statement,
        remedies: drill.into_iter().collect(),
    })
}

fn clamp_finding(question: &BoltQuestion, size: &BoltSize, clamp: &Clamp, result: &BoltCheck) -> Finding {
    let proof = result.strength.proof * size.stress_area();
    let usual = result.usual.force;
    let loose = clamp.force < TIGHT_SHARE_OF_USUAL * usual;
    let (limit, margin, verdict) = if loose {
        let least = LEAST_SHARE_OF_USUAL * usual;
        let margin = clamp.force - least;
        (least, margin, Verdict::from_margin(margin, f64::INFINITY))
    } else {
        let margin = proof - clamp.force;
        (proof, margin, Verdict::from_margin(margin, WANTED_MARGIN * proof))
    };
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
        .words(if loose {
            ". So loose a joint slips, hammers its hole and comes undone. The part maker's torque goes before this."
        } else {
            ". The part maker's torque goes before this."
        });
    let remedies = if loose || verdict == Verdict::Fails {
        usual_torque(question, clamp, result)
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
fn usual_torque(question: &BoltQuestion, clamp: &Clamp, result: &BoltCheck) -> Vec<Remedy> {
    let usual = result.usual.torque;
    let other = BoltQuestion {
        torque: Some(usual),
        ..question.clone()
    };
    let holds = run(&other).is_ok_and(|other| other.clamp.is_some_and(|clamp| clamp.share_of_proof < 1.0));
    let change = usual - clamp.torque;
    let more = change > 0.0;
    let remedy = holds.then(|| Remedy {
        kind: if more {
            RemedyKind::MoreTorque
        } else {
            RemedyKind::LessTorque
        },
        change,
        window: if more {
            (change * TIGHT_SHARE_OF_USUAL, change)
        } else {
            (-clamp.torque, change)
        },
        sentence: Sentence::new("Tighten to ")
            .rounded(usual, Dimension::Torque, Rounding::Down { room: usual })
            .words(if more {
                " instead."
            } else {
                " instead; a bolt that was tightened beyond its proof load is scrap."
            }),
    });
    remedy.into_iter().collect()
}
