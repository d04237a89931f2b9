//! The error a word of the vocabulary returns to a script.

use std::fmt;

use rhai::{Dynamic, EvalAltResult, Position};

/// What went wrong in a word, what to try, and the key of the argument it is about.
///
/// It travels through the engine as the value of a run-time error, so a script can catch it; the report puts
/// the caret on the key where the key can be found near the call.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScriptError {
    /// One sentence or more: what happened, with the numbers.
    pub what: String,
    /// What to try.
    pub help: Option<String>,
    /// The path of the key it is about, such as `coilover.upper_mount`.
    pub key: Option<String>,
}

impl ScriptError {
    /// An error that says only what happened.
    pub fn new(what: impl Into<String>) -> Self {
        Self {
            what: what.into(),
            help: None,
            key: None,
        }
    }

    /// Adds what to try.
    #[must_use]
    pub fn with_help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Adds the key it is about.
    #[must_use]
    pub fn with_key(mut self, key: impl Into<String>) -> Self {
        self.key = Some(key.into());
        self
    }

    /// The error that a word returned, when that is what `error` carries; errors of the engine itself are none.
    pub fn carried_by(error: &EvalAltResult) -> Option<Self> {
        match error {
            EvalAltResult::ErrorRuntime(value, _) => value.clone().try_cast(),
            EvalAltResult::ErrorInFunctionCall(.., inner, _) | EvalAltResult::ErrorInModule(_, inner, _) => {
                Self::carried_by(inner)
            }
            _ => None,
        }
    }
}

impl fmt::Display for ScriptError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.what)
    }
}

impl std::error::Error for ScriptError {}

impl From<ScriptError> for Box<EvalAltResult> {
    fn from(error: ScriptError) -> Self {
        // Without a position of its own, the engine fills in that of the call.
        Box::new(EvalAltResult::ErrorRuntime(Dynamic::from(error), Position::NONE))
    }
}
