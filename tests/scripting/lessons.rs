//! Every lesson runs, fits on a screen, and leads to its question and the answer.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use crate::examples::{examples, files, name, read, runs_as_promised};
use crate::printed::{change, nothing_changed};

/// Lines of a script that a screen or a projector shows at once: a choice of ours, no source.
const SCREEN_LINES: usize = 35;
const SCREEN_COLUMNS: usize = 122;

fn lessons() -> Vec<PathBuf> {
    let scripts = files(&examples().join("lessons"), "rhai");
    scripts
        .into_iter()
        .filter(|script| name(script) != "worksheet.rhai")
        .collect()
}

#[test]
fn every_lesson_runs_prints_its_question_and_makes_its_pictures() {
    let mut changes = Vec::new();
    for script in lessons() {
        let ran = runs_as_promised(&script, "//");
        let shown = script.display();
        let last = ran.printed.lines().rfind(|line| line.starts_with("Question: "));
        assert!(
            last.is_some_and(|line| line.ends_with('?')),
            "{shown} asks nothing"
        );
        let written = fs::read_dir(ran.output.path()).unwrap();
        let pictures = written
            .map(|entry| entry.unwrap().path())
            .filter(|path| path.extension().is_some_and(|ending| ending == "svg"));
        // The roll centre has its construction, and the curve that the question is about.
        let expected = if name(&script).starts_with("06_") { 2 } else { 1 };
        assert_eq!(pictures.count(), expected, "{shown}");
        changes.extend(change(&script, &ran));
    }
    nothing_changed(&changes);
}

#[test]
fn every_lesson_fits_on_a_screen_and_holds_what_it_teaches() {
    let (syllabus, answers) = (
        read(&examples().join("lessons/README.md")),
        read(&examples().join("lessons/answers.md")),
    );
    for (index, script) in lessons().iter().enumerate() {
        let (text, file) = (read(script), name(script));
        let number = index + 1;
        let first = text.lines().next().unwrap_or_default();
        assert!(
            first.starts_with(&format!("// Lesson {number}. ")) && first.ends_with('?'),
            "{file}: {first:?}"
        );
        assert!(file.starts_with(&format!("{number:02}_")), "{file}");
        for heading in ["// Needs: ", "// You change: ", "// You get: "] {
            assert!(text.contains(heading), "{file} has no `{heading}`");
        }
        assert!(
            text.contains("invented"),
            "{file} does not say its numbers are invented"
        );
        assert!(
            text.contains("\nassert"),
            "{file} does not assert what it teaches"
        );
        assert!(
            text.lines().count() <= SCREEN_LINES,
            "{file} is longer than a screen"
        );
        assert!(
            text.lines().all(|line| line.chars().count() <= SCREEN_COLUMNS),
            "{file} is wider than a screen"
        );
        assert!(
            syllabus.contains(&format!("]({file})")),
            "README.md does not name {file}"
        );
        assert!(
            answers
                .lines()
                .any(|line| line.starts_with(&format!("{number}. **"))),
            "answers.md does not answer {file}"
        );
    }
}

#[test]
fn the_vehicles_of_the_lessons_are_those_of_the_examples() {
    let copies = fs::read_dir(examples().join("lessons/vehicles")).unwrap();
    let copies: BTreeSet<PathBuf> = copies.map(|entry| entry.unwrap().path()).collect();
    assert!(!copies.is_empty());
    for copy in copies {
        let original = examples().join("vehicles").join(name(&copy));
        assert_eq!(
            read(&copy),
            read(&original),
            "{} was changed alone",
            copy.display()
        );
    }
}
