//! Checks: does it fit, by how much, and what would mend it.
//!
//! Every check answers with [`Finding`]s. A part that does not fit is an answer, not an error.

mod allowed;
mod budget;
mod crossed_wheels;
mod damper_stroke;
mod finding;
mod remedy;
mod sentence;
mod stopper;

pub use budget::{DamperLengths, TravelBudget};
pub use damper_stroke::{DamperStroke, MockUp, StrokeQuestion, check_axle_stroke, check_corner_stroke};
pub use finding::{Finding, Verdict, worst};
pub use remedy::{Remedy, RemedyKind};
pub use sentence::{Piece, Sentence};
pub use stopper::Stopper;
