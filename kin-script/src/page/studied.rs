//! Studies on the sheet: what was asked, what it comes to, and the pictures that show it.

use super::inputs::{GivenPart, parts_asked};
use super::numbers::{Grid, Values, first_rows, values};
use super::picture::{Picture, picture};
use crate::host::ScriptError;
use crate::study::StudyAnswer;
use crate::units::Units;
use serde::Serialize;

/// Rows of a table that a page shows: nobody reads more from a wall.
const MOST_ROWS: usize = 16;

/// What stands on a sheet beside the checks.
#[derive(Debug, Clone)]
pub enum Studied {
    /// The answer of a study.
    Answer(Box<StudyAnswer>),
    /// A sheet of its own in words, such as that of a survey.
    Words {
        /// What it is about.
        title: String,
        /// Its text, line by line.
        text: String,
    },
}

/// A study as it stands on the page.
#[derive(Debug, Serialize)]
pub(super) struct StudySection {
    heading: String,
    stopped: Option<String>,
    statements: Vec<String>,
    text: Option<String>,
    values: Values,
    pictures: Vec<Picture>,
    tables: Vec<Grid>,
    asked: Vec<GivenPart>,
}

/// The section of a study.
///
/// * `place`: which of the studies it is; the names inside its pictures are told apart by it
///
/// # Errors
/// A picture of it that cannot be drawn.
pub(super) fn study_section((place, studied): (usize, &Studied)) -> Result<StudySection, ScriptError> {
    let answer = match studied {
        Studied::Answer(answer) => answer,
        Studied::Words { title, text } => {
            return Ok(StudySection {
                heading: title.clone(),
                stopped: None,
                statements: Vec::new(),
                text: Some(text.clone()),
                values: values(&[], &Units::default()),
                pictures: Vec::new(),
                tables: Vec::new(),
                asked: Vec::new(),
            });
        }
    };
    let pictures = answer.pictures.iter().enumerate().map(|(inside, (_, drawn))| {
        let prefix = format!("study-{}-{}-", place + 1, inside + 1);
        Ok(picture(&drawn.svg()?, &prefix))
    });
    // What a picture shows need not be read off a table as well.
    let tables = answer.tables.iter().filter(|named| !named.is_drawn);
    Ok(StudySection {
        heading: answer.title.clone(),
        stopped: answer.stopped.clone(),
        statements: answer.statements.clone(),
        text: None,
        values: values(&answer.items, &answer.units),
        pictures: pictures.collect::<Result<_, ScriptError>>()?,
        tables: tables
            .map(|named| first_rows(&named.caption, &named.table, MOST_ROWS, &answer.units))
            .collect(),
        asked: parts_asked(&answer.asked),
    })
}
