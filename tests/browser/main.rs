//! The pages in a browser: opened from a file as a user opens them, dragged, and typed on.
//!
//! Where no browser is installed the tests say so and do nothing.
#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a test that cannot be set up has failed"
)]

mod animation;
mod driver;
mod moving;
mod moving_axle;
mod moving_choices;
mod native;
mod native_axle;
mod page;
mod sheet;

use assert_cmd::Command;
use std::path::{Path, PathBuf};

fn examples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples")
}

/// Runs an example with an output folder of its own.
fn run(example: &str) -> tempfile::TempDir {
    run_file(&examples().join(example))
}

/// Runs a script that stands beside the examples' vehicles.
fn run_text(script: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let vehicles = folder.path().join("vehicles");
    std::fs::create_dir(&vehicles).unwrap();
    for entry in std::fs::read_dir(examples().join("vehicles")).unwrap() {
        let path = entry.unwrap().path();
        std::fs::copy(&path, vehicles.join(path.file_name().unwrap())).unwrap();
    }
    let file = folder.path().join("script.rhai");
    std::fs::write(&file, script).unwrap();
    run_file(&file)
}

fn run_file(file: &Path) -> tempfile::TempDir {
    let output = tempfile::tempdir().unwrap();
    let mut command = Command::new(env!("CARGO_BIN_EXE_kin"));
    command.arg("run").arg(file).arg("--quiet");
    command.arg("--output").arg(output.path()).assert().success();
    output
}
