//! One corner on two arms, an upright and a tie rod.

use super::measured::Quantity;
use super::named::{Named, Walk};
use super::{Damper, Point, RideHeight, Spring, Stops, Wanted, mirrored};
use serde::{Deserialize, Serialize};

/// An A-arm: two pivots on the body and a ball joint on the upright.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Arm {
    /// Body pivot nearer the front of the car (mm).
    pub front_pivot: Point,
    /// Body pivot nearer the rear of the car (mm).
    pub rear_pivot: Point,
    /// Centre of the ball joint (mm).
    pub ball_joint: Point,
}

/// The rod between rack or centre link and steering arm (on a rear corner, the toe link).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TieRod {
    /// Joint on the rack, centre link or body (mm), steering straight ahead.
    pub inner: Point,
    /// Joint on the upright (mm).
    pub outer: Point,
}

/// A wheel as measured.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Wheel {
    /// Wheel centre: spin axis meets wheel plane (mm).
    #[serde(alias = "center")]
    pub centre: Point,
    /// Loaded radius: wheel centre to the ground (mm).
    #[serde(alias = "tire_radius")]
    pub tyre_radius: f64,
    /// Camber at travel 0 (deg), positive when the top leans outboard.
    #[serde(default)]
    pub camber: f64,
    /// Toe at travel 0 (deg), positive toe-in.
    #[serde(default)]
    pub toe: f64,
}

/// Which side of the car a corner is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Side {
    /// Y positive.
    #[default]
    Left,
    /// Y negative.
    Right,
}

/// What stands on the right when the left is described.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum RightSide {
    /// Everything on the right is given by itself.
    #[default]
    Given,
    /// What is given for the left stands mirrored on the right.
    Mirror,
}

/// A double-wishbone corner, with all that is mounted on it.
///
/// Lengths are millimetres, angles degrees, rates N/mm. The points hold at travel 0, "as measured".
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DoubleWishbone {
    /// The side of the car that the points lie on.
    #[serde(default, skip_serializing_if = "is_left")]
    pub side: Side,
    /// The upper A-arm.
    pub upper_arm: Arm,
    /// The lower A-arm.
    pub lower_arm: Arm,
    /// The tie rod or toe link.
    pub tie_rod: TieRod,
    /// The wheel.
    pub wheel: Wheel,
    /// A damper with a spring around it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub coilover: Option<Damper>,
    /// A damper without a spring; its spring stands apart.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub damper: Option<Damper>,
    /// The spring; without mounts of its own it sits on the coilover.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spring: Option<Spring>,
    /// Where the car sits; travel 0 when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ride_height: Option<RideHeight>,
    /// What stops the wheel besides the damper.
    #[serde(default, skip_serializing_if = "Stops::is_empty")]
    pub stops: Stops,
    /// Wheel travel the owner wants to keep.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wanted: Option<Wanted>,
}

fn is_left(side: &Side) -> bool {
    *side == Side::Left
}

impl DoubleWishbone {
    /// The damper, whether it carries the spring or not.
    #[must_use]
    pub fn any_damper(&self) -> Option<&Damper> {
        self.coilover.as_ref().or(self.damper.as_ref())
    }

    /// The same corner on the other side of the car.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let mut other = self.clone();
        other.side = match self.side {
            Side::Left => Side::Right,
            Side::Right => Side::Left,
        };
        for arm in [&mut other.upper_arm, &mut other.lower_arm] {
            for point in [&mut arm.front_pivot, &mut arm.rear_pivot, &mut arm.ball_joint] {
                *point = mirrored(point);
            }
        }
        for point in [
            &mut other.tie_rod.inner,
            &mut other.tie_rod.outer,
            &mut other.wheel.centre,
        ] {
            *point = mirrored(point);
        }
        other.coilover = other.coilover.map(|damper| damper.mirrored());
        other.damper = other.damper.map(|damper| damper.mirrored());
        other.spring = other.spring.map(|spring| spring.mirrored());
        other.stops = other.stops.mirrored();
        other
    }
}

impl Named for Arm {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        walk.within("front_pivot", &mut self.front_pivot);
        walk.within("rear_pivot", &mut self.rear_pivot);
        walk.within("ball_joint", &mut self.ball_joint);
    }
}

impl Named for TieRod {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        walk.within("inner", &mut self.inner);
        walk.within("outer", &mut self.outer);
    }
}

impl Named for Wheel {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        walk.within("centre", &mut self.centre);
        walk.number("tyre_radius", &mut self.tyre_radius, Quantity::Length);
        walk.number("camber", &mut self.camber, Quantity::Angle);
        walk.number("toe", &mut self.toe, Quantity::Angle);
    }
}

impl Named for DoubleWishbone {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        walk.within("upper_arm", &mut self.upper_arm);
        walk.within("lower_arm", &mut self.lower_arm);
        walk.within("tie_rod", &mut self.tie_rod);
        walk.within("wheel", &mut self.wheel);
        walk.within("coilover", &mut self.coilover);
        walk.within("damper", &mut self.damper);
        walk.within("spring", &mut self.spring);
        walk.within("ride_height", &mut self.ride_height);
        walk.within("stops", &mut self.stops);
        walk.within("wanted", &mut self.wanted);
    }
}
