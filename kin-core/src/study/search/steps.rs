//! From a place anywhere to real steps: shims, hole pitch, half turns of a thread.

use super::evaluate::Evaluator;
use super::solve::{Aim, Problem, better, order, settle};
use super::{Candidate, SearchQuestion, StartEnd};
use crate::study::Subject;

/// With more stepped moves than this not every combination of neighbours is tried first, only the nearest; single steps from
/// there follow in any case.
const MOST_COMBINED: usize = 8;
/// Rounds of single steps. A step is only taken where it betters the variant, so they end by themselves long before.
const MOST_ROUNDS: usize = 100;

/// The best variant in real steps, and how many variants it took.
///
/// For each choice of holes, from its best place anywhere: every combination of neighbouring steps, then single steps as long
/// as one betters it; moves without a step are settled anew each time.
pub(super) fn stepped(
    subject: &Subject,
    question: &SearchQuestion,
    starts: &[StartEnd],
) -> (Option<Candidate>, usize) {
    let mut best = None;
    let mut variants = 0;
    for anywhere in best_of_each_choice(starts) {
        // In steps it cannot be better than anywhere: a choice that is worse already is left out.
        let beaten = best
            .as_ref()
            .is_some_and(|best: &Candidate| order(score(best), score(&anywhere)).is_le());
        if beaten {
            continue;
        }
        let evaluator = Evaluator::new(subject, question, &anywhere.holes);
        if let Some(found) = in_choice(&evaluator, question, &anywhere) {
            best = better(best, found);
        }
        variants += evaluator.variants();
    }
    (best, variants)
}

fn score(candidate: &Candidate) -> (f64, f64) {
    (candidate.miss, candidate.objective)
}

fn best_of_each_choice(starts: &[StartEnd]) -> Vec<Candidate> {
    let mut best: Vec<Candidate> = Vec::new();
    for end in starts.iter().filter_map(|start| start.end.as_ref().ok()) {
        match best.iter_mut().find(|known| known.holes == end.holes) {
            Some(known) if order(score(end), score(known)).is_lt() => known.clone_from(end),
            Some(_) => {}
            None => best.push(end.clone()),
        }
    }
    best.sort_by(|one, other| order(score(one), score(other)));
    best
}

fn in_choice(
    evaluator: &Evaluator<'_>,
    question: &SearchQuestion,
    anywhere: &Candidate,
) -> Option<Candidate> {
    let free: Vec<usize> = (0..question.moves.len())
        .filter(|place| question.moves.get(*place).is_some_and(|one| one.step.is_none()))
        .collect();
    let problem = Problem::new(evaluator, question, Aim::Goals).with_free(free);
    let tried = |moves: &[f64]| {
        let made = evaluator
            .candidate(moves, question, anywhere.holes.clone())
            .ok()?;
        Some(settle(&problem, made))
    };
    let mut best = None;
    for moves in neighbours(question, &anywhere.moves) {
        if let Some(found) = tried(&moves) {
            best = better(best, found);
        }
    }
    let mut best = best?;
    for _ in 0..MOST_ROUNDS {
        let mut next = Some(best.clone());
        for moves in single_steps(question, &best.moves) {
            if let Some(found) = tried(&moves) {
                next = better(next, found);
            }
        }
        let next = next?;
        if next.moves == best.moves {
            break;
        }
        best = next;
    }
    Some(best)
}

/// Every combination of the steps below and above.
fn neighbours(question: &SearchQuestion, moves: &[f64]) -> Vec<Vec<f64>> {
    let stepped = question.moves.iter().filter(|one| one.step.is_some()).count();
    let mut all = vec![moves.to_vec()];
    for (place, one) in question.moves.iter().enumerate() {
        let (Some((step, first, last)), Some(value)) = (one.steps(), moves.get(place)) else {
            continue;
        };
        let whole = value / step;
        let mut near = if stepped > MOST_COMBINED {
            vec![whole.round()]
        } else {
            vec![whole.floor(), whole.ceil()]
        };
        near.iter_mut()
            .for_each(|whole| *whole = whole.clamp(first, last));
        near.dedup();
        let longer = all.iter().flat_map(|moves| {
            near.iter().map(move |whole| {
                let mut moves: Vec<f64> = moves.clone();
                if let Some(value) = moves.get_mut(place) {
                    // A zero with a minus sign is a zero.
                    *value = whole * step + 0.0;
                }
                moves
            })
        });
        all = longer.collect();
    }
    all
}

/// One step down or up in one move.
fn single_steps(question: &SearchQuestion, moves: &[f64]) -> Vec<Vec<f64>> {
    let mut all = Vec::new();
    for (place, one) in question.moves.iter().enumerate() {
        let (Some((step, first, last)), Some(value)) = (one.steps(), moves.get(place)) else {
            continue;
        };
        let whole = (value / step).round();
        for next in [whole - 1.0, whole + 1.0] {
            if (first..=last).contains(&next) {
                let mut moves = moves.to_vec();
                if let Some(value) = moves.get_mut(place) {
                    *value = next * step + 0.0;
                }
                all.push(moves);
            }
        }
    }
    all
}
