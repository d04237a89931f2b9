//! What a search is asked.

use crate::study::Outcome;

/// Steps of a move counted from zero may miss the end of its range by this share of a step.
const STEP_ROUNDING: f64 = 1e-9;
/// More combinations of holes than this are no search but a table: lists of holes are for a few brackets.
const MOST_HOLE_CHOICES: usize = 2_000;

/// A way in which the description may move. Zero is the description as it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Move {
    /// What it is called.
    pub name: String,
    /// The numbers that change, by place, and by how much for each unit of the move: one number in a box, the three
    /// coordinates of a direction for a line, or several numbers tied together.
    pub along: Vec<(usize, f64)>,
    /// Least and greatest value.
    pub range: (f64, f64),
    /// The real step: shims, hole pitch, half turns of a thread. The move then ends at a whole number of steps from zero.
    pub step: Option<f64>,
}

/// A bracket with drilled holes: one of them is used.
#[derive(Debug, Clone, PartialEq)]
pub struct Holes {
    /// What it is called.
    pub name: String,
    /// The holes.
    pub holes: Vec<Hole>,
}

/// One hole.
#[derive(Debug, Clone, PartialEq)]
pub struct Hole {
    /// What it is called.
    pub name: String,
    /// What changes of the description when it is used: place and change.
    pub changes: Vec<(usize, f64)>,
}

/// One outcome with what is wanted of it.
#[derive(Debug, Clone, PartialEq)]
pub struct GoalPoint {
    /// The outcome.
    pub outcome: Outcome,
    /// The wanted value (core units).
    pub target: f64,
}

/// A target, or a curve of targets.
#[derive(Debug, Clone, PartialEq)]
pub struct Goal {
    /// What it is called.
    pub name: String,
    /// One point, or one for each place of a curve.
    pub points: Vec<GoalPoint>,
    /// What counts as one (core units): one degree, one millimetre. Goals of different kinds are weighed by it.
    pub unit: f64,
    /// How much it counts beside other goals.
    pub weight: f64,
}

/// A requirement: limits that an outcome must keep. A wanted margin is part of the limit.
#[derive(Debug, Clone, PartialEq)]
pub struct Keep {
    /// What it is called.
    pub name: String,
    /// The outcome.
    pub outcome: Outcome,
    /// It must be this at least (core units).
    pub at_least: Option<f64>,
    /// It must be this at most (core units).
    pub at_most: Option<f64>,
    /// What counts as one (core units).
    pub unit: f64,
}

/// A search.
#[derive(Debug, Clone, PartialEq)]
pub struct SearchQuestion {
    /// What may move.
    pub moves: Vec<Move>,
    /// Brackets with drilled holes.
    pub holes: Vec<Holes>,
    /// What is aimed at.
    pub goals: Vec<Goal>,
    /// What must hold.
    pub keeps: Vec<Keep>,
    /// How many starts in each choice of holes; the first is the description as it is.
    pub starts: usize,
    /// Seed of the other starts.
    pub seed: u64,
    /// How many points of the trade-off between the first two goals are worked out; none for no trade-off.
    pub front: Option<usize>,
}

/// A search that cannot be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum SearchError {
    /// Nothing may move.
    #[error("nothing may move: give at least one number, line or list of holes")]
    NothingMoves,
    /// Nothing is aimed at.
    #[error("nothing is aimed at: give at least one target")]
    NoGoal,
    /// A goal without points.
    #[error("the target `{name}` has no points")]
    NoPoints {
        /// Which.
        name: String,
    },
    /// A range that is none.
    #[error("the range of `{name}` runs from {from} to {to}: give the lower end first, the two apart")]
    Range {
        /// Whose.
        name: String,
        /// Its lower end.
        from: f64,
        /// Its upper end.
        to: f64,
    },
    /// A step that is none, or that never falls into its range.
    #[error(
        "the step of `{name}` is {step}: give one above zero of which a whole number falls into the range"
    )]
    Step {
        /// Whose.
        name: String,
        /// What was given.
        step: f64,
    },
    /// A number that is not finite or a weight or unit that is not above zero.
    #[error("`{name}` has a {what} of {value}: give a finite number above zero")]
    Number {
        /// Whose.
        name: String,
        /// What.
        what: &'static str,
        /// What was given.
        value: f64,
    },
    /// A requirement without a limit, or with limits that exclude each other.
    #[error("the requirement `{name}` has no limit that can hold")]
    Limit {
        /// Which.
        name: String,
    },
    /// Too many combinations of holes.
    #[error("the lists of holes make {count} combinations, more than 2000: shorten them")]
    Holes {
        /// How many.
        count: usize,
    },
    /// A trade-off that is not between two goals.
    #[error("a trade-off is between two targets, and {count} were given; it needs 3 points or more")]
    Front {
        /// How many goals there are.
        count: usize,
    },
}

impl Move {
    /// The steps that fall into the range, first and last as whole numbers.
    pub(super) fn steps(&self) -> Option<(f64, f64, f64)> {
        let step = self.step?;
        let first = (self.range.0 / step - STEP_ROUNDING).ceil();
        let last = (self.range.1 / step + STEP_ROUNDING).floor();
        Some((step, first, last))
    }

    fn check(&self) -> Result<(), SearchError> {
        let (from, to) = self.range;
        if !(from.is_finite() && to.is_finite() && from < to) {
            return Err(SearchError::Range {
                name: self.name.clone(),
                from,
                to,
            });
        }
        let Some(given) = self.step else { return Ok(()) };
        let falls = given.is_finite() && given > 0.0;
        if !falls || self.steps().is_none_or(|(_, first, last)| first > last) {
            return Err(SearchError::Step {
                name: self.name.clone(),
                step: given,
            });
        }
        Ok(())
    }
}

impl Goal {
    /// Root mean square of what the values miss the targets by (core units).
    #[must_use]
    pub fn deviation(&self, values: &[f64]) -> f64 {
        self.mean_square(values).sqrt()
    }

    pub(super) fn mean_square(&self, values: &[f64]) -> f64 {
        let squares = self
            .points
            .iter()
            .zip(values)
            .map(|(point, value)| (value - point.target).powi(2));
        squares.sum::<f64>() / self.points.len().max(1) as f64
    }

    fn check(&self) -> Result<(), SearchError> {
        if self.points.is_empty() {
            return Err(SearchError::NoPoints {
                name: self.name.clone(),
            });
        }
        let target = self.points.iter().map(|point| point.target);
        if let Some(value) = target.into_iter().find(|target| !target.is_finite()) {
            return Err(above_zero(&self.name, "target", value));
        }
        positive(&self.name, "weight", self.weight)?;
        positive(&self.name, "unit", self.unit)
    }
}

impl SearchQuestion {
    pub(super) fn check(&self) -> Result<(), SearchError> {
        if self.moves.is_empty() && self.holes.is_empty() {
            return Err(SearchError::NothingMoves);
        }
        if self.goals.is_empty() {
            return Err(SearchError::NoGoal);
        }
        self.moves.iter().try_for_each(Move::check)?;
        self.goals.iter().try_for_each(Goal::check)?;
        for keep in &self.keeps {
            positive(&keep.name, "unit", keep.unit)?;
            let limits = (keep.at_least, keep.at_most);
            let finite = [keep.at_least, keep.at_most]
                .into_iter()
                .flatten()
                .all(f64::is_finite);
            let holds = match limits {
                (Some(low), Some(high)) => low <= high,
                (None, None) => false,
                _ => true,
            };
            if !finite || !holds {
                return Err(SearchError::Limit {
                    name: keep.name.clone(),
                });
            }
        }
        let count = self
            .holes
            .iter()
            .map(|list| list.holes.len())
            .try_fold(1_usize, usize::checked_mul);
        match count {
            Some(count) if (1..=MOST_HOLE_CHOICES).contains(&count) => {}
            other => {
                return Err(SearchError::Holes {
                    count: other.unwrap_or(usize::MAX),
                });
            }
        }
        match self.front {
            Some(points) if self.goals.len() != 2 || points < 3 => Err(SearchError::Front {
                count: self.goals.len(),
            }),
            _ => Ok(()),
        }
    }

    /// Every combination of holes.
    pub(super) fn hole_choices(&self) -> Vec<Vec<usize>> {
        let mut choices = vec![Vec::new()];
        for list in &self.holes {
            let longer = choices.iter().flat_map(|choice| {
                (0..list.holes.len()).map(move |hole| {
                    let mut choice: Vec<usize> = choice.clone();
                    choice.push(hole);
                    choice
                })
            });
            choices = longer.collect();
        }
        choices
    }

    pub(super) fn has_steps(&self) -> bool {
        self.moves.iter().any(|one| one.step.is_some())
    }
}

fn positive(name: &str, what: &'static str, value: f64) -> Result<(), SearchError> {
    if value.is_finite() && value > 0.0 {
        Ok(())
    } else {
        Err(above_zero(name, what, value))
    }
}

fn above_zero(name: &str, what: &'static str, value: f64) -> SearchError {
    SearchError::Number {
        name: name.to_owned(),
        what,
        value,
    }
}
