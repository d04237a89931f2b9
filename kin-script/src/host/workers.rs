//! Threads that work through the variants of a study, each with an engine of its own for functions of the script.

use std::sync::Mutex;

use kin_core::study::Progress;
use rayon::prelude::*;
use rayon::{ThreadPool, ThreadPoolBuilder};
use rhai::{AST, Dynamic, Engine, EvalAltResult, FnPtr, FuncArgs, NativeCallContext};

use super::{Registrar, SCRIPT_STACK_BYTES, ScriptError, Session, build_engine};
use crate::explain::explain;

/// The compiled script of a run, for engines besides the one that runs it.
pub(super) struct Script {
    name: String,
    ast: AST,
    registrars: Vec<Registrar>,
}

impl Script {
    pub(super) fn new(name: &str, ast: AST, registrars: &[Registrar]) -> Self {
        Self {
            name: name.to_owned(),
            ast,
            registrars: registrars.to_vec(),
        }
    }
}

/// Threads for one study.
pub struct Workers<'a> {
    session: &'a Session,
    context: &'a NativeCallContext<'a>,
    pool: ThreadPool,
    engines: Mutex<Vec<Engine>>,
    /// Whether functions run on the calling engine, which knows the script's imports; other engines do not.
    on_calling_engine: bool,
}

impl<'a> Workers<'a> {
    /// Starts the threads.
    ///
    /// * `context`: the call of the study's word, which functions are called within
    ///
    /// # Errors
    /// When no thread can be started.
    pub fn new(session: &'a Session, context: &'a NativeCallContext<'a>) -> Result<Self, ScriptError> {
        let pool = ThreadPoolBuilder::new()
            .stack_size(SCRIPT_STACK_BYTES)
            .thread_name(|number| format!("study {number}"))
            .build()
            .map_err(|error| {
                ScriptError::new(format!("no thread could be started for the study: {error}"))
            })?;
        Ok(Self {
            session,
            context,
            pool,
            engines: Mutex::new(Vec::new()),
            on_calling_engine: session.script().is_none() || context.iter_imports().next().is_some(),
        })
    }

    /// Maps numbers from zero up, in parallel, results in order. What was not begun when the study was told to stop is
    /// none.
    pub fn map<T: Send>(
        &self,
        count: usize,
        progress: &impl Progress,
        work: impl Fn(usize) -> T + Sync,
    ) -> Vec<Option<T>> {
        let one = |place: usize| {
            if progress.should_stop() {
                return None;
            }
            let done = work(place);
            progress.advance(1);
            Some(done)
        };
        self.pool
            .install(|| (0..count).into_par_iter().map(one).collect())
    }

    /// Calls a function of the script.
    ///
    /// # Errors
    /// What the function runs into, in one line with line and column.
    pub fn call(&self, function: &FnPtr, arguments: impl FuncArgs) -> Result<Dynamic, String> {
        let known = |script: &&Script| {
            script
                .ast
                .iter_functions()
                .any(|known| known.name == function.fn_name())
        };
        let script = self.session.script().filter(known);
        let Some(script) = script.filter(|_| !self.on_calling_engine) else {
            return function
                .call_within_context(self.context, arguments)
                .map_err(|error| self.in_words(&error, self.context.engine()));
        };
        let engine = self.engines().pop();
        let engine = engine.unwrap_or_else(|| build_engine(self.session, &script.registrars));
        let result = function
            .call(&engine, &script.ast, arguments)
            .map_err(|error| self.in_words(&error, &engine));
        self.engines().push(engine);
        result
    }

    fn engines(&self) -> std::sync::MutexGuard<'_, Vec<Engine>> {
        self.engines
            .lock()
            .unwrap_or_else(|poisoned| poisoned.into_inner())
    }

    fn in_words(&self, error: &EvalAltResult, engine: &Engine) -> String {
        let name = self.session.script().map_or("", |script| script.name.as_str());
        let report = explain(error, name, engine, self.session);
        let help = report.help.map_or(String::new(), |help| format!(" ({help})"));
        match report.places.first() {
            Some(place) => format!(
                "line {}, column {}: {}{help}",
                place.line, place.column, report.what
            ),
            None => format!("{}{help}", report.what),
        }
    }
}
