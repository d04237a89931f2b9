//! One error type over the stages, for callers that run them in one go.

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
    #[error(
        "the damper is never {length_mm:.2} mm between its mounts: over the travel of the linkage it goes from \
         {shortest_mm:.2} mm to {longest_mm:.2} mm. Check the mounts, and whether the length runs from eye to eye"
    )]
    LengthNeverReached {
        /// The length asked for (mm).
        length_mm: f64,
        /// The shorter of the lengths at both ends of the travel (mm).
        shortest_mm: f64,
        /// The longer of them (mm).
        longest_mm: f64,
    },
    /// Something was asked that makes no sense for this layout.
    #[error("{question}: {reason}")]
    NotForThisLayout {
        /// What was asked.
        question: String,
        /// Why it cannot be answered.
        reason: String,
    },
}
