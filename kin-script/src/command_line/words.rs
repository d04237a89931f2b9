//! `kin words`: the reference of the script language.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::Args;

use super::{Ended, say};
use crate::explain::{Report, suggest};
use crate::host::{Limits, OutputFolder, ScriptError, ScriptFolder, Session, Setup, Silent};
use crate::vocabulary::{self, CurveEntry, Entry, Key};

/// The arguments of `kin words`.
#[derive(Debug, Args)]
pub(super) struct Words {
    /// What to explain: a word, a key such as `camber`, a curve such as `motion_ratio`, or a part of a name. `keys` explains
    /// all keys of descriptions, `curves` all curves. Without one, everything is listed.
    #[arg(value_name = "WORD")]
    words: Vec<String>,
}

/// Columns that explanations are wrapped at.
const COLUMNS: usize = 100;
const INDENT: &str = "    ";

/// Everything that can be explained.
struct Reference {
    words: Vec<Entry>,
    keys: Vec<&'static Key>,
    curves: Vec<CurveEntry>,
}

impl Words {
    pub(super) fn carry_out(&self) -> Ended {
        let reference = Reference {
            words: vocabulary::entries(&session().map_err(Report::without_place)?),
            keys: vocabulary::all_keys().collect(),
            curves: vocabulary::curve_entries(),
        };
        if self.words.is_empty() {
            reference.list();
        }
        for word in &self.words {
            match word.as_str() {
                "keys" => reference.keys.iter().for_each(|key| say(&explained_key(key))),
                "curves" => reference
                    .curves
                    .iter()
                    .for_each(|curve| say(&explained_curve(curve))),
                _ => reference.explain(word).map_err(Report::without_place)?,
            }
        }
        Ok(0)
    }
}

impl Reference {
    /// Every word with what it does, and the names of all keys and curves.
    fn list(&self) {
        for entry in &self.words {
            say(&format!(
                "{}\n{INDENT}{}",
                entry.call,
                entry.documentation.lines().next().unwrap_or_default()
            ));
        }
        say("\nKEYS, by the map they stand in:");
        let mut maps: Vec<&str> = self.keys.iter().flat_map(|key| key.inside).copied().collect();
        let mut seen = Vec::new();
        maps.retain(|map| {
            !seen.contains(map) && {
                seen.push(*map);
                true
            }
        });
        for map in maps {
            let inside = self.keys.iter().filter(|key| key.inside.contains(&map));
            let names: Vec<&str> = inside.map(|key| key.name).collect();
            say(&wrapped(&format!("{map}: {}", names.join(", "))));
        }
        say("\nCURVES and rates, by layout:");
        for layout in ["corner", "live axle"] {
            let own = self.curves.iter().filter(|curve| curve.layout == layout);
            let names: Vec<&str> = own.map(|curve| curve.name.as_str()).collect();
            say(&wrapped(&format!("{layout}: {}", names.join(", "))));
        }
        say(
            "\n`kin words NAME` explains a word, a key or a curve, such as `kin words camber`; `kin words keys` explains all \
             keys, `kin words curves` all curves.",
        );
    }

    /// Explains what has this name; failing that, what has it in its name; failing that, the words that speak of it.
    fn explain(&self, wanted: &str) -> Result<(), ScriptError> {
        let wanted = wanted.to_lowercase();
        let is_wanted = |name: &str| name == wanted;
        if self.say_those(is_wanted) {
            let mut others: Vec<&str> = self
                .names()
                .filter(|name| name.contains(&wanted) && *name != wanted)
                .collect();
            others.sort_unstable();
            others.dedup();
            if !others.is_empty() {
                say(&format!(
                    "{}\n",
                    wrapped(&format!("See also: {}", others.join(", ")))
                ));
            }
            return Ok(());
        }
        if wanted.chars().count() > 2 && self.say_those(|name| name.contains(&wanted)) {
            return Ok(());
        }
        let code = format!("`{wanted}`");
        let speaking: Vec<&Entry> = self
            .words
            .iter()
            .filter(|entry| entry.documentation.contains(&code))
            .collect();
        speaking.iter().for_each(|entry| say(&explained_word(entry)));
        if !speaking.is_empty() {
            return Ok(());
        }
        let error = ScriptError::new(format!("there is no word, key or curve {wanted:?}"));
        Err(match suggest(&wanted, self.names()) {
            Some(nearest) => error.with_help(format!("did you mean {nearest:?}?")),
            None => error.with_help("`kin words` lists them all"),
        })
    }

    /// Explains everything whose name is wanted; returns whether there was anything.
    fn say_those(&self, wanted: impl Fn(&str) -> bool) -> bool {
        let words = self.words.iter().filter(|entry| wanted(&entry.name));
        let keys = self.keys.iter().filter(|key| wanted(key.name));
        let curves = self.curves.iter().filter(|curve| wanted(&curve.name));
        let texts: Vec<String> = words
            .map(explained_word)
            .chain(keys.map(|key| explained_key(key)))
            .chain(curves.map(explained_curve))
            .collect();
        texts.iter().for_each(|text| say(text));
        !texts.is_empty()
    }

    fn names(&self) -> impl Iterator<Item = &str> {
        let words = self.words.iter().map(|entry| entry.name.as_str());
        let keys = self.keys.iter().map(|key| key.name);
        let curves = self.curves.iter().map(|curve| curve.name.as_str());
        words.chain(keys).chain(curves)
    }
}

fn explained_word(entry: &Entry) -> String {
    format!(
        "{}\n\n{}\n",
        entry.call,
        textwrap::fill(&entry.documentation, COLUMNS)
    )
}

fn explained_key(key: &Key) -> String {
    format!(
        "{} (key of {}): {}\n{}\n{INDENT}{}\n",
        key.name,
        key.inside.join(", "),
        key.kind.words(),
        wrapped(key.meaning),
        key.example
    )
}

fn explained_curve(curve: &CurveEntry) -> String {
    let unit = if curve.unit.is_empty() {
        "no unit"
    } else {
        &curve.unit
    };
    format!(
        "{} (curve of a {}): {unit}\n{}\n",
        curve.name,
        curve.layout,
        wrapped(&curve.meaning)
    )
}

fn wrapped(text: &str) -> String {
    let options = textwrap::Options::new(COLUMNS)
        .initial_indent(INDENT)
        .subsequent_indent(INDENT);
    textwrap::fill(text, options)
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
