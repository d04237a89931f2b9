//! Small numerical tools that know nothing of suspensions.

pub(crate) mod adams;
pub(crate) mod bracketed_root;
pub(crate) mod lu;
pub(crate) mod real;
