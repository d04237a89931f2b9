//! What every example, lesson and model file prints, compared with what was recorded: it says "changed", not "right".
//!
//! Set the variable `KIN_RECORD` to write the records anew, and read the difference before committing it.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use crate::examples::{Ran, examples, files, name, read, runs_as_promised};

fn records() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/scripting/printed")
}

/// Where what a script prints is recorded: in a folder such as `lessons`, if it stands in one beside the examples.
fn record_of(script: &Path) -> PathBuf {
    let inside = script.strip_prefix(examples()).unwrap();
    records().join(inside.with_extension("txt"))
}

/// The first line that differs from the record, and how to renew it; none where nothing does.
///
/// Folders of a run are its own, so they are told as OUTPUT.
pub(crate) fn change(script: &Path, ran: &Ran) -> Option<String> {
    let printed = ran
        .printed
        .replace(&ran.output.path().display().to_string(), "OUTPUT");
    let record = record_of(script);
    if std::env::var_os("KIN_RECORD").is_some() {
        fs::create_dir_all(record.parent().unwrap()).unwrap();
        fs::write(&record, &printed).unwrap();
        return None;
    }
    let recorded = fs::read_to_string(&record).unwrap_or_default();
    let shown = name(script);
    first_difference(&recorded, &printed).map(|difference| format!("{shown}: {difference}"))
}

/// Where two texts differ first, in words.
fn first_difference(recorded: &str, printed: &str) -> Option<String> {
    if recorded == printed {
        return None;
    }
    let (mut before, mut now) = (recorded.lines(), printed.lines());
    let mut line = 0;
    loop {
        line += 1;
        match (before.next(), now.next()) {
            (None, None) => return Some("the end of the last line differs".to_owned()),
            (Some(before), Some(now)) if before == now => {}
            (before, now) => {
                let told = |text: Option<&str>| text.map_or("nothing".to_owned(), |text| format!("{text:?}"));
                return Some(format!("line {line} was {}, and is {}", told(before), told(now)));
            }
        }
    }
}

/// Fails with every change that was found.
pub(crate) fn nothing_changed(changes: &[String]) {
    assert!(
        changes.is_empty(),
        "what is printed differs from the record in tests/scripting/printed:\n{}\nif this is meant, renew the records with \
         KIN_RECORD=1 cargo test -p kin-script --test scripting -- every_example_runs every_lesson_runs every_model_file worksheet_prints and read \
         the difference before committing it",
        changes.join("\n")
    );
}

#[test]
fn the_worksheet_prints_what_was_recorded() {
    let script = examples().join("lessons/worksheet.rhai");
    let change = change(&script, &runs_as_promised(&script, "//"));
    nothing_changed(change.as_slice());
}

#[test]
fn the_first_line_that_differs_is_told() {
    assert_eq!(first_difference("a\nb\n", "a\nb\n"), None);
    let told = |recorded, printed| first_difference(recorded, printed).unwrap();
    assert_eq!(told("a\nb\n", "a\nc\n"), "line 2 was \"b\", and is \"c\"");
    assert_eq!(told("a\n", "a\nc\n"), "line 2 was nothing, and is \"c\"");
    assert_eq!(told("a\n", "a"), "the end of the last line differs");
}

#[test]
fn every_record_belongs_to_a_script() {
    for folder in ["", "lessons", "vehicles"] {
        let scripts = fs::read_dir(examples().join(folder)).unwrap();
        let known: BTreeSet<PathBuf> = scripts
            .map(|entry| entry.unwrap().path())
            .filter(|path| path.is_file())
            .map(|path| path.with_extension("txt"))
            .map(|path| path.strip_prefix(examples()).unwrap().to_owned())
            .collect();
        for record in files(&records().join(folder), "txt") {
            let own = record.strip_prefix(records()).unwrap();
            assert!(
                known.contains(own),
                "{} records what no script prints",
                own.display()
            );
            assert!(!read(&record).is_empty(), "{} is empty", own.display());
        }
    }
}
