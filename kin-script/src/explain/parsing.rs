//! What the engine says about a text it cannot read, in plain words.

use rhai::{LexError, ParseErrorType};

use super::locate;
use super::suggestion::suggest;
use super::wording::{kind, with_article};
use crate::host::ScriptError;

/// The sentence and the advice for a parse error in `source`. `known` are the names of all functions.
pub(super) fn parse_error(error: &ParseErrorType, source: &str, known: &[String]) -> ScriptError {
    match error {
        ParseErrorType::VariableUndefined(name) => undefined(name, source, known),
        ParseErrorType::ModuleUndefined(name) => {
            let known = locate::variables(source);
            let undefined = ScriptError::new(format!("nothing is imported under the name `{name}`"));
            match suggest(name, known.iter().map(String::as_str)) {
                Some(nearest) => undefined.with_help(format!("did you mean `{nearest}`?")),
                None => undefined.with_help(format!("import it first: import \"file\" as {name};")),
            }
        }
        ParseErrorType::BadInput(error) => bad_input(error),
        ParseErrorType::MissingToken(token, purpose) => missing_token(token, purpose),
        ParseErrorType::UnexpectedEOF => ScriptError::new("the script ends in the middle of something")
            .with_help("look for a bracket or a text that is opened and never closed"),
        ParseErrorType::ExprTooDeep => {
            ScriptError::new("too many brackets or operators stand inside one another in one expression")
                .with_help("work the expression out in parts, each with a name: let part = ...;")
        }
        ParseErrorType::TooManyFunctions => ScriptError::new("the script defines too many functions")
            .with_help("move some of them into a file of their own and import it"),
        ParseErrorType::LiteralTooLarge(what, most) => {
            ScriptError::new(format!("{} is over the limit of {most}", what.to_lowercase()))
                .with_help("move long tables of numbers into a data file")
        }
        ParseErrorType::MismatchedType(wanted, _) if wanted.contains("iterable") => nothing_to_go_through(),
        ParseErrorType::MismatchedType(wanted, got) => {
            ScriptError::new(format!("expected {}, got {}", expected(wanted), expected(got)))
        }
        ParseErrorType::DuplicatedProperty(name) => {
            ScriptError::new(format!("the key `{name}` is written twice in one map"))
        }
        ParseErrorType::Reserved(word) => ScriptError::new(format!(
            "`{word}` is a word of the language and cannot be used here"
        )),
        other => ScriptError::new(lower_first(&other.to_string())),
    }
}

/// The engine writes `a boolean expression` for what stands at an `if`.
fn expected(what: &str) -> String {
    let bare = what
        .trim_start_matches("a ")
        .trim_start_matches("an ")
        .trim_end_matches(" expression");
    if bare == "boolean" {
        kind("bool")
    } else {
        with_article(&kind(bare))
    }
}

fn undefined(name: &str, source: &str, known: &[String]) -> ScriptError {
    let undefined = ScriptError::new(format!("there is no variable `{name}`"));
    let variables = locate::variables(source);
    let candidates = variables.iter().chain(known).map(String::as_str);
    match suggest(name, candidates) {
        Some(nearest) => undefined.with_help(format!("did you mean `{nearest}`?")),
        None if known.iter().any(|function| function == name) => {
            undefined.with_help(format!("`{name}` is a function: call it with brackets, {name}(...)"))
        }
        None if locate::variables(source).iter().any(|variable| variable == name) => undefined
            .with_help("it is defined somewhere else in the script; a function sees only its own variables and parameters"),
        None => undefined.with_help(format!("define it first: let {name} = ...; a text needs quotes: \"{name}\"")),
    }
}

fn bad_input(error: &LexError) -> ScriptError {
    match error {
        LexError::UnterminatedString => ScriptError::new("a text is opened here and never closed").with_help(
            "close it with the same quote on the same line; an inch mark inside a text is written \\\"",
        ),
        LexError::MalformedNumber(number) => {
            ScriptError::new(format!("`{number}` cannot be read as a number"))
                .with_help("a unit is joined to a number by a point, such as 3.5.inch")
        }
        LexError::ImproperSymbol(word, _) if word == "eval" => ScriptError::new("`eval` is switched off")
            .with_help("a script cannot run text as code; write a function instead"),
        LexError::UnexpectedInput(input) => ScriptError::new(format!("{input:?} means nothing here")),
        other => ScriptError::new(lower_first(&other.to_string())),
    }
}

fn missing_token(token: &str, purpose: &str) -> ScriptError {
    let purpose = purpose.trim();
    let missing = ScriptError::new(format!("`{token}` is missing here, {purpose}"));
    match token {
        ";" => missing.with_help("each statement ends with `;`: look at the end of the line before as well"),
        ")" | "]" | "}" => {
            missing.with_help("look for the bracket that is opened and never closed, or for a missing comma")
        }
        "," => missing.with_help("items are separated by commas"),
        _ => missing,
    }
}

/// A `for` over something that has no items.
pub(super) fn nothing_to_go_through() -> ScriptError {
    ScriptError::new("`for` needs something to go through, after `in`")
        .with_help("go through a list, a range such as 0..5, or the keys of a map: map.keys()")
}

/// The engine's own sentences begin with a capital; ours follow a mark.
pub(super) fn lower_first(sentence: &str) -> String {
    let mut letters = sentence.chars();
    match letters.next() {
        Some(first) => first.to_lowercase().chain(letters).collect(),
        None => String::new(),
    }
}
