//! Other arms or another upright on the same body: where the wheel comes to stand with its centre at the same height.

use crate::checks::alignment::assembly::{Assembly, Rod};
use crate::checks::alignment::rebased::{self, BuiltArm};
use crate::pickups::{Arm, DoubleWishbone, Measured, Point, Quantity, Side, coordinates, mirrored};
use crate::pose::Pose;
use crate::suspension::Corner;
use crate::{Error, Sentence};
use serde::{Deserialize, Serialize};

/// Rods are lengthened by no more than this (mm) at a time, so that the pose next to the last one is found.
const LONGEST_STEP_MM: f64 = 1.0;
/// A first correction longer than this (mm) for one such step is a jump to somewhere else.
const LONGEST_JUMP_MM: f64 = 40.0;
/// A change beyond this (mm) is a slip of the hand or of the unit.
const MOST_CHANGE_MM: f64 = 500.0;

/// What is changed on one arm.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ArmSwap {
    /// Longer by this (mm), from its pivot axis to the ball joint; shorter negative.
    #[serde(default)]
    pub longer: f64,
    /// Where the new arm's ball joint would be with the arm lying as the old one does at ride height (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ball_joint: Option<Point>,
    /// Where the front pivot is moved on the body (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub front_pivot: Option<Point>,
    /// Where the rear pivot is moved on the body (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rear_pivot: Option<Point>,
}

/// What is changed on the upright.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UprightSwap {
    /// Its ball joints are this much further apart (mm): the upper one moves along the steering axis.
    #[serde(default)]
    pub taller: f64,
    /// Where its upper ball joint would be with the upright standing as the old one does at ride height (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub upper_ball_joint: Option<Point>,
}

/// What is swapped on a corner.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Swap {
    /// The upper arm.
    #[serde(default)]
    pub upper_arm: ArmSwap,
    /// The lower arm.
    #[serde(default)]
    pub lower_arm: ArmSwap,
    /// The upright.
    #[serde(default)]
    pub upright: UprightSwap,
    /// The tie rod is set longer by this (mm).
    #[serde(default)]
    pub tie_rod_longer: f64,
}

/// The corner with other parts, as it stands with its wheel centre at the height it had at ride height.
///
/// Body pivots stay unless they are moved. The upright is rigid: ball joints, steering arm, wheel centre and spin axis turn
/// together. The tie rod keeps its length. What rides on an arm keeps its place on it. Camber, toe, caster, track and the
/// damper's length come out as they do on the car; nothing is set right. Travel 0 of the result is where it stands.
///
/// Found by Newton's method with the constraint Jacobian, in small changes from the old parts to the new ones, so that the
/// assembly next to the old one is found.
///
/// # Errors
/// Numbers that cannot be right, and parts that do not go together with the wheel at this height.
pub fn swapped(corner: &Corner, swap: &Swap) -> Result<DoubleWishbone, Error> {
    let side = corner.side();
    // A right corner is solved as its mirror image.
    let swap = if side == Side::Left {
        *swap
    } else {
        swap.mirrored()
    };
    swap.validate()?;
    let before = rebased::at_travel(corner, corner.ride_travel()?)?;
    let arms = [
        swap.upper_arm.built(&before.upper_arm),
        swap.lower_arm.built(&before.lower_arm),
    ];
    // The new upright where the old one stood, with arms stretched to fit: from there the arms go to their own lengths.
    let mut stretched = before.clone();
    let axis = (before.upper_arm.ball_joint - before.lower_arm.ball_joint).normalize();
    let upper = swap
        .upright
        .upper_ball_joint
        .unwrap_or(before.upper_arm.ball_joint);
    stretched.upper_arm = placed(&arms[0], upper + axis * swap.upright.taller);
    stretched.lower_arm = placed(&arms[1], before.lower_arm.ball_joint);
    let start = Corner::new(&stretched)?;
    let pose = assembled(&stretched, &arms, swap.tie_rod_longer)?;
    let after = rebased::with_pose(&start, &pose, arms, stretched.tie_rod.inner);
    Corner::new(&after)?;
    Ok(if side == Side::Left {
        after
    } else {
        after.mirrored()
    })
}

fn placed(arm: &BuiltArm, ball_joint: Point) -> Arm {
    Arm {
        front_pivot: arm.front_pivot,
        rear_pivot: arm.rear_pivot,
        ball_joint,
    }
}

/// The pose of the upright on arms of their own lengths.
fn assembled(stretched: &DoubleWishbone, arms: &[BuiltArm; 2], tie_rod_longer: f64) -> Result<Pose, Error> {
    let origin = stretched.wheel.centre;
    let now = [&stretched.upper_arm, &stretched.lower_arm];
    let tie_rod = stretched.tie_rod;
    let leg = |which: usize, front: bool| {
        let (arm, now) = (&arms[which], now[which]);
        let (body, built) = if front {
            (arm.front_pivot, arm.built.front_pivot)
        } else {
            (arm.rear_pivot, arm.built.rear_pivot)
        };
        let length = (arm.built.ball_joint - built).norm();
        (body, now.ball_joint, length)
    };
    let tie_rod_length = (tie_rod.outer - tie_rod.inner).norm() + tie_rod_longer;
    let rods = [
        leg(0, true),
        leg(0, false),
        leg(1, true),
        leg(1, false),
        (tie_rod.inner, tie_rod.outer, tie_rod_length),
    ];
    let at = |share: f64| Assembly {
        origin,
        rods: rods.map(|(body, joint, length)| {
            let first = (joint - body).norm();
            let length = first + share * (length - first);
            Rod {
                body,
                joint: joint - origin,
                half_length_squared: 0.5 * length * length,
            }
        }),
    };
    let farthest = rods.iter().fold(0.0_f64, |most, (body, joint, length)| {
        most.max((length - (joint - body).norm()).abs())
    });
    let steps = (farthest / LONGEST_STEP_MM).ceil().max(1.0);
    let mut pose = Pose::as_measured();
    let positive = at(0.0).is_positive(&pose);
    for step in 1..=steps as usize {
        let next =
            positive.and_then(|positive| at(step as f64 / steps).newton(pose, positive, LONGEST_JUMP_MM));
        pose = next.ok_or_else(|| apart(farthest, farthest * (step - 1) as f64 / steps))?;
    }
    Ok(pose)
}

fn apart(whole: f64, reached: f64) -> Error {
    Error::NotForThisLayout {
        question: "the swap".into(),
        reason: Sentence::new(
            "these arms and this upright cannot be put together with the wheel at this height: on the way from the \
             old parts to the new ones the rods were changed by ",
        )
        .length(reached)
        .words(" of ")
        .length(whole)
        .words(" when they came apart. Check the unit, and whether the arm's ball joint and the upright's are meant together"),
    }
}

impl ArmSwap {
    /// The arm as built, on its pivots.
    fn built(&self, before: &Arm) -> BuiltArm {
        let mut built = *before;
        let along = (before.front_pivot - before.rear_pivot).normalize();
        let ball_joint = self.ball_joint.unwrap_or(before.ball_joint);
        let from_pivot = ball_joint - before.rear_pivot;
        let outward = (from_pivot - along * along.dot(&from_pivot)).normalize();
        built.ball_joint = ball_joint + outward * self.longer;
        BuiltArm {
            built,
            front_pivot: self.front_pivot.unwrap_or(before.front_pivot),
            rear_pivot: self.rear_pivot.unwrap_or(before.rear_pivot),
        }
    }

    fn points(&mut self) -> [&mut Option<Point>; 3] {
        [&mut self.ball_joint, &mut self.front_pivot, &mut self.rear_pivot]
    }
}

impl Swap {
    fn validate(&self) -> Result<(), Error> {
        let advice = "give how much longer the new part is than the old one";
        for (value, field) in [
            (self.upper_arm.longer, "upper_arm.longer"),
            (self.lower_arm.longer, "lower_arm.longer"),
            (self.upright.taller, "upright.taller"),
            (self.tie_rod_longer, "tie_rod_longer"),
        ] {
            crate::pickups::length_within(value, field, (-MOST_CHANGE_MM, MOST_CHANGE_MM), advice)?;
        }
        let mut copy = *self;
        for point in copy.points() {
            coordinates(point, "swap")?;
        }
        Ok(())
    }

    fn points(&mut self) -> impl Iterator<Item = &mut Point> {
        let upper = self.upper_arm.points();
        let lower = self.lower_arm.points();
        let upright = [&mut self.upright.upper_ball_joint];
        upper.into_iter().chain(lower).chain(upright).flatten()
    }

    fn mirrored(&self) -> Self {
        let mut other = *self;
        for point in other.points() {
            *point = mirrored(point);
        }
        other
    }
}

impl Measured for Swap {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        for length in [
            &mut self.upper_arm.longer,
            &mut self.lower_arm.longer,
            &mut self.upright.taller,
            &mut self.tie_rod_longer,
        ] {
            visitor(length, Quantity::Length);
        }
        for point in self.points() {
            for coordinate in point.iter_mut() {
                visitor(coordinate, Quantity::Length);
            }
        }
    }
}
