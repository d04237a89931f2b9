//! The command line of the `kin` program.

mod model_sheet;
mod script;
mod start;
mod words;

use std::io::{IsTerminal, Write};
use std::process::ExitCode;

use clap::{Parser, Subcommand};

use crate::explain::Report;

/// Exit code of anything that is an error. A failed check has 1, which [`crate::host::Outcome::exit_code`] gives.
const ERROR: u8 = 2;

const EXIT_CODES: &str = "Exit code: 0 when every check holds or is tight, 1 when a check fails, \
    2 when something is wrong with the script, the model or the command.";

/// Does the coilover fit, what does the wheel do, and which change makes it right: from pickup points in a short
/// script or a model file.
#[derive(Debug, Parser)]
#[command(
    name = "kin",
    version,
    after_help = format!("{EXIT_CODES}\n\nStart with: kin start double-wishbone my-car.rhai   then: kin run my-car.rhai")
)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Run a script, or check a model file without a script.
    #[command(after_help = EXIT_CODES)]
    Run(script::Run),
    /// Write a new script with invented numbers and comments, to fill in with your own.
    Start(start::Start),
    /// List the words a script may say; with names, explain those words.
    Words(words::Words),
}

/// Runs the program with the arguments of this process.
pub fn main() -> ExitCode {
    let result = match Arguments::parse().command {
        Command::Run(run) => run.carry_out(),
        Command::Start(start) => start.carry_out(),
        Command::Words(words) => words.carry_out(),
    };
    match result {
        Ok(code) => ExitCode::from(code),
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

/// Writes to the terminal; a closed pipe is no error of the user's.
fn say(text: &str) {
    let mut out = std::io::stdout().lock();
    let _ = out
        .write_all(text.as_bytes())
        .and_then(|()| out.write_all(b"\n"))
        .and_then(|()| out.flush());
}

/// What a command comes to: its exit code, or a report.
type Ended = Result<u8, Report>;
