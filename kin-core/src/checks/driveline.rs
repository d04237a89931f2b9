//! Pinion angle, joint angles and slip of the propeller shaft of a live axle.
//!
//! A shaft with a single universal joint at each end turns evenly when both joints stand at the same angle. What is left
//! when they do not is told by the equivalent angle: the angle of one joint alone that would shake as much. With the yokes
//! in phase and g the angle between the planes of the two joints, its square is `|b1^2 - b2^2 e^(2ig)|` (from memory; each
//! joint's unevenness grows with the square of its angle and comes twice a turn).

mod description;
mod findings;
mod shafts;

pub use description::Driveline;
pub use shafts::DrivelineAngles;

use super::Finding;
use super::motion_range::{Motions, WheelPlace};
use super::moving_parts::Mover;
use crate::Error;
use crate::pickups::{Pinion, incomplete};
use crate::pose::PoseError;
use crate::suspension::Axle;
use nalgebra::Vector3;
use shafts::Shafts;

const CHECK: &str = "driveline";
const QUESTION: &str = "the driveline check";

/// The driveline of a live axle through its travel.
#[derive(Debug, Clone, PartialEq)]
pub struct DrivelineTravel {
    /// Both wheels at full droop.
    pub at_full_droop: DrivelineAngles,
    /// At ride height.
    pub at_ride: DrivelineAngles,
    /// Both wheels at full bump.
    pub at_full_bump: DrivelineAngles,
    /// The largest angle of the joint at the gearbox (rad), and where.
    pub largest_gearbox_joint: (f64, WheelPlace),
    /// The largest angle of the joint at the pinion (rad), and where.
    pub largest_pinion_joint: (f64, WheelPlace),
    /// How far the slip joint goes together from ride height (mm), and where it is shortest.
    pub plunge_in: (f64, WheelPlace),
    /// How far the slip joint comes apart from ride height (mm), and where it is longest.
    pub plunge_out: (f64, WheelPlace),
    /// The answers.
    pub findings: Vec<Finding>,
}

/// Checks the driveline of an axle, each wheel taken through its whole travel.
///
/// # Errors
/// Without a pinion, with numbers that cannot be right, or a travel out of reach.
pub fn check_driveline(axle: &Axle, driveline: &Driveline) -> Result<DrivelineTravel, Error> {
    let Some(pinion) = axle.pickups().pinion else {
        return Err(Error::Missing {
            question: QUESTION,
            field: "pinion",
            advice: "give the centre of the joint at the pinion and the angle of its shaft, nose up positive",
        });
    };
    driveline.validate()?;
    if (pinion.point - driveline.gearbox_joint).norm() < 30.0 {
        let problem = "it lies on the joint at the pinion: the shaft between them has no length";
        return Err(incomplete("gearbox_joint", problem).into());
    }
    if pinion.point.x >= driveline.gearbox_joint.x {
        let problem = "it is not ahead of the pinion; X points forward";
        return Err(incomplete("gearbox_joint", problem).into());
    }
    let mover = Mover::Axle(axle);
    let fall = driveline.output_falls.to_radians();
    let shafts = Shafts {
        joint: mover.anchor(&pinion.point, "axle", "pinion.point")?,
        axle: mover.turning(&pinion.point, "axle", "pinion.point")?,
        pinion: forward(&pinion),
        gearbox: driveline.gearbox_joint,
        output: Vector3::new(fall.cos(), 0.0, fall.sin()),
    };
    Checked {
        motions: Motions::new(mover, &driveline.range, QUESTION)?,
        driveline,
        shafts,
    }
    .answer()
}

fn forward(pinion: &Pinion) -> Vector3<f64> {
    let up = pinion.nose_up.to_radians();
    Vector3::new(up.cos(), 0.0, up.sin())
}

struct Checked<'a> {
    motions: Motions<'a>,
    driveline: &'a Driveline,
    shafts: Shafts,
}

impl Checked<'_> {
    fn answer(&self) -> Result<DrivelineTravel, Error> {
        let at = |travel: f64| -> Result<DrivelineAngles, PoseError> {
            Ok(self.shafts.at(&self.motions.at_travel(travel)?))
        };
        let at_ride = at(0.0)?;
        let largest = |of: &dyn Fn(&DrivelineAngles) -> f64| -> Result<(f64, WheelPlace), PoseError> {
            let worst = self.motions.greatest(|standing| of(&self.shafts.at(standing)))?;
            Ok((worst.value, worst.place))
        };
        let mut result = DrivelineTravel {
            at_full_droop: at(-self.motions.droop)?,
            at_ride,
            at_full_bump: at(self.motions.bump)?,
            largest_gearbox_joint: largest(&|angles| angles.gearbox_joint)?,
            largest_pinion_joint: largest(&|angles| angles.pinion_joint)?,
            plunge_in: largest(&|angles| at_ride.shaft_length - angles.shaft_length)?,
            plunge_out: largest(&|angles| angles.shaft_length - at_ride.shaft_length)?,
            findings: Vec::new(),
        };
        result.findings = self.findings(&result);
        Ok(result)
    }
}
