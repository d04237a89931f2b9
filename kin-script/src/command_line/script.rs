//! `kin run`: a script, or a model file on its own.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use clap::Args;

use super::model_sheet::{self, ModelOptions};
use super::{Ended, say};
use crate::explain::Report;
use crate::fit::COLUMNS;
use crate::host::{
    Limits, Outcome, OutputFolder, Printer, ScriptError, ScriptFolder, Session, Setup, Silent, Terminal,
    run_file,
};
use crate::model::ModelFormat;
use crate::vocabulary;

/// A loop of checks that all fail is not listed to its end.
const MOST_FAILURES: usize = 10;

/// The arguments of `kin run`.
#[derive(Debug, Args)]
pub(super) struct Run {
    /// A script (.rhai), or a model file (.toml or .json). A script may read files of its own folder, and nothing
    /// outside it.
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// The folder outputs land in; nothing is written outside it. By default FILE-output, where you are.
    #[arg(long, value_name = "FOLDER")]
    output: Option<PathBuf>,
    /// Seconds after which the run is stopped, for long studies.
    #[arg(long, value_name = "SECONDS", default_value_t = 600, value_parser = clap::value_parser!(u64).range(1..=86_400))]
    time_limit: u64,
    /// Print nothing but errors.
    #[arg(long)]
    quiet: bool,
    #[command(flatten)]
    model: ModelOptions,
}

impl Run {
    pub(super) fn carry_out(&self) -> Ended {
        if self.file.is_dir() {
            return Err(Report::without_place(self.folder_named()));
        }
        let session = self.session().map_err(Report::without_place)?;
        let outcome = if ModelFormat::of(&self.file).is_some() {
            model_sheet::run(&self.file, &session, &self.model).map_err(Report::without_place)?
        } else {
            if self.model.is_given() {
                let error =
                    ScriptError::new("--curves, --from, --to, --step and --format go with a model file")
                        .with_help("in a script, say so with `sweep`, `table` and `save`");
                return Err(Report::without_place(error));
            }
            run_file(&self.file, &session, &vocabulary::REGISTRARS)?
        };
        if !self.quiet && !self.model.is_for_a_program() {
            for remark in &outcome.remarks {
                say(&format!(
                    "\n{}",
                    textwrap::fill(&format!("Remark: {remark}"), COLUMNS)
                ));
            }
            show(&outcome, &self.output_path());
        }
        Ok(outcome.exit_code())
    }

    /// A folder was named where a file is meant: its scripts and model files are what could be meant.
    fn folder_named(&self) -> ScriptError {
        let error = ScriptError::new(format!(
            "{} is a folder: name one file in it",
            self.file.display()
        ));
        let entries = std::fs::read_dir(&self.file).into_iter().flatten().flatten();
        let is_runnable = |path: &PathBuf| {
            path.extension().is_some_and(|ending| ending == "rhai") || ModelFormat::of(path).is_some()
        };
        let mut files: Vec<PathBuf> = entries.map(|entry| entry.path()).filter(is_runnable).collect();
        files.sort();
        match files.first() {
            Some(first) => error.with_help(format!("such as: kin run {}", first.display())),
            None => error.with_help(
                "there is no script (.rhai) or model file (.toml, .json) in it; `kin start` writes a script",
            ),
        }
    }

    fn session(&self) -> Result<Session, ScriptError> {
        let limits = Limits {
            wall_time: Duration::from_secs(self.time_limit),
            ..Limits::default()
        };
        let folder = ScriptFolder::new(self.file.parent().unwrap_or(Path::new("")))?;
        let output_folder = OutputFolder::new(self.output_path(), &folder, &limits)?;
        let printer: Arc<dyn Printer> = if self.quiet {
            Arc::new(Silent)
        } else {
            Arc::new(Terminal)
        };
        Ok(Session::new(Setup {
            script_folder: folder,
            output_folder,
            limits,
            printer,
            words: vocabulary::words(),
        }))
    }

    fn output_path(&self) -> PathBuf {
        self.output.clone().unwrap_or_else(|| {
            let stem = self.file.file_stem().unwrap_or_default().to_string_lossy();
            PathBuf::from(format!("{stem}-output"))
        })
    }
}

/// Says what was written and what failed.
fn show(outcome: &Outcome, folder: &Path) {
    let files = match outcome.files.len() {
        0 => None,
        1 => Some("1 file".to_owned()),
        count => Some(format!("{count} files")),
    };
    if let Some(files) = files {
        say(&format!("Wrote {files} into {}", folder.display()));
    }
    let failed = &outcome.failed_checks;
    if let Some(last) = failed.len().checked_sub(1) {
        let checks = if last == 0 {
            "A check fails".to_owned()
        } else {
            format!("{} checks fail", failed.len())
        };
        say(&format!("{checks}, so the exit code is 1:"));
        for what in failed.iter().take(MOST_FAILURES) {
            say(&textwrap::fill(
                what,
                textwrap::Options::new(COLUMNS)
                    .initial_indent("  ")
                    .subsequent_indent("    "),
            ));
        }
        if failed.len() > MOST_FAILURES {
            say(&format!("  and {} more", failed.len() - MOST_FAILURES));
        }
    }
}
