//! The damper of a corner.

use super::answer::DamperStroke;
use super::check::{Check, no_damper};
use super::question::StrokeQuestion;
use crate::Error;
use crate::suspension::{Corner, LengthCurve};
use nalgebra::Vector3;

/// Checks the damper of a corner.
///
/// # Errors
/// Without a damper, when ride height cannot be reached, or when a wanted travel is no length between 0 and 1000 mm.
pub fn check_corner_stroke(corner: &Corner, question: &StrokeQuestion) -> Result<DamperStroke, Error> {
    let (Some(curve), Some(damper)) = (
        LengthCurve::of_corner_damper(corner),
        corner.pickups().any_damper(),
    ) else {
        return Err(no_damper("coilover"));
    };
    let pickups = corner.pickups();
    let straps: Vec<LengthCurve<'_>> = corner
        .straps
        .iter()
        .map(|part| LengthCurve::of_corner(corner, part))
        .collect();
    let name = if pickups.coilover.is_some() {
        "coilover"
    } else {
        "damper"
    };
    let check = Check {
        name: name.to_owned(),
        curve,
        damper,
        stops: &pickups.stops,
        straps,
        ride: corner.ride_travel()?,
        lip_heights_given: pickups.ride_height.is_some_and(|ride| ride.hub_to_lip.is_some()),
        asked: question.completed(pickups.wanted)?,
        inboard: -Vector3::y(),
        crossed: None,
    };
    check.run()
}
