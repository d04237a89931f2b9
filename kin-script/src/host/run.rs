//! Runs a script from its file to its outcome or to a report.

use std::any::Any;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::sync::mpsc::{RecvTimeoutError, sync_channel};

use rhai::{Dynamic, Engine, EvalAltResult, Scope};

use super::workers::Script;
use super::{Outcome, Registrar, ScriptError, Session, Stop, build_engine, lint, script_folder};
use crate::explain::{Report, explain, stopped};

/// Stack of a thread that runs script functions.
///
/// Values inside values inside values are dropped, copied and printed one inside the other. The memory limit
/// bounds how deep they can go, and this stack is large enough for that depth; only what is used of it costs
/// memory.
pub const SCRIPT_STACK_BYTES: usize = if cfg!(target_pointer_width = "64") {
    1 << 30
} else {
    64 << 20
};

/// Reads and runs the script at `path`.
///
/// # Errors
/// A report of what went wrong, wherever it did: in reading, in the script, or in the program itself.
pub fn run_file(path: &Path, session: &Session, registrars: &[Registrar]) -> Result<Outcome, Report> {
    let name = path.display().to_string();
    if !path.is_file() {
        let error = ScriptError::new(format!("there is no script file {name:?}"));
        return Err(Report::without_place(error));
    }
    let text =
        script_folder::read_text(path, &name, session.limits().file_bytes).map_err(Report::without_place)?;
    run_text(&name, &text, session, registrars)
}

/// Runs a script given as text; `name` is how reports call it.
///
/// The script runs on a thread of its own. A step that never ends, which no engine could interrupt, is left
/// behind on that thread when the time is up; a program should then exit.
///
/// # Errors
/// A report of what went wrong, in the script or in the program itself.
pub fn run_text(
    name: &str,
    text: &str,
    session: &Session,
    registrars: &[Registrar],
) -> Result<Outcome, Report> {
    if text.len() as u64 > session.limits().file_bytes {
        return Err(Report::without_place(script_folder::too_large(
            name,
            session.limits().file_bytes,
        )));
    }
    let (sender, receiver) = sync_channel(1);
    let job = Job {
        name: name.to_owned(),
        text: text.to_owned(),
        session: session.clone(),
        registrars: registrars.to_vec(),
    };
    let thread = std::thread::Builder::new()
        .name("script".to_owned())
        .stack_size(SCRIPT_STACK_BYTES);
    session.meter().start();
    let spawned = thread.spawn(move || {
        let result = catch_unwind(AssertUnwindSafe(|| job.run()));
        // The receiver is gone only when it has given up waiting.
        let _ = sender.send(result.unwrap_or_else(|panic| Err(Report::internal(panic_text(&*panic)))));
    });
    if let Err(error) = spawned {
        return Err(Report::internal(&format!(
            "no thread could be started for the script: {error}"
        )));
    }
    let patience = session.limits().wall_time.saturating_add(session.limits().grace);
    match receiver.recv_timeout(patience) {
        Ok(result) => result,
        Err(RecvTimeoutError::Timeout) => {
            session.meter().stop(Stop::Time(session.limits().wall_time));
            Err(stopped(Stop::Time(session.limits().wall_time)))
        }
        Err(RecvTimeoutError::Disconnected) => {
            Err(Report::internal("the script's thread ended without an answer"))
        }
    }
}

struct Job {
    name: String,
    text: String,
    session: Session,
    registrars: Vec<Registrar>,
}

impl Job {
    fn run(&self) -> Result<Outcome, Report> {
        self.session.keep_source(&self.name, &self.text);
        let engine = build_engine(&self.session, &self.registrars);
        match self.evaluate(&engine) {
            Ok(()) => match self.session.stop_reason() {
                // The last step passed a bound, and no step came after it to be stopped at.
                Some(reason) => Err(stopped(reason)),
                None => Ok(self.session.outcome()),
            },
            Err(error) => Err(explain(&error, &self.name, &engine, &self.session)),
        }
    }

    fn evaluate(&self, engine: &Engine) -> Result<(), Box<EvalAltResult>> {
        lint::check(&self.text, self.session.words()).map_err(|fault| {
            Box::new(EvalAltResult::ErrorRuntime(
                Dynamic::from(fault.error),
                fault.position,
            ))
        })?;
        let mut script = engine
            .compile(&self.text)
            .map_err(|error| Box::new(EvalAltResult::ErrorParsing(*error.0, error.1)))?;
        script.set_source(&self.name);
        self.session
            .keep_script(Script::new(&self.name, script.clone(), &self.registrars));
        engine.run_ast_with_scope(&mut Scope::new(), &script)
    }
}

fn panic_text(panic: &(dyn Any + Send)) -> &str {
    let text = panic.downcast_ref::<&str>().copied();
    text.or_else(|| panic.downcast_ref::<String>().map(String::as_str))
        .unwrap_or("no message")
}
