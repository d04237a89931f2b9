//! Small numerical tools that know nothing of suspensions.

pub(crate) mod bracketed_root;
pub(crate) mod elimination;
pub(crate) mod hermite;
pub(crate) mod lu;
pub(crate) mod real;
