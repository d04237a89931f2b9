//! Reads the values a script hands over into the types behind the vocabulary, and hands results back.

mod problem;
mod reader;

use rhai::{Dynamic, Map};
use serde::de::DeserializeOwned;

use crate::host::ScriptError;
use problem::Problem;
use reader::Reader;

/// Reads a script's value, usually a map with named keys, into a type.
///
/// Whole numbers are taken where numbers are meant. `context` is what the value is, such as `the coilover`.
///
/// # Errors
/// A key that is unknown (with the nearest one that is known) or missing, a value of the wrong kind, and a number
/// that is not finite, each with the key's full path, in the words of a workshop.
pub fn read<T: DeserializeOwned>(value: Dynamic, context: &str) -> Result<T, ScriptError> {
    serde_path_to_error::deserialize(Reader::new(value)).map_err(|error| {
        let path = error.path().to_string();
        problem::explain(error.into_inner(), if path == "." { "" } else { &path }, context)
    })
}

/// Reads a script's value into a JSON value.
///
/// # Errors
/// As [`read`]; functions and objects of the vocabulary have no JSON value.
pub fn to_value(value: Dynamic, context: &str) -> Result<serde_json::Value, ScriptError> {
    read(value, context)
}

/// A JSON value as a script's value: numbers with a decimal point stay numbers, whole ones stay whole, and `null`
/// is the language's nothing.
pub fn to_dynamic(value: serde_json::Value) -> Dynamic {
    use serde_json::Value;
    match value {
        Value::Null => Dynamic::UNIT,
        Value::Bool(truth) => truth.into(),
        Value::Number(number) => match number.as_i64() {
            Some(whole) => whole.into(),
            // Whole numbers over the language's range become numbers.
            None => number.as_f64().unwrap_or(f64::INFINITY).into(),
        },
        Value::String(text) => text.into(),
        Value::Array(items) => Dynamic::from_array(items.into_iter().map(to_dynamic).collect()),
        Value::Object(entries) => Dynamic::from_map(
            entries
                .into_iter()
                .map(|(key, value)| (key.into(), to_dynamic(value)))
                .collect::<Map>(),
        ),
    }
}

#[cfg(test)]
mod tests {
    use serde::Deserialize;
    use serde_json::json;

    use super::*;

    #[derive(Debug, Deserialize, PartialEq)]
    #[serde(deny_unknown_fields)]
    struct Coilover {
        upper_mount: [f64; 3],
        extended: f64,
        #[serde(default)]
        stud: Option<f64>,
        #[serde(default)]
        rides_on: RidesOn,
        #[serde(default = "one")]
        count: u32,
    }

    #[derive(Debug, Default, Deserialize, PartialEq)]
    #[serde(rename_all = "snake_case")]
    enum RidesOn {
        #[default]
        LowerArm,
        UpperArm,
        Link(String),
    }

    #[derive(Debug, Deserialize, PartialEq)]
    #[serde(deny_unknown_fields)]
    struct Corner {
        coilover: Coilover,
    }

    fn one() -> u32 {
        1
    }

    fn value(script: &str) -> Dynamic {
        rhai::Engine::new().eval::<Dynamic>(script).unwrap()
    }

    fn corner(script: &str) -> Result<Corner, ScriptError> {
        read(value(script), "the corner")
    }

    #[test]
    fn whole_numbers_are_taken_where_numbers_are_meant() {
        let read = corner("#{coilover: #{upper_mount: [1, 2.5, 3], extended: 371, rides_on: \"upper_arm\"}}")
            .unwrap();
        assert_eq!(
            read.coilover,
            Coilover {
                upper_mount: [1.0, 2.5, 3.0],
                extended: 371.0,
                stud: None,
                rides_on: RidesOn::UpperArm,
                count: 1
            }
        );
        let link = corner(
            "#{coilover: #{upper_mount: [1,2,3], extended: 1, rides_on: #{link: \"upper_left\"}, stud: 4}}",
        );
        let link = link.unwrap().coilover;
        assert_eq!(
            (link.rides_on, link.stud),
            (RidesOn::Link("upper_left".to_owned()), Some(4.0))
        );
    }

    #[test]
    fn a_shared_value_is_read_as_what_it_is() {
        let shared = value(
            "let e = 371; let f = || e += 1; f.call(); #{coilover: #{upper_mount: [1,2,3], extended: e}}",
        );
        assert_eq!(
            read::<Corner>(shared, "the corner").unwrap().coilover.extended,
            372.0
        );
    }

    #[test]
    fn every_mistake_names_its_key_and_says_what_to_do() {
        let cases = [
            (
                "#{coilover: #{uper_mount: [1,2,3], extended: 1}}",
                "the corner has no key `coilover.uper_mount`",
                Some("did you mean `upper_mount`?"),
                Some("coilover.uper_mount"),
            ),
            (
                "#{coilover: #{upper_mount: [1,2,3], extended: 1, colour: 3}}",
                "the corner has no key `coilover.colour`",
                Some("the keys are upper_mount, extended, stud, rides_on and count"),
                Some("coilover.colour"),
            ),
            (
                "#{coilover: #{upper_mount: [1,2,3]}}",
                "the corner needs the key `coilover.extended`, which is missing",
                None,
                Some("coilover"),
            ),
            (
                "#{}",
                "the corner needs the key `coilover`, which is missing",
                None,
                None,
            ),
            (
                "#{coilover: #{upper_mount: [1,2,3], extended: \"14.6\"}}",
                "the corner, `coilover.extended`: expected a number, got the text \"14.6\"",
                None,
                Some("coilover.extended"),
            ),
            (
                "#{coilover: #{upper_mount: [1, true, 3], extended: 1}}",
                "the corner, `coilover.upper_mount[1]`: expected a number, got true",
                None,
                Some("coilover.upper_mount[1]"),
            ),
            (
                "#{coilover: #{upper_mount: [1, 2], extended: 1}}",
                "the corner, `coilover.upper_mount`: expected a list of 3 items, got 2",
                None,
                Some("coilover.upper_mount"),
            ),
            (
                "#{coilover: #{upper_mount: [1, 2, 3, 4], extended: 1}}",
                "the corner, `coilover.upper_mount`: expected a list of 3 items, got 4",
                None,
                Some("coilover.upper_mount"),
            ),
            (
                "#{coilover: #{upper_mount: #{x: 1}, extended: 1}}",
                "the corner, `coilover.upper_mount`: expected a list of 3 items, got a map #{ }",
                None,
                Some("coilover.upper_mount"),
            ),
            (
                "#{coilover: #{upper_mount: [1,2,3], extended: 1e308 * 10.0}}",
                "the corner, `coilover.extended`: expected a finite number, got inf",
                Some("look for a division by zero or an overflow where the number was worked out"),
                Some("coilover.extended"),
            ),
            (
                "#{coilover: #{upper_mount: [1,2,3], extended: 1, rides_on: \"uper_arm\"}}",
                "the corner, `coilover.rides_on`: \"uper_arm\" is not one of lower_arm, upper_arm and link",
                Some("did you mean \"upper_arm\"?"),
                Some("coilover.rides_on"),
            ),
            (
                "#{coilover: #{upper_mount: [1,2,3], extended: 1, count: 2.5}}",
                "the corner, `coilover.count`: expected a whole number, zero or more, got the number 2.5",
                None,
                Some("coilover.count"),
            ),
            (
                "#{coilover: #{upper_mount: [1,2,3], extended: 1, count: -2}}",
                "the corner, `coilover.count`: expected a whole number, zero or more, got the whole number -2",
                None,
                Some("coilover.count"),
            ),
            (
                "#{coilover: #{upper_mount: [1,2,3], extended: || 1}}",
                "the corner, `coilover.extended`: a function cannot be used here",
                None,
                Some("coilover.extended"),
            ),
            (
                "7",
                "the corner: expected a map #{ }, got the whole number 7",
                None,
                None,
            ),
        ];
        for (script, what, help, key) in cases {
            let error = corner(script).unwrap_err();
            assert_eq!(
                (error.what.as_str(), error.help.as_deref(), error.key.as_deref()),
                (what, help, key),
                "{script}"
            );
        }
    }

    #[test]
    fn values_nested_without_end_are_refused() {
        let deep = value("let a = []; for i in 0..500 { a = [a]; } a");
        assert!(to_value(deep, "the list").unwrap_err().what.contains("nested"));
    }

    #[test]
    fn results_reach_a_script_with_their_kinds_kept() {
        let original = json!({"whole": 3, "number": 3.0, "list": [1.5, "x", null, true], "large": 18446744073709551615_u64});
        let there = to_dynamic(original);
        let map = there.clone().cast::<Map>();
        assert!(map["whole"].is_int() && map["number"].is_float() && map["large"].is_float());
        let back = to_value(there, "the result").unwrap();
        assert_eq!(back["list"], json!([1.5, "x", null, true]));
        assert_eq!(back["number"], json!(3.0));
    }
}
