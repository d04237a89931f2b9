//! The tests of scripts as users run them.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test that cannot be set up has failed"
)]

mod support;

mod folders;
mod hostile;
mod mistakes;
mod program;
