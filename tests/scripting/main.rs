//! The tests of scripts as users run them.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a test stops by panicking"
)]

mod support;

mod hostile;
mod mistakes;
mod model_files;
