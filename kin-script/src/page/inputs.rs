//! What a sheet was made from: every number that was given, with its unit and where it came from.

use crate::explain::suggest;
use crate::host::ScriptError;
use crate::model::{Model, to_value};
use crate::table::fixed;
use crate::units::{Measure, Units};
use crate::vocabulary::{Kind, all_keys};
use kin_core::Dimension;
use serde::Serialize;
use serde_json::Value;
use std::collections::BTreeMap;

/// Said of what a check was asked, where nobody gave an origin.
const ASKED: &str = "asked here";
/// Said of a number whose origin nobody gave.
const NOT_STATED: &str = "not stated";
/// Keys that say what a description is, not what was measured.
const HEADINGS: [&str; 5] = ["title", "provenance", "layout", "unit", "rate_unit"];

/// What a sheet was made from.
#[derive(Debug, Clone, PartialEq)]
pub struct Inputs {
    /// The description.
    pub model: Model,
    /// What the checks were asked, by check; in the units of the sheet.
    pub questions: Value,
    /// Where numbers come from, by their path such as `coilover.extended` or the beginning of one; words such as measured, catalogue
    /// or assumed.
    pub sources: BTreeMap<String, String>,
}

/// One line of the echo.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(super) struct Given {
    /// Its path as written.
    pub(super) path: String,
    /// The same for reading.
    pub(super) name: String,
    /// Its value with unit.
    pub(super) value: String,
    /// Where it comes from.
    pub(super) source: String,
}

impl Inputs {
    /// The description line by line.
    pub(super) fn described(&self) -> Result<Vec<Given>, ScriptError> {
        let mut leaves = Vec::new();
        if let Value::Object(tree) = to_value(&self.model)? {
            for (key, value) in tree.iter().filter(|(key, _)| !HEADINGS.contains(&key.as_str())) {
                leaves_of(key, value, &mut leaves);
            }
        }
        let whole = self.model.provenance.as_deref().unwrap_or(NOT_STATED);
        Ok(leaves
            .into_iter()
            .map(|(path, value)| {
                let value = self.with_unit(&path, &value);
                self.line(path, value, whole)
            })
            .collect())
    }

    /// What was asked, line by line.
    pub(super) fn asked(&self) -> Vec<Given> {
        let mut leaves = Vec::new();
        leaves_of("", &self.questions, &mut leaves);
        let lines = leaves.into_iter().map(|(path, value)| {
            let value = plain(&value);
            self.line(path, value, ASKED)
        });
        lines.collect()
    }

    fn line(&self, path: String, value: String, whole: &str) -> Given {
        Given {
            name: path.replace('_', " ").replace('.', ", "),
            value,
            source: self.source(&path, whole),
            path,
        }
    }

    /// The origin given for the longest beginning of a path; else that of the whole.
    fn source(&self, path: &str, whole: &str) -> String {
        let fitting = self.sources.iter().filter(|(start, _)| begins(path, start));
        let nearest = fitting.max_by_key(|(start, _)| start.len());
        nearest.map_or(whole, |(_, words)| words).to_owned()
    }

    /// Refuses an origin of something that was not given: it would never be read.
    pub(super) fn check_sources(&self, lines: &[Given]) -> Result<(), ScriptError> {
        for start in self.sources.keys() {
            if lines.iter().any(|line| begins(&line.path, start)) {
                continue;
            }
            let error = ScriptError::new(format!("`sources`: nothing that was given begins with `{start}`"))
                .with_key(start.as_str());
            let beginnings = lines.iter().flat_map(|line| {
                let ends = line.path.match_indices('.').map(|(end, _)| end);
                ends.chain([line.path.len()])
                    .filter_map(|end| line.path.get(..end))
            });
            return Err(match suggest(start, beginnings) {
                Some(nearest) => error.with_help(format!("did you mean `{nearest}`?")),
                None => error.with_help(
                    "name what stands in the model or in a question, such as `coilover` or `coilover.extended`",
                ),
            });
        }
        Ok(())
    }

    fn with_unit(&self, path: &str, value: &Value) -> String {
        let key = path.rsplit('.').next().unwrap_or(path);
        let kind = all_keys().find(|known| known.name == key).map(|known| known.kind);
        let units: &Units = &self.model.units;
        let length = units.symbol(Measure::LENGTH);
        match (value, kind) {
            (Value::Array(parts), _) if parts.len() == 3 => match parts.as_slice() {
                [x, y, z] => format!(
                    "forward {}, left {}, up {} {length}",
                    plain(x),
                    plain(y),
                    plain(z)
                ),
                _ => plain(value),
            },
            (Value::Number(_), Some(Kind::Length)) => format!("{} {length}", plain(value)),
            (Value::Number(_), Some(Kind::Angle)) => format!("{} deg", plain(value)),
            (Value::Number(_), Some(Kind::Rate)) => {
                let rate = Measure {
                    dimension: Dimension::Rate,
                    per_travel: false,
                };
                format!("{} {}", plain(value), units.symbol(rate))
            }
            _ => plain(value),
        }
    }
}

fn begins(path: &str, start: &str) -> bool {
    path.strip_prefix(start)
        .is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
}

/// Texts, numbers and points by their paths.
fn leaves_of(path: &str, value: &Value, leaves: &mut Vec<(String, Value)>) {
    let inner = |key: &str| {
        if path.is_empty() {
            key.to_owned()
        } else {
            format!("{path}.{key}")
        }
    };
    match value {
        Value::Object(map) => map
            .iter()
            .for_each(|(key, value)| leaves_of(&inner(key), value, leaves)),
        Value::Array(list) if list.iter().any(|part| part.is_object() || part.is_array()) => list
            .iter()
            .enumerate()
            .for_each(|(place, value)| leaves_of(&inner(&(place + 1).to_string()), value, leaves)),
        Value::Null => {}
        leaf => leaves.push((path.to_owned(), leaf.clone())),
    }
}

/// A value without unit, in as many decimals as it needs.
fn plain(value: &Value) -> String {
    match value {
        Value::Number(number) => number.as_f64().map_or_else(
            || number.to_string(),
            |number| {
                let text = fixed(number, 4);
                if text.contains('.') && !text.contains('e') {
                    text.trim_end_matches('0').trim_end_matches('.').to_owned()
                } else {
                    text
                }
            },
        ),
        Value::String(text) => text.clone(),
        Value::Bool(true) => "yes".to_owned(),
        Value::Bool(false) => "no".to_owned(),
        Value::Array(list) => {
            let parts: Vec<String> = list.iter().map(plain).collect();
            parts.join(", ")
        }
        other => other.to_string(),
    }
}
