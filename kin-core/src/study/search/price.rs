//! What stops a variant from being better, and what it costs: the search again with one bound moved by one unit.

use super::evaluate::Evaluator;
use super::solve::{Aim, Problem, settle};
use super::{Candidate, SearchQuestion};
use crate::study::Subject;

/// A move this near to the end of its range, as a share of the range, is at its end.
const AT_END: f64 = 1e-6;
/// A requirement with no more than this left, in its unit, is binding.
const BINDING: f64 = 1e-4;
/// A bound costs something when one unit more betters the objective by more than this share.
const WORTH_NAMING: f64 = 1e-4;

/// Which end of a range or which limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The lower one.
    Low,
    /// The upper one.
    High,
}

/// A bound that a variant stands at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bound {
    /// The end of a move's range, by the place of the move in the question.
    Move(usize, Side),
    /// The limit of a requirement, by its place in the question.
    Keep(usize, Side),
}

/// A bound with its price.
#[derive(Debug, Clone, PartialEq)]
pub struct Binding {
    /// Which.
    pub bound: Bound,
    /// By how much it was moved to find its price: one unit of the move or of the requirement (core units).
    pub moved: f64,
    /// The best variant with the bound moved by one unit.
    pub relaxed: Candidate,
    /// Whether that is better by more than the search is exact.
    pub costs: bool,
}

/// The bounds that the best variant stands at, with their prices.
pub(super) fn binding(
    subject: &Subject,
    question: &SearchQuestion,
    best: &Candidate,
) -> (Vec<Binding>, usize) {
    if !best.holds() {
        return (Vec::new(), 0);
    }
    let mut bounds = Vec::new();
    for (place, (one, value)) in question.moves.iter().zip(&best.moves).enumerate() {
        let near = AT_END * (one.range.1 - one.range.0);
        if value - one.range.0 <= near {
            bounds.push(Bound::Move(place, Side::Low));
        } else if one.range.1 - value <= near {
            bounds.push(Bound::Move(place, Side::High));
        }
    }
    for (place, (keep, value)) in question.keeps.iter().zip(&best.keeps).enumerate() {
        let near = BINDING * keep.unit;
        if keep.at_least.is_some_and(|limit| value - limit <= near) {
            bounds.push(Bound::Keep(place, Side::Low));
        }
        if keep.at_most.is_some_and(|limit| limit - value <= near) {
            bounds.push(Bound::Keep(place, Side::High));
        }
    }
    let mut variants = 0;
    let priced = bounds.into_iter().filter_map(|bound| {
        let (relaxed, moved) = with_bound_moved(question, bound)?;
        let evaluator = Evaluator::new(subject, &relaxed, &best.holes);
        let start = evaluator
            .candidate(&best.moves, &relaxed, best.holes.clone())
            .ok()?;
        let found = settle(&Problem::new(&evaluator, &relaxed, Aim::Goals), start);
        variants += evaluator.variants();
        let costs = found.holds() && best.objective - found.objective > WORTH_NAMING * best.objective;
        Some(Binding {
            bound,
            moved,
            relaxed: found,
            costs,
        })
    });
    let priced = priced.collect();
    (priced, variants)
}

fn with_bound_moved(question: &SearchQuestion, bound: Bound) -> Option<(SearchQuestion, f64)> {
    let mut relaxed = question.clone();
    let moved = match bound {
        Bound::Move(place, side) => {
            let one = relaxed.moves.get_mut(place)?;
            match side {
                Side::Low => one.range.0 -= 1.0,
                Side::High => one.range.1 += 1.0,
            }
            1.0
        }
        Bound::Keep(place, side) => {
            let keep = relaxed.keeps.get_mut(place)?;
            match side {
                Side::Low => keep.at_least = keep.at_least.map(|limit| limit - keep.unit),
                Side::High => keep.at_most = keep.at_most.map(|limit| limit + keep.unit),
            }
            keep.unit
        }
    };
    Some((relaxed, moved))
}
