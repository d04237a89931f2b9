//! The travel budget of one damper, without findings and remedies: what a study reads from every variant.

use super::budget::{DamperLengths, TravelBudget};
use super::check::no_damper;
use crate::Error;
use crate::pickups::{Damper, Side};
use crate::suspension::{Axle, Corner, LengthCurve};

/// Where the damper of a corner sits, and the travel left.
///
/// # Errors
/// Without a damper, or with a ride height that is never reached.
pub(crate) fn corner_budget(corner: &Corner) -> Result<TravelBudget, Error> {
    let curve = LengthCurve::of_corner_damper(corner);
    measured(curve, corner.pickups().any_damper(), corner.ride_travel()?)
}

/// Where the damper on one side of an axle sits, and the travel of both wheels left.
///
/// # Errors
/// As for [`corner_budget`].
pub(crate) fn axle_budget(axle: &Axle, side: Side) -> Result<TravelBudget, Error> {
    let curve = LengthCurve::of_axle_damper(axle, side);
    measured(curve, damper_of(axle, side), axle.ride_travel()?)
}

fn damper_of(axle: &Axle, side: Side) -> Option<&Damper> {
    let both = axle.pickups().any_dampers()?;
    match side {
        Side::Left => Some(&both.left),
        Side::Right => both.right.as_ref(),
    }
}

/// Where along its stroke a damper is asked about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum StrokePlace {
    /// Bump stop just touched, in bump.
    StopContact,
    /// Metal to metal, in bump.
    Compressed,
    /// Topped out, in droop.
    Extended,
    /// Where it sits: no limit, but its length there.
    Ride,
}

/// The travel from ride height to a place in the stroke of a corner's damper, where it is met within `farthest` (mm); at ride
/// height its length.
///
/// # Errors
/// As for [`corner_budget`], and where the linkage ends before `farthest`.
pub(crate) fn corner_travel_near(
    corner: &Corner,
    place: StrokePlace,
    farthest: f64,
) -> Result<Option<f64>, Error> {
    let curve = LengthCurve::of_corner_damper(corner);
    let damper = corner.pickups().any_damper();
    near(curve, damper, corner.ride_travel()?, place, farthest)
}

/// The same for a damper of an axle, both wheels moving together.
///
/// # Errors
/// As for [`corner_travel_near`].
pub(crate) fn axle_travel_near(
    axle: &Axle,
    side: Side,
    place: StrokePlace,
    farthest: f64,
) -> Result<Option<f64>, Error> {
    let curve = LengthCurve::of_axle_damper(axle, side);
    near(curve, damper_of(axle, side), axle.ride_travel()?, place, farthest)
}

fn near(
    curve: Option<LengthCurve<'_>>,
    damper: Option<&Damper>,
    ride: f64,
    place: StrokePlace,
    farthest: f64,
) -> Result<Option<f64>, Error> {
    let (Some(curve), Some(damper)) = (curve, damper) else {
        return Err(no_damper("coilover"));
    };
    let lengths = DamperLengths::of(damper);
    let now = curve.at(ride)?.re;
    let (length, sign) = match place {
        StrokePlace::StopContact => (lengths.stop_contact, 1.0),
        StrokePlace::Compressed => (lengths.compressed, 1.0),
        StrokePlace::Extended => (lengths.extended, -1.0),
        StrokePlace::Ride => return Ok(Some(now)),
    };
    // A limit passed already lies on the other side of ride height.
    if (now - length) * sign < 0.0 || farthest <= 0.0 {
        return Ok(None);
    }
    let met = curve.first_travel_at(length, ride, ride + sign * farthest)?;
    Ok(met.map(|travel| (travel - ride) * sign))
}

fn measured(
    curve: Option<LengthCurve<'_>>,
    damper: Option<&Damper>,
    ride: f64,
) -> Result<TravelBudget, Error> {
    let (Some(curve), Some(damper)) = (curve, damper) else {
        return Err(no_damper("coilover"));
    };
    TravelBudget::measure(&curve, &DamperLengths::of(damper), ride)
}
