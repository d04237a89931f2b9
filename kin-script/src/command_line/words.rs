//! `kin words`: the reference of the script language.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::Args;

use super::{Ended, say};
use crate::explain::{Report, suggest};
use crate::host::{Limits, OutputFolder, ScriptError, ScriptFolder, Session, Setup, Silent};
use crate::readings::Reading;
use crate::vocabulary;

/// The arguments of `kin words`.
#[derive(Debug, Args)]
pub(super) struct Words {
    /// Words to explain; `curves` lists the curves. Without one, all words are listed.
    #[arg(value_name = "WORD")]
    words: Vec<String>,
}

impl Words {
    pub(super) fn carry_out(&self) -> Ended {
        let entries = vocabulary::entries(&session().map_err(Report::without_place)?);
        if self.words.is_empty() {
            for entry in &entries {
                say(&format!(
                    "{}\n    {}",
                    entry.call,
                    entry.documentation.lines().next().unwrap_or_default()
                ));
            }
            say("\nkin words WORD explains a word; kin words curves lists the curves.");
        }
        for word in &self.words {
            if word == "curves" {
                say(&format!("A corner: {}\n", Reading::corner_names().join(", ")));
                say(&format!("A live axle: {}", Reading::axle_names().join(", ")));
                continue;
            }
            let Some(entry) = entries.iter().find(|entry| entry.name == *word) else {
                let error = ScriptError::new(format!("there is no word {word:?}"));
                let error = match suggest(word, entries.iter().map(|entry| entry.name.as_str())) {
                    Some(nearest) => error.with_help(format!("did you mean {nearest:?}?")),
                    None => error.with_help("`kin words` lists them all"),
                };
                return Err(Report::without_place(error));
            };
            say(&format!("{}\n\n{}\n", entry.call, entry.documentation));
        }
        Ok(0)
    }
}

/// A session that runs nothing: it only carries the vocabulary.
fn session() -> Result<Session, ScriptError> {
    let limits = Limits::default();
    let script_folder = ScriptFolder::new(Path::new(""))?;
    let output_folder = OutputFolder::new(PathBuf::from("words-output"), &script_folder, &limits)?;
    let words = vocabulary::words();
    Ok(Session::new(Setup {
        script_folder,
        output_folder,
        limits,
        printer: Arc::new(Silent),
        words,
    }))
}
