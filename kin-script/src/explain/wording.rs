//! The engine's kinds of value in a workshop's words.

use rhai::Dynamic;

/// A value in a few words: its kind, and the value itself where it is short.
pub(crate) fn value_words(value: &Dynamic) -> String {
    if let Ok(text) = value.as_immutable_string_ref() {
        return if text.chars().count() <= 30 {
            format!("the text {:?}", text.as_str())
        } else {
            "a text".to_owned()
        };
    }
    match (value.as_int(), value.as_float(), value.as_bool()) {
        (Ok(whole), ..) => format!("the whole number {whole}"),
        (_, Ok(number), _) => format!("the number {number}"),
        (.., Ok(truth)) => truth.to_string(),
        _ => with_article(&kind(value.type_name())),
    }
}

/// A kind of value by the engine's name for it, without an article.
pub(super) fn kind(type_name: &str) -> String {
    let bare = type_name
        .trim()
        .trim_start_matches("&mut ")
        .trim_start_matches('&');
    let plain = match bare {
        "i64" | "INT" => "whole number",
        "f64" | "FLOAT" => "number",
        "string" | "str" | "String" | "ImmutableString" | "str | ImmutableString | String" => "text",
        "array" | "Array" => "list [ ]",
        "map" | "Map" => "map #{ }",
        "bool" => "true or false",
        "()" => "nothing",
        "Fn" | "FnPtr" => "function",
        "char" => "character",
        "blob" | "Blob" => "list of bytes",
        "range" | "range=" => "range",
        "?" | "Dynamic" => "anything",
        // A type of our own: the last part of its Rust path, or the name it was registered under.
        other => other.rsplit("::").next().unwrap_or(other),
    };
    plain.to_owned()
}

pub(super) fn with_article(kind: &str) -> String {
    if matches!(kind, "nothing" | "true or false" | "anything") {
        return kind.to_owned();
    }
    let vowel = kind.starts_with(['a', 'e', 'i', 'o', 'u', 'A', 'E', 'I', 'O']);
    format!("{} {kind}", if vowel { "an" } else { "a" })
}

/// Items joined by commas and a last `and`.
pub(crate) fn joined(items: &[String], last: &str) -> String {
    match items {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., end] => format!("{} {last} {end}", first.join(", ")),
    }
}
