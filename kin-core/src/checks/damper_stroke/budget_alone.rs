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
    let both = axle.pickups().any_dampers();
    let damper = match side {
        Side::Left => both.map(|both| &both.left),
        Side::Right => both.and_then(|both| both.right.as_ref()),
    };
    let curve = LengthCurve::of_axle_damper(axle, side);
    measured(curve, damper, axle.ride_travel()?)
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
