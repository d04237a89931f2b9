//! What can be wrong with a value, kept apart until the key's path is known.

use std::fmt;

use serde::de::{self, Expected, Unexpected};

use crate::explain::{joined, suggest};
use crate::host::ScriptError;

/// A mistake in a value, as the reader or a type's own `Deserialize` reports it.
#[derive(Debug, PartialEq)]
pub(super) enum Problem {
    UnknownKey {
        key: String,
        known: &'static [&'static str],
    },
    MissingKey(&'static str),
    UnknownChoice {
        choice: String,
        known: &'static [&'static str],
    },
    WrongKind {
        expected: String,
        got: String,
    },
    NotFinite(f64),
    Unusable(String),
    TooDeep,
    Other(String),
}

impl fmt::Display for Problem {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&explain_inside(self).0)
    }
}

impl std::error::Error for Problem {}

impl de::Error for Problem {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self::Other(message.to_string())
    }

    fn invalid_type(got: Unexpected<'_>, expected: &dyn Expected) -> Self {
        Self::WrongKind {
            expected: expected_words(&expected.to_string()),
            got: got_words(got),
        }
    }

    fn invalid_value(got: Unexpected<'_>, expected: &dyn Expected) -> Self {
        Self::invalid_type(got, expected)
    }

    fn invalid_length(length: usize, expected: &dyn Expected) -> Self {
        Self::WrongKind {
            expected: expected_words(&expected.to_string()),
            got: length.to_string(),
        }
    }

    fn unknown_variant(choice: &str, known: &'static [&'static str]) -> Self {
        Self::UnknownChoice {
            choice: choice.to_owned(),
            known,
        }
    }

    fn unknown_field(key: &str, known: &'static [&'static str]) -> Self {
        Self::UnknownKey {
            key: key.to_owned(),
            known,
        }
    }

    fn missing_field(key: &'static str) -> Self {
        Self::MissingKey(key)
    }
}

/// The problem at `path` (empty at the top) of `context`, as an error of the script.
pub(super) fn explain(problem: Problem, path: &str, context: &str) -> ScriptError {
    match problem {
        Problem::UnknownKey { key, known } => {
            let path = if path == key || path.ends_with(&format!(".{key}")) {
                path.to_owned()
            } else {
                under(path, &key)
            };
            ScriptError::new(format!("{context} has no key `{path}`"))
                .with_help(nearest_key(&key, known))
                .with_key(path)
        }
        Problem::MissingKey(key) => {
            let error = ScriptError::new(format!(
                "{context} needs the key `{}`, which is missing",
                under(path, key)
            ));
            if path.is_empty() {
                error
            } else {
                error.with_key(path)
            }
        }
        other => {
            let (what, help) = explain_inside(&other);
            let place = if path.is_empty() {
                context.to_owned()
            } else {
                format!("{context}, `{path}`")
            };
            let key = (!path.is_empty()).then(|| path.to_owned());
            ScriptError {
                what: format!("{place}: {what}"),
                help,
                key,
            }
        }
    }
}

/// The sentence and the advice without the path.
fn explain_inside(problem: &Problem) -> (String, Option<String>) {
    match problem {
        Problem::UnknownKey { key, known } => {
            (format!("there is no key `{key}`"), Some(nearest_key(key, known)))
        }
        Problem::MissingKey(key) => (format!("the key `{key}` is missing"), None),
        Problem::UnknownChoice { choice, known } => {
            let help =
                suggest(choice, known.iter().copied()).map(|nearest| format!("did you mean {nearest:?}?"));
            (format!("{choice:?} is not one of {}", listed(known)), help)
        }
        Problem::WrongKind { expected, got } => (format!("expected {expected}, got {got}"), None),
        Problem::NotFinite(number) => (
            format!("expected a finite number, got {number}"),
            Some("look for a division by zero or an overflow where the number was worked out".to_owned()),
        ),
        Problem::Unusable(kind) => (format!("{kind} cannot be used here"), None),
        Problem::TooDeep => ("maps or lists are nested too deep".to_owned(), None),
        Problem::Other(message) => (message.clone(), None),
    }
}

fn under(path: &str, key: &str) -> String {
    if path.is_empty() {
        key.to_owned()
    } else {
        format!("{path}.{key}")
    }
}

fn nearest_key(key: &str, known: &'static [&'static str]) -> String {
    match suggest(key, known.iter().copied()) {
        Some(nearest) => format!("did you mean `{nearest}`?"),
        None if known.is_empty() => "no keys are taken here".to_owned(),
        None => format!("the keys are {}", listed(known)),
    }
}

fn listed(known: &[&str]) -> String {
    joined(
        &known.iter().map(|&name| name.to_owned()).collect::<Vec<_>>(),
        "and",
    )
}

/// What a type says it expects, in a workshop's words; sentences of our own types pass unchanged.
fn expected_words(expected: &str) -> String {
    let items = |text: &str, before: &str, after: &str| {
        let count: usize = text.strip_prefix(before)?.strip_suffix(after)?.parse().ok()?;
        Some(format!("a list of {count} items"))
    };
    let list = items(expected, "an array of length ", "")
        .or_else(|| items(expected, "a tuple of size ", ""))
        .or_else(|| items(expected, "", " elements in sequence"))
        .or_else(|| items(expected, "", " element in sequence"));
    if let Some(list) = list {
        return list;
    }
    match expected {
        "f64" | "f32" => "a number".to_owned(),
        // What the linear algebra library calls its points.
        "a matrix array" => "three numbers [x, y, z]".to_owned(),
        "i8" | "i16" | "i32" | "i64" | "isize" => "a whole number".to_owned(),
        "u8" | "u16" | "u32" | "u64" | "usize" => "a whole number, zero or more".to_owned(),
        "a string" | "a borrowed string" | "a character" => "a text".to_owned(),
        "a boolean" => "true or false".to_owned(),
        "a sequence" => "a list [ ]".to_owned(),
        "a map" => "a map #{ }".to_owned(),
        "unit" => "nothing".to_owned(),
        other if other.starts_with("struct ") => "a map #{ }".to_owned(),
        other if other.starts_with("enum ") || other.starts_with("variant ") => {
            "a text that names a choice".to_owned()
        }
        other => other.to_owned(),
    }
}

fn got_words(got: Unexpected<'_>) -> String {
    match got {
        Unexpected::Bool(truth) => truth.to_string(),
        Unexpected::Unsigned(number) => format!("the whole number {number}"),
        Unexpected::Signed(number) => format!("the whole number {number}"),
        Unexpected::Float(number) => format!("the number {number}"),
        Unexpected::Str(text) if text.chars().count() <= 30 => format!("the text {text:?}"),
        Unexpected::Str(_) => "a text".to_owned(),
        Unexpected::Unit | Unexpected::Option => "nothing".to_owned(),
        Unexpected::Seq => "a list [ ]".to_owned(),
        Unexpected::Map => "a map #{ }".to_owned(),
        other => other.to_string(),
    }
}
