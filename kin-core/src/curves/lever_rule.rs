//! The rule of thumb for the motion ratio, beside what it leaves out.

use crate::numeric::real::rate;
use crate::pickups::{Arm, Point};
use crate::suspension::CornerPosition;

/// Pivots closer together along the car than this (mm) say nothing of how the pivot axis runs: their middle is used.
const NO_AXIS_MM: f64 = 1e-6;

/// The lever rule at one position: lengths measured across the car from the pivot axis of the arm that carries the damper,
/// times the cosine of the damper's lean.
///
/// It is exact for a flat linkage whose wheel is bolted to the arm. A real wheel stands on an upright that tilts as it
/// rises, so that ball joint and wheel centre rise by different amounts: that is most of what the rule leaves out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeverRule {
    /// From the pivot axis across to the damper's mount on the arm (mm).
    pub mount_arm: f64,
    /// From the pivot axis across to the arm's ball joint (mm).
    pub ball_joint_arm: f64,
    /// From the pivot axis across to the wheel centre (mm).
    pub wheel_arm: f64,
    /// Cosine of the angle between the damper and the vertical (-).
    pub cosine: f64,
    /// Rise of the arm's ball joint per rise of the wheel centre (-), exact.
    pub ball_joint_rise: f64,
}

impl LeverRule {
    /// The rule at a position; none without a damper on an arm, and where a lever has no length.
    #[must_use]
    pub fn at(position: &CornerPosition<'_>) -> Option<Self> {
        let pickups = position.corner().pickups();
        let damper = pickups.any_damper()?;
        let (upper_mount, mount) = position.damper_ends()?;
        let state = position.state();
        let (arm, ball_joint, rise) = match damper.rides_on.as_str() {
            "lower_arm" => (
                &pickups.lower_arm,
                position.lower_ball_joint(),
                rate(&state.lower_ball_joint()).z,
            ),
            "upper_arm" => (
                &pickups.upper_arm,
                position.upper_ball_joint(),
                rate(&state.upper_ball_joint()).z,
            ),
            _ => return None,
        };
        let along = upper_mount - mount;
        // Pickups are kept as those of a left corner: places of a right one are mirrored to stand beside them.
        let lever = |place: Point| across(arm, &position.on_side(place));
        let rule = Self {
            mount_arm: lever(mount),
            ball_joint_arm: lever(ball_joint),
            wheel_arm: lever(position.wheel_centre()),
            cosine: along.z.abs() / along.norm(),
            ball_joint_rise: rise,
        };
        (rule.to_ball_joint().is_finite() && rule.to_wheel().is_finite()).then_some(rule)
    }

    /// Motion ratio by the rule measured to the ball joint (-): `a / b cos`. Taken for the wheel's, it is too high where the
    /// ball joint rises less than the wheel.
    #[must_use]
    pub fn to_ball_joint(&self) -> f64 {
        self.mount_arm / self.ball_joint_arm * self.cosine
    }

    /// Motion ratio by the rule measured to the wheel centre (-): `a / c cos`, as if the wheel were bolted to the arm.
    #[must_use]
    pub fn to_wheel(&self) -> f64 {
        self.mount_arm / self.wheel_arm * self.cosine
    }

    /// What the ball joint would rise per rise of the wheel centre (-), were the wheel bolted to the arm: `b / c`.
    #[must_use]
    pub fn ball_joint_rise_if_bolted(&self) -> f64 {
        self.ball_joint_arm / self.wheel_arm
    }
}

/// Distance across the car from an arm's pivot axis, as long as the axis is beside the place (mm).
fn across(arm: &Arm, place: &Point) -> f64 {
    let axis = arm.rear_pivot - arm.front_pivot;
    let share = if axis.x.abs() > NO_AXIS_MM {
        (place.x - arm.front_pivot.x) / axis.x
    } else {
        0.5
    };
    (place.y - (arm.front_pivot.y + share * axis.y)).abs()
}
