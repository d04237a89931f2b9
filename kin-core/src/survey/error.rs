//! What stops a survey.

use super::validate::{MOST_POINTS, MOST_READINGS};
use crate::{Dimension, Sentence};

/// Readings that cannot be adjusted, each with the reading it is about.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum SurveyError {
    /// There is nothing to adjust.
    #[error("{}", self.sentence())]
    NoReadings,
    /// More than one survey holds.
    #[error("{}", self.sentence())]
    TooLarge {
        /// How many points it has.
        points: usize,
        /// How many readings it has.
        readings: usize,
    },
    /// A number that is none.
    #[error("{}", self.sentence())]
    NotFinite {
        /// The reading in words.
        reading: String,
    },
    /// A distance that is zero or negative, once its offset is added.
    #[error("{}", self.sentence())]
    NoDistance {
        /// The reading in words.
        reading: String,
        /// The distance (mm).
        distance: f64,
    },
    /// Both ends of a reading are the same point.
    #[error("{}", self.sentence())]
    SamePoint {
        /// The reading in words.
        reading: String,
    },
    /// A standard deviation that is not positive.
    #[error("{}", self.sentence())]
    Deviation {
        /// The reading in words.
        reading: String,
        /// What was given (mm or rad).
        deviation: f64,
    },
    /// An angle beyond straight up or down.
    #[error("{}", self.sentence())]
    Angle {
        /// The reading in words.
        reading: String,
        /// The angle (rad).
        angle: f64,
    },
    /// Three tapes that make no triangle.
    #[error("{}", self.sentence())]
    TriangleCannotClose {
        /// The longest of the three readings in words.
        longest: String,
        /// Its length (mm).
        length: f64,
        /// The other two in words.
        others: [String; 2],
        /// The sum of those two (mm).
        sum: f64,
    },
    /// One coordinate is stated twice with different values, or against the stated side of the car.
    #[error("{}", self.sentence())]
    ContradictoryDatum {
        /// The coordinate in words.
        coordinate: String,
        /// What was stated, with where.
        first: String,
        /// The value of the first (mm).
        first_value: f64,
        /// What was stated against it, with where.
        second: String,
        /// The value of the second (mm), where it is a number.
        second_value: Option<f64>,
    },
    /// The readings leave points free to move.
    #[error("{}", self.sentence())]
    NotDetermined {
        /// How many readings there are.
        readings: usize,
        /// How many coordinates they have to fix.
        unknowns: usize,
        /// What is not fixed and what to measure, a sentence for each.
        gaps: Vec<Sentence>,
    },
    /// The adjustment came to no end.
    #[error("{}", self.sentence())]
    NotConverged {
        /// The reading that fits worst where it stopped, in words.
        worst: String,
        /// By how much it does not fit (mm or rad).
        misfit: f64,
        /// What the misfit is.
        dimension: Dimension,
    },
    /// A point that is asked for was not measured.
    #[error("{}", self.sentence())]
    UnknownPoint {
        /// The name asked for.
        name: String,
        /// The names there are.
        known: Vec<String>,
    },
}

impl SurveyError {
    /// What is wrong and what to do, with numbers that take the reader's units.
    #[must_use]
    pub fn sentence(&self) -> Sentence {
        match self {
            Self::NoReadings => Sentence::new("the survey has no readings"),
            Self::TooLarge { points, readings } => Sentence::new(format!(
                "the survey has {points} points and {readings} readings; one survey holds at most {MOST_POINTS} and \
                 {MOST_READINGS}. Survey one axle at a time"
            )),
            Self::NotFinite { reading } => {
                Sentence::new(format!("{reading}: the number is not finite. Read it again"))
            }
            Self::NoDistance { reading, distance } => Sentence::new(format!("{reading} is "))
                .given_length(*distance)
                .words(": two different points are some distance apart. Read it again, or check its offset"),
            Self::SamePoint { reading } => {
                Sentence::new(format!("{reading}: both ends are the same point. Name the other end"))
            }
            Self::Deviation { reading, deviation } => Sentence::new(format!(
                "{reading}: its standard deviation is {deviation}, which is not greater than zero"
            ))
            .words(". Two thirds of readings of its kind are that near to the truth"),
            Self::Angle { reading, angle } => Sentence::new(format!("{reading} is "))
                .angle(*angle)
                .words(", which is beyond straight up or down. Read it from level, between -90 and 90 degrees"),
            Self::TriangleCannotClose {
                longest,
                length,
                others: [second, third],
                sum,
            } => Sentence::new(format!("three tapes make no triangle: {longest} is "))
                .given_length(*length)
                .words(format!(", but {second} and {third} are together only "))
                .given_length(*sum)
                .words(". One of the three is wrong: read all three again"),
            Self::ContradictoryDatum {
                coordinate,
                first,
                first_value,
                second,
                second_value,
            } => {
                let said = Sentence::new(format!("{coordinate} is stated twice: "))
                    .given_length(*first_value)
                    .words(format!("{first}, "));
                let said = match second_value {
                    Some(value) => said.given_length(*value),
                    None => said,
                };
                said.words(format!("{second}. Keep the one that holds"))
            }
            Self::NotDetermined {
                readings,
                unknowns,
                gaps,
            } => {
                let few = if readings < unknowns { "are too few" } else { "leave gaps" };
                let mut said =
                    Sentence::new(format!("the {readings} readings {few} for {unknowns} coordinates"));
                for gap in gaps {
                    said = said.words("; ").then(gap);
                }
                said
            }
            Self::NotConverged {
                worst,
                misfit,
                dimension,
            } => Sentence::new("no places were found that fit these readings; worst fits ")
                .words(format!("{worst}, by "))
                .quantity(*misfit, *dimension)
                .words(". Look for a reading with the wrong ends or a slipped digit, or add a rough sketch of the points"),
            Self::UnknownPoint { name, known } => Sentence::new(format!(
                "the survey has no point `{name}`; it has {}",
                known.join(", ")
            )),
        }
    }
}
