//! The caution that every statement about strength carries.

/// Ends every statement that speaks of strength.
pub(crate) const ESTIMATE: &str =
    " An estimate: local rules and the judgement of a licensed engineer or mechanic come first.";
