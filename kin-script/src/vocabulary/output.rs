//! Words for files in the output folder.

use super::checks::ScriptStroke;
use super::described::ScriptModel;
use super::fit::{ScriptFit, ScriptReport};
use super::study::ScriptStudy;
use super::swept::ScriptTable;
use crate::host::{ScriptError, Session, Word};
use crate::model::{ModelFile, ModelFormat};
use crate::study::{StudyAnswer, study_text};
use crate::table::{Table, TableError};
use rhai::{Dynamic, Engine, EvalAltResult, ImmutableString};
use std::path::Path;

pub(super) const NAMES: &[&str] = &["save"];

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, session: &Session) {
    let writing = session.clone();
    Word {
        name: "save",
        parameters: &["file: text", "what: model/table/stroke/study/text", "text"],
        documentation: "Writes a file into the output folder and returns its path: a table as `.csv`, `.json` or `.txt`, a model \
            as `.toml` or `.json`, a stroke check or a text as `.txt` or `.md`, a study as `.csv` (its main table), `.json` (all of it) or \
            `.txt`.",
    }
    .register(engine, move |file: &str, what: Dynamic| save(&writing, file, &what));
}

fn save(session: &Session, file: &str, what: &Dynamic) -> Result<String, Box<EvalAltResult>> {
    named(file, "save(\"curves.csv\", table)")?;
    let ending = Path::new(file)
        .extension()
        .and_then(|ending| ending.to_str())
        .unwrap_or("")
        .to_ascii_lowercase();
    let text = if let Some(table) = what.read_lock::<ScriptTable>() {
        table_text(&table.0, &ending)?
    } else if let Some(model) = what.read_lock::<ScriptModel>() {
        let format =
            ModelFormat::of(Path::new(file)).ok_or_else(|| wrong_ending("a model", ".toml or .json"))?;
        ModelFile::write(&model.model, format)?
    } else if let Some(stroke) = what.read_lock::<ScriptStroke>() {
        plain(stroke.text(), &ending, "a stroke check")?
    } else if let Some(report) = what.read_lock::<ScriptReport>() {
        plain(report.text(), &ending, "a check's report")?
    } else if let Some(fit) = what.read_lock::<ScriptFit>() {
        plain(fit.text(), &ending, "a fit sheet")?
    } else if let Some(study) = what.read_lock::<ScriptStudy>() {
        study_file(&study.0, &ending)?
    } else if let Some(text) = what.read_lock::<ImmutableString>() {
        plain(text.to_string(), &ending, "a text")?
    } else {
        let got = crate::explain::value_words(what);
        return Err(ScriptError::new(format!(
            "expected a table, a model, a stroke check or a text, got {got}"
        ))
        .into());
    };
    Ok(session
        .output_folder()
        .write(file, text.as_bytes())?
        .display()
        .to_string())
}

fn table_text(table: &Table, ending: &str) -> Result<String, ScriptError> {
    let failed = |error: TableError| ScriptError::new(error.to_string());
    match ending {
        "csv" => table.csv().map_err(failed),
        "json" => table.json().map(|text| text + "\n").map_err(failed),
        "txt" | "md" => Ok(table.text() + "\n"),
        _ => Err(wrong_ending("a table", ".csv, .json or .txt")),
    }
}

/// A study as a sheet, as its main table, or whole.
fn study_file(study: &StudyAnswer, ending: &str) -> Result<String, ScriptError> {
    match (ending, study.tables.first()) {
        ("csv", Some(main)) => table_text(&main.table, ending),
        ("json", _) => study
            .json()
            .map(|text| text + "\n")
            .map_err(|error| ScriptError::new(error.to_string())),
        ("txt" | "md", _) => Ok(study_text(study) + "\n"),
        _ => Err(wrong_ending("a study", ".csv, .json, .txt or .md")),
    }
}

fn plain(text: String, ending: &str, what: &str) -> Result<String, ScriptError> {
    if ["txt", "md"].contains(&ending) {
        Ok(text + "\n")
    } else {
        Err(wrong_ending(what, ".txt or .md"))
    }
}

/// Refuses a file without a name.
pub(super) fn named(file: &str, example: &str) -> Result<(), ScriptError> {
    if file.trim().is_empty() {
        return Err(ScriptError::new("the file has no name").with_help(format!(
            "name it with its ending, such as {example}; it lands in the output folder"
        )));
    }
    Ok(())
}

fn wrong_ending(what: &str, endings: &str) -> ScriptError {
    ScriptError::new(format!("{what} is saved in a file that ends in {endings}"))
}
