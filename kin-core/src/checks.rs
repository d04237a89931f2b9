//! Checks: does it fit, by how much, and what would mend it.
//!
//! Every check answers with [`Finding`]s. A part that does not fit is an answer, not an error.

mod alignment;
mod allowed;
mod anti_roll_bar;
mod budget;
mod damper_stroke;
mod driveline;
mod extreme;
mod finding;
mod hose;
mod joint_angle;
mod motion_range;
mod moving_parts;
mod remedy;
mod sentence;
mod stopper;

pub use alignment::{
    Adjuster, AdjusterSetting, Alignment, AlignmentAngles, AlignmentQuestion, BumpSteer, BumpSteerQuestion,
    ShimRow, ShimmedEnd, TieRodShim, WantedAngle, check_alignment, check_bump_steer,
};
pub use anti_roll_bar::{
    AntiRollBar, ArmBending, BarAtWheel, BarSection, BarSide, check_axle_anti_roll_bar,
    check_corner_anti_roll_bar,
};
pub use budget::{DamperLengths, TravelBudget};
pub use damper_stroke::{DamperStroke, MockUp, StrokeQuestion, check_axle_stroke, check_corner_stroke};
pub use driveline::{Driveline, DrivelineAngles, DrivelineTravel, check_driveline};
pub use finding::{Finding, Verdict, worst};
pub use hose::{Hose, HoseReach, HosesQuestion, check_axle_hoses, check_corner_hoses};
pub use joint_angle::{
    BearingInBracket, BracketFit, Bushing, BushingTwist, BushingsQuestion, Joint, JointSwing, JointsQuestion,
    SphericalBearing, check_axle_bushings, check_axle_joints, check_bearing_in_bracket,
    check_corner_bushings, check_corner_joints,
};
pub use motion_range::{MotionRange, WheelPlace};
pub use remedy::{Remedy, RemedyKind};
pub use sentence::{Piece, Sentence};
pub use stopper::Stopper;
