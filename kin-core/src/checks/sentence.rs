//! Sentences whose numbers are shown in the reader's unit.

use std::borrow::Cow;
use std::fmt;

/// A part of a sentence.
#[derive(Debug, Clone, PartialEq)]
pub enum Piece {
    /// Words as they stand.
    Words(Cow<'static, str>),
    /// A length (mm).
    Length(f64),
}

/// A sentence in pieces; lengths take the reader's unit when it is rendered.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sentence(Vec<Piece>);

impl Sentence {
    pub(crate) fn new(words: impl Into<Cow<'static, str>>) -> Self {
        Self(vec![Piece::Words(words.into())])
    }

    pub(crate) fn words(mut self, words: impl Into<Cow<'static, str>>) -> Self {
        self.0.push(Piece::Words(words.into()));
        self
    }

    pub(crate) fn length(mut self, length: f64) -> Self {
        self.0.push(Piece::Length(length));
        self
    }

    /// The pieces in order.
    #[must_use]
    pub fn pieces(&self) -> &[Piece] {
        &self.0
    }

    /// The sentence with every length written by `lengths` (mm in, text with unit out).
    #[must_use]
    pub fn render(&self, lengths: impl Fn(f64) -> String) -> String {
        let text = self.0.iter().map(|piece| match piece {
            Piece::Words(words) => words.to_string(),
            Piece::Length(length) => lengths(*length),
        });
        text.collect()
    }
}

impl fmt::Display for Sentence {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.render(|length| format!("{length:.1} mm")))
    }
}
