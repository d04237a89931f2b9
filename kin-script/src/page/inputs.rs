//! What a sheet was made from: every number that was given, with its unit and where it came from.

use crate::explain::suggest;
use crate::fit::{Kinds, kind_of};
use crate::host::ScriptError;
use crate::model::{Model, symbol_of, to_value};
use crate::table::fixed;
use crate::units::{Measure, Units};
use crate::vocabulary::{Kind, all_keys};
use kin_core::Dimension;
use kin_core::pickups::Quantity;
use serde::Serialize;
use serde_json::Value;
use std::collections::BTreeMap;

/// Said of what a check was asked, where nobody gave an origin.
const ASKED: &str = "asked here";
/// Said of a number whose origin nobody gave.
const NOT_STATED: &str = "not stated";
/// Numbers of a list that are told one by one.
const MOST_LISTED: usize = 8;
/// Keys that say what a description is, not what was measured.
const HEADINGS: [&str; 5] = ["title", "provenance", "layout", "unit", "rate_unit"];

/// What a sheet was made from.
#[derive(Debug, Clone, PartialEq)]
pub struct Inputs {
    /// The description.
    pub model: Model,
    /// What the checks were asked, by check; in the units of the sheet.
    pub questions: Value,
    /// What the numbers of the questions are.
    pub kinds: Kinds,
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

/// Lines of the echo that belong together: a part of the description, or a question.
#[derive(Debug, Serialize)]
pub(super) struct GivenPart {
    /// Its name; empty where its one line says it.
    name: String,
    /// Where most of it comes from.
    source: Option<String>,
    rows: Vec<GivenRow>,
}

#[derive(Debug, Serialize)]
struct GivenRow {
    name: String,
    value: String,
    /// Where it comes from, where that is not where most of the part does.
    source: Option<String>,
}

/// Lines in the parts they belong to, in their order.
pub(super) fn in_parts(lines: Vec<Given>) -> Vec<GivenPart> {
    let mut parts: Vec<(String, Vec<(String, Given)>)> = Vec::new();
    for line in lines {
        let (part, rest) = part_of(&line.path);
        match parts.last_mut() {
            Some((name, rows)) if *name == part => rows.push((rest, line)),
            _ => parts.push((part, vec![(rest, line)])),
        }
    }
    parts
        .into_iter()
        .map(|(name, rows)| given_part(&name, rows))
        .collect()
}

/// What a study was asked, in parts.
pub(super) fn parts_asked(question: &Value) -> Vec<GivenPart> {
    let mut leaves = Vec::new();
    leaves_of("", question, &mut leaves);
    let lines = leaves.into_iter().map(|(path, value)| Given {
        name: readable(&path),
        value: plain(&value),
        source: String::new(),
        path,
    });
    in_parts(lines.collect())
}

/// The part a path belongs to, with its number in a list, and the rest of the path.
fn part_of(path: &str) -> (String, String) {
    let mut steps = path.split('.');
    let mut part = steps.next().unwrap_or_default().to_owned();
    let mut rest = steps.peekable();
    if let Some(number) = rest.next_if(|step| step.parse::<usize>().is_ok()) {
        part = format!("{part}.{number}");
    }
    (part, rest.collect::<Vec<_>>().join("."))
}

fn given_part(part: &str, rows: Vec<(String, Given)>) -> GivenPart {
    let alone = rows.len() == 1 && rows.iter().all(|(rest, _)| rest.is_empty());
    let times = |source: &str| rows.iter().filter(|(_, line)| line.source == source).count();
    // The origin of most lines is said once; the earlier one where two are as frequent.
    let most = rows.iter().rev().max_by_key(|(_, line)| times(&line.source));
    let common = most
        .map(|(_, line)| line.source.clone())
        .filter(|common| !alone && (rows.len() == 1 || times(common) > 1));
    let rows = rows.into_iter().map(|(rest, line)| GivenRow {
        name: if alone { line.name } else { readable(&rest) },
        value: line.value,
        source: Some(line.source).filter(|source| !source.is_empty() && common.as_ref() != Some(source)),
    });
    GivenPart {
        name: if alone {
            String::new()
        } else {
            readable(part).replace(", ", " ")
        },
        rows: rows.collect(),
        source: common.filter(|source| !source.is_empty()),
    }
}

/// A path as people read it.
fn readable(path: &str) -> String {
    path.replace('_', " ").replace('.', ", ")
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
            let value = self.asked_with_unit(&path, &value);
            self.line(path, value, ASKED)
        });
        lines.collect()
    }

    fn line(&self, path: String, value: String, whole: &str) -> Given {
        Given {
            name: readable(&path),
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

    /// A number of a question with its unit; numbers whose kind nobody knows have none.
    fn asked_with_unit(&self, path: &str, value: &Value) -> String {
        let text = plain(value);
        let numbers = match value {
            Value::Array(list) => !list.is_empty() && list.iter().all(Value::is_number),
            one => one.is_number(),
        };
        // The wanted travel and its margin are read by the stroke check, and are lengths.
        let kind = match path.starts_with("wanted.") {
            true => Some(Quantity::Length),
            false => kind_of(&self.kinds, path),
        };
        match kind.filter(|_| numbers) {
            Some(kind) => format!("{text} {}", symbol_of(kind, &self.model.units)),
            None => text,
        }
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
        // Nobody reads a matrix.
        Value::Array(list) if list.len() > MOST_LISTED && list.iter().all(Value::is_array) => {
            leaves.push((path.to_owned(), format!("{} rows of numbers", list.len()).into()));
        }
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
        Value::Array(list) => match list.as_slice() {
            [first, second, .., last] if list.len() > MOST_LISTED && list.iter().all(Value::is_number) => {
                let [first, second, last] = [first, second, last].map(plain);
                format!("{first}, {second} .. {last} ({} numbers)", list.len())
            }
            parts => parts.iter().map(plain).collect::<Vec<_>>().join(", "),
        },
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(path: &str, source: &str) -> Given {
        Given {
            path: path.to_owned(),
            name: readable(path),
            value: "1 mm".to_owned(),
            source: source.to_owned(),
        }
    }

    #[test]
    fn lines_stand_under_their_part_and_the_origin_is_said_once() {
        let parts = in_parts(vec![
            line("upper_arm.front_pivot", "tape"),
            line("upper_arm.ball_joint", "tape"),
            line("coilover.upper_mount", "tape"),
            line("coilover.extended", "catalogue"),
            line("coilover.compressed", "catalogue"),
            line("joints.1.at", "asked here"),
            line("joints.2.at", "asked here"),
            line("right", "invented"),
        ]);
        let told: Vec<(&str, Option<&str>, Vec<&str>)> = parts
            .iter()
            .map(|part| {
                let rows = part.rows.iter().map(|row| row.name.as_str()).collect();
                (part.name.as_str(), part.source.as_deref(), rows)
            })
            .collect();
        assert_eq!(
            told,
            [
                ("upper arm", Some("tape"), vec!["front pivot", "ball joint"]),
                (
                    "coilover",
                    Some("catalogue"),
                    vec!["upper mount", "extended", "compressed"]
                ),
                ("joints 1", Some("asked here"), vec!["at"]),
                ("joints 2", Some("asked here"), vec!["at"]),
                ("", None, vec!["right"]),
            ]
        );
        assert_eq!(parts[1].rows[0].source.as_deref(), Some("tape"));
        assert_eq!(parts[1].rows[1].source, None);
        assert_eq!(parts[4].rows[0].source.as_deref(), Some("invented"));
    }

    #[test]
    fn long_lists_are_told_by_their_ends() {
        let rows: Vec<Vec<f64>> = vec![vec![0.0; 12]; 12];
        let question =
            serde_json::json!({ "bump": (-5..=5).collect::<Vec<i32>>(), "matrix": rows, "seed": 7 });
        let parts = parts_asked(&question);
        let told: Vec<&str> = parts.iter().map(|part| part.rows[0].value.as_str()).collect();
        assert_eq!(told, ["-5, -4 .. 5 (11 numbers)", "12 rows of numbers", "7"]);
    }
}
