//! The checks of a fit sheet, as a tolerance study asks them of every variant.

use crate::fit::{Asked, FitSheet};
use crate::host::ScriptError;
use crate::study::suspension;
use crate::units::Units;
use crate::vocabulary::{core_error, stroke_of, stroke_question};
use kin_core::Sentence;
use kin_core::checks::{Finding, StrokeQuestion};
use kin_core::study::Built;
use rhai::Map;

/// All findings of a variant.
///
/// The stroke check is asked only where `wanted` stands among the questions: the model's own limits of bump and droop are
/// requirements of the study already.
pub(super) fn findings(built: &Built, questions: &Map, units: Units) -> Result<Vec<Finding>, Sentence> {
    run(built, questions, units).map_err(|error| Sentence::from(error.what))
}

/// The same, with the error as a script sees it.
pub(super) fn run(built: &Built, questions: &Map, units: Units) -> Result<Vec<Finding>, ScriptError> {
    let suspension = suspension(built.clone());
    let asked = Asked::new(&suspension, units);
    let mut questions = questions.clone();
    let stroke = match questions.remove("wanted") {
        Some(wanted) => {
            let wanted = wanted.try_cast::<Map>().unwrap_or_default();
            let question: StrokeQuestion = stroke_question(wanted, &units)?;
            stroke_of(&suspension, &question).map_err(|error| core_error(&error, &units))?
        }
        None => Vec::new(),
    };
    let sheet = FitSheet::new("", &asked, stroke, questions)?;
    Ok(sheet.findings().cloned().collect())
}
