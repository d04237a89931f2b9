//! What a check says.

use super::{Remedy, Sentence};
use crate::{Dimension, Rounding};
use std::fmt;

/// Whether a limit holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// No limit was asked for: the number is stated, and nothing is said of fit.
    NotAsked,
    /// The limit holds with the wanted margin.
    Holds,
    /// The limit holds, but with less than the wanted margin.
    Tight,
    /// The limit does not hold.
    Fails,
}

impl Verdict {
    /// From what is left beyond a limit, and the margin wanted (same unit).
    #[must_use]
    pub fn from_margin(left: f64, wanted: f64) -> Self {
        if left < 0.0 {
            Self::Fails
        } else if left < wanted {
            Self::Tight
        } else {
            Self::Holds
        }
    }

    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::NotAsked => "not asked",
            Self::Holds => "holds",
            Self::Tight => "tight",
            Self::Fails => "fails",
        }
    }
}

impl fmt::Display for Verdict {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(self.word())
    }
}

/// The answer of a check to one question.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// The check that speaks, by its word in scripts.
    pub check: &'static str,
    /// What was compared, in a few words.
    pub subject: String,
    /// Whether it holds.
    pub verdict: Verdict,
    /// What value, limit and margin are.
    pub dimension: Dimension,
    /// The number found (core units).
    pub value: f64,
    /// The limit it is compared with (core units).
    pub limit: f64,
    /// What is left beyond the limit (core units); negative when it fails.
    pub margin: f64,
    /// Where in the travel, counted from ride height (mm), bump positive.
    pub at_travel: Option<f64>,
    /// The number, the limit, where, and the consequence.
    pub statement: Sentence,
    /// The smallest changes that mend it, each verified by running the check again.
    pub remedies: Vec<Remedy>,
}

impl Finding {
    /// A number that nobody gave a limit for: it is its own limit, with nothing to spare.
    pub(crate) fn not_asked(
        check: &'static str,
        subject: String,
        (value, dimension): (f64, Dimension),
        at_travel: Option<f64>,
        statement: Sentence,
    ) -> Self {
        Self {
            check,
            subject,
            verdict: Verdict::NotAsked,
            dimension,
            value,
            limit: value,
            margin: 0.0,
            at_travel,
            statement,
            remedies: Vec::new(),
        }
    }

    /// Statement and remedies as one text, numbers written by `show` (core units in, text with unit out).
    #[must_use]
    pub fn render(&self, show: impl Fn(f64, Dimension, Rounding) -> String) -> String {
        let mut text = self.statement.render(&show);
        for remedy in &self.remedies {
            text.push(' ');
            text.push_str(&remedy.sentence.render(&show));
        }
        text
    }
}

impl fmt::Display for Finding {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            formatter,
            "[{}] {}",
            self.verdict,
            self.render(|value, dimension, rounding| dimension.rounded(value, rounding))
        )
    }
}

/// The worst verdict of several findings; not asked when there are none.
#[must_use]
pub fn worst<'a>(findings: impl IntoIterator<Item = &'a Finding>) -> Verdict {
    findings
        .into_iter()
        .map(|finding| finding.verdict)
        .max()
        .unwrap_or(Verdict::NotAsked)
}
