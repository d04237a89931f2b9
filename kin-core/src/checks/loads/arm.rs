//! The balance of an arm between its two pivots, its ball joint and what it carries.

use crate::pickups::{Arm, Point};
use nalgebra::Vector3;

/// The forces on an arm, in vehicle axes.
///
/// The two pivots are joints on one line. How they share the force along that line is decided by their bushings, not
/// by the geometry, so only the sum is given; the parts across the line are exact.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ArmForces {
    /// Force of the arm on the upright at the ball joint (N).
    pub ball_joint_on_upright: Vector3<f64>,
    /// Force of the body on the arm at the front pivot, its part across the pivot axis (N).
    pub front_pivot_across: Vector3<f64>,
    /// Force of the body on the arm at the rear pivot, its part across the pivot axis (N).
    pub rear_pivot_across: Vector3<f64>,
    /// Forces of the body on the arm along the pivot axis, both pivots together (N), forward positive.
    pub pivots_along_axis: f64,
    /// Unit vector along the pivot axis, from the rear pivot to the front one.
    pub axis: Vector3<f64>,
    /// Axial force in the front and the rear leg as straight rods to the ball joint (N), tension positive.
    pub legs: [f64; 2],
    /// What the legs cannot take along themselves: the force on the upright square to the arm's plane (N), positive
    /// along the axis crossed with the arm. It bends the arm, and is zero when nothing rides on it.
    pub across_legs: f64,
}

impl ArmForces {
    /// The most that one pivot can see (N), front then rear: its part across the axis, and the whole of the part along.
    #[must_use]
    pub fn most_at_pivots(&self) -> [f64; 2] {
        [self.front_pivot_across, self.rear_pivot_across]
            .map(|across| across.norm().hypot(self.pivots_along_axis))
    }

    pub(super) fn mapped(&self, image: impl Fn(&Vector3<f64>) -> Vector3<f64>) -> Self {
        Self {
            ball_joint_on_upright: image(&self.ball_joint_on_upright),
            front_pivot_across: image(&self.front_pivot_across),
            rear_pivot_across: image(&self.rear_pivot_across),
            axis: image(&self.axis),
            ..*self
        }
    }
}

/// An arm where it stands.
pub(super) struct PlacedArm {
    front: Point,
    rear: Point,
    pub(super) ball_joint: Point,
    axis: Vector3<f64>,
    /// Square to the arm's plane: the axis crossed with the arm.
    normal: Vector3<f64>,
    /// Distance of the ball joint from the axis (mm).
    lever: f64,
    /// Distance between the pivots (mm).
    spread: f64,
}

impl PlacedArm {
    pub(super) fn new(arm: &Arm, ball_joint: Point) -> Self {
        let span = arm.front_pivot - arm.rear_pivot;
        let axis = span.normalize();
        let from_pivot = ball_joint - arm.rear_pivot;
        let radial = from_pivot - axis * axis.dot(&from_pivot);
        Self {
            front: arm.front_pivot,
            rear: arm.rear_pivot,
            ball_joint,
            axis,
            normal: axis.cross(&radial).normalize(),
            lever: radial.norm(),
            spread: span.norm(),
        }
    }

    /// Unit vectors from the front and the rear pivot to the ball joint.
    pub(super) fn legs(&self) -> [Vector3<f64>; 2] {
        [self.front, self.rear].map(|pivot| (self.ball_joint - pivot).normalize())
    }

    /// Where a point of the arm is, given where it was as measured.
    pub(super) fn place(&self, arm: &Arm, as_measured: &Point) -> Point {
        let radial = |point: &Point| {
            let from_pivot = point - self.rear;
            let along = self.axis * self.axis.dot(&from_pivot);
            (from_pivot - along, along)
        };
        let (then, _) = radial(&arm.ball_joint);
        let (now, _) = radial(&self.ball_joint);
        let (carried, along) = radial(as_measured);
        let cosine = then.dot(&now) / then.norm_squared();
        let sine = self.axis.dot(&then.cross(&now)) / then.norm_squared();
        self.rear + along + carried * cosine + self.axis.cross(&carried) * sine
    }

    /// The force on the upright that holds a force on the arm from turning it about its pivots.
    pub(super) fn passed_on(&self, force: &Vector3<f64>, at: &Point) -> Vector3<f64> {
        let moment = self.axis.dot(&(at - self.rear).cross(force));
        self.normal * (moment / self.lever)
    }

    /// All forces on the arm.
    ///
    /// * `legs`: axial force in the front and the rear leg (N), tension positive
    /// * `carried`: forces on the arm (N) and where they act
    pub(super) fn forces(&self, legs: [f64; 2], carried: &[(Vector3<f64>, Point)]) -> ArmForces {
        let mut on_upright = Vector3::zeros();
        for (tension, along) in legs.iter().zip(self.legs()) {
            on_upright -= along * *tension;
        }
        let passed: Vector3<f64> = carried.iter().map(|(force, at)| self.passed_on(force, at)).sum();
        on_upright += passed;
        let mut sum = -on_upright;
        let mut moment = (self.ball_joint - self.rear).cross(&-on_upright);
        for (force, at) in carried {
            sum += force;
            moment += (at - self.rear).cross(force);
        }
        let along = self.axis.dot(&sum);
        let front_pivot_across = self.axis.cross(&moment) / self.spread;
        ArmForces {
            ball_joint_on_upright: on_upright,
            front_pivot_across,
            rear_pivot_across: -(sum - self.axis * along) - front_pivot_across,
            pivots_along_axis: -along,
            axis: self.axis,
            legs,
            across_legs: passed.dot(&self.normal),
        }
    }
}
