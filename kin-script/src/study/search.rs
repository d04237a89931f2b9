//! The search in a script: what is asked, what it comes to in words, tables and pictures.

mod answer;
mod asked;
mod moves;
mod pictures;
mod tables;
mod words;

pub(crate) use asked::measure_of;
pub(crate) use pictures::capitalised;
pub(crate) use tables::{number_column, text_column};

use super::{StudyAnswer, subject};
use crate::host::ScriptError;
use crate::model::Model;
use asked::AskedSearch;
use kin_core::study::Progress;
use rhai::Map;

/// Searches as the map of the word `search` asks.
///
/// # Errors
/// Keys and numbers that cannot be right, and searches that cannot be made.
pub fn search_study(model: &Model, asked: Map, progress: &dyn Progress) -> Result<StudyAnswer, ScriptError> {
    let subject = subject(model);
    let asked = AskedSearch::read(asked, model, &subject)?;
    let found = kin_core::study::search::search(&subject, &asked.question, progress)
        .map_err(|error| ScriptError::new(error.to_string()))?;
    Ok(answer::answer(model, &subject, &asked, &found))
}
