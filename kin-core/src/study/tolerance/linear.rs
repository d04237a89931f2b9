//! Results to first order.

use super::normal::share_within;
use super::question::Requirement;
use super::result::LinearResult;
use crate::Error;
use crate::study::{Built, Subject, Uncertainty};

/// Mean, standard deviation and share that holds of a requirement, by its derivatives.
pub(super) fn propagate(
    requirement: &Requirement,
    subject: &Subject,
    built: &Built,
    uncertainty: &Uncertainty,
) -> Result<LinearResult, Error> {
    let value = requirement.outcome.value(built)?;
    let gradient = requirement
        .outcome
        .gradient(subject, built, uncertainty.places())?;
    let deviation = uncertainty.variance_of(&gradient).sqrt();
    Ok(LinearResult {
        value,
        gradient,
        deviation,
        holds: share_within(value, deviation, requirement.at_least, requirement.at_most),
    })
}
