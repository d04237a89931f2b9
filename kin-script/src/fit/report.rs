//! What a check found, as named values: the same list is printed on the sheet and read by scripts.

use crate::table::Table;
use kin_core::Dimension;
use kin_core::checks::{Finding, Sentence, Verdict, worst};

/// A check's answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Report {
    /// The check's word in scripts.
    pub check: &'static str,
    /// What the check is about, for people.
    pub heading: &'static str,
    /// One for each part that was judged.
    pub items: Vec<Item>,
    /// The answers.
    pub findings: Vec<Finding>,
}

/// The values of one part: a spring, a bolt, a joint.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// Which part.
    pub name: String,
    /// Its values in reading order.
    pub entries: Vec<Entry>,
    /// Its tables, each with a caption.
    pub tables: Vec<(String, Table)>,
}

/// A named value.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Its name in scripts.
    pub key: &'static str,
    /// Its name on the sheet; one without a label is for scripts only.
    pub label: &'static str,
    /// The value.
    pub value: Value,
}

/// A value in core units.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// A number.
    Quantity(f64, Dimension),
    /// A number per wheel travel.
    PerTravel(f64, Dimension),
    /// A vector in vehicle axes.
    Vector([f64; 3], Dimension),
    /// A whole number.
    Count(i64),
    /// A share, shown in percent.
    Share(f64),
    /// A number without unit that is no ratio of like numbers, such as turns, with the decimals it is read with.
    Number(f64, usize),
    /// Words.
    Text(String),
    /// A sentence whose numbers take the reader's unit.
    Sentence(Sentence),
    /// Several values, one under the other.
    List(Vec<Value>),
    /// Values by names that a description gives, such as those of links.
    Named(Vec<(String, Value)>),
    /// Yes or no.
    Truth(bool),
    /// No value, and why.
    Absent(&'static str),
}

impl Report {
    /// The worst of the findings.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        worst(&self.findings)
    }
}

impl Item {
    /// A part without values.
    #[must_use]
    pub fn new(name: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            entries: Vec::new(),
            tables: Vec::new(),
        }
    }

    /// With one more value.
    #[must_use]
    pub fn with(mut self, key: &'static str, label: &'static str, value: Value) -> Self {
        self.entries.push(Entry { key, label, value });
        self
    }

    /// With one more number.
    #[must_use]
    pub fn quantity(self, key: &'static str, label: &'static str, value: f64, dimension: Dimension) -> Self {
        self.with(key, label, Value::Quantity(value, dimension))
    }

    /// With one more length.
    #[must_use]
    pub fn length(self, key: &'static str, label: &'static str, value: f64) -> Self {
        self.quantity(key, label, value, Dimension::Length)
    }

    /// With one more angle.
    #[must_use]
    pub fn angle(self, key: &'static str, label: &'static str, value: f64) -> Self {
        self.quantity(key, label, value, Dimension::Angle)
    }

    /// With one more number, or the reason why there is none.
    #[must_use]
    pub fn maybe(
        self,
        key: &'static str,
        label: &'static str,
        (value, dimension): (Option<f64>, Dimension),
        absent: &'static str,
    ) -> Self {
        let value = value.map_or(Value::Absent(absent), |value| Value::Quantity(value, dimension));
        self.with(key, label, value)
    }

    /// With words.
    #[must_use]
    pub fn text(self, key: &'static str, label: &'static str, words: impl Into<String>) -> Self {
        self.with(key, label, Value::Text(words.into()))
    }

    /// With sentences, one under the other; none leave no line.
    #[must_use]
    pub fn sentences(self, key: &'static str, label: &'static str, sentences: &[Sentence]) -> Self {
        let label = if sentences.is_empty() { "" } else { label };
        let list = sentences.iter().cloned().map(Value::Sentence).collect();
        self.with(key, label, Value::List(list))
    }

    /// With a vector in vehicle axes.
    #[must_use]
    pub fn vector(
        self,
        key: &'static str,
        label: &'static str,
        vector: impl Into<[f64; 3]>,
        dimension: Dimension,
    ) -> Self {
        self.with(key, label, Value::Vector(vector.into(), dimension))
    }

    /// With a table under a caption.
    #[must_use]
    pub fn table(mut self, caption: impl Into<String>, table: Table) -> Self {
        self.tables.push((caption.into(), table));
        self
    }
}
