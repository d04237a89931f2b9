//! What a tolerance study is asked.

use super::monte_carlo;
use super::result::ToleranceResult;
use crate::checks::Finding;
use crate::pickups::{Side, Wanted};
use crate::study::{Built, Outcome, Progress, Reading, StrokeReading, Subject, Uncertainty};
use crate::{Error, Sentence};

/// An outcome, with the limits that it must keep.
#[derive(Debug, Clone, PartialEq)]
pub struct Requirement {
    /// What it is called.
    pub name: String,
    /// The number.
    pub outcome: Outcome,
    /// It must be this at least (core units).
    pub at_least: Option<f64>,
    /// It must be this at most (core units).
    pub at_most: Option<f64>,
}

/// Looks at a variant with real checks; what keeps it from an answer is said in a sentence.
pub type CheckVariant<'a> = dyn Fn(&Built) -> Result<Vec<Finding>, Sentence> + Sync + 'a;

/// A tolerance study.
pub struct Tolerance<'a> {
    /// The description as measured.
    pub subject: &'a Subject,
    /// How well its numbers are known.
    pub uncertainty: &'a Uncertainty,
    /// The outcomes looked at; those without limits are described only.
    pub requirements: Vec<Requirement>,
    /// Checks of every variant, if any.
    pub checks: Option<&'a CheckVariant<'a>>,
    /// Curves to give bands of.
    pub curves: Vec<Reading>,
    /// Where along the travel (mm of bump from ride height) the bands are taken.
    pub bumps: Vec<f64>,
    /// How many variants are built.
    pub samples: usize,
    /// The seed of their random errors.
    pub seed: u64,
}

impl Requirement {
    /// An outcome that must not be less than a limit.
    #[must_use]
    pub fn at_least(outcome: Outcome, limit: f64) -> Self {
        Self {
            at_least: Some(limit),
            ..Self::described(outcome)
        }
    }

    /// An outcome without limits.
    #[must_use]
    pub fn described(outcome: Outcome) -> Self {
        Self {
            name: outcome.words().to_string(),
            outcome,
            at_least: None,
            at_most: None,
        }
    }

    /// What a description itself wants: bump to the stop and droop to topping out, of every damper.
    #[must_use]
    pub fn of_stroke(subject: &Subject) -> Vec<Self> {
        let (wanted, sides) = match subject {
            Subject::Corner(corner) if corner.any_damper().is_some() => {
                (corner.wanted, [Some(Side::Left), None])
            }
            Subject::Axle(axle) if axle.any_dampers().is_some() => {
                let apart = axle.any_dampers().is_some_and(|both| both.right.is_some());
                (axle.wanted, [Some(Side::Left), apart.then_some(Side::Right)])
            }
            _ => return Vec::new(),
        };
        let Wanted { bump, droop, .. } = wanted.unwrap_or_default();
        let limits = [
            (StrokeReading::BumpToStop, bump),
            (StrokeReading::DroopToTopOut, droop),
        ];
        let sides = sides.into_iter().flatten();
        sides
            .flat_map(|side| limits.map(|(reading, limit)| (Outcome::Stroke(reading, side), limit)))
            .filter_map(|(outcome, limit)| Some(Self::at_least(outcome, limit?)))
            .collect()
    }

    /// Whether there is a limit.
    #[must_use]
    pub fn has_limit(&self) -> bool {
        self.at_least.is_some() || self.at_most.is_some()
    }

    /// What is left to the nearer limit (core units), negative beyond it; infinite without limits.
    #[must_use]
    pub fn margin(&self, value: f64) -> f64 {
        let low = self.at_least.map_or(f64::INFINITY, |limit| value - limit);
        let high = self.at_most.map_or(f64::INFINITY, |limit| limit - value);
        low.min(high)
    }
}

impl Tolerance<'_> {
    /// Runs the study.
    ///
    /// The result is a property of the question alone: the number of threads changes nothing. A variant that cannot be
    /// built or read is counted by its reason and holds nothing.
    ///
    /// # Errors
    /// When the description as measured has no value of an outcome or of a curve.
    ///
    /// ```
    /// use kin_core::samples;
    /// use kin_core::study::{Requirement, Subject, Tolerance, Uncertainty, Unwatched};
    /// # fn main() -> Result<(), Box<dyn std::error::Error>> {
    /// let subject = Subject::from(samples::wagon_front());
    /// let uncertainty = Uncertainty::of_every_coordinate(&subject, 1.5)?;
    /// let study = Tolerance {
    ///     subject: &subject,
    ///     uncertainty: &uncertainty,
    ///     requirements: Requirement::of_stroke(&subject),
    ///     checks: None,
    ///     curves: Vec::new(),
    ///     bumps: Vec::new(),
    ///     samples: 200,
    ///     seed: 7,
    /// };
    /// let found = study.run(&Unwatched)?;
    /// // 69.2 mm of bump to the stop, known to 3.5 mm; 65 mm are wanted.
    /// let bump = &found.outcomes[0];
    /// assert!((bump.linear.deviation - 3.46).abs() < 0.01);
    /// assert!((bump.sampled.holds - bump.linear.holds).abs() < 0.1);
    /// # Ok(())
    /// # }
    /// ```
    pub fn run(&self, progress: &dyn Progress) -> Result<ToleranceResult, Error> {
        monte_carlo::run(self, progress)
    }
}
