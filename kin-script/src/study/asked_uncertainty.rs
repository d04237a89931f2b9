//! How well the numbers of a model are known, as a script says it: the same keys in every study.

use super::spoken::unit;
use crate::arguments;
use crate::host::ScriptError;
use crate::model::Model;
use crate::units::LengthUnit;
use kin_core::nalgebra::DMatrix;
use kin_core::study::{Subject, Uncertainty, UncertaintyError};
use rhai::{Dynamic, Map};
use serde::Deserialize;

/// The keys that say it.
const KEYS: [&str; 3] = ["deviation", "deviations", "covariance"];

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Keys {
    deviation: Option<f64>,
    deviations: Option<indexmap::IndexMap<String, f64>>,
    covariance: Option<Covariance>,
}

/// A covariance by names, as a survey gives it: in squares of its own unit, or of the model's.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Covariance {
    numbers: Vec<String>,
    matrix: Vec<Vec<f64>>,
    unit: Option<LengthUnit>,
    #[serde(rename = "basis")]
    _basis: Option<String>,
}

/// Takes the keys out of a question and reads them; none where nothing is said.
///
/// * `context`: what is asked, such as `the tolerance`
///
/// # Errors
/// Names that lead nowhere, numbers that are no deviations, and a matrix that is no covariance.
pub(super) fn read(
    question: &mut Map,
    context: &str,
    subject: &Subject,
    model: &Model,
) -> Result<Option<Uncertainty>, ScriptError> {
    let own: Map = KEYS
        .iter()
        .filter_map(|key| Some(((*key).into(), question.remove(*key)?)))
        .collect();
    if own.is_empty() {
        return Ok(None);
    }
    let keys: Keys = arguments::read(Dynamic::from_map(own), context)?;
    let refused = |error: UncertaintyError, key: &str| ScriptError::new(error.to_string()).with_key(key);
    let mut uncertainty = match (&keys.covariance, keys.deviation) {
        (Some(_), Some(_)) => {
            return Err(
                ScriptError::new(format!("{context}: give `deviation` or `covariance`, not both"))
                    .with_help("`deviations` may stand beside either, for single numbers")
                    .with_key("covariance"),
            );
        }
        (Some(covariance), None) => covariance.uncertainty(context, subject, model)?,
        (None, Some(deviation)) => {
            let deviation = deviation * model.units.length.millimetres();
            Uncertainty::of_every_coordinate(subject, deviation)
                .map_err(|error| refused(error, "deviation"))?
        }
        (None, None) => Uncertainty::none(),
    };
    if let Some(deviations) = &keys.deviations {
        let given: Vec<(&str, f64)> = deviations
            .iter()
            .map(|(name, own)| (name.as_str(), own * scale(subject, model, name)))
            .collect();
        uncertainty = uncertainty
            .with(subject, &given)
            .map_err(|error| refused(error, "deviations"))?;
    }
    Ok(Some(uncertainty))
}

impl Covariance {
    fn uncertainty(
        &self,
        context: &str,
        subject: &Subject,
        model: &Model,
    ) -> Result<Uncertainty, ScriptError> {
        let names: Vec<&str> = self.numbers.iter().map(String::as_str).collect();
        let rows = &self.matrix;
        if rows.iter().any(|row| row.len() != rows.len()) {
            return Err(
                ScriptError::new(format!("{context}: the covariance is not square")).with_key("matrix"),
            );
        }
        let own = |place: usize| match (self.unit, names.get(place)) {
            (Some(unit), _) => unit.millimetres(),
            (None, Some(name)) => scale(subject, model, name),
            (None, None) => 1.0,
        };
        let scales: Vec<f64> = (0..rows.len()).map(own).collect();
        let matrix = DMatrix::from_fn(rows.len(), rows.len(), |row, column| {
            rows[row][column] * scales[row] * scales[column]
        });
        Uncertainty::from_covariance(subject, &names, matrix)
            .map_err(|error| ScriptError::new(error.to_string()).with_key("covariance"))
    }
}

/// Core units in one unit of the model. A name may stand for several numbers of one kind; the first says of which.
fn scale(subject: &Subject, model: &Model, name: &str) -> f64 {
    let place = subject
        .places(name)
        .ok()
        .and_then(|places| places.first().copied());
    place
        .and_then(|place| subject.numbers().into_iter().nth(place))
        .map_or(1.0, |number| unit(&number, &model.units).0)
}
