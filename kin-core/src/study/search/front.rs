//! The trade-off between two goals: one made small while the other is held below a limit, for a row of limits.

use super::evaluate::Evaluator;
use super::solve::{Aim, FEASIBLE, Problem, settle};
use super::{Candidate, SearchQuestion};
use crate::study::Subject;

/// One variant of a trade-off: neither goal can be bettered without worsening the other.
#[derive(Debug, Clone, PartialEq)]
pub struct FrontPoint {
    /// Root mean square deviations of the two goals (core units).
    pub deviations: [f64; 2],
    /// The variant.
    pub candidate: Candidate,
}

/// Deviations nearer than this share of their range are one and the same.
const ALIKE: f64 = 1e-6;
/// At the ends of a trade-off the goal that rules may be off by this share of its unit for the other one's sake.
const ROOM: f64 = 1e-3;

/// The trade-off in the holes of the best variant, from the first goal alone to the second alone.
pub(super) fn front(
    subject: &Subject,
    question: &SearchQuestion,
    best: &Candidate,
    points: usize,
) -> (Vec<FrontPoint>, usize) {
    if !best.holds() {
        return (Vec::new(), 0);
    }
    let evaluator = Evaluator::new(subject, question, &best.holes);
    let solved =
        |aim: Aim, start: &Candidate| settle(&Problem::new(&evaluator, question, aim), start.clone());
    // Where one goal alone leaves room, the other one takes it: else the end of the trade-off would be any of many places.
    let end = |goal: usize, held: usize| {
        let limit = f64::INFINITY;
        let alone = solved(Aim::One { goal, held, limit }, best);
        let unit = question.goals.get(goal).map_or(1.0, |goal| goal.unit);
        let allowed = alone.deviation(question, goal) + ROOM * unit;
        let limit = allowed * allowed;
        let other = Aim::One {
            goal: held,
            held: goal,
            limit,
        };
        let refined = solved(other, &alone);
        let kept = refined.holds() && refined.deviation(question, goal) <= allowed * (1.0 + ALIKE);
        if kept && refined.deviation(question, held) < alone.deviation(question, held) {
            refined
        } else {
            alone
        }
    };
    let first = end(0, 1);
    let second = end(1, 0);
    let (loose, tight) = (first.deviation(question, 1), second.deviation(question, 1));
    // As far as the solver keeps a limit.
    let slack = question
        .goals
        .get(1)
        .map_or(0.0, |goal| FEASIBLE * goal.unit * goal.unit);
    let mut found: Vec<Candidate> = Vec::new();
    for step in 0..points {
        let share = step as f64 / (points - 1) as f64;
        let held = loose + (tight - loose) * share;
        let aim = Aim::One {
            goal: 0,
            held: 1,
            limit: held * held,
        };
        // From the point before, from the far end, and from as far between the ends as the limit is.
        let near = found.last().unwrap_or(&first);
        let between: Vec<f64> = first
            .moves
            .iter()
            .zip(&second.moves)
            .map(|(one, other)| one + (other - one) * share)
            .collect();
        let between = evaluator.candidate(&between, question, best.holes.clone()).ok();
        let starts = [Some(near.clone()), Some(second.clone()), between];
        let kept = |candidate: &Candidate| {
            let within = candidate.deviation(question, 1).powi(2) <= held * held + slack;
            candidate.holds() && within
        };
        let better = starts
            .into_iter()
            .flatten()
            .map(|start| solved(aim, &start))
            .filter(kept)
            .min_by(|one, other| {
                one.deviation(question, 0)
                    .total_cmp(&other.deviation(question, 0))
            });
        found.extend(better);
    }
    let points = found.into_iter().map(|candidate| FrontPoint {
        deviations: [candidate.deviation(question, 0), candidate.deviation(question, 1)],
        candidate,
    });
    let mut kept: Vec<FrontPoint> = Vec::new();
    for point in points {
        let beaten = |other: &FrontPoint| (0..2).all(|goal| near(other, &point, goal, loose, tight));
        if !kept.iter().any(beaten) {
            kept.push(point);
        }
    }
    kept.sort_by(|one, other| one.deviations[0].total_cmp(&other.deviations[0]));
    // A solver that stopped early leaves a point that another one betters in both: it is none of the trade-off.
    let mut least = f64::INFINITY;
    kept.retain(|point| {
        let gains = point.deviations[1] < least;
        least = least.min(point.deviations[1]);
        gains
    });
    (kept, evaluator.variants())
}

/// Whether another point is as good in one goal, as far as the search is exact.
fn near(other: &FrontPoint, point: &FrontPoint, goal: usize, loose: f64, tight: f64) -> bool {
    let slack = if goal == 1 {
        ALIKE * (loose - tight).abs()
    } else {
        ALIKE * point.deviations[0].abs()
    };
    other.deviations[goal] <= point.deviations[goal] + slack
}
