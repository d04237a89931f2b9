//! The calibration in a script: what was read, what it comes to in words, tables and pictures.

mod answer;
mod asked;
mod moved;
mod pictures;
mod tables;
mod words;

use super::{StudyAnswer, subject};
use crate::host::ScriptError;
use crate::model::Model;
use crate::units::Units;
use asked::AskedCalibration;
use kin_core::study::calibration::{
    AlternativeEnd, Calibration, CalibrationError, calibrate, compare_alternatives,
};
use kin_core::study::{Subject, Uncertainty};
use rhai::Map;

/// A calibration with all that is told of it.
struct Calibrated {
    asked: AskedCalibration,
    /// The description that the readings speak for, before they move it.
    surveyed: Subject,
    /// Its calibration.
    found: Calibration,
    /// The other descriptions, where candidates were given.
    ends: Vec<AlternativeEnd>,
    /// Which of them was chosen.
    chosen: usize,
}

/// Calibrates as the map of the word `calibrate` asks.
///
/// # Errors
/// Keys and numbers that cannot be right, and calibrations that cannot be made.
pub fn calibrate_study(model: &Model, asked: Map) -> Result<StudyAnswer, ScriptError> {
    let subject = subject(model);
    let asked = AskedCalibration::read(asked, model, &subject)?;
    let ends = compare_alternatives(&subject, &asked.question, &asked.candidates);
    let most = ends
        .iter()
        .enumerate()
        .max_by(|(_, one), (_, other)| one.share.total_cmp(&other.share));
    let (chosen, surveyed, found) = match most {
        Some((place, end)) => {
            let changes = asked
                .candidates
                .get(place)
                .map_or(&[][..], |one| one.changes.as_slice());
            let found = end
                .calibration
                .clone()
                .map_err(|error| refused(&error, &model.units))?;
            (place, subject.changed(changes), found)
        }
        None => {
            let found =
                calibrate(&subject, &asked.question).map_err(|error| refused(&error, &model.units))?;
            (0, subject.clone(), found)
        }
    };
    let calibrated = Calibrated {
        asked,
        surveyed,
        found,
        ends,
        chosen,
    };
    Ok(answer::answer(model, &subject, &calibrated))
}

fn refused(error: &CalibrationError, units: &Units) -> ScriptError {
    match error {
        CalibrationError::Subject(error) => ScriptError::new(error.sentence().render(units.shown())),
        CalibrationError::NoValue { name, error } => ScriptError::new(format!(
            "the reading `{name}` does not exist on the described suspension: {}",
            error.sentence().render(units.shown())
        )),
        other => ScriptError::new(other.to_string()),
    }
}

impl Calibrated {
    fn prior(&self) -> &Uncertainty {
        &self.asked.question.uncertainty
    }
}
