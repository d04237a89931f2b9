//! Checks: does it fit, by how much, and what would mend it.
//!
//! Every check answers with [`Finding`]s. A part that does not fit is an answer, not an error.

pub(crate) mod alignment;
mod anti_roll_bar;
mod balance;
mod bolt;
mod bolt_data;
mod bracket;
mod bump_stop;
mod clearance;
mod damper_setting;
mod damper_stroke;
mod driveline;
mod extreme;
mod finding;
mod hose;
mod joint_angle;
pub mod loads;
mod motion_range;
mod moving_parts;
mod remedy;
mod remedy_kind;
mod ride_frequency;
mod ride_height;
mod spring;
mod spring_choice;
mod spring_rate;
mod sprung_load;
mod sprung_wheel;
mod withdrawal;

pub use crate::sentence::{Piece, Sentence};
pub use alignment::{
    Adjuster, AdjusterSetting, Alignment, AlignmentAngles, AlignmentQuestion, BumpSteer, BumpSteerQuestion,
    ShimRow, ShimmedEnd, TieRodShim, WantedAngle, check_alignment, check_bump_steer,
};
pub use anti_roll_bar::{
    AntiRollBar, ArmBending, BarAtWheel, BarSection, BarSide, check_axle_anti_roll_bar,
    check_corner_anti_roll_bar,
};
pub use bolt::{
    BoltCheck, BoltEffect, BoltQuestion, BoltTab, Clamp, Effect, Shear, ThreadCondition, check_bolt,
    clamp_from_torque, torque_for_clamp, usual_clamp,
};
pub use bolt_data::{BoltSize, Grade, HoleClass, Strength, ThreadSeries};
pub use bracket::{
    BracketCheck, BracketForce, BracketQuestion, HoleAfterDrilling, PlateEffect, PlateStress, Weld,
    check_bracket, hole_for_bolt,
};
pub use bump_stop::{
    BumpStopQuestion, BumpStopWork, StopEnd, StopPoint, StopRow, check_axle_bump_stop, check_corner_bump_stop,
};
pub use clearance::{
    AlongDamper, Ball, Block, Clearance, ClearanceQuestion, LeastGap, MotionKind, MoveGain, Overlap,
    PairClearance, Place, Plane, Rod, RoundedHull, Shape, Solid, Tube, Tyre, check_axle_clearance,
    check_corner_clearance,
};
pub(crate) use clearance::{VariedPoints, axle_witness, corner_witness};
pub use damper_setting::{
    ClickCurve, ClickDamping, ClickSetting, CountedFrom, DamperSetting, DamperSettingQuestion, DamperSpeed,
    DampingDirection, DirectionSetting, DynoPoint, axle_damper_setting, corner_damper_setting,
};
pub use damper_stroke::{
    DamperLengths, DamperStroke, MockUp, Stopper, StrokeQuestion, TravelBudget, check_axle_stroke,
    check_corner_stroke,
};
pub(crate) use damper_stroke::{
    StrokePlace, axle_budget, axle_travel_near, corner_budget, corner_travel_near,
};
pub use driveline::{Driveline, DrivelineAngles, DrivelineTravel, check_driveline};
pub use finding::{Finding, Verdict, worst};
pub use hose::{Hose, HoseReach, HosesQuestion, check_axle_hoses, check_corner_hoses};
pub use joint_angle::{
    BearingInBracket, BracketFit, Bushing, BushingTwist, BushingsQuestion, Joint, JointSwing, JointsQuestion,
    SphericalBearing, check_axle_bushings, check_axle_joints, check_bearing_in_bracket,
    check_corner_bushings, check_corner_joints,
};
pub use motion_range::{MotionRange, WheelPlace};
pub use remedy::Remedy;
pub use remedy_kind::RemedyKind;
pub use ride_frequency::{critical_damping, ride_frequency, wheel_rate_for_frequency};
pub use ride_height::{
    AddedLoad, AtContactPoint, NeededSeat, RateForFrequency, RideHeightQuestion, RollMotion, SeatCorrection,
    SeatEnd, SeatPosition, SeatThread, SpringRide, SpringState, Standing, check_axle_ride_height,
    check_corner_ride_height,
};
pub use spring::HelperSpring;
pub use spring_choice::{
    ListedSpring, SpringCandidate, SpringChoice, choose_axle_spring, choose_corner_spring,
};
pub use spring_rate::{
    SpringEnds, WireSpring, WireSpringRate, bergstrasser_factor, check_wire_spring, rate_in_series,
    spring_rate, spring_stress, wahl_factor,
};
pub use sprung_load::{GRAVITY, LoadPoint, SprungLoad};
pub use withdrawal::{
    DamperEnd, RoundObstacle, RoundPart, Withdrawal, WithdrawalPath, WithdrawalQuestion, WorkPlace,
    check_axle_withdrawal, check_corner_withdrawal,
};
