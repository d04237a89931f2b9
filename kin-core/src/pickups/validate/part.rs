//! Names of parts that something rides on.

use super::PickupError;

/// A name must be that of a part.
pub(crate) fn known_part(value: &str, field: &str, parts: &[&str]) -> Result<(), PickupError> {
    if parts.contains(&value) {
        return Ok(());
    }
    let nearest = parts
        .iter()
        .map(|part| (strsim::jaro_winkler(part, value), part))
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .filter(|(likeness, _)| *likeness > 0.75);
    Err(PickupError::UnknownPart {
        field: field.to_owned(),
        value: value.to_owned(),
        known: parts
            .iter()
            .map(|part| format!("`{part}`"))
            .collect::<Vec<_>>()
            .join(", "),
        suggestion: nearest.map_or(String::new(), |(_, part)| format!("; did you mean `{part}`?")),
    })
}
