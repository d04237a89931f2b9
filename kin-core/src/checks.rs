//! Checks: does it fit, by how much, and what would mend it.
//!
//! Every check answers with [`Finding`]s. A part that does not fit is an answer, not an error.

mod bolt;
mod bolt_data;
mod bracket;
mod damper_stroke;
mod estimate;
mod finding;
pub mod loads;
mod remedy;
mod withdrawal;

pub use crate::sentence::{Piece, Sentence};
pub use bolt::{
    BoltCheck, BoltEffect, BoltQuestion, BoltTab, Clamp, Effect, Shear, ThreadCondition, check_bolt,
    clamp_from_torque, torque_for_clamp, usual_clamp,
};
pub use bolt_data::{BoltSize, Grade, HoleClass, Strength, ThreadSeries};
pub use bracket::{
    BracketCheck, BracketForce, BracketQuestion, HoleAfterDrilling, PlateEffect, PlateStress, Weld,
    check_bracket,
};
pub use damper_stroke::{
    DamperLengths, DamperStroke, MockUp, Stopper, StrokeQuestion, TravelBudget, check_axle_stroke,
    check_corner_stroke,
};
pub use finding::{Finding, Verdict, worst};
pub use remedy::{Remedy, RemedyKind};
pub use withdrawal::{
    DamperEnd, RoundObstacle, RoundPart, Withdrawal, WithdrawalPath, WithdrawalQuestion,
    check_axle_withdrawal, check_corner_withdrawal,
};
