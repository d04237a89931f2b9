//! The answer of a study: words, values, tables and figures, the same form for all studies.

use super::StudyPicture;
use crate::fit::Item;
use crate::model::Model;
use crate::table::{Table, TableError};
use crate::units::Units;
use serde_json::{Map, Value};

/// What a study found.
#[derive(Debug, Clone, Default)]
pub struct StudyAnswer {
    /// The study's word in scripts.
    pub study: &'static str,
    /// What it is about, for people: the study and the model.
    pub title: String,
    /// The units of every number.
    pub units: Units,
    /// What it comes to, in sentences, the most important first.
    pub statements: Vec<String>,
    /// Values that a script reads by name.
    pub items: Vec<Item>,
    /// Its tables, the main one first.
    pub tables: Vec<NamedTable>,
    /// Its pictures, the main one first, each with its name.
    pub pictures: Vec<(&'static str, StudyPicture)>,
    /// Models that it found, each with its name.
    pub models: Vec<(&'static str, Model)>,
    /// What was asked, as plain values; null where nobody kept it.
    pub asked: Value,
    /// Where the study was stopped before its end: what was done, in words.
    pub stopped: Option<String>,
}

/// A table with its name and its caption.
#[derive(Debug, Clone, Default)]
pub struct NamedTable {
    /// Its name in scripts and files.
    pub name: &'static str,
    /// What it shows.
    pub caption: String,
    /// The table.
    pub table: Table,
    /// Whether a picture of the answer shows the same.
    pub is_drawn: bool,
}

impl StudyAnswer {
    /// An empty answer.
    #[must_use]
    pub fn new(study: &'static str, title: impl Into<String>, units: Units) -> Self {
        Self {
            study,
            title: title.into(),
            units,
            ..Self::default()
        }
    }

    /// With one more table.
    #[must_use]
    pub fn table(mut self, name: &'static str, caption: impl Into<String>, table: Table) -> Self {
        self.tables.push(NamedTable {
            name,
            caption: caption.into(),
            table,
            is_drawn: false,
        });
        self
    }

    /// With one more sentence.
    #[must_use]
    pub fn says(mut self, statement: impl Into<String>) -> Self {
        self.statements.push(statement.into());
        self
    }

    /// Everything as JSON: the sentences, and each table as a list of rows by its name.
    ///
    /// # Errors
    /// When a table cannot be written.
    pub fn json(&self) -> Result<String, TableError> {
        let mut root = Map::new();
        root.insert("study".into(), self.study.into());
        root.insert("title".into(), self.title.as_str().into());
        root.insert("statements".into(), self.statements.clone().into());
        if let Some(stopped) = &self.stopped {
            root.insert("stopped".into(), stopped.as_str().into());
        }
        let mut tables = Map::new();
        for named in &self.tables {
            tables.insert(named.name.into(), named.table.rows_as_json());
        }
        root.insert("tables".into(), Value::Object(tables));
        crate::table::pretty(&Value::Object(root))
    }
}
