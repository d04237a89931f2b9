//! The reference of all words, made from the words themselves.

use super::{REGISTRARS, words};
use crate::host::{Session, build_engine};
use serde::Deserialize;

/// What the numbers of a check's question are.
const QUESTION_UNITS: &str = "\n\nNumbers in the question and in what can be read are in the script's unit: lengths in mm or in, rates \
    in N/mm or lb/in, masses in kg or lb, forces in N or lb, torques in N m or lb-ft, stresses in MPa or ksi, speeds in mm/s or in/s; \
    angles in degrees.";

/// One word of the vocabulary.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// Its name.
    pub name: String,
    /// How it is called, with the kinds of its arguments.
    pub call: String,
    /// What it does.
    pub documentation: String,
}

#[derive(Deserialize)]
struct Metadata {
    #[serde(default)]
    functions: Vec<FunctionMetadata>,
}

#[derive(Deserialize)]
#[serde(rename_all = "camelCase")]
struct FunctionMetadata {
    name: String,
    #[serde(default)]
    params: Vec<ParameterMetadata>,
    #[serde(default)]
    doc_comments: Vec<String>,
}

#[derive(Deserialize)]
struct ParameterMetadata {
    name: Option<String>,
    #[serde(rename = "type")]
    kind: Option<String>,
}

/// Every documented word, by name.
#[must_use]
pub fn entries(session: &Session) -> Vec<Entry> {
    let engine = build_engine(session, &REGISTRARS);
    let own = words().reserved;
    let text = engine.gen_fn_metadata_to_json(false).unwrap_or_default();
    let metadata = serde_json::from_str::<Metadata>(&text).map_or(Vec::new(), |metadata| metadata.functions);
    let mut entries: Vec<Entry> = metadata
        .into_iter()
        .filter(|function| {
            !function.doc_comments.is_empty()
                && (own.contains(&function.name) || session.words().reserved.contains(&function.name))
        })
        .map(|function| {
            let parameters = function.params.iter().map(|parameter| {
                let name = parameter.name.as_deref().unwrap_or("value");
                parameter
                    .kind
                    .as_ref()
                    .map_or_else(|| name.to_owned(), |kind| format!("{name}: {kind}"))
            });
            let call = format!("{}({})", function.name, parameters.collect::<Vec<_>>().join(", "));
            let documentation: Vec<&str> = function
                .doc_comments
                .iter()
                .flat_map(|comment| comment.lines())
                .map(|line| line.trim_start_matches("///").trim())
                .collect();
            Entry {
                name: function.name.clone(),
                call,
                documentation: documentation.join("\n").trim().to_owned(),
            }
        })
        .collect();
    for entry in &mut entries {
        if crate::fit::CHECKS.iter().any(|check| check.counted == entry.name) || entry.name == "check_fit" {
            entry.documentation.push_str(QUESTION_UNITS);
        }
    }
    entries.sort_by(|a, b| a.name.cmp(&b.name));
    entries.dedup_by(|a, b| a.name == b.name);
    entries
}
