//! Derivatives of an outcome with respect to numbers of a description.

use crate::Error;
use crate::study::{Built, Outcome, Subject};

/// Half the step of a central difference (core units).
const HALF_STEP: f64 = 0.01;

/// The rate of an outcome per unit of each number.
pub(in crate::study) fn gradient(
    outcome: &Outcome,
    subject: &Subject,
    _built: &Built,
    places: &[usize],
) -> Result<Vec<f64>, Error> {
    let at = |place: usize, change: f64| outcome.value(&subject.changed(&[(place, change)]).build()?);
    let rates = crate::parallel::map(places, |place| {
        Ok((at(*place, HALF_STEP)? - at(*place, -HALF_STEP)?) / (2.0 * HALF_STEP))
    });
    rates.into_iter().collect()
}
