//! The command line of the `kin` program.

use std::io::{IsTerminal, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use clap::{Args, Parser, Subcommand};

use crate::explain::Report;
use crate::host::{
    Limits, Outcome, OutputFolder, Printer, ScriptError, ScriptFolder, Session, Setup, Silent, Terminal,
    Words, run_file,
};

/// Exit code of anything that is an error. A failed check has 1, which [`Outcome::exit_code`] gives.
const ERROR: u8 = 2;

const EXIT_CODES: &str = "Exit code: 0 when every check holds or is tight, 1 when a check fails, \
    2 when something is wrong with the script or the command.";

/// Does the coilover fit, what does the wheel do, and which change makes it right: from pickup points in a short
/// script.
#[derive(Debug, Parser)]
#[command(
    name = "kin",
    version,
    after_help = EXIT_CODES
)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Run a script and write its outputs into a folder.
    #[command(after_help = EXIT_CODES)]
    Run(Run),
}

#[derive(Debug, Args)]
struct Run {
    /// The script. It may read files of its own folder, and nothing outside it.
    #[arg(value_name = "SCRIPT.rhai")]
    script: PathBuf,
    /// The folder outputs land in; nothing is written outside it. By default SCRIPT-output, where you are.
    #[arg(long, value_name = "FOLDER")]
    output: Option<PathBuf>,
    /// Print nothing but errors.
    #[arg(long)]
    quiet: bool,
}

/// Runs the program with the arguments of this process.
pub fn main() -> ExitCode {
    let Command::Run(run) = Arguments::parse().command;
    match run.carry_out() {
        Ok(outcome) => {
            if !run.quiet {
                show(&outcome, &run.output_path());
            }
            ExitCode::from(outcome.exit_code())
        }
        Err(report) => {
            let colour = std::io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none();
            // Nobody is left to tell when this fails.
            let _ = std::io::stderr()
                .lock()
                .write_all(report.render(colour).as_bytes());
            ExitCode::from(ERROR)
        }
    }
}

impl Run {
    fn carry_out(&self) -> Result<Outcome, Report> {
        let session = self.session().map_err(Report::without_place)?;
        run_file(&self.script, &session, &[])
    }

    fn session(&self) -> Result<Session, ScriptError> {
        let limits = Limits::default();
        let folder = ScriptFolder::new(self.script.parent().unwrap_or(Path::new("")))?;
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
            words: Words::default(),
        }))
    }

    fn output_path(&self) -> PathBuf {
        self.output.clone().unwrap_or_else(|| {
            let stem = self.script.file_stem().unwrap_or_default().to_string_lossy();
            PathBuf::from(format!("{stem}-output"))
        })
    }
}

/// Says what was written.
fn show(outcome: &Outcome, folder: &Path) {
    let files = match outcome.files.len() {
        0 => return,
        1 => "1 file".to_owned(),
        count => format!("{count} files"),
    };
    Terminal.print(&format!("Wrote {files} into {}", folder.display()));
}
