//! The pickups of a corner as they would be measured somewhere else: at ride height, or after a pickup was moved.

use crate::Error;
use crate::curves::{camber, toe};
use crate::numeric::real::value;
use crate::pickups::{Arm, Damper, DoubleWishbone, Point, RideHeight, Side, Spring};
use crate::pose::{Pose, Twist, first_rates};
use crate::suspension::{Corner, CornerState};
use nalgebra::{Matrix3, Vector3};

/// The pickups as measured with the wheel at a travel (mm), rack straight ahead; travel then counts from there.
pub(crate) fn at_travel(corner: &Corner, travel: f64) -> Result<DoubleWishbone, Error> {
    let position = corner.at(travel, 0.0)?;
    let arms = [corner.pickups().upper_arm, corner.pickups().lower_arm].map(BuiltArm::from);
    Ok(with_pose(
        corner,
        position.pose(),
        arms,
        corner.pickups().tie_rod.inner,
    ))
}

/// The pickups with the upright at a pose.
///
/// * `arms`: upper and lower arm as built, with their pivots where they are bolted now; the ball joints come from the pose
/// * `tie_rod_inner`: where the inner joint of the tie rod is now
pub(crate) fn with_pose(
    corner: &Corner,
    pose: &Pose,
    arms: [BuiltArm; 2],
    tie_rod_inner: Point,
) -> DoubleWishbone {
    let state = CornerState {
        geometry: &corner.geometry,
        carrier: first_rates(&corner.linkage.origin, pose, &Twist::zero()),
    };
    let spin_axis = value(&state.spin_axis());
    let mut pickups = corner.pickups().clone();
    pickups.side = Side::Left;
    pickups.upper_arm = arms[0].placed(value(&state.upper_ball_joint()));
    pickups.lower_arm = arms[1].placed(value(&state.lower_ball_joint()));
    pickups.tie_rod.inner = tie_rod_inner;
    pickups.tie_rod.outer = value(&state.tie_rod_outer());
    pickups.wheel.centre = value(&state.wheel_centre());
    pickups.wheel.camber = camber(&spin_axis).to_degrees();
    pickups.wheel.toe = toe(&spin_axis).to_degrees();
    let now = [pickups.upper_arm, pickups.lower_arm];
    let carried = |point: &Point, part: &str| match part {
        "upper_arm" => arms[0].carried(&now[0], point),
        "lower_arm" => arms[1].carried(&now[1], point),
        _ => value(&state.carrier.carried(point)),
    };
    for damper in [&mut pickups.coilover, &mut pickups.damper].into_iter().flatten() {
        let Damper {
            lower_mount,
            rides_on,
            ..
        } = damper;
        *lower_mount = carried(lower_mount, rides_on);
    }
    if let Some(Spring {
        lower_mount: Some(lower_mount),
        rides_on: Some(rides_on),
        ..
    }) = &mut pickups.spring
    {
        *lower_mount = carried(lower_mount, rides_on);
    }
    for strap in &mut pickups.stops.straps {
        strap.lower_mount = carried(&strap.lower_mount, &strap.rides_on);
    }
    pickups.ride_height = Some(RideHeight {
        travel: Some(0.0),
        ..RideHeight::default()
    });
    pickups
}

/// An arm as built and as bolted to the body.
#[derive(Debug, Clone, Copy)]
pub(crate) struct BuiltArm {
    /// As built: where its points were as measured, with a ball joint that was moved on the arm.
    pub(crate) built: Arm,
    /// Where its pivots are now.
    pub(crate) front_pivot: Point,
    pub(crate) rear_pivot: Point,
}

impl From<Arm> for BuiltArm {
    fn from(arm: Arm) -> Self {
        Self {
            built: arm,
            front_pivot: arm.front_pivot,
            rear_pivot: arm.rear_pivot,
        }
    }
}

impl BuiltArm {
    fn placed(&self, ball_joint: Point) -> Arm {
        Arm {
            front_pivot: self.front_pivot,
            rear_pivot: self.rear_pivot,
            ball_joint,
        }
    }

    /// Where a point of the arm is, carried along as the arm was built.
    fn carried(&self, now: &Arm, point: &Point) -> Point {
        now.rear_pivot + frame(now) * (frame(&self.built).transpose() * (point - self.built.rear_pivot))
    }
}

/// Axes fixed to an arm: along its pivots, towards the ball joint, and square to both.
fn frame(arm: &Arm) -> Matrix3<f64> {
    let along: Vector3<f64> = (arm.front_pivot - arm.rear_pivot).normalize();
    let square = along.cross(&(arm.ball_joint - arm.rear_pivot)).normalize();
    Matrix3::from_columns(&[along, square.cross(&along), square])
}
