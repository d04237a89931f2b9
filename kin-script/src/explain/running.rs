//! What the engine says about a script that fails while it runs, in plain words.

use rhai::{Engine, EvalAltResult};

use super::locate;
use super::parsing::{lower_first, nothing_to_go_through, parse_error};
use super::suggestion::suggest;
use super::wording::{joined, kind, value_words, with_article};
use crate::host::{ScriptError, Session};

/// Overloads of one function that are listed at most.
const OVERLOADS_SHOWN: usize = 4;

/// The sentence and the advice for the innermost error; `source` is the text of the file it is in.
pub(super) fn run_error(
    error: &EvalAltResult,
    source: &str,
    engine: &Engine,
    session: &Session,
) -> ScriptError {
    match error {
        EvalAltResult::ErrorParsing(error, _) => parse_error(error, source, &function_names(engine, session)),
        EvalAltResult::ErrorRuntime(value, _) => match ScriptError::carried_by(error) {
            Some(error) => error,
            None if value.is_unit() => ScriptError::new("the script threw an error without saying what"),
            None if value.is_string() => ScriptError::new(value.to_string()),
            None => ScriptError::new(format!("the script threw {}", value_words(value))),
        },
        EvalAltResult::ErrorFunctionNotFound(signature, _) => unknown_function(signature, engine, session),
        EvalAltResult::ErrorVariableNotFound(name, _) => {
            ScriptError::new(format!("there is no variable `{name}`"))
        }
        EvalAltResult::ErrorPropertyNotFound(name, _) => unknown_key(name, session),
        EvalAltResult::ErrorDotExpr(text, _) => unknown_property(text, engine),
        EvalAltResult::ErrorArrayBounds(length, index, _) => out_of_bounds("list", *length, *index),
        EvalAltResult::ErrorStringBounds(length, index, _) => out_of_bounds("text", *length, *index),
        EvalAltResult::ErrorMismatchDataType(wanted, got, _)
        | EvalAltResult::ErrorMismatchOutputType(wanted, got, _) => mismatch(wanted, got),
        EvalAltResult::ErrorStackOverflow(_) => ScriptError::new(format!(
            "functions call one another more than {} levels deep",
            session.limits().call_levels
        ))
        .with_help("a function that calls itself needs a case in which it does not"),
        EvalAltResult::ErrorTooManyVariables(_) => ScriptError::new(format!(
            "more than {} variables are in use at once",
            session.limits().variables
        ))
        .with_help("put values that belong together into one list or map"),
        EvalAltResult::ErrorTooManyModules(_) => {
            ScriptError::new(format!("more than {} imports are made", session.limits().modules))
                .with_help("put the imports at the top of the file, outside any loop")
        }
        EvalAltResult::ErrorDataTooLarge(what, _) => too_large(what, session),
        EvalAltResult::ErrorAssignmentToConstant(name, _) => {
            ScriptError::new(format!("`{name}` is a constant and cannot be changed"))
                .with_help("define it with `let`")
        }
        EvalAltResult::ErrorFor(_) => nothing_to_go_through(),
        EvalAltResult::ErrorDataRace(..) => {
            ScriptError::new("a closure uses a value that is being changed at the same moment")
                .with_help("copy the value into a variable of its own before the closure")
        }
        EvalAltResult::ErrorIndexingType(kinds, _) => ScriptError::new(format!(
            "[ ] cannot be used here: {}",
            lower_first(&translated(kinds))
        )),
        EvalAltResult::ErrorArithmetic(text, _) => ScriptError::new(lower_first(text)),
        other => ScriptError::new(lower_first(&without_position(other))),
    }
}

/// The engine's sentence without the place it appends.
fn without_position(error: &EvalAltResult) -> String {
    let text = error.to_string();
    match text.rfind(" (line ") {
        Some(at) => text[..at].to_owned(),
        None => text,
    }
}

/// All names that can be called, those defined by the files of this run included.
pub(super) fn function_names(engine: &Engine, session: &Session) -> Vec<String> {
    let mut names: Vec<String> = session
        .sources()
        .iter()
        .flat_map(|source| locate::functions(source))
        .collect();
    names.extend(signatures(engine).into_iter().map(|(name, _)| name));
    names.sort();
    names.dedup();
    names
}

/// Names and parameter kinds of the functions registered on the engine.
fn signatures(engine: &Engine) -> Vec<(String, Vec<String>)> {
    let is_name = |name: &str| name.starts_with(|c: char| c.is_alphabetic()) && !name.contains(' ');
    let split = |signature: String| {
        let (name, rest) = signature.split_once('(')?;
        let inside = rest.split_once(')').map_or("", |(inside, _)| inside);
        let kinds = inside
            .split(", ")
            .filter(|parameter| !parameter.is_empty())
            .map(|parameter| kind(parameter.split_once(": ").map_or(parameter, |(_, kind)| kind)))
            .collect();
        is_name(name).then(|| (name.to_owned(), kinds))
    };
    engine
        .gen_fn_signatures(true)
        .into_iter()
        .filter_map(split)
        .collect()
}

fn unknown_function(signature: &str, engine: &Engine, session: &Session) -> ScriptError {
    let (name, kinds) = signature.split_once(" (").unwrap_or((signature, ""));
    let kinds: Vec<String> = kinds
        .trim_end_matches(')')
        .split(", ")
        .filter(|kind| !kind.is_empty())
        .map(|name| with_article(&kind(name)))
        .collect();
    let own_name = name.rsplit("::").next().unwrap_or(name);
    if !own_name.starts_with(|c: char| c.is_alphabetic() || c == '_') {
        return ScriptError::new(format!(
            "`{own_name}` cannot be used between {}",
            joined(&kinds, "and")
        ));
    }
    let given = if kinds.is_empty() {
        "nothing in the brackets".to_owned()
    } else {
        joined(&kinds, "and")
    };
    let known: Vec<_> = signatures(engine)
        .into_iter()
        .filter(|(known, _)| known == own_name)
        .collect();
    if known.is_empty() {
        let unknown = ScriptError::new(format!("there is no function `{name}` that takes {given}"));
        let names = function_names(engine, session);
        return match suggest(own_name, names.iter().map(String::as_str)) {
            Some(nearest) => unknown.with_help(format!("did you mean `{nearest}`?")),
            None if names.iter().any(|known| known == own_name) => {
                unknown.with_help(format!("count the values in the brackets of `{own_name}`"))
            }
            None => unknown,
        };
    }
    let mut overloads: Vec<String> = known
        .iter()
        .map(|(_, kinds)| format!("{own_name}({})", kinds.join(", ")))
        .collect();
    overloads.sort();
    overloads.dedup();
    overloads.truncate(OVERLOADS_SHOWN);
    ScriptError::new(format!("`{name}` does not take {given}"))
        .with_help(format!("it is used as {}", joined(&overloads, "or")))
}

fn unknown_key(name: &str, session: &Session) -> ScriptError {
    let written: Vec<String> = session
        .sources()
        .iter()
        .flat_map(|source| locate::key_names(source))
        .collect();
    let keys = session.words().keys.iter().chain(&written).map(String::as_str);
    let unknown = ScriptError::new(format!("the map has no key `{name}`"));
    match suggest(name, keys) {
        Some(nearest) => unknown.with_help(format!("did you mean `{nearest}`?")),
        None => unknown.with_help(format!("test for it first: if \"{name}\" in map {{ ... }}")),
    }
}

/// The engine writes `Unknown property 'x' - a getter is not registered for type 'T'`, or `no writable property 'x' -
/// a setter is not registered for type 'T' to handle 'f64'`.
fn unknown_property(text: &str, engine: &Engine) -> ScriptError {
    let quoted: Vec<&str> = text.split('\'').skip(1).step_by(2).collect();
    let (name, owner, unknown) = match quoted[..] {
        [name, owner] => {
            let owner = kind(owner);
            let what = format!("{} has no property `{name}`", with_article(&owner));
            (name, owner, ScriptError::new(what))
        }
        [name, owner, value] => {
            let (owner, value) = (kind(owner), with_article(&kind(value)));
            let what = format!("`{name}` of {} cannot be set to {value}", with_article(&owner));
            (name, owner, ScriptError::new(what))
        }
        _ => return ScriptError::new(lower_first(text)),
    };
    let getters: Vec<String> = signatures(engine)
        .into_iter()
        .filter_map(|(function, kinds)| {
            let property = function.strip_prefix("get$")?.to_owned();
            (kinds.first() == Some(&owner)).then_some(property)
        })
        .collect();
    match suggest(name, getters.iter().map(String::as_str)) {
        Some(nearest) => unknown.with_help(format!("did you mean `{nearest}`?")),
        None => unknown,
    }
}

fn out_of_bounds(what: &str, length: usize, index: i64) -> ScriptError {
    let holds = match length {
        0 => "is empty".to_owned(),
        1 => "has 1 item".to_owned(),
        length => format!("has {length} items"),
    };
    let missing = ScriptError::new(format!("there is no [{index}]: the {what} {holds}"));
    if length > 0 {
        missing.with_help(format!("they are counted from 0 to {}", length - 1))
    } else {
        missing
    }
}

fn mismatch(wanted: &str, got: &str) -> ScriptError {
    let (wanted, got) = (with_article(&kind(wanted)), with_article(&kind(got)));
    ScriptError::new(format!("expected {wanted}, got {got}"))
}

fn too_large(what: &str, session: &Session) -> ScriptError {
    let limits = session.limits();
    let sentence = if what.contains("string") {
        format!("a text grows over {} bytes", limits.text_bytes)
    } else if what.contains("map") {
        format!("a map grows over {} keys", limits.map_keys)
    } else {
        format!("a list grows over {} items", limits.list_items)
    };
    ScriptError::new(sentence).with_help("look for a loop that adds to it without end")
}

/// Replaces the engine's type names that stand between quotes or spaces.
fn translated(text: &str) -> String {
    text.split(' ').map(kind).collect::<Vec<_>>().join(" ")
}
