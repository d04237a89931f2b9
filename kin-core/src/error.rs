//! One error type over the stages, for callers that run them in one go.

use crate::Sentence;
use crate::linkage::LinkageError;
use crate::pickups::PickupError;
use crate::pose::PoseError;

/// What can go wrong between pickups and findings.
///
/// A part that does not fit is not an error: it is a [`Finding`](crate::checks::Finding).
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// The description cannot be right.
    #[error(transparent)]
    Pickups(#[from] PickupError),
    /// The linkage does not hold its carrier.
    #[error(transparent)]
    Linkage(#[from] LinkageError),
    /// A position cannot be reached or trusted.
    #[error(transparent)]
    Pose(#[from] PoseError),
    /// The description lacks what a question needs.
    #[error("{question} needs `{field}`, which is not given: {advice}")]
    Missing {
        /// What was asked.
        question: &'static str,
        /// The field that is absent.
        field: &'static str,
        /// What to do.
        advice: &'static str,
    },
    /// A ride height was given as a length that the damper never has.
    #[error("{}", self.sentence())]
    LengthNeverReached {
        /// The length asked for (mm).
        length_mm: f64,
        /// The shorter of the lengths at both ends of the travel (mm).
        shortest_mm: f64,
        /// The longer of them (mm).
        longest_mm: f64,
    },
    /// A number that does not exist for this suspension at this place.
    #[error("{}", self.sentence())]
    NoValue {
        /// The curve or number.
        what: &'static str,
    },
    /// Something was asked that makes no sense for this layout.
    #[error("{}", self.sentence())]
    NotForThisLayout {
        /// What was asked.
        question: String,
        /// Why it cannot be answered.
        reason: Sentence,
    },
}

impl Error {
    /// What is wrong and what to do, with numbers that take the reader's units.
    #[must_use]
    pub fn sentence(&self) -> Sentence {
        match self {
            Self::Pickups(error) => error.sentence(),
            Self::Linkage(error) => error.sentence(),
            Self::Pose(error) => error.sentence(),
            Self::LengthNeverReached {
                length_mm,
                shortest_mm,
                longest_mm,
            } => Sentence::new("the damper is never ")
                .given_length(*length_mm)
                .words(" between its mounts: over the travel of the linkage it goes from ")
                .length(*shortest_mm)
                .words(" to ")
                .length(*longest_mm)
                .words(". Check the mounts, and whether the length runs from eye to eye"),
            Self::NoValue { what } => Sentence::new(format!(
                "`{what}` has no value there: a part that it needs is not described, or it lies at infinity"
            )),
            Self::Missing { .. } => Sentence::new(self.to_string()),
            Self::NotForThisLayout { question, reason } => {
                Sentence::new(format!("{question}: ")).then(reason)
            }
        }
    }
}
