//! What is wrong with a description.

use crate::{Dimension, Rounding, Sentence};
use std::fmt;

/// Something in a description cannot be right.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum PickupError {
    /// A number is not finite.
    NotFinite {
        /// Path of the field.
        field: String,
        /// The value found.
        value: f64,
    },
    /// A number lies outside what is possible.
    OutOfRange {
        /// Path of the field.
        field: String,
        /// The value found.
        value: f64,
        /// What it must be, in words with the limit.
        requirement: String,
        /// What to do.
        advice: &'static str,
    },
    /// A number with a unit lies outside what is possible.
    QuantityOutOfRange {
        /// Path of the field.
        field: String,
        /// The value found (core units).
        value: f64,
        /// What the value is.
        dimension: Dimension,
        /// What it must be, in words with the limit.
        requirement: Sentence,
        /// What to do.
        advice: &'static str,
    },
    /// A point or a size cannot be what it is said to be beside another one.
    Misplaced {
        /// Path of the point or the size.
        field: String,
        /// What it is, and what it cannot be, with the numbers.
        problem: Sentence,
        /// What to do.
        advice: &'static str,
    },
    /// Two joints of one part coincide, or nearly.
    TooClose {
        /// One joint.
        first: String,
        /// The other joint.
        second: String,
        /// Their distance (mm).
        distance_mm: f64,
        /// What to do.
        advice: &'static str,
    },
    /// Two joints of one part are farther apart than any car is long.
    TooFar {
        /// One joint.
        first: String,
        /// The other joint.
        second: String,
        /// Their distance (mm).
        distance_mm: f64,
        /// What to do.
        advice: &'static str,
    },
    /// A point lies on the wrong side of the car.
    WrongSide {
        /// Path of the point.
        field: String,
        /// Its y (mm).
        value: f64,
        /// The side described.
        side: &'static str,
        /// The comparison that holds on that side.
        sign: &'static str,
        /// The other side.
        other: &'static str,
    },
    /// A part is said to ride on something that is not there.
    UnknownPart {
        /// Path of the field.
        field: String,
        /// The name found.
        value: String,
        /// The names that exist.
        known: String,
        /// The nearest of them, as the end of the sentence.
        suggestion: String,
    },
    /// Something needed is missing, or two things exclude each other.
    Incomplete {
        /// Path of the field.
        field: String,
        /// What is missing or doubled, and what to do.
        problem: String,
    },
}

impl PickupError {
    /// What is wrong and what to do, with numbers that take the reader's units.
    #[must_use]
    pub fn sentence(&self) -> Sentence {
        match self {
            Self::NotFinite { field, value } => {
                Sentence::new(format!("`{field}` is {value}: give a finite number"))
            }
            Self::OutOfRange {
                field,
                value,
                requirement,
                advice,
            } => Sentence::new(format!("`{field}` is "))
                .rounded(*value, Dimension::Ratio, Rounding::AsGiven)
                .words(format!(", but it must be {requirement}: {advice}")),
            Self::QuantityOutOfRange {
                field,
                value,
                dimension,
                requirement,
                advice,
            } => Sentence::new(format!("`{field}` is "))
                .rounded(*value, *dimension, Rounding::AsGiven)
                .words(", but it must be ")
                .then(requirement)
                .words(format!(": {advice}")),
            Self::Misplaced { problem, advice, .. } => problem.clone().words(format!(": {advice}")),
            Self::TooClose {
                first,
                second,
                distance_mm,
                advice,
            }
            | Self::TooFar {
                first,
                second,
                distance_mm,
                advice,
            } => Sentence::new(format!("`{first}` and `{second}` are "))
                .given_length(*distance_mm)
                .words(format!(" apart: {advice}")),
            Self::WrongSide {
                field,
                value,
                side,
                sign,
                other,
            } => Sentence::new(format!("`{field}` has y = "))
                .given_length(*value)
                .words(format!(
                    ", but a {side} corner lies at y {sign} 0 (Y points left): turn the sign round, or say \
                     `side: \"{other}\"`"
                )),
            Self::UnknownPart {
                field,
                value,
                known,
                suggestion,
            } => Sentence::new(format!(
                "`{field}` says `{value}`, which is not a part here; it can be one of: {known}{suggestion}"
            )),
            Self::Incomplete { field, problem } => Sentence::new(format!("`{field}`: {problem}")),
        }
    }

    /// The field that is wrong, or the first of them.
    #[must_use]
    pub fn field(&self) -> &str {
        match self {
            Self::NotFinite { field, .. }
            | Self::OutOfRange { field, .. }
            | Self::QuantityOutOfRange { field, .. }
            | Self::Misplaced { field, .. }
            | Self::WrongSide { field, .. }
            | Self::UnknownPart { field, .. }
            | Self::Incomplete { field, .. } => field,
            Self::TooClose { first, .. } | Self::TooFar { first, .. } => first,
        }
    }
}

impl fmt::Display for PickupError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.sentence().fmt(formatter)
    }
}

impl std::error::Error for PickupError {}
