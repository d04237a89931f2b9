//! `kin start`: a commented script for each layout.

use std::fs::OpenOptions;
use std::io::{ErrorKind, Write};
use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::{Ended, say};
use crate::explain::Report;
use crate::host::ScriptError;

/// The arguments of `kin start`.
#[derive(Debug, Args)]
pub(super) struct Start {
    /// What the car has at this end.
    #[arg(value_enum)]
    layout: Layout,
    /// The script to write; a file that exists is never overwritten.
    #[arg(value_name = "SCRIPT.rhai")]
    file: PathBuf,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Layout {
    /// Two arms, an upright and a tie rod on each side.
    DoubleWishbone,
    /// A live axle on four links, two of them splayed.
    TriangulatedFourLink,
    /// A live axle on four parallel links and a panhard rod.
    ParallelFourLink,
    /// A live axle on two lower links, one upper link and a panhard rod.
    ThreeLink,
}

impl Layout {
    const fn template(self) -> &'static str {
        match self {
            Self::DoubleWishbone => include_str!("../../templates/double_wishbone.rhai"),
            Self::TriangulatedFourLink => include_str!("../../templates/triangulated_four_link.rhai"),
            Self::ParallelFourLink => include_str!("../../templates/parallel_four_link.rhai"),
            Self::ThreeLink => include_str!("../../templates/three_link.rhai"),
        }
    }
}

impl Start {
    pub(super) fn carry_out(&self) -> Ended {
        let shown = self.file.display();
        let refused = |error: std::io::Error| {
            let what = if error.kind() == ErrorKind::AlreadyExists {
                ScriptError::new(format!("{shown} exists already, and is left as it is"))
                    .with_help("choose another name")
            } else {
                ScriptError::new(format!("{shown} cannot be written: {error}"))
            };
            Report::without_place(what)
        };
        if self.file.extension().is_none_or(|ending| ending != "rhai") {
            let error = ScriptError::new(format!("{shown} does not end in .rhai"))
                .with_help(format!("say {shown}.rhai"));
            return Err(Report::without_place(error));
        }
        let mut file = OpenOptions::new()
            .write(true)
            .create_new(true)
            .open(&self.file)
            .map_err(refused)?;
        file.write_all(self.layout.template().as_bytes())
            .map_err(refused)?;
        say(&format!(
            "Wrote {shown}: fill in your own numbers, then: kin run {shown}"
        ));
        Ok(0)
    }
}
