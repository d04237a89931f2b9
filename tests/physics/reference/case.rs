//! Reading the reference files.

use kin_core::pickups::Point;
use serde_json::Value;

/// A file of `tests/reference`.
pub(crate) fn load(name: &str) -> Value {
    let path = format!("{}/../tests/reference/{name}.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
    serde_json::from_str(&text).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// A number that the file must have.
pub(crate) fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap_or_else(|| panic!("no number `{key}`"))
}

/// A point that the file must have.
pub(crate) fn point(value: &Value, key: &str) -> Point {
    let read = |place: usize| {
        value[key][place]
            .as_f64()
            .unwrap_or_else(|| panic!("no point `{key}`"))
    };
    Point::new(read(0), read(1), read(2))
}

/// The elements of a list that the file must have.
pub(crate) fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().unwrap_or_else(|| panic!("no list `{key}`"))
}
