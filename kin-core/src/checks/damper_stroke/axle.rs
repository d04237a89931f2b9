//! The dampers of an axle.

use super::answer::DamperStroke;
use super::check::{Check, no_damper};
use super::crossed_wheels::CrossedWheels;
use super::question::StrokeQuestion;
use crate::Error;
use crate::checks::DamperLengths;
use crate::pickups::Side;
use crate::suspension::{Axle, LengthCurve};
use nalgebra::Vector3;

/// Checks both dampers of an axle with both wheels moving together, and with one wheel up and the other down.
///
/// # Errors
/// Without dampers, when ride height cannot be reached, or when a wanted travel is no length between 0 and 1000 mm.
pub fn check_axle_stroke(axle: &Axle, question: &StrokeQuestion) -> Result<Vec<DamperStroke>, Error> {
    let pickups = axle.pickups();
    let (Some(sides), Some(mounts)) = (pickups.any_dampers(), &axle.geometry.dampers) else {
        return Err(no_damper("coilovers"));
    };
    let name = if pickups.coilovers.is_some() {
        "coilover"
    } else {
        "damper"
    };
    let (Some(right), Some(right_mount)) = (sides.right.as_ref(), mounts.right.as_ref()) else {
        return Err(no_damper("coilovers.right"));
    };
    let run = |name: String, side: Side| {
        let (damper, mount) = if side == Side::Left {
            (&sides.left, &mounts.left)
        } else {
            (right, right_mount)
        };
        let ride = axle.ride_travel()?;
        let asked = question.completed(pickups.wanted)?;
        let crossed = CrossedWheels {
            axle,
            mount,
            name: name.clone(),
            lengths: DamperLengths::of(damper),
            ride,
            bump: asked.least_bump(),
            droop: asked.least_droop(),
        };
        let check = Check {
            name,
            curve: LengthCurve::of_axle(axle, mount),
            damper,
            stops: &pickups.stops,
            straps: axle
                .straps
                .iter()
                .map(|part| LengthCurve::of_axle(axle, part))
                .collect(),
            ride,
            lip_heights_given: pickups.ride_height.is_some_and(|ride| ride.hub_to_lip.is_some()),
            asked,
            inboard: if side == Side::Left {
                -Vector3::y()
            } else {
                Vector3::y()
            },
            crossed: Some(crossed),
        };
        check.run()
    };
    let left = run(format!("left {name}"), Side::Left)?;
    let right = run(format!("right {name}"), Side::Right)?;
    if alike(&left, &right) {
        return Ok(vec![run(format!("{name} on either side"), Side::Left)?]);
    }
    Ok(vec![left, right])
}

/// Whether both sides give the same numbers, so that one report speaks for both.
fn alike(left: &DamperStroke, right: &DamperStroke) -> bool {
    left.findings.len() == right.findings.len()
        && left.lengths == right.lengths
        && left
            .findings
            .iter()
            .zip(&right.findings)
            .all(|(a, b)| a.verdict == b.verdict && (a.value - b.value).abs() < 1e-6)
}
