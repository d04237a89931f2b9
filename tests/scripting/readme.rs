//! The README says what the program really prints and draws.

use assert_cmd::Command;
use std::path::{Path, PathBuf};

fn top() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn readme() -> String {
    std::fs::read_to_string(top().join("README.md")).unwrap()
}

/// The code block behind a mark.
fn block(mark: &str) -> String {
    let text = readme();
    let (_, rest) = text
        .split_once(&format!("<!-- {mark} -->\n"))
        .unwrap_or_else(|| panic!("no mark {mark:?}"));
    let (_, rest) = rest.split_once('\n').unwrap();
    rest.split_once("```").unwrap().0.to_owned()
}

fn run(arguments: &[&str]) -> (String, tempfile::TempDir) {
    let folder = tempfile::tempdir().unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_kin"))
        .args(arguments)
        .arg("--output")
        .arg(folder.path().join("output"))
        .current_dir(top())
        .output()
        .unwrap();
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    (String::from_utf8(output.stdout).unwrap(), folder)
}

#[test]
fn the_output_shown_is_the_output_printed() {
    let script = "examples/01_front_coilover.rhai";
    assert!(block("command: the main job").contains(script));
    let (printed, _folder) = run(&["run", script]);
    let shown = block("output: the main job");
    assert!(shown.lines().count() > 10);
    // The README stops before the table.
    assert!(
        printed.starts_with(shown.as_str()),
        "the README shows:\n{shown}\nthe program prints:\n{printed}"
    );
}

/// Pictures that the README shows: the example that draws each, and its file there.
const PICTURES: [(&str, &str); 4] = [
    ("01_front_coilover", "damper.svg"),
    ("01_front_coilover", "front.svg"),
    ("24_holes_and_tape", "damper_length.svg"),
    ("36_roll_centre_drawing", "replacement.svg"),
];

#[test]
fn the_pictures_shown_are_the_pictures_drawn() {
    let text = readme();
    let shown: Vec<&str> = text.split("](examples/pictures/").skip(1).collect();
    assert_eq!(shown.len(), PICTURES.len(), "a picture that no example draws");
    for (example, file) in PICTURES {
        assert!(
            shown.iter().any(|rest| rest.starts_with(&format!("{file})"))),
            "{file} is not shown"
        );
        let (_, folder) = run(&["run", &format!("examples/{example}.rhai")]);
        let drawn = std::fs::read_to_string(folder.path().join("output").join(file)).unwrap();
        let kept = std::fs::read_to_string(top().join("examples/pictures").join(file)).unwrap();
        assert!(
            kept == drawn,
            "copy the new {file} of {example} to examples/pictures"
        );
    }
}

#[test]
fn the_script_shown_runs() {
    let folder = tempfile::tempdir().unwrap();
    let script = folder.path().join("first.rhai");
    std::fs::write(&script, block("script: a first script")).unwrap();
    let (printed, _output) = run(&["run", script.to_str().unwrap()]);
    assert!(printed.contains("10 mm up: bump to the stop"), "{printed}");
}
