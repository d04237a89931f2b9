//! Which single measurement to take again, and how well, to be as sure as wanted.

use super::normal::share_within;
use super::question::Tolerance;
use super::result::ToleranceResult;
use crate::Error;
use crate::study::{Built, Outcome, Progress, Subject, Uncertainty};
use nalgebra::DVector;

/// A measurement that is good to this share of what the number is uncertain by now is the best that is looked for; a better
/// one changes nothing.
const BEST: f64 = 1e-3;
/// A measurement worse than this many times what the number is uncertain by now tells nothing.
const WORST: f64 = 1e2;
/// Halvings of the range between them, on a scale of ratios.
const HALVINGS: usize = 50;
/// Variants that verify an answer, at most.
const MOST_VERIFYING: usize = 20_000;

/// A measurement that could be taken.
#[derive(Debug, Clone, PartialEq)]
pub struct Measurement {
    /// What it is called.
    pub name: String,
    /// What is read.
    pub outcome: Outcome,
    /// How well it is read (standard deviation, core units), if that is settled.
    pub deviation: Option<f64>,
    /// What was read (core units), if it was read already.
    pub value: Option<f64>,
}

/// What one measurement would do.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasureAgain {
    /// The place of the coordinate in the description that is measured again; none for a reading of an outcome.
    pub place: Option<usize>,
    /// The place of the reading in the list that was given; none for a coordinate.
    pub reading: Option<usize>,
    /// What the number is uncertain by now (standard deviation, core units).
    pub deviation_now: f64,
    /// How sure a perfect measurement would make it (0 to 1).
    pub sure_at_best: f64,
    /// The standard deviation that is good enough; none where this measurement alone does not make it sure.
    pub deviation_needed: Option<f64>,
    /// How sure the measurement makes it at the deviation that was given for it (0 to 1).
    pub sure_as_given: Option<f64>,
    /// The uncertainty left by the measurement, as given where a deviation was given, and else as well as needed.
    pub left: Uncertainty,
}

/// A ranking of measurements, the least demanding that suffices first, then by how far they help.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasurementRanking {
    /// How sure the requirements are now, to first order (0 to 1).
    pub sure_now: f64,
    /// The ranking.
    pub ranking: Vec<MeasureAgain>,
    /// How sure variants show it to be after the first measurement of the ranking, where that suffices (0 to 1).
    pub verified: Option<f64>,
    /// How sure variants show it to be after each reading at its given deviation, in the order of the readings.
    pub readings_verified: Vec<Option<f64>>,
}

/// How a candidate goes together with each requirement.
struct Candidate {
    place: Option<usize>,
    reading: Option<usize>,
    given: Option<f64>,
    gradient: Vec<f64>,
    variance: f64,
    /// Covariance with each requirement.
    shared: Vec<f64>,
}

/// Ranks single measurements by how sure they make all requirements of a study.
///
/// A measurement of standard deviation r takes `c^2 / (v + r^2)` from the variance of a requirement, where v is the
/// variance of what is measured and c its covariance with the requirement. As nobody knows yet what will be read, the
/// result as measured stays where it is: a reading may well move it, for better or worse. How sure all requirements are
/// at once is bounded from below by the sum of what each can lack, which is exact where they fail in different variants.
///
/// * `sure`: the share wanted (0 to 1)
///
/// # Errors
/// A reading that the description as measured does not have.
pub fn measure_again(
    study: &Tolerance<'_>,
    result: &ToleranceResult,
    readings: &[Measurement],
    sure: f64,
    progress: &dyn Progress,
) -> Result<MeasurementRanking, Error> {
    let judge = Judge { study, result };
    let built = study.subject.build()?;
    let mut candidates = judge.coordinates();
    for (place, reading) in readings.iter().enumerate() {
        candidates.push(judge.reading(place, reading, &built)?);
    }
    let mut ranking: Vec<MeasureAgain> = candidates
        .iter()
        .filter(|candidate| candidate.variance > 0.0)
        .map(|candidate| judge.answer(candidate, sure))
        .collect();
    // The least demanding first: the greatest share of today's uncertainty that may be left.
    let leave = |one: &MeasureAgain| {
        one.deviation_needed
            .map_or(0.0, |needed| needed / one.deviation_now)
    };
    ranking.sort_by(|a, b| {
        leave(b)
            .total_cmp(&leave(a))
            .then(b.sure_at_best.total_cmp(&a.sure_at_best))
    });
    let sure_now = judge.sure(|_| 0.0);
    let first = ranking
        .first()
        .filter(|first| sure_now < sure && first.deviation_needed.is_some());
    let verified = first
        .map(|first| judge.verify(&first.left, progress))
        .transpose()?
        .flatten();
    let given = |place: usize| ranking.iter().find(|one| one.reading == Some(place));
    let mut readings_verified = Vec::new();
    for place in 0..readings.len() {
        let known = given(place).filter(|one| one.sure_as_given.is_some());
        readings_verified.push(
            known
                .map(|one| judge.verify(&one.left, progress))
                .transpose()?
                .flatten(),
        );
    }
    Ok(MeasurementRanking {
        sure_now,
        verified,
        readings_verified,
        ranking,
    })
}

/// The description and its uncertainty after readings that were taken: the numbers move to where they explain the readings
/// best, to first order, and what is uncertain about them shrinks.
///
/// The shift is `C g (y - f) / (g' C g + r^2)` for the reading y of an outcome f with the gradient g; source as for
/// [`Uncertainty::after_measuring`].
///
/// # Errors
/// A reading that the description does not have.
pub fn with_readings(
    subject: &Subject,
    uncertainty: &Uncertainty,
    readings: &[Measurement],
) -> Result<(Subject, Uncertainty), Error> {
    let (mut subject, mut uncertainty) = (subject.clone(), uncertainty.clone());
    for reading in readings {
        let (Some(value), Some(deviation)) = (reading.value, reading.deviation) else {
            continue;
        };
        let built = subject.build()?;
        let expected = reading.outcome.value(&built)?;
        let gradient = reading.outcome.gradient(&subject, &built, uncertainty.places())?;
        let rates = DVector::from_column_slice(&gradient);
        let shared = uncertainty.covariance() * &rates;
        let whole = rates.dot(&shared) + deviation * deviation;
        if whole > 0.0 {
            let shift = shared * ((value - expected) / whole);
            let changes = uncertainty.places().iter().copied().zip(shift.iter().copied());
            subject = subject.changed(&changes.collect::<Vec<_>>());
        }
        uncertainty = uncertainty.after_measuring(&gradient, deviation);
    }
    Ok((subject, uncertainty))
}

struct Judge<'a> {
    study: &'a Tolerance<'a>,
    result: &'a ToleranceResult,
}

impl Judge<'_> {
    /// How sure all requirements are at once, at least, when something takes from the variance of each.
    fn sure(&self, taken: impl Fn(usize) -> f64) -> f64 {
        let lacking = self.result.outcomes.iter().enumerate().map(|(place, outcome)| {
            let linear = &outcome.linear;
            let variance = (linear.deviation * linear.deviation - taken(place)).max(0.0);
            let asked = &outcome.requirement;
            1.0 - share_within(linear.value, variance.sqrt(), asked.at_least, asked.at_most)
        });
        (1.0 - lacking.sum::<f64>()).max(0.0)
    }

    fn sure_after(&self, candidate: &Candidate, deviation: f64) -> f64 {
        let whole = candidate.variance + deviation * deviation;
        self.sure(|place| candidate.shared[place] * candidate.shared[place] / whole)
    }

    fn coordinates(&self) -> Vec<Candidate> {
        let places = self.study.uncertainty.places();
        let candidate = |index: usize| {
            let mut gradient = vec![0.0; places.len()];
            gradient[index] = 1.0;
            self.candidate(gradient, Some(places[index]), None, None)
        };
        (0..places.len()).map(candidate).collect()
    }

    fn reading(&self, place: usize, reading: &Measurement, built: &Built) -> Result<Candidate, Error> {
        let places = self.study.uncertainty.places();
        let gradient = reading.outcome.gradient(self.study.subject, built, places)?;
        Ok(self.candidate(gradient, None, Some(place), reading.deviation))
    }

    fn candidate(
        &self,
        gradient: Vec<f64>,
        place: Option<usize>,
        reading: Option<usize>,
        given: Option<f64>,
    ) -> Candidate {
        let direction = self.study.uncertainty.covariance() * DVector::from_column_slice(&gradient);
        let along = |rates: &[f64]| -> f64 {
            rates
                .iter()
                .zip(direction.iter())
                .map(|(rate, own)| rate * own)
                .sum()
        };
        Candidate {
            variance: along(&gradient),
            shared: self
                .result
                .outcomes
                .iter()
                .map(|outcome| along(&outcome.linear.gradient))
                .collect(),
            place,
            reading,
            given,
            gradient,
        }
    }

    fn answer(&self, candidate: &Candidate, sure: f64) -> MeasureAgain {
        let now = candidate.variance.sqrt();
        let sure_at_best = self.sure_after(candidate, 0.0);
        let enough = |ratio: f64| self.sure_after(candidate, ratio * now) >= sure;
        let deviation_needed = enough(BEST).then(|| {
            let (mut good, mut bad) = (BEST.ln(), WORST.ln());
            for _ in 0..HALVINGS {
                let middle = 0.5 * (good + bad);
                if enough(middle.exp()) {
                    good = middle;
                } else {
                    bad = middle;
                }
            }
            good.exp() * now
        });
        let taken = candidate.given.or(deviation_needed).unwrap_or(BEST * now);
        MeasureAgain {
            place: candidate.place,
            reading: candidate.reading,
            deviation_now: now,
            sure_at_best,
            deviation_needed,
            sure_as_given: candidate.given.map(|given| self.sure_after(candidate, given)),
            left: self.study.uncertainty.after_measuring(&candidate.gradient, taken),
        }
    }

    /// The share of variants that keep all requirements, with what is left of the uncertainty; none when stopped.
    fn verify(&self, left: &Uncertainty, progress: &dyn Progress) -> Result<Option<f64>, Error> {
        let again = Tolerance {
            subject: self.study.subject,
            uncertainty: left,
            requirements: self.study.requirements.clone(),
            checks: None,
            curves: Vec::new(),
            bumps: Vec::new(),
            samples: self.study.samples.min(MOST_VERIFYING),
            seed: self.study.seed,
        };
        let found = again.run(progress)?;
        Ok((found.samples == found.asked).then_some(found.shares.requirements))
    }
}
