//! What mends a bracket that is asked too much: each verified by the stresses of the bracket so changed.

use super::plate::{PlateEffect, stresses};
use super::question::{BracketQuestion, Weld};
use crate::checks::{Remedy, RemedyKind, Sentence};

/// Tabs beyond this many times their thickness or width are another bracket, not a remedy; welds likewise.
pub(super) const FARTHEST: f64 = 4.0;

/// Whether an effect keeps its limit on a bracket. One that is no more there to be judged does not.
fn holds(question: &BracketQuestion, effect: PlateEffect, hole: f64) -> bool {
    stresses(question, hole)
        .iter()
        .any(|found| found.effect == effect && found.stress <= found.limit)
}

/// The least change of one number that lets an effect hold, by halving, verified by the check itself.
fn least(
    question: &BracketQuestion,
    effect: PlateEffect,
    hole: f64,
    from: f64,
    change: impl Fn(&mut BracketQuestion, f64),
) -> Option<f64> {
    let serves = |value: f64| {
        let mut other = question.clone();
        change(&mut other, value);
        holds(&other, effect, hole)
    };
    let (mut low, mut high) = (from, from * FARTHEST);
    if !serves(high) {
        return None;
    }
    // Fifty halvings leave less than round-off; `high` always holds.
    for _ in 0..50 {
        let middle = 0.5 * (low + high);
        if serves(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    Some(high)
}

/// A remedy that makes one length larger.
fn larger(kind: RemedyKind, from: f64, to: f64, start: &'static str, end: &'static str) -> Remedy {
    Remedy {
        kind,
        change: to - from,
        window: (to - from, f64::INFINITY),
        sentence: Sentence::new(start).at_least(to, f64::INFINITY).words(end),
    }
}

/// The remedies of one effect: a longer weld, or a thicker tab; where that is not enough, more edge, a wider tab or a
/// second one.
pub(super) fn remedies(question: &BracketQuestion, effect: PlateEffect, hole: f64) -> Vec<Remedy> {
    if let (PlateEffect::Weld, Some(weld)) = (effect, question.weld) {
        let from = weld.length_per_tab;
        let found = least(question, effect, hole, from, |other, length_per_tab| {
            other.weld = Some(Weld {
                length_per_tab,
                ..weld
            });
        });
        let remedy = found.map(|to| {
            larger(
                RemedyKind::LongerWeld,
                from,
                to,
                "Weld at least ",
                " on each tab.",
            )
        });
        return remedy.into_iter().collect();
    }
    let from = question.thickness;
    let thickness = least(question, effect, hole, from, |other, to| other.thickness = to);
    let mut found: Vec<Remedy> = thickness
        .map(|to| {
            let end = if effect == PlateEffect::Root {
                " thickness, or a gusset that stops them from bending."
            } else {
                " thickness."
            };
            larger(RemedyKind::ThickerTab, from, to, "Tabs of at least ", end)
        })
        .into_iter()
        .collect();
    if found.is_empty() {
        found.extend(other_shape(question, effect, hole));
    }
    found.extend(second_tab(question, effect, hole));
    found
}

/// More width, or more edge where the bolt tears out.
fn other_shape(question: &BracketQuestion, effect: PlateEffect, hole: f64) -> Option<Remedy> {
    if effect == PlateEffect::TearOut {
        let from = question.edge_distance;
        let to = least(question, effect, hole, from, |other, to| other.edge_distance = to)?;
        return Some(larger(
            RemedyKind::MoreEdge,
            from,
            to,
            "An edge at least ",
            " from the middle of the hole, all round it.",
        ));
    }
    let from = question.width;
    let to = least(question, effect, hole, from, |other, to| other.width = to)?;
    Some(larger(
        RemedyKind::WiderTab,
        from,
        to,
        "Tabs of the same thickness, at least ",
        " wide at root and hole.",
    ))
}

fn second_tab(question: &BracketQuestion, effect: PlateEffect, hole: f64) -> Option<Remedy> {
    let second = BracketQuestion {
        tabs: 2,
        ..question.clone()
    };
    (question.tabs == 1 && holds(&second, effect, hole)).then(|| Remedy {
        kind: RemedyKind::SecondTab,
        change: 0.0,
        window: (0.0, 0.0),
        sentence: Sentence::new("A second tab of the same size on the other side."),
    })
}
