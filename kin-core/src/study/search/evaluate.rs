//! Variants of a search: built once for each place, with the values and, where asked, the gradients of every outcome.

use super::{Candidate, SearchQuestion};
use crate::Error;
use crate::study::{Built, Outcome, Subject};
use std::cell::{Cell, RefCell};
use std::rc::Rc;

/// The solver asks for the objective and each constraint in turn at the same place: this many places are remembered.
const REMEMBERED: usize = 4;

/// Values of all outcomes: those of the goals' points first, then those of the requirements.
pub(super) type Values = Vec<f64>;
/// Rates of each of them per unit of each move.
pub(super) type Rates = Vec<Vec<f64>>;

/// Evaluates variants of one choice of holes.
pub(super) struct Evaluator<'a> {
    subject: Subject,
    moves: Vec<&'a [(usize, f64)]>,
    outcomes: Vec<&'a Outcome>,
    places: Vec<usize>,
    known: RefCell<Vec<Rc<Variant>>>,
    variants: Cell<usize>,
}

struct Variant {
    moves: Vec<f64>,
    built: Result<(Subject, Built, Values), Error>,
    rates: RefCell<Option<Result<Rates, Error>>>,
}

impl<'a> Evaluator<'a> {
    /// Of one choice of holes.
    pub(super) fn new(subject: &Subject, question: &'a SearchQuestion, holes: &[usize]) -> Self {
        let chosen = question.holes.iter().zip(holes);
        let changes: Vec<(usize, f64)> = chosen
            .filter_map(|(list, hole)| list.holes.get(*hole))
            .flat_map(|hole| hole.changes.iter().copied())
            .collect();
        Self::of(subject.changed(&changes), question)
    }

    /// Of the description with no hole chosen.
    pub(super) fn as_described(subject: &Subject, question: &'a SearchQuestion) -> Self {
        Self::of(subject.clone(), question)
    }

    fn of(subject: Subject, question: &'a SearchQuestion) -> Self {
        let points = question.goals.iter().flat_map(|goal| &goal.points);
        let goals = points.map(|point| &point.outcome);
        let keeps = question.keeps.iter().map(|keep| &keep.outcome);
        let moved = question.moves.iter().flat_map(|one| &one.along);
        let mut places: Vec<usize> = moved.map(|(place, _)| *place).collect();
        places.sort_unstable();
        places.dedup();
        Self {
            subject,
            moves: question.moves.iter().map(|one| one.along.as_slice()).collect(),
            outcomes: goals.chain(keeps).collect(),
            places,
            known: RefCell::new(Vec::new()),
            variants: Cell::new(0),
        }
    }

    /// How many variants were built.
    pub(super) fn variants(&self) -> usize {
        self.variants.get()
    }

    /// Values of all outcomes.
    pub(super) fn values(&self, moves: &[f64]) -> Result<Values, Error> {
        match &self.variant(moves).built {
            Ok((_, _, values)) => Ok(values.clone()),
            Err(error) => Err(error.clone()),
        }
    }

    /// Rates of all outcomes per unit of each move, by the chain rule.
    pub(super) fn rates(&self, moves: &[f64]) -> Result<Rates, Error> {
        let variant = self.variant(moves);
        let mut rates = variant.rates.borrow_mut();
        rates.get_or_insert_with(|| self.derive(&variant)).clone()
    }

    /// A variant with what it comes to.
    pub(super) fn candidate(
        &self,
        moves: &[f64],
        question: &SearchQuestion,
        holes: Vec<usize>,
    ) -> Result<Candidate, Error> {
        let mut values = self.values(moves)?.into_iter();
        let goals: Vec<Values> = question
            .goals
            .iter()
            .map(|goal| values.by_ref().take(goal.points.len()).collect())
            .collect();
        let keeps: Values = values.collect();
        let weighed = question.goals.iter().zip(&goals);
        let objective = weighed
            .map(|(goal, values)| goal.mean_square(values) * (goal.weight / goal.unit).powi(2))
            .sum();
        let misses = question.keeps.iter().zip(&keeps).map(|(keep, value)| {
            let low = keep.at_least.map_or(0.0, |limit| limit - value);
            let high = keep.at_most.map_or(0.0, |limit| value - limit);
            low.max(high).max(0.0) / keep.unit
        });
        Ok(Candidate {
            miss: misses.fold(0.0, f64::max),
            moves: moves.to_vec(),
            holes,
            goals,
            keeps,
            objective,
        })
    }

    fn variant(&self, moves: &[f64]) -> Rc<Variant> {
        if let Some(known) = self.known.borrow().iter().find(|known| known.moves == moves) {
            return Rc::clone(known);
        }
        self.variants.set(self.variants.get() + 1);
        let made = Rc::new(Variant {
            moves: moves.to_vec(),
            built: self.build(moves),
            rates: RefCell::new(None),
        });
        let mut known = self.known.borrow_mut();
        if known.len() == REMEMBERED {
            known.remove(0);
        }
        known.push(Rc::clone(&made));
        made
    }

    fn build(&self, moves: &[f64]) -> Result<(Subject, Built, Values), Error> {
        let along = self.moves.iter().zip(moves);
        let changes: Vec<(usize, f64)> = along
            .flat_map(|(along, value)| along.iter().map(move |(place, rate)| (*place, rate * value)))
            .collect();
        let subject = self.subject.changed(&changes);
        let built = subject.build()?;
        let values = self.outcomes.iter().map(|outcome| outcome.value(&built));
        let values = values.collect::<Result<Values, Error>>()?;
        Ok((subject, built, values))
    }

    fn derive(&self, variant: &Variant) -> Result<Rates, Error> {
        let (subject, built, _) = variant.built.as_ref().map_err(Clone::clone)?;
        let rates = self.outcomes.iter().map(|outcome| {
            let gradient = outcome.gradient(subject, built, &self.places)?;
            let of_place = |place: usize| {
                let found = self
                    .places
                    .iter()
                    .zip(&gradient)
                    .find(|(known, _)| **known == place);
                found.map_or(0.0, |(_, rate)| *rate)
            };
            let of_move =
                |along: &&[(usize, f64)]| along.iter().map(|(place, rate)| rate * of_place(*place)).sum();
            Ok(self.moves.iter().map(of_move).collect())
        });
        rates.collect()
    }
}
