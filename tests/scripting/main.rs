//! The tests of scripts as users run them.
#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a test that cannot be set up has failed"
)]

mod support;
mod vocabulary;

mod data_out;
mod drawings;
mod example_figures;
mod examples;
mod fit;
mod folders;
mod hostile;
mod lessons;
mod mistakes;
mod model_files;
mod pages;
mod pictures;
mod plain_messages;
mod printed;
mod program;
mod random_scripts;
mod readme;
mod ride_height;
mod springs_and_bolts;
mod stroke_words;
mod study;
mod survey;
mod teaching;
mod words;
