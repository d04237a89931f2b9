//! Names of points as a person says them.

/// The name of a point in words: `lower_arm.front_pivot` is "lower arm front pivot".
#[must_use]
pub fn point_words(name: &str) -> String {
    name.replace(['_', '.'], " ").replace('@', " at ")
}

/// Items as "a", "a and b", "a, b and c".
pub(super) fn listed(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
