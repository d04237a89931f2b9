//! Runs a script: the engine, the bounds on what it may use, and the folders it may read and write.
//!
//! A [`Session`] is one run of one script. [`build_engine`] makes an engine that belongs to it; several engines
//! (one per worker thread) may share a session, and then share its budgets. [`run_file`] does the whole job.

mod division;
mod engine;
mod fixed_words;
mod lengths;
mod limits;
mod lint;
mod maths;
mod memory;
mod meter;
mod modules;
mod output_folder;
mod printer;
mod progress;
mod prose;
mod run;
mod script_error;
mod script_folder;
mod session;
mod word;
mod workers;

pub use engine::{Registrar, build_engine};
pub use lengths::{inches, nearest_sixteenth};
pub use limits::Limits;
pub use output_folder::OutputFolder;
pub use printer::{Captured, Printer, Silent, Terminal};
pub use progress::{Studies, StudyProgress};
pub use run::{SCRIPT_STACK_BYTES, run_file, run_text};
pub use script_error::ScriptError;
pub use script_folder::ScriptFolder;
pub use session::{Outcome, Session, Setup, Words};
pub use word::{Word, finite};
pub use workers::Workers;

pub(crate) use meter::Stop;
