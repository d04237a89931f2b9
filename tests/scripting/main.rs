//! The tests of scripts as users run them.

mod support;

mod hostile;
mod mistakes;
