//! Checks: does it fit, by how much, and what would mend it.
//!
//! Every check answers with [`Finding`]s. A part that does not fit is an answer, not an error.

mod allowed;
mod bolt;
mod bolt_data;
mod bracket;
mod budget;
mod clearance;
mod crossed_wheels;
mod damper_stroke;
mod estimate;
mod finding;
pub mod loads;
mod remedy;
mod sentence;
mod stopper;
mod withdrawal;

pub use bolt::{
    BoltCheck, BoltEffect, BoltQuestion, BoltTab, Clamp, Effect, Shear, ThreadCondition, check_bolt,
    clamp_from_torque, torque_for_clamp, usual_clamp,
};
pub use bolt_data::{BoltSize, Grade, HoleClass, Strength, ThreadSeries};
pub use bracket::{
    BracketCheck, BracketForce, BracketQuestion, HoleAfterDrilling, PlateEffect, PlateStress, Weld,
    check_bracket,
};
pub use budget::{DamperLengths, TravelBudget};
pub use clearance::{
    AlongDamper, Ball, Block, Clearance, ClearanceQuestion, LeastGap, MotionKind, MoveGain, Overlap,
    PairClearance, Place, Plane, Rod, Shape, Solid, Tube, Tyre, WheelPlace, check_axle_clearance,
    check_corner_clearance,
};
pub use damper_stroke::{DamperStroke, MockUp, StrokeQuestion, check_axle_stroke, check_corner_stroke};
pub use finding::{Finding, Verdict, worst};
pub use remedy::{Remedy, RemedyKind};
pub use sentence::{Piece, Sentence};
pub use stopper::Stopper;
pub use withdrawal::{
    DamperEnd, RoundObstacle, RoundPart, Withdrawal, WithdrawalPath, WithdrawalQuestion,
    check_axle_withdrawal, check_corner_withdrawal,
};
