//! Words for files in the output folder.

use super::checks::ScriptStroke;
use super::described::ScriptModel;
use super::fit::{ScriptFit, ScriptReport};
use super::fit_file::{fit_json, report_json, stroke_json};
use super::pages::ScriptDocument;
use super::study::ScriptStudy;
use super::swept::ScriptTable;
use crate::arguments;
use crate::host::{ScriptError, Session, Word};
use crate::model::{Model, ModelFile, ModelFormat};
use crate::study::{StudyAnswer, study_text};
use crate::table::{Cell, Column, DecimalMark, Table, TableError};
use rhai::{Dynamic, Engine, EvalAltResult, ImmutableString, Map};
use serde::Deserialize;
use std::path::Path;

pub(super) const NAMES: &[&str] = &["save"];

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, session: &Session) {
    let writing = session.clone();
    Word {
        name: "save",
        parameters: &["file: text", "what: model/table/stroke/study/page/text", "text"],
        documentation: "Writes a file into the output folder and returns its path: a table as `.csv`, `.json` or `.txt`, a model \
            as `.toml` or `.json`, or as `.csv` with its points and numbers, a text as `.txt` or `.md`, a stroke check, another \
            check or a fit sheet as `.txt`, `.md` or `.json` (every number and finding, with the units at its head), a study as `.csv` \
            (its main table), `.json` (all of it) or `.txt`, a page as `.html`, an animation as `.svg`.\n\n\
            `save(\"curves.csv\", table, #{ decimal: \"comma\" })` writes 1,5 instead of 1.5, with semicolons between the cells, for \
            spreadsheets set to a language with a decimal comma. The first line of a `.csv` names the columns with their units.\n\n\
            A model as `.csv` has the columns `name`, `x_mm`, `y_mm`, `z_mm` (or `_in`) for points and `number`, `unit` for the rest, as \
            given; a side that mirrors the other is not repeated. It is for spreadsheets and drawing programs; `load` reads `.toml` \
            and `.json`.",
    }
    .register(engine, move |file: &str, what: Dynamic| save(&writing, file, &what, DecimalMark::Point));
    let writing = session.clone();
    engine.register_fn("save", move |file: &str, what: Dynamic, how: Map| {
        let how: Form = arguments::read(Dynamic::from_map(how), "the file")?;
        if ending(file) != "csv" {
            return Err(ScriptError::new("`decimal` goes with files that end in .csv")
                .with_help("the other forms have the decimal point")
                .with_key("decimal")
                .into());
        }
        save(&writing, file, &what, how.decimal)
    });
}

/// How a file is written.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Form {
    decimal: DecimalMark,
}

fn ending(file: &str) -> String {
    let ending = Path::new(file).extension();
    ending
        .and_then(|ending| ending.to_str())
        .unwrap_or("")
        .to_ascii_lowercase()
}

fn save(
    session: &Session,
    file: &str,
    what: &Dynamic,
    mark: DecimalMark,
) -> Result<String, Box<EvalAltResult>> {
    named(file, "save(\"curves.csv\", table)")?;
    let ending = ending(file);
    let text = if let Some(table) = what.read_lock::<ScriptTable>() {
        table_text(&table.0, &ending, mark)?
    } else if let Some(model) = what.read_lock::<ScriptModel>() {
        model_text(model.model.as_ref(), file, &ending, mark)?
    } else if let Some(stroke) = what.read_lock::<ScriptStroke>() {
        match ending.as_str() {
            "json" => stroke_json(&stroke)?,
            _ => plain(stroke.text(), &ending, "a stroke check")?,
        }
    } else if let Some(report) = what.read_lock::<ScriptReport>() {
        match ending.as_str() {
            "json" => report_json(&report)?,
            _ => plain(report.text(), &ending, "a check's report")?,
        }
    } else if let Some(fit) = what.read_lock::<ScriptFit>() {
        match ending.as_str() {
            "json" => fit_json(&fit)?,
            _ => plain(fit.text(), &ending, "a fit sheet")?,
        }
    } else if let Some(document) = what.read_lock::<ScriptDocument>() {
        let kind = document.0.kind;
        if ending != kind.ending() {
            return Err(wrong_ending(kind.words(), &format!(".{}", kind.ending())).into());
        }
        document.0.text.clone()
    } else if let Some(study) = what.read_lock::<ScriptStudy>() {
        study_file(&study.0, &ending, mark)?
    } else if let Some(text) = what.read_lock::<ImmutableString>() {
        plain(text.to_string(), &ending, TEXT)?
    } else {
        let got = crate::explain::value_words(what);
        return Err(ScriptError::new(format!(
            "expected a table, a model, a study, a page, a stroke check or a text, got {got}"
        ))
        .into());
    };
    Ok(session
        .output_folder()
        .write(file, text.as_bytes())?
        .display()
        .to_string())
}

fn model_text(model: &Model, file: &str, ending: &str, mark: DecimalMark) -> Result<String, ScriptError> {
    if ending == "csv" {
        return table_text(&model.pickups_table(), ending, mark);
    }
    let format =
        ModelFormat::of(Path::new(file)).ok_or_else(|| wrong_ending("a model", ".toml, .json or .csv"))?;
    ModelFile::write(model, format)
}

fn table_text(table: &Table, ending: &str, mark: DecimalMark) -> Result<String, ScriptError> {
    let failed = |error: TableError| ScriptError::new(error.to_string());
    match ending {
        "csv" => table.csv_with(mark).map_err(failed),
        "json" => table.json().map(|text| text + "\n").map_err(failed),
        "txt" | "md" => Ok(table.text() + "\n"),
        _ => Err(wrong_ending("a table", ".csv, .json or .txt")),
    }
}

/// The table of a study; of one that was stopped with a column that says so.
fn marked(table: &Table, study: &StudyAnswer) -> Table {
    let mut table = table.clone();
    if let Some(stopped) = &study.stopped {
        table.columns.push(Column {
            name: "stopped".to_owned(),
            decimals: 0,
            cells: vec![Cell::Text(stopped.clone()); table.rows()],
        });
    }
    table
}

/// A study as a sheet, as its main table, or whole.
fn study_file(study: &StudyAnswer, ending: &str, mark: DecimalMark) -> Result<String, ScriptError> {
    match (ending, study.tables.first()) {
        ("csv", Some(main)) => table_text(&marked(&main.table, study), ending, mark),
        ("json", _) => study
            .json()
            .map(|text| text + "\n")
            .map_err(|error| ScriptError::new(error.to_string())),
        ("txt" | "md", _) => Ok(study_text(study) + "\n"),
        _ => Err(wrong_ending("a study", ".csv, .json, .txt or .md")),
    }
}

/// What a script's own text is called.
const TEXT: &str = "a text";

fn plain(text: String, ending: &str, what: &str) -> Result<String, ScriptError> {
    // A script may have put a table together as text itself.
    if ["txt", "md"].contains(&ending) || (ending == "csv" && what == TEXT) {
        Ok(text + "\n")
    } else {
        Err(wrong_ending(
            what,
            if what == TEXT {
                ".txt, .md or .csv"
            } else {
                ".txt, .md or .json"
            },
        ))
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
