//! The most probable pickups, and how well they are known then.

use super::chance::at_least_chi_square;
use super::{CalibrationError, CalibrationQuestion};
use crate::Error;
use crate::study::{Built, Outcome, Subject, Uncertainty};
use nalgebra::{DMatrix, DVector};

/// A zero of which nothing is known is given this many times the largest deviation among its gauge's readings: so much that
/// what it adds is far below rounding of any reading.
const UNKNOWN_ZERO: f64 = 1e4;
/// Steps end when no number changes by more than this share of its standard deviation.
const SETTLED: f64 = 1e-9;
/// Suspensions are nearly linear over what a tape allows: a handful of steps is usual.
const MOST_STEPS: usize = 50;
/// Halvings of a step that does not better the fit.
const MOST_HALVINGS: usize = 30;

/// How one reading fits.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadingEnd {
    /// What the description as surveyed says (core units), zero shift not included.
    pub before: f64,
    /// What the calibrated description says, with the shift of the gauge's zero.
    pub after: f64,
    /// Reading minus [`ReadingEnd::after`] (core units).
    pub residual: f64,
    /// The standard deviation that it was taken with (core units), that of its place included.
    pub deviation: f64,
    /// The residual in standard deviations of residuals (W. Baarda's normalised residual): beyond about 3 the reading and
    /// the rest do not agree. None where the reading alone decides what it says.
    pub normalised: Option<f64>,
}

/// A calibrated description.
#[derive(Debug, Clone, PartialEq)]
pub struct Calibration {
    /// The calibrated description.
    pub subject: Subject,
    /// How well its numbers are known now.
    pub posterior: Uncertainty,
    /// Change of each uncertain number, in the order of the uncertainty's places.
    pub changes: Vec<f64>,
    /// Shift of each gauge's zero with its standard deviation (core units).
    pub zeros: Vec<(f64, f64)>,
    /// How each reading fits.
    pub readings: Vec<ReadingEnd>,
    /// Sum of squares of readings and pickups, each in its own standard deviations.
    pub chi_square: f64,
    /// Its degrees of freedom: readings less zeros of which nothing is known.
    pub degrees: usize,
    /// The chance that errors of the stated size make it as large or larger.
    pub chance: f64,
    /// Logarithm of the chance density of the readings before they were taken, up to a constant that only their number
    /// decides: compares descriptions.
    pub log_likelihood: f64,
    /// Steps of the solution.
    pub steps: usize,
}

/// The linearised problem at one place.
struct Looked {
    subject: Subject,
    built: Built,
    /// What the description says for each reading.
    said: DVector<f64>,
}

/// Unknowns are the numbers in independent standard deviations, then the zeros in theirs.
struct Fit<'a> {
    subject: &'a Subject,
    question: &'a CalibrationQuestion,
    factor: DMatrix<f64>,
    zero_deviations: Vec<f64>,
    deviations: DVector<f64>,
}

/// Calibrates.
///
/// # Errors
/// Readings or deviations that cannot be right, a reading that the described suspension does not have, pickups that cannot be built.
pub fn calibrate(subject: &Subject, question: &CalibrationQuestion) -> Result<Calibration, CalibrationError> {
    question.check()?;
    let built = subject.build().map_err(refused)?;
    let deviations = question
        .readings
        .iter()
        .map(|reading| reading.whole_deviation(&built));
    let deviations = DVector::from_vec(deviations.collect::<Result<Vec<f64>, _>>()?);
    let zero_deviations = question.gauges.iter().enumerate().map(|(gauge, given)| {
        let own = question.readings.iter().zip(&deviations);
        let own = own.filter(|(reading, _)| reading.gauge == Some(gauge));
        let largest = own.map(|(_, deviation)| *deviation).fold(0.0, f64::max);
        given.zero_deviation.unwrap_or(UNKNOWN_ZERO * largest)
    });
    let fit = Fit {
        subject,
        question,
        factor: question.uncertainty.factor(),
        zero_deviations: zero_deviations.collect(),
        deviations,
    };
    fit.run()
}

fn refused(error: Error) -> CalibrationError {
    CalibrationError::Subject(Box::new(error))
}

impl Calibration {
    /// An outcome of the calibrated description with its standard deviation (core units).
    ///
    /// # Errors
    /// As for [`Outcome::value`].
    pub fn outcome(&self, outcome: &Outcome) -> Result<(f64, f64), Error> {
        outcome_with_deviation(&self.subject, &self.posterior, outcome)
    }
}

/// An outcome of a description with its standard deviation from the uncertainty, to first order (core units).
///
/// # Errors
/// As for [`Outcome::value`].
pub fn outcome_with_deviation(
    subject: &Subject,
    uncertainty: &Uncertainty,
    outcome: &Outcome,
) -> Result<(f64, f64), Error> {
    let built = subject.build()?;
    let value = outcome.value(&built)?;
    let gradient = outcome.gradient(subject, &built, uncertainty.places())?;
    Ok((value, uncertainty.variance_of(&gradient).sqrt()))
}

impl Fit<'_> {
    fn run(&self) -> Result<Calibration, CalibrationError> {
        let unknowns = self.factor.ncols() + self.zero_deviations.len();
        let mut at = DVector::zeros(unknowns);
        let first = self.look(&at)?;
        let before = first.said.clone();
        let mut here = first;
        let mut design = self.design(&here)?;
        let (prior_log, _) = self.likelihood(&design);
        let mut cost = self.cost(&at, &here.said);
        let mut steps = 0;
        while steps < MOST_STEPS {
            steps += 1;
            let Some(full) = self.step(&design, &at, &here.said) else {
                break;
            };
            // Next to a large zero shift the numbers' own change is what counts.
            if full.amax() < SETTLED {
                break;
            }
            let mut share = 1.0;
            let mut bettered = None;
            for _ in 0..MOST_HALVINGS {
                let next = &at + &full * share;
                if let Ok(looked) = self.look(&next) {
                    let next_cost = self.cost(&next, &looked.said);
                    if next_cost < cost {
                        bettered = Some((next, looked, next_cost));
                        break;
                    }
                }
                share *= 0.5;
            }
            let Some((next, looked, next_cost)) = bettered else {
                break;
            };
            (at, here, cost) = (next, looked, next_cost);
            design = self.design(&here)?;
        }
        Ok(self.finish(&at, &here, &before, &design, cost, prior_log, steps))
    }

    /// The description with the numbers moved, and what it says for each reading.
    fn look(&self, at: &DVector<f64>) -> Result<Looked, CalibrationError> {
        let subject = self.subject.changed(&self.changes(at));
        let built = subject.build().map_err(refused)?;
        let said = self.question.readings.iter().map(|reading| {
            reading
                .outcome
                .value(&built)
                .map_err(|error| CalibrationError::NoValue {
                    name: reading.name.clone(),
                    error: Box::new(error),
                })
        });
        let said = DVector::from_vec(said.collect::<Result<Vec<f64>, _>>()?);
        Ok(Looked { subject, built, said })
    }

    fn changes(&self, at: &DVector<f64>) -> Vec<(usize, f64)> {
        let moved = &self.factor * at.rows(0, self.factor.ncols());
        let places = self.question.uncertainty.places().iter().copied();
        places.zip(moved.iter().copied()).collect()
    }

    fn zeros(&self, at: &DVector<f64>) -> Vec<f64> {
        let own = at.iter().skip(self.factor.ncols());
        own.zip(&self.zero_deviations)
            .map(|(share, deviation)| share * deviation)
            .collect()
    }

    /// Readings less what the description and the zeros say, in standard deviations.
    fn misses(&self, at: &DVector<f64>, said: &DVector<f64>) -> DVector<f64> {
        let zeros = self.zeros(at);
        let readings = self.question.readings.iter().zip(said).zip(&self.deviations);
        let misses = readings.map(|((reading, said), deviation)| {
            let zero = reading
                .gauge
                .and_then(|gauge| zeros.get(gauge))
                .copied()
                .unwrap_or(0.0);
            (reading.value - said - zero) / deviation
        });
        DVector::from_vec(misses.collect())
    }

    fn cost(&self, at: &DVector<f64>, said: &DVector<f64>) -> f64 {
        at.norm_squared() + self.misses(at, said).norm_squared()
    }

    /// Rates of what is said in standard deviations of each reading, per standard deviation of each unknown.
    fn design(&self, here: &Looked) -> Result<DMatrix<f64>, CalibrationError> {
        let places = self.question.uncertainty.places();
        let mut rates = DMatrix::zeros(self.question.readings.len(), places.len());
        for (row, reading) in self.question.readings.iter().enumerate() {
            let gradient = reading
                .outcome
                .gradient(&here.subject, &here.built, places)
                .map_err(|error| CalibrationError::NoValue {
                    name: reading.name.clone(),
                    error: Box::new(error),
                })?;
            for (column, rate) in gradient.into_iter().enumerate().take(places.len()) {
                rates[(row, column)] = rate;
            }
        }
        let own = rates * &self.factor;
        let numbers = own.ncols();
        let mut design = own.resize_horizontally(numbers + self.zero_deviations.len(), 0.0);
        for (row, reading) in self.question.readings.iter().enumerate() {
            if let Some(gauge) = reading.gauge
                && let Some(deviation) = self.zero_deviations.get(gauge)
            {
                design[(row, numbers + gauge)] = *deviation;
            }
        }
        for (row, deviation) in self.deviations.iter().enumerate() {
            design.row_mut(row).scale_mut(1.0 / deviation);
        }
        Ok(design)
    }

    /// The Gauss-Newton step, through the covariance of the readings: there are fewer of them than numbers.
    fn step(&self, design: &DMatrix<f64>, at: &DVector<f64>, said: &DVector<f64>) -> Option<DVector<f64>> {
        let target = self.misses(at, said) + design * at;
        let solved = innovation(design).cholesky()?.solve(&target);
        Some(design.transpose() * solved - at)
    }

    /// Logarithm of the chance density of the readings, and their chi-square, linearised at the description as surveyed.
    fn likelihood(&self, design: &DMatrix<f64>) -> (f64, usize) {
        let free = self
            .question
            .gauges
            .iter()
            .filter(|gauge| gauge.zero_deviation.is_none())
            .count();
        let spread = innovation(design).cholesky().map_or(f64::INFINITY, |factor| {
            factor.l().diagonal().iter().map(|entry| entry.ln()).sum()
        });
        let own: f64 = self.deviations.iter().map(|deviation| deviation.ln()).sum();
        (-(spread + own), self.question.readings.len().saturating_sub(free))
    }

    #[allow(clippy::too_many_arguments, reason = "the parts of one finished solution")]
    fn finish(
        &self,
        at: &DVector<f64>,
        here: &Looked,
        before: &DVector<f64>,
        design: &DMatrix<f64>,
        cost: f64,
        prior_log: f64,
        steps: usize,
    ) -> Calibration {
        let unknowns = design.ncols();
        // What the readings leave of each unknown: 1 - A' (1 + A A')^-1 A.
        let gain = innovation(design).cholesky().map(|factor| factor.solve(design));
        let left = match &gain {
            Some(gain) => DMatrix::identity(unknowns, unknowns) - design.transpose() * gain,
            None => DMatrix::identity(unknowns, unknowns),
        };
        let numbers = self.factor.ncols();
        let covariance = &self.factor * left.view((0, 0), (numbers, numbers)) * self.factor.transpose();
        let zero_spread = self.zero_deviations.iter().enumerate().map(|(gauge, deviation)| {
            let place = numbers + gauge;
            left.get((place, place))
                .map_or(0.0, |entry| entry.max(0.0).sqrt())
                * deviation
        });
        let misses = self.misses(at, &here.said);
        // Covariance of the residuals in standard deviations of the readings: 1 - A P A' = (1 + A A')^-1.
        let residual_spread = innovation(design).cholesky().map(|factor| factor.inverse());
        let readings = misses.iter().enumerate().map(|(row, miss)| {
            let deviation = self.deviations.get(row).copied().unwrap_or(f64::NAN);
            let variance = residual_spread
                .as_ref()
                .and_then(|spread| spread.get((row, row)))
                .copied();
            let value = self
                .question
                .readings
                .get(row)
                .map_or(f64::NAN, |reading| reading.value);
            ReadingEnd {
                before: before.get(row).copied().unwrap_or(f64::NAN),
                after: value - miss * deviation,
                residual: miss * deviation,
                deviation,
                normalised: variance
                    .filter(|variance| *variance > DECIDES_ALONE)
                    .map(|variance| miss / variance.sqrt()),
            }
        });
        let (_, degrees) = self.likelihood(design);
        Calibration {
            subject: here.subject.clone(),
            posterior: self.question.uncertainty.with_covariance(covariance),
            changes: self.changes(at).into_iter().map(|(_, change)| change).collect(),
            zeros: self.zeros(at).into_iter().zip(zero_spread).collect(),
            readings: readings.collect(),
            chi_square: cost,
            degrees,
            chance: at_least_chi_square(cost, degrees),
            log_likelihood: prior_log - 0.5 * cost,
            steps,
        }
    }
}

/// Below this share of its variance a residual says nothing: the unknowns follow the reading.
const DECIDES_ALONE: f64 = 1e-6;

/// Covariance of the readings before they were taken, in their standard deviations: 1 + A A'.
fn innovation(design: &DMatrix<f64>) -> DMatrix<f64> {
    let readings = design.nrows();
    DMatrix::identity(readings, readings) + design * design.transpose()
}
