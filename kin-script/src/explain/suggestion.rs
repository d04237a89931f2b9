//! The nearest known word to a misspelt one.

/// The candidate nearest to `word`, when it is near enough to be what was meant; upper and lower case count as
/// the same. Of two equally near ones the first is taken.
pub fn suggest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let wanted = word.to_lowercase();
    let allowed = (word.chars().count() / 3).max(1);
    let mut nearest: Option<(usize, &str)> = None;
    for candidate in candidates {
        let distance = strsim::damerau_levenshtein(&wanted, &candidate.to_lowercase());
        let is_nearer = nearest.is_none_or(|(best, _)| distance < best);
        // A word of one or two letters is near everything of its length.
        if distance <= allowed && distance < word.chars().count() && candidate != word && is_nearer {
            nearest = Some((distance, candidate));
        }
    }
    nearest.map(|(_, candidate)| candidate)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_words_are_found_and_far_ones_are_not() {
        let keys = ["upper_mount", "lower_mount", "extended", "x"];
        assert_eq!(suggest("uper_mount", keys), Some("upper_mount"));
        assert_eq!(suggest("Extended", keys), Some("extended"));
        assert_eq!(suggest("extneded", keys), Some("extended"));
        assert_eq!(suggest("spring", keys), None);
        assert_eq!(suggest("y", keys), None);
        assert_eq!(suggest("extended", ["extended"]), None);
    }
}
