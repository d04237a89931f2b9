//! Adjusting a survey, all of it or without the readings that do not belong.

use super::adjustment::{Adjustment, JudgedReading};
use super::datum::{self, Datum};
use super::error::SurveyError;
use super::least_squares::{Equations, LeastSquaresError, least_squares};
use super::mirror::{Arrangement, choose};
use super::network::Network;
use super::notebook::Survey;
use super::quality::covariance;
use super::reading::{Kind, Reading};
use super::{gaps, start, validate};
use crate::Dimension;
use nalgebra::{DMatrix, DVector};

/// A normalised residual beyond this speaks against a reading: honest readings give one so large once in about 2000 times.
pub const DEFAULT_REJECTION_LIMIT: f64 = 3.5;

/// A redundancy number below this is none: nothing checks such a reading.
const UNCHECKED: f64 = 1e-6;

/// A reading that was left out since it did not agree with the others.
#[derive(Debug, Clone, PartialEq)]
pub struct Rejected {
    /// Its number among the survey's readings.
    pub index: usize,
    /// Its normalised residual when it was left out.
    pub normalised: f64,
    /// How much too large it was read, as estimated then (mm or rad).
    pub mistake: f64,
    /// How many other readings there were.
    pub others: usize,
}

impl Survey {
    /// The places that fit all readings best.
    ///
    /// # Errors
    /// Readings that cannot be right by themselves, that contradict each other beyond any error of a tape, or that leave a point
    /// free to move; each error names the reading.
    pub fn adjust(&self) -> Result<Adjustment, SurveyError> {
        validate::validate(self)?;
        let all: Vec<usize> = (0..self.readings.len()).collect();
        adjust(self, &all, Vec::new(), None)
    }

    /// The places that fit best once the readings that do not belong are left out: while the largest normalised residual is beyond
    /// `limit`, that one reading is left out and all is adjusted again.
    ///
    /// One at a time, since one mistaken reading spoils the residuals of others.
    ///
    /// # Errors
    /// As [`Survey::adjust`].
    pub fn adjust_rejecting(&self, limit: f64) -> Result<Adjustment, SurveyError> {
        validate::validate(self)?;
        let mut kept: Vec<usize> = (0..self.readings.len()).collect();
        let mut rejected = Vec::new();
        let mut adjusted = adjust(self, &kept, Vec::new(), None)?;
        loop {
            let before = kept.len();
            while let Some(suspect) = adjusted.suspect(limit) {
                kept.retain(|index| *index != suspect.index);
                rejected.push(Rejected {
                    index: suspect.index,
                    normalised: suspect.normalised,
                    mistake: suspect.mistake,
                    others: suspect.others,
                });
                adjusted = adjust(self, &kept, rejected.clone(), Some(&adjusted))?;
            }
            if kept.len() == before {
                return Ok(adjusted);
            }
            // Without the mistakes another arrangement may fit better: all starting places are tried again.
            adjusted = adjust(self, &kept, rejected.clone(), None)?;
        }
    }
}

/// The adjustment of some readings of a survey.
///
/// * `from`: the adjustment with one reading more, whose arrangement is kept; without it all starting places are tried
fn adjust(
    survey: &Survey,
    kept: &[usize],
    rejected: Vec<Rejected>,
    from: Option<&Adjustment>,
) -> Result<Adjustment, SurveyError> {
    let readings: Vec<&Reading> = kept
        .iter()
        .filter_map(|index| survey.readings.get(*index))
        .collect();
    let network = Network::new(survey, &readings, &survey.points());
    let starts = match from {
        Some(from) => vec![from.places.clone()],
        None => start::starts(survey, &network),
    };
    let mut found = Vec::new();
    let mut lost = None;
    for places in starts {
        match least_squares(&network, &network.unknowns_of(&places)) {
            Ok(fit) => {
                let places = network.places_of(&fit.unknowns);
                found.push(Arrangement { fit, places });
            }
            Err(LeastSquaresError::NotConverged { unknowns, .. }) => lost = lost.or(Some(unknowns)),
            Err(LeastSquaresError::NotFinite) => {}
        }
    }
    let chosen = match from {
        Some(from) => found.pop().map(|only| (only, from.mirror.clone())),
        None => choose(survey, &network, found),
    };
    let Some((arrangement, mirror)) = chosen else {
        return Err(not_found(survey, &network, &readings, lost));
    };
    let Arrangement { fit, places } = arrangement;
    let free = datum::free_motions(&network, &places, &fit.jacobian);
    let covariance = covariance(&fit.jacobian, &free);
    let held = covariance
        .as_ref()
        .is_some_and(|covariance| gaps::surely_none(&fit.jacobian, covariance));
    if !held && let Some(gaps) = gaps::gaps(survey, &network, &places, &fit.jacobian, &free) {
        return Err(gaps);
    }
    let Some(covariance) = covariance else {
        return Err(not_found(survey, &network, &readings, Some(fit.unknowns)));
    };
    let judged = judged(&network, kept, &fit.jacobian, &fit.residuals, &covariance);
    let redundancy = (readings.len() + free.ncols()).saturating_sub(network.unknowns);
    Ok(Adjustment {
        survey: survey.clone(),
        datum: Datum::of(&network, free.ncols()),
        network,
        places,
        covariance,
        judged,
        rejected,
        mirror,
        redundancy,
        sum_of_squares: fit.sum_of_squares,
        iterations: fit.iterations,
    })
}

fn judged(
    network: &Network,
    kept: &[usize],
    jacobian: &DMatrix<f64>,
    residuals: &DVector<f64>,
    covariance: &DMatrix<f64>,
) -> Vec<JudgedReading> {
    let spread = jacobian * covariance;
    let rows = network.rows.iter().enumerate();
    rows.zip(kept)
        .map(|((place, (_, _, deviation)), index)| {
            let carried: f64 = spread
                .row(place)
                .iter()
                .zip(jacobian.row(place).iter())
                .map(|(a, b)| a * b)
                .sum();
            let redundancy = (1.0 - carried).clamp(0.0, 1.0);
            let residual = residuals[place] * deviation;
            let checked = redundancy > UNCHECKED;
            JudgedReading {
                index: *index,
                residual,
                deviation: *deviation,
                redundancy,
                normalised: checked.then(|| residuals[place] / redundancy.sqrt()),
                mistake: checked.then(|| -residual / redundancy),
            }
        })
        .collect()
}

/// Why no places were found: readings that leave points free, or readings that cannot all be meant.
fn not_found(
    survey: &Survey,
    network: &Network,
    readings: &[&Reading],
    at: Option<DVector<f64>>,
) -> SurveyError {
    let unknowns = at.unwrap_or_else(|| DVector::zeros(network.unknowns));
    let places = network.places_of(&unknowns);
    let mut residuals = DVector::zeros(network.count());
    let mut jacobian = DMatrix::zeros(network.count(), network.unknowns);
    network.evaluate(&unknowns, &mut residuals, &mut jacobian);
    let free = datum::free_motions(network, &places, &jacobian);
    if let Some(gaps) = gaps::gaps(survey, network, &places, &jacobian, &free) {
        return gaps;
    }
    let worst = residuals
        .iter()
        .enumerate()
        .max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
    let reading = worst.and_then(|(place, _)| readings.get(place));
    let is_angle = reading.is_some_and(|reading| reading.observed.kind() == Kind::Angle);
    SurveyError::NotConverged {
        worst: reading.map_or_else(String::new, |reading| reading.words()),
        misfit: worst.map_or(0.0, |(place, residual)| residual.abs() * network.rows[place].2),
        dimension: if is_angle {
            Dimension::Angle
        } else {
            Dimension::Length
        },
    }
}
