//! Runs scripts in a folder of their own and gives back what a user would see.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use kin_script::explain::Report;
use kin_script::host::{
    Captured, Limits, Outcome, OutputFolder, Registrar, ScriptFolder, Session, Setup, Words, run_text,
};

/// A folder with scripts, deleted when it is dropped.
pub(crate) struct Garage {
    /// Deletes the folder.
    pub(crate) keep: tempfile::TempDir,
    /// What the last run may use.
    pub(crate) limits: Limits,
    /// Words registered besides those of the host.
    pub(crate) registrars: Vec<Registrar>,
    /// What was printed.
    pub(crate) printed: Captured,
}

impl Garage {
    pub(crate) fn new() -> Self {
        let keep = tempfile::tempdir().unwrap();
        std::fs::create_dir_all(keep.path().join("garage/vehicles")).unwrap();
        Self {
            keep,
            limits: Limits::default(),
            registrars: Vec::new(),
            printed: Captured::default(),
        }
    }

    /// The folder around the script's own.
    pub(crate) fn outside(&self) -> &Path {
        self.keep.path()
    }

    /// A path in the script's own folder.
    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.keep.path().join("garage").join(name)
    }

    pub(crate) fn file(&self, name: &str, text: &str) {
        std::fs::write(self.path(name), text).unwrap();
    }

    pub(crate) fn session(&self) -> Session {
        let script_folder = ScriptFolder::new(&self.path("")).unwrap();
        let output_folder =
            OutputFolder::new(self.keep.path().join("output"), &script_folder, &self.limits).unwrap();
        Session::new(Setup {
            script_folder,
            output_folder,
            limits: self.limits.clone(),
            printer: Arc::new(self.printed.clone()),
            words: Words::default(),
        })
    }

    pub(crate) fn run(&self, text: &str) -> Result<Outcome, Report> {
        run_text("script.rhai", text, &self.session(), &self.registrars)
    }

    /// The report of a script that must fail, with the changing folder name cut from it.
    pub(crate) fn report(&self, text: &str) -> Report {
        match self.run(text) {
            Ok(_) => panic!("this script should fail:\n{text}"),
            Err(report) => report,
        }
    }

    /// A report as a user sees it, with the name of this folder cut out.
    pub(crate) fn shown(&self, report: &Report) -> String {
        report
            .render(false)
            .replace(&format!("{}/", self.path("").display()).replace("//", "/"), "")
    }
}

/// A garage whose scripts have other limits.
pub(crate) fn bounded(limits: Limits) -> Garage {
    Garage {
        limits,
        ..Garage::new()
    }
}

/// A garage whose scripts are stopped after a few steps, long before the clock could matter.
pub(crate) fn few_steps() -> Garage {
    bounded(Limits {
        operations: 100_000,
        wall_time: Duration::from_secs(600),
        ..Limits::default()
    })
}

/// File, line and column of the innermost place of a report.
pub(crate) fn place(report: &Report) -> (String, usize, usize) {
    let place = report
        .places
        .first()
        .unwrap_or_else(|| panic!("no place in:\n{report}"));
    let file = Path::new(&place.file)
        .file_name()
        .unwrap_or_default()
        .to_string_lossy()
        .into_owned();
    (file, place.line, place.column)
}

/// A script that must fail at a line and column of its own with a message holding `what`.
pub(crate) fn fails(garage: &Garage, script: &str, what: &str, line: usize, column: usize) -> Report {
    let report = garage.report(script);
    assert!(report.what.contains(what), "expected {what:?} in:\n{report}");
    assert_eq!(
        place(&report),
        ("script.rhai".to_owned(), line, column),
        "{report}"
    );
    report
}
