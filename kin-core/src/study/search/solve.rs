//! From one start to the best place near it.

use super::evaluate::{Evaluator, Rates, Values};
use super::seen::Seen;
use super::{Candidate, SearchQuestion};
use crate::study::Outcome;
use std::cmp::Ordering;

/// A requirement counts as kept when it is missed by no more than this share of its unit.
pub(super) const FEASIBLE: f64 = 1e-6;
/// Moves are found to this share of their range.
const PLACE_TOLERANCE: f64 = 1e-9;
/// The objective is found to this share of itself.
const OBJECTIVE_TOLERANCE: f64 = 1e-12;
/// Most looks of the solver with derivatives, and of the one without.
const MOST_LOOKS: usize = 200;
const MOST_LOOKS_WITHOUT_DERIVATIVE: usize = 400;
/// The solver with derivatives begins again from its own end as long as it gains more than this share of the objective.
const RESTART_GAIN: f64 = 1e-9;
const MOST_RESTARTS: usize = 8;
/// First step of the solver without derivatives, as a share of each range: alone, and after the other one.
const FIRST_STEP: f64 = 0.2;
const POLISHING_STEP: f64 = 0.02;
/// What a place counts that has no value: far above any sum of squares that a start may have.
const NO_VALUE: f64 = 1e6;
/// Halvings of the way back to the requirements: 40 mm come down to the hundredth of a micrometre.
const HALVINGS: usize = 32;

/// What is made small.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Aim {
    /// The weighted sum of squares of all goals.
    Goals,
    /// That of one goal, with the mean square of another held below a limit (square of its core unit; infinite for none).
    One { goal: usize, held: usize, limit: f64 },
    /// The squares of what the requirements are missed by.
    Miss,
}

/// One search problem: a choice of holes, an aim, and which moves are free.
pub(super) struct Problem<'a> {
    evaluator: &'a Evaluator<'a>,
    pub(super) question: &'a SearchQuestion,
    pub(super) aim: Aim,
    free: Vec<usize>,
}

impl<'a> Problem<'a> {
    pub(super) fn new(evaluator: &'a Evaluator<'a>, question: &'a SearchQuestion, aim: Aim) -> Self {
        Self {
            evaluator,
            question,
            aim,
            free: (0..question.moves.len()).collect(),
        }
    }

    /// With only some moves free; the others stay where the start has them.
    pub(super) fn with_free(mut self, free: Vec<usize>) -> Self {
        self.free = free;
        self
    }

    fn with_aim(&self, aim: Aim) -> Self {
        Self {
            evaluator: self.evaluator,
            question: self.question,
            aim,
            free: self.free.clone(),
        }
    }

    /// What a candidate is judged by: what it misses the requirements by, and what is made small.
    fn score(&self, candidate: &Candidate) -> (f64, f64) {
        match self.aim {
            Aim::Goals => (candidate.miss, candidate.objective),
            Aim::Miss => (candidate.miss, candidate.miss),
            Aim::One { goal, held, limit } => {
                let mean = |goal: usize| {
                    let values = candidate.goals.get(goal).map_or(&[][..], Vec::as_slice);
                    self.question
                        .goals
                        .get(goal)
                        .map_or(f64::NAN, |goal| goal.mean_square(values))
                };
                let unit = self.question.goals.get(held).map_or(1.0, |goal| goal.unit);
                let over = (mean(held) - limit).max(0.0) / (unit * unit);
                (candidate.miss.max(over), mean(goal))
            }
        }
    }

    fn prefer(&self, known: Candidate, other: Option<Candidate>) -> Candidate {
        match other {
            Some(other) if order(self.score(&other), self.score(&known)).is_lt() => other,
            _ => known,
        }
    }

    /// The moves at shares of the free ranges.
    fn moves(&self, start: &[f64], shares: &[f64]) -> Vec<f64> {
        let mut moves = start.to_vec();
        for (place, share) in self.free.iter().zip(shares) {
            if let (Some(value), Some(one)) = (moves.get_mut(*place), self.question.moves.get(*place)) {
                let (from, to) = one.range;
                *value = (from + share.clamp(0.0, 1.0) * (to - from)).clamp(from, to);
            }
        }
        moves
    }

    /// A function at shares of the free ranges, with its slopes along them where they are asked for.
    fn look(
        &self,
        start: &[f64],
        shares: &[f64],
        slopes: Option<&mut [f64]>,
        no_value: f64,
        function: &dyn Fn(&Values, Option<&Rates>) -> Seen,
    ) -> f64 {
        let moves = self.moves(start, shares);
        let Ok(values) = self.evaluator.values(&moves) else {
            slopes.into_iter().for_each(|slopes| slopes.fill(0.0));
            return no_value;
        };
        let Some(slopes) = slopes else {
            return function(&values, None).0;
        };
        let rates = self.evaluator.rates(&moves).ok();
        let (value, along) = function(&values, rates.as_ref());
        for (slope, place) in slopes.iter_mut().zip(&self.free) {
            let range = self
                .question
                .moves
                .get(*place)
                .map_or(0.0, |one| one.range.1 - one.range.0);
            *slope = range * along.get(*place).copied().unwrap_or(0.0);
        }
        value
    }

    fn shares(&self, start: &[f64]) -> Vec<f64> {
        let share = |place: &usize| {
            let (from, to) = self
                .question
                .moves
                .get(*place)
                .map_or((0.0, 1.0), |one| one.range);
            let value = start.get(*place).copied().unwrap_or(from);
            ((value - from) / (to - from)).clamp(0.0, 1.0)
        };
        self.free.iter().map(share).collect()
    }

    fn made(&self, start: &Candidate, shares: &[f64]) -> Option<Candidate> {
        let moves = self.moves(&start.moves, shares);
        self.evaluator
            .candidate(&moves, self.question, start.holes.clone())
            .ok()
    }

    /// Sequential quadratic programming from a start.
    fn with_derivatives(&self, start: &Candidate) -> Option<Candidate> {
        let begin = self.shares(&start.moves);
        // The solver steps well where the objective is about one, whatever its unit.
        let values = self.evaluator.values(&start.moves).ok()?;
        let size = self.objective(&values, None).0;
        let scale = if size > 0.0 { 1.0 / size } else { 1.0 };
        let objective = |shares: &[f64], slopes: Option<&mut [f64]>, _: &mut ()| {
            self.look(&start.moves, shares, slopes, NO_VALUE, &|values, rates| {
                let (value, along) = self.objective(values, rates);
                (
                    scale * value,
                    along.into_iter().map(|slope| scale * slope).collect(),
                )
            })
        };
        let constraints: Vec<_> = self
            .constraints()
            .into_iter()
            .map(|constraint| {
                move |shares: &[f64], slopes: Option<&mut [f64]>, _: &mut ()| {
                    self.look(&start.moves, shares, slopes, 1.0, &|values, rates| {
                        self.constraint(constraint, values, rates)
                    })
                }
            })
            .collect();
        let listed: Vec<&dyn slsqp::Func<()>> = constraints
            .iter()
            .map(|one| one as &dyn slsqp::Func<()>)
            .collect();
        let bounds = vec![(0.0, 1.0); begin.len()];
        let tolerances = slsqp::StopTols {
            ftol_rel: OBJECTIVE_TOLERANCE,
            xtol_abs: vec![PLACE_TOLERANCE; begin.len()],
            ..slsqp::StopTols::default()
        };
        let ended = slsqp::minimize(
            objective,
            &begin,
            &bounds,
            &listed,
            (),
            MOST_LOOKS,
            Some(tolerances),
        );
        // A failure at the limit of rounding carries the optimum all the same: the place is judged anew.
        let (Ok((_, shares, _)) | Err((_, shares, _))) = ended;
        self.made(start, &shares)
    }

    /// Linear approximations from a start, for outcomes without a derivative or with kinks.
    fn without_derivatives(&self, start: &Candidate, first_step: f64) -> Option<Candidate> {
        let begin = self.shares(&start.moves);
        let objective = |shares: &[f64], _: &mut ()| {
            self.look(&start.moves, shares, None, NO_VALUE, &|values, rates| {
                self.objective(values, rates)
            })
        };
        let constraints: Vec<_> = self
            .constraints()
            .into_iter()
            .map(|constraint| {
                // This library wants what must not be below zero.
                move |shares: &[f64], _: &mut ()| {
                    -self.look(&start.moves, shares, None, 1.0, &|values, rates| {
                        self.constraint(constraint, values, rates)
                    })
                }
            })
            .collect();
        let listed: Vec<&dyn cobyla::Func<()>> = constraints
            .iter()
            .map(|one| one as &dyn cobyla::Func<()>)
            .collect();
        let bounds = vec![(0.0, 1.0); begin.len()];
        let tolerances = cobyla::StopTols {
            xtol_abs: vec![PLACE_TOLERANCE; begin.len()],
            ..cobyla::StopTols::default()
        };
        let ended = cobyla::minimize(
            objective,
            &begin,
            &bounds,
            &listed,
            (),
            MOST_LOOKS_WITHOUT_DERIVATIVE,
            cobyla::RhoBeg::All(first_step),
            Some(tolerances),
        );
        let (Ok((_, shares, _)) | Err((_, shares, _))) = ended;
        self.made(start, &shares)
    }

    /// The better of what both ways lead to.
    fn run(&self, start: &Candidate) -> Candidate {
        let derived = self.evaluator.rates(&start.moves).is_ok();
        let mut best = start.clone();
        if derived {
            // A line search that is stuck at the limit of rounding gets going again from where it is.
            for _ in 0..MOST_RESTARTS {
                let next = self
                    .with_derivatives(&best)
                    .map(|found| self.pulled_back(&best, found));
                let next = self.prefer(best.clone(), next);
                let settled = self.as_good(&best, &next);
                best = next;
                if settled {
                    break;
                }
            }
        }
        // Where derivatives led nowhere, the other method may find the way.
        let stuck = derived && !self.question.keeps.is_empty() && best.moves == start.moves;
        if !derived || stuck || self.has_kinks() {
            let first = if derived && !stuck {
                POLISHING_STEP
            } else {
                FIRST_STEP
            };
            let polished = self.without_derivatives(&best, first);
            best = self.prefer(best, polished);
        }
        best
    }

    /// A candidate that misses a requirement, pulled back towards one that keeps them all, as far as it has to be.
    ///
    /// The solver ends on the far side of a limit by what its own tolerances allow, or where its last line search was stuck.
    fn pulled_back(&self, keeps: &Candidate, found: Candidate) -> Candidate {
        if self.score(keeps).0 > FEASIBLE || self.score(&found).0 <= FEASIBLE {
            return found;
        }
        let (mut inside, mut outside) = (0.0, 1.0);
        let mut best = keeps.clone();
        for _ in 0..HALVINGS {
            let share = 0.5 * (inside + outside);
            let moves: Vec<f64> = keeps
                .moves
                .iter()
                .zip(&found.moves)
                .map(|(one, other)| one + (other - one) * share)
                .collect();
            let between = self
                .evaluator
                .candidate(&moves, self.question, found.holes.clone())
                .ok()
                .filter(|between| self.score(between).0 <= FEASIBLE);
            match between {
                Some(between) => {
                    inside = share;
                    best = self.prefer(best, Some(between));
                }
                None => outside = share,
            }
        }
        best
    }

    /// Whether a candidate is as good as the next one, as far as the search is exact.
    fn as_good(&self, known: &Candidate, next: &Candidate) -> bool {
        let (known, next) = (self.score(known), self.score(next));
        let missed_alike = known.0 - next.0 <= FEASIBLE;
        missed_alike && known.1 - next.1 <= RESTART_GAIN * known.1
    }

    fn has_kinks(&self) -> bool {
        let points = self.question.goals.iter().flat_map(|goal| &goal.points);
        let goals = points.map(|point| &point.outcome);
        let keeps = self.question.keeps.iter().map(|keep| &keep.outcome);
        goals.chain(keeps).any(|outcome| {
            matches!(
                outcome,
                Outcome::Spread(..) | Outcome::Least(..) | Outcome::Greatest(..) | Outcome::Gap(_)
            )
        })
    }
}

/// The best place near a start: where it misses a requirement, the way back to one that holds comes first.
pub(super) fn settle(problem: &Problem<'_>, start: Candidate) -> Candidate {
    if problem.free.is_empty() {
        return start;
    }
    let first = problem.run(&start);
    if problem.score(&first).0 <= FEASIBLE || problem.question.keeps.is_empty() {
        return first;
    }
    let back = problem.with_aim(Aim::Miss).run(&first);
    if back.miss > FEASIBLE {
        return back;
    }
    let second = problem.run(&back);
    problem.prefer(back, Some(second))
}

/// The better of two candidates: what holds goes before what does not, then the lower objective or the lesser miss counts.
pub(super) fn better(known: Option<Candidate>, other: Candidate) -> Option<Candidate> {
    match known {
        Some(known) if order((other.miss, other.objective), (known.miss, known.objective)).is_ge() => {
            Some(known)
        }
        _ => Some(other),
    }
}

/// Orders by what is missed where a requirement is, else by what is made small.
pub(super) fn order(one: (f64, f64), other: (f64, f64)) -> Ordering {
    match (one.0 <= FEASIBLE, other.0 <= FEASIBLE) {
        (true, true) => one.1.total_cmp(&other.1),
        (true, false) => Ordering::Less,
        (false, true) => Ordering::Greater,
        (false, false) => one.0.total_cmp(&other.0),
    }
}
