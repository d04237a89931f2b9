//! What the solvers see: the objective and the requirements as functions of the moves.

use super::evaluate::{Rates, Values};
use super::solve::{Aim, Problem};

/// A function of the free moves that the solvers see: value, and rates per move where they exist.
pub(super) type Seen = (f64, Vec<f64>);

/// One side of a requirement.
#[derive(Clone, Copy)]
pub(super) enum Constraint {
    AtLeast(usize, f64),
    AtMost(usize, f64),
    Held(usize, f64),
}

impl Problem<'_> {
    pub(super) fn constraints(&self) -> Vec<Constraint> {
        if self.aim == Aim::Miss {
            return Vec::new();
        }
        let mut all = Vec::new();
        for (place, keep) in self.question.keeps.iter().enumerate() {
            all.extend(keep.at_least.map(|limit| Constraint::AtLeast(place, limit)));
            all.extend(keep.at_most.map(|limit| Constraint::AtMost(place, limit)));
        }
        if let Aim::One { held, limit, .. } = self.aim
            && limit.is_finite()
        {
            all.push(Constraint::Held(held, limit));
        }
        all
    }

    /// Where the outcomes of a goal stand among all.
    fn goal_range(&self, goal: usize) -> std::ops::Range<usize> {
        let sizes = self.question.goals.iter().map(|goal| goal.points.len());
        let start = sizes.take(goal).sum();
        let size = self.question.goals.get(goal).map_or(0, |goal| goal.points.len());
        start..start + size
    }

    fn keep_place(&self, keep: usize) -> usize {
        let goals = self.question.goals.iter().map(|goal| goal.points.len());
        goals.sum::<usize>() + keep
    }

    /// Mean square of a goal in its own unit squared, with its rates.
    fn mean_square(&self, goal: usize, values: &Values, rates: Option<&Rates>) -> Seen {
        let mut sum = (0.0, vec![0.0; self.question.moves.len()]);
        let Some(asked) = self.question.goals.get(goal) else {
            return sum;
        };
        let share = 1.0 / (asked.points.len() as f64 * asked.unit * asked.unit);
        for (place, point) in self.goal_range(goal).zip(&asked.points) {
            let miss = values.get(place).map_or(0.0, |value| value - point.target);
            sum.0 += share * miss * miss;
            add(
                &mut sum.1,
                rates.and_then(|rates| rates.get(place)),
                2.0 * share * miss,
            );
        }
        sum
    }

    pub(super) fn objective(&self, values: &Values, rates: Option<&Rates>) -> Seen {
        let mut sum = (0.0, vec![0.0; self.question.moves.len()]);
        match self.aim {
            Aim::Goals => {
                for (place, goal) in self.question.goals.iter().enumerate() {
                    let weight = goal.weight * goal.weight;
                    let (value, slopes) = self.mean_square(place, values, rates);
                    sum.0 += weight * value;
                    add(&mut sum.1, Some(&slopes), weight);
                }
            }
            Aim::One { goal, .. } => return self.mean_square(goal, values, rates),
            Aim::Miss => {
                for (place, keep) in self.question.keeps.iter().enumerate() {
                    let place = self.keep_place(place);
                    let value = values.get(place).copied().unwrap_or(0.0);
                    let low = keep.at_least.map_or(0.0, |limit| (limit - value).max(0.0)) / keep.unit;
                    let high = keep.at_most.map_or(0.0, |limit| (value - limit).max(0.0)) / keep.unit;
                    sum.0 += low * low + high * high;
                    let slopes = rates.and_then(|rates| rates.get(place));
                    add(&mut sum.1, slopes, 2.0 * (high - low) / keep.unit);
                }
            }
        }
        sum
    }

    /// A requirement as a number that must not be above zero, in its unit.
    pub(super) fn constraint(&self, constraint: Constraint, values: &Values, rates: Option<&Rates>) -> Seen {
        let (keep, limit, sign) = match constraint {
            Constraint::AtLeast(keep, limit) => (keep, limit, -1.0),
            Constraint::AtMost(keep, limit) => (keep, limit, 1.0),
            Constraint::Held(goal, limit) => {
                let (value, slopes) = self.mean_square(goal, values, rates);
                let unit = self.question.goals.get(goal).map_or(1.0, |goal| goal.unit);
                return (value - limit / (unit * unit), slopes);
            }
        };
        let unit = self.question.keeps.get(keep).map_or(1.0, |keep| keep.unit);
        let place = self.keep_place(keep);
        let value = values.get(place).copied().unwrap_or(0.0);
        let mut slopes = vec![0.0; self.question.moves.len()];
        add(&mut slopes, rates.and_then(|rates| rates.get(place)), sign / unit);
        (sign * (value - limit) / unit, slopes)
    }
}

fn add(sum: &mut [f64], slopes: Option<&Vec<f64>>, factor: f64) {
    for (sum, slope) in sum.iter_mut().zip(slopes.into_iter().flatten()) {
        *sum += factor * slope;
    }
}
