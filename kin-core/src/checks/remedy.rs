//! The smallest changes that mend a finding.

use super::Sentence;

/// What is changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum RemedyKind {
    /// The upper mount along the line of the damper at ride height, away from the lower mount.
    UpperMountAlongDamper,
    /// The upper mount straight up.
    UpperMountUp,
    /// The upper mount straight inboard.
    UpperMountInboard,
    /// Another damper of the same stroke, longer by the change.
    LongerDamper,
    /// Another damper: the least stroke that serves, from stop contact to fully extended.
    MoreStroke,
    /// A second tab on the other side of a bolt; the change is 0.
    DoubleShear,
    /// A bolt of a stronger grade; the change is 0.
    StrongerGrade,
    /// A thicker bolt: the change of diameter (mm).
    ThickerBolt,
    /// Less torque: the change of torque (N mm, negative).
    LessTorque,
    /// A thicker tab: the change of thickness (mm).
    ThickerTab,
    /// A longer weld: the change of its length on each tab (mm).
    LongerWeld,
    /// A smaller hole than asked: the change of diameter (mm, negative).
    SmallerHole,
    /// A larger hole: the change of diameter (mm).
    LargerHole,
    /// The bolt put in from the other side; the change is 0.
    BoltTurnedRound,
    /// An obstacle moved or trimmed back, in the direction that the sentence says.
    ObstacleMoved,
    /// The upper mount moved, in the direction that the sentence says.
    UpperMountMoved,
    /// A part of less outside radius, less by the change.
    SlimmerPart,
    /// The adjustable spring seat, towards the spring.
    SeatTowardsSpring,
    /// Another spring of the same rate, longer without load by the change.
    SpringFreeLength,
    /// Another spring of the same rate and free length: the change of its solid length.
    SpringSolidLength,
    /// A soft spring in series that opens by the change where the main spring would go loose.
    HelperSpring,
    /// The bolt or socket of a joint turned to its best direction: the angle (rad).
    TurnJoint,
    /// Another joint: the least swing that serves (rad).
    MoreSwing,
    /// Both spacers of a bearing, shorter by the negative of the change.
    ShorterSpacers,
    /// Bushing bolts tightened at ride height: the travel to get there (mm).
    TightenAtRideHeight,
    /// The left link of an anti-roll bar, longer by the change.
    BarLinkLength,
    /// The propeller shaft, longer by the change.
    ShaftLength,
    /// A slip joint of the propeller shaft with more slip, by the change.
    MoreSlip,
    /// The nose of the pinion, turned up by the change (rad).
    PinionAngle,
    /// A hose, line or strap, longer by the change.
    LongerLine,
    /// The wheel's bump or droop, less by the change.
    LessTravel,
    /// Pickups moved, shims or eccentrics: the largest move.
    MovePickups,
    /// Shims under a tie-rod end: how many.
    TieRodShims,
}

/// A change that mends a finding.
#[derive(Debug, Clone, PartialEq)]
pub struct Remedy {
    /// What is changed.
    pub kind: RemedyKind,
    /// The smallest change that mends it (core units of `kind`, mm for mounts), signed in the direction of `kind`.
    pub change: f64,
    /// The changes for which every limit holds, least and greatest (core units of `kind`).
    pub window: (f64, f64),
    /// The change in words: the least rounded up and the most rounded down, so that what is written serves.
    pub sentence: Sentence,
}
