//! Sentences whose numbers are shown in the reader's units.

use crate::{Dimension, Rounding};
use std::borrow::Cow;
use std::fmt;

/// A part of a sentence.
#[derive(Debug, Clone, PartialEq)]
pub enum Piece {
    /// Words as they stand.
    Words(Cow<'static, str>),
    /// A number in core units.
    Quantity(f64, Dimension, Rounding),
}

/// A sentence in pieces; numbers take the reader's units when it is rendered.
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

    pub(crate) fn quantity(self, value: f64, dimension: Dimension) -> Self {
        self.rounded(value, dimension, Rounding::Nearest)
    }

    pub(crate) fn rounded(mut self, value: f64, dimension: Dimension, rounding: Rounding) -> Self {
        self.0.push(Piece::Quantity(value, dimension, rounding));
        self
    }

    pub(crate) fn length(self, length: f64) -> Self {
        self.quantity(length, Dimension::Length)
    }

    pub(crate) fn fine_length(self, length: f64) -> Self {
        self.quantity(length, Dimension::FineLength)
    }

    pub(crate) fn angle(self, angle: f64) -> Self {
        self.quantity(angle, Dimension::Angle)
    }

    pub(crate) fn fine_angle(self, angle: f64) -> Self {
        self.quantity(angle, Dimension::FineAngle)
    }

    /// A length as somebody gave it (mm).
    pub(crate) fn given_length(self, length: f64) -> Self {
        self.rounded(length, Dimension::Length, Rounding::AsGiven)
    }

    /// The least length that is enough (mm), rounded up; `room` more is still allowed.
    pub(crate) fn at_least(self, length: f64, room: f64) -> Self {
        self.rounded(length, Dimension::Length, Rounding::Up { room })
    }

    /// The greatest length that is allowed (mm), rounded down; `room` less is still enough.
    pub(crate) fn at_most(self, length: f64, room: f64) -> Self {
        self.rounded(length, Dimension::Length, Rounding::Down { room })
    }

    /// Another sentence as its end.
    pub(crate) fn then(mut self, end: &Self) -> Self {
        self.0.extend_from_slice(&end.0);
        self
    }

    /// The pieces in order.
    #[must_use]
    pub fn pieces(&self) -> &[Piece] {
        &self.0
    }

    /// The sentence with every number written by `show` (core units in, text with unit out).
    #[must_use]
    pub fn render(&self, show: impl Fn(f64, Dimension, Rounding) -> String) -> String {
        let text = self.0.iter().map(|piece| match piece {
            Piece::Words(words) => words.to_string(),
            Piece::Quantity(value, dimension, rounding) => show(*value, *dimension, *rounding),
        });
        text.collect()
    }
}

impl From<String> for Sentence {
    fn from(words: String) -> Self {
        Self::new(words)
    }
}

impl From<&'static str> for Sentence {
    fn from(words: &'static str) -> Self {
        Self::new(words)
    }
}

impl fmt::Display for Sentence {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.render(|value, dimension, rounding| dimension.rounded(value, rounding)))
    }
}
