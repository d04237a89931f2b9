//! Which of several descriptions the readings speak for: a hole counted wrong, a shim forgotten.

use super::{Calibration, CalibrationError, CalibrationQuestion, calibrate};
use crate::study::Subject;

/// A description that may be the true one.
#[derive(Debug, Clone, PartialEq)]
pub struct Alternative {
    /// What it is called.
    pub name: String,
    /// What changes of the description: place and change.
    pub changes: Vec<(usize, f64)>,
}

/// How an alternative fits.
#[derive(Debug, Clone, PartialEq)]
pub struct AlternativeEnd {
    /// Its calibration, or why there is none.
    pub calibration: Result<Calibration, CalibrationError>,
    /// Its chance among the alternatives, each as probable as the others before the readings.
    pub share: f64,
}

/// Calibrates every alternative and compares them by how probable they make the readings.
#[must_use]
pub fn compare_alternatives(
    subject: &Subject,
    question: &CalibrationQuestion,
    alternatives: &[Alternative],
) -> Vec<AlternativeEnd> {
    let calibrations = crate::parallel::map(alternatives, |alternative| {
        calibrate(&subject.changed(&alternative.changes), question)
    });
    let log = |calibration: &Result<Calibration, CalibrationError>| {
        calibration
            .as_ref()
            .map_or(f64::NEG_INFINITY, |found| found.log_likelihood)
    };
    let most = calibrations.iter().map(log).fold(f64::NEG_INFINITY, f64::max);
    let weights: Vec<f64> = calibrations
        .iter()
        .map(|calibration| {
            if most.is_finite() {
                (log(calibration) - most).exp()
            } else {
                0.0
            }
        })
        .collect();
    let whole: f64 = weights.iter().sum();
    let ends = calibrations.into_iter().zip(weights);
    ends.map(|(calibration, weight)| AlternativeEnd {
        calibration,
        share: if whole > 0.0 { weight / whole } else { 0.0 },
    })
    .collect()
}
