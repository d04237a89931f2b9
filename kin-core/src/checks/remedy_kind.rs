//! The kinds of change that mend a finding.

use crate::Dimension;

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
    /// More torque: the change of torque (N mm).
    MoreTorque,
    /// A thicker tab: the change of thickness (mm).
    ThickerTab,
    /// A wider tab: the change of its width (mm).
    WiderTab,
    /// A second tab on the other side of a bracket; the change is 0.
    SecondTab,
    /// More material beside a hole: the change of the distance from its middle to the edge (mm).
    MoreEdge,
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
    /// Both spacers of a bearing, longer by the change.
    LongerSpacers,
    /// A bracket that is wider inside by the change.
    WiderBracket,
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

impl RemedyKind {
    /// The name in scripts.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::UpperMountAlongDamper => "upper_mount_along_damper",
            Self::UpperMountUp => "upper_mount_up",
            Self::UpperMountInboard => "upper_mount_inboard",
            Self::LongerDamper => "longer_damper",
            Self::MoreStroke => "more_stroke",
            Self::DoubleShear => "double_shear",
            Self::StrongerGrade => "stronger_grade",
            Self::ThickerBolt => "thicker_bolt",
            Self::LessTorque => "less_torque",
            Self::MoreTorque => "more_torque",
            Self::ThickerTab => "thicker_tab",
            Self::WiderTab => "wider_tab",
            Self::SecondTab => "second_tab",
            Self::MoreEdge => "more_edge",
            Self::LongerWeld => "longer_weld",
            Self::SmallerHole => "smaller_hole",
            Self::LargerHole => "larger_hole",
            Self::BoltTurnedRound => "bolt_turned_round",
            Self::ObstacleMoved => "obstacle_moved",
            Self::UpperMountMoved => "upper_mount_moved",
            Self::SlimmerPart => "slimmer_part",
            Self::SeatTowardsSpring => "seat_towards_spring",
            Self::SpringFreeLength => "spring_free_length",
            Self::SpringSolidLength => "spring_solid_length",
            Self::HelperSpring => "helper_spring",
            Self::TurnJoint => "turn_joint",
            Self::MoreSwing => "more_swing",
            Self::ShorterSpacers => "shorter_spacers",
            Self::LongerSpacers => "longer_spacers",
            Self::WiderBracket => "wider_bracket",
            Self::TightenAtRideHeight => "tighten_at_ride_height",
            Self::BarLinkLength => "bar_link_length",
            Self::ShaftLength => "shaft_length",
            Self::MoreSlip => "more_slip",
            Self::PinionAngle => "pinion_angle",
            Self::LongerLine => "longer_line",
            Self::LessTravel => "less_travel",
            Self::MovePickups => "move_pickups",
            Self::TieRodShims => "tie_rod_shims",
        }
    }

    /// What the number of the change is.
    #[must_use]
    pub const fn dimension(self) -> Dimension {
        match self {
            Self::TurnJoint | Self::MoreSwing | Self::PinionAngle => Dimension::Angle,
            Self::LessTorque | Self::MoreTorque => Dimension::Torque,
            Self::DoubleShear
            | Self::SecondTab
            | Self::StrongerGrade
            | Self::BoltTurnedRound
            | Self::TieRodShims => Dimension::Ratio,
            _ => Dimension::Length,
        }
    }
}
