//! Every example script, mistake, template and model file does what its head says.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use tempfile::TempDir;

/// One run of the program.
pub(crate) struct Ran {
    pub(crate) exit: i32,
    pub(crate) printed: String,
    pub(crate) complaint: String,
    pub(crate) output: TempDir,
}

pub(crate) fn examples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples")
}

/// Runs the program in a folder, with an output folder of its own.
pub(crate) fn kin(folder: &Path, arguments: &[&str]) -> Ran {
    let output = tempfile::tempdir().unwrap();
    let done = Command::new(env!("CARGO_BIN_EXE_kin"))
        .current_dir(folder)
        .args(arguments)
        .arg("--output")
        .arg(output.path())
        .output()
        .unwrap();
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
    Ran {
        exit: done.status.code().unwrap(),
        printed: text(&done.stdout),
        complaint: text(&done.stderr),
        output,
    }
}

/// Runs a file as a user does who stands in its folder.
pub(crate) fn run(file: &Path) -> Ran {
    kin(file.parent().unwrap(), &["run", &name(file)])
}

/// Files with this ending in a folder, by name.
pub(crate) fn files(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let mut found: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|found| found == ending))
        .collect();
    found.sort();
    assert!(!found.is_empty(), "no .{ending} in {}", folder.display());
    found
}

pub(crate) fn name(path: &Path) -> String {
    path.file_name().unwrap().to_string_lossy().into_owned()
}

pub(crate) fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// What a comment of the head says behind a heading, such as `// Exit: 1`.
fn said<'a>(text: &'a str, mark: &str, heading: &str) -> Option<&'a str> {
    text.lines()
        .map_while(|line| line.strip_prefix(mark))
        .find_map(|line| line.trim_start().strip_prefix(heading))
        .map(str::trim)
}

fn promised_exit(text: &str, mark: &str) -> i32 {
    said(text, mark, "Exit:").map_or(0, |promise| {
        let number = promise.split(' ').next().unwrap_or_default();
        number
            .parse()
            .unwrap_or_else(|_| panic!("{promise:?} is no exit code"))
    })
}

/// Every picture in the folder is XML with a title and a description for those who cannot see it.
fn pictures_are_sound(folder: &Path) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|ending| ending != "svg") {
            continue;
        }
        let text = read(&path);
        let picture =
            roxmltree::Document::parse(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        let root = picture.root_element();
        assert_eq!(root.tag_name().name(), "svg", "{}", path.display());
        for needed in ["title", "desc"] {
            let words = root
                .children()
                .find(|node| node.has_tag_name((root.tag_name().namespace().unwrap_or(""), needed)));
            let words = words.and_then(|node| node.text()).unwrap_or_default();
            assert!(!words.trim().is_empty(), "{} has no {needed}", path.display());
        }
    }
}

pub(crate) fn runs_as_promised(file: &Path, mark: &str) -> Ran {
    let ran = run(file);
    let shown = file.display();
    assert_eq!(
        ran.exit,
        promised_exit(&read(file), mark),
        "{shown}\n{}{}",
        ran.printed,
        ran.complaint
    );
    assert_eq!(ran.complaint, "", "{shown}");
    pictures_are_sound(ran.output.path());
    ran
}

#[test]
fn every_example_runs_and_exits_as_its_head_says() {
    for script in files(&examples(), "rhai") {
        runs_as_promised(&script, "//");
    }
}

#[test]
fn every_example_says_its_question_for_whom_and_what_to_change() {
    for script in files(&examples(), "rhai") {
        let text = read(&script);
        let shown = script.display();
        let question = text
            .lines()
            .next()
            .and_then(|line| line.strip_prefix("// "))
            .unwrap_or_default();
        assert!(question.ends_with('?'), "{shown}: the first line asks nothing");
        for heading in ["For:", "You change:", "You get:"] {
            assert!(said(&text, "//", heading).is_some(), "{shown} has no `{heading}`");
        }
        assert!(text.contains("assert"), "{shown} holds no lesson");
        assert!(
            text.contains("nvented") || text.contains("load("),
            "{shown} does not say its numbers are invented"
        );
        assert!(
            text.lines().all(|line| line.chars().count() <= 122),
            "{shown} has a line too long for a screen"
        );
    }
}

#[test]
fn every_model_file_runs_without_a_script() {
    for model in files(&examples().join("vehicles"), "toml") {
        let text = read(&model);
        assert!(
            text.contains("provenance = \"invented\""),
            "{} does not say where its numbers come from",
            model.display()
        );
        let ran = runs_as_promised(&model, "#");
        assert!(ran.printed.contains("Stroke check"), "{}", model.display());
        for written in [
            "stroke.txt",
            "curves.csv",
            "curves.svg",
            "linkage.svg",
            "sheet.html",
        ] {
            assert!(
                ran.output.path().join(written).is_file(),
                "{}: {written}",
                model.display()
            );
        }
    }
}

/// Set the variable `KIN_RECORD` to write the messages anew, and read the difference before committing it.
#[test]
fn every_mistake_is_explained_as_recorded() {
    let record = std::env::var_os("KIN_RECORD").is_some();
    for script in files(&examples().join("mistakes"), "rhai") {
        let ran = run(&script);
        let shown = script.display();
        assert_eq!(ran.exit, 2, "{shown}\n{}{}", ran.printed, ran.complaint);
        assert!(
            said(&read(&script), "//", "Mistake:").is_some(),
            "{shown} does not say its mistake"
        );
        let expected = script.with_extension("expected");
        if record {
            fs::write(&expected, &ran.complaint).unwrap();
        }
        assert_eq!(ran.complaint, read(&expected), "{shown}");
    }
}

#[test]
fn every_starting_script_runs_as_it_is() {
    for layout in [
        "double-wishbone",
        "triangulated-four-link",
        "parallel-four-link",
        "three-link",
    ] {
        let folder = tempfile::tempdir().unwrap();
        let script = folder.path().join("mine.rhai");
        let start = || {
            let mut command = Command::new(env!("CARGO_BIN_EXE_kin"));
            command.current_dir(folder.path());
            command.args(["start", layout, "mine.rhai"]).assert()
        };
        start().success();
        let text = read(&script);
        assert!(
            text.contains("INVENTED"),
            "{layout} does not say its numbers are invented"
        );
        let ran = runs_as_promised(&script, "//");
        assert!(ran.printed.contains("Stroke check"), "{layout}");
        // What someone has filled in is never overwritten.
        start().code(2);
        assert_eq!(read(&script), text);
    }
}

#[test]
fn the_same_script_writes_the_same_bytes() {
    let script = examples().join("09_arm_swap.rhai");
    let (first, second) = (run(&script), run(&script));
    let bytes = |ran: &Ran| -> Vec<(String, Vec<u8>)> {
        let mut files: Vec<(String, Vec<u8>)> = fs::read_dir(ran.output.path())
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .map(|path| (name(&path), fs::read(&path).unwrap()))
            .collect();
        files.sort();
        files
    };
    assert!(bytes(&first).len() >= 2);
    assert_eq!(bytes(&first), bytes(&second));
}

#[test]
fn the_table_of_examples_names_each_with_its_question_and_exit_code() {
    let table = read(&examples().join("README.md"));
    for script in files(&examples(), "rhai") {
        let text = read(&script);
        let question = text.lines().next().unwrap().trim_start_matches("// ");
        let file = name(&script);
        let row = table
            .lines()
            .find(|line| line.contains(&format!("]({file})")))
            .unwrap_or_else(|| panic!("README.md does not name {file}"));
        assert!(row.contains(question), "{file}: another question in README.md");
        let exit = format!("| {} |", promised_exit(&text, "//"));
        assert!(row.ends_with(&exit), "{file}: another exit code in README.md");
    }
    for script in files(&examples().join("mistakes"), "rhai") {
        let file = name(&script);
        assert!(
            table.contains(&format!("](mistakes/{file})")),
            "README.md does not name mistakes/{file}"
        );
    }
}

#[test]
fn nothing_lies_in_the_examples_that_is_not_run() {
    let run_or_read: BTreeSet<String> = [
        "README.md",
        "embed_core.rs",
        "pictures/damper.svg",
        "pictures/front.svg",
        "pictures/damper_length.svg",
        "pictures/replacement.svg",
        "lessons/README.md",
        "lessons/answers.md",
    ]
    .map(str::to_owned)
    .into();
    let mut stray = Vec::new();
    let mut folders = vec![examples()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            let inside = path.strip_prefix(examples()).unwrap();
            let shown = inside.to_string_lossy().replace('\\', "/");
            let depth = inside.components().count();
            let ending = path
                .extension()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned();
            let known = match (depth, ending.as_str()) {
                (1, "rhai") => shown.starts_with(|first: char| first.is_ascii_digit()),
                (1, _) => run_or_read.contains(&shown),
                (2, "svg") => run_or_read.contains(&shown),
                (2, "toml") if shown.starts_with("vehicles/") => true,
                (2, "rhai") if shown.starts_with("mistakes/") || shown.starts_with("lessons/") => true,
                (2, "md") => run_or_read.contains(&shown),
                (2, "expected") => path.with_extension("rhai").is_file(),
                _ => is_read_by_a_script(&path),
            };
            if !known {
                stray.push(shown);
            }
        }
    }
    assert!(stray.is_empty(), "never run: {stray:?}");
}

/// Whether a script in the folder above the file's own imports or loads it.
fn is_read_by_a_script(file: &Path) -> bool {
    let folder = file.parent().unwrap();
    let (Some(scripts), Some(own)) = (folder.parent(), folder.file_name()) else {
        return false;
    };
    let path = format!("{}/{}", own.to_string_lossy(), name(file));
    let module = path.trim_end_matches(".rhai");
    let reads = |text: &str| {
        text.contains(&format!("load(\"{path}\")"))
            || text.contains(&format!("survey(\"{path}\""))
            || text.contains(&format!("import \"{module}\""))
    };
    fs::read_dir(scripts)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "rhai"))
        .any(|script| reads(&read(&script)))
}
