//! How ride height and wheel rate change with the description.

use super::{Change, Varied};
use crate::Error;
use crate::curves::{AxleCurve, CornerCurve};
use crate::pickups::{RideHeight, Spring};
use crate::suspension::{Along, AxleAlong, AxleTravel};
use num_dual::Dual64;

/// Derivative of ride height, as a travel counted from the pickups as measured.
pub(in crate::study) fn derivative(change: &Change<'_>) -> Result<f64, Error> {
    let (given, rates) = match change {
        Change::Corner(corner, direction) => (corner.pickups.ride_height, direction.ride_height),
        Change::Axle(axle, direction) => (axle.pickups.ride_height, direction.ride_height),
    };
    let (Some(given), Some(rates)) = (given, rates) else {
        return Ok(0.0);
    };
    Ok(match (given, rates) {
        (
            RideHeight {
                damper_length: Some(_),
                ..
            },
            RideHeight {
                damper_length: Some(rate),
                ..
            },
        ) => {
            let ride = match change {
                Change::Corner(corner, _) => corner.ride_travel()?,
                Change::Axle(axle, _) => axle.ride_travel()?,
            };
            travel_at_length(change, ride, rate, false)?
        }
        (
            RideHeight {
                hub_to_lip: Some(_), ..
            },
            RideHeight {
                hub_to_lip: Some(now),
                hub_to_lip_as_measured: Some(then),
                ..
            },
        ) => then - now,
        (
            _,
            RideHeight {
                travel: Some(rate), ..
            },
        ) => rate,
        _ => 0.0,
    })
}

/// Derivative of the travel at which a damper has a length that itself changes at `rate`.
///
/// `l(t, p) = L(p)` gives `dt/dp = (dL/dp - dl/dp) / (dl/dt)`.
///
/// * `travel`: where the damper has that length now (mm from the pickups as measured)
/// * `right`: whether the right damper of an axle is meant
pub(super) fn travel_at_length(
    change: &Change<'_>,
    travel: f64,
    rate: f64,
    right: bool,
) -> Result<f64, Error> {
    let length = damper_length(change, travel, 0.0, right)?;
    Ok((rate - length.re.eps) / length.eps.re)
}

/// A damper's length at a travel that itself changes at `ride`, with its derivatives.
pub(super) fn damper_length(
    change: &Change<'_>,
    travel: f64,
    ride: f64,
    right: bool,
) -> Result<Varied, Error> {
    let found = match change {
        Change::Corner(corner, direction) => {
            let position = corner.at(travel, 0.0)?;
            super::corner::evaluate(
                CornerCurve::DamperLength,
                &position,
                direction,
                ride,
                Along::Travel,
            )
        }
        Change::Axle(axle, direction) => {
            let position = axle.at(AxleTravel::both(travel))?;
            let curve = if right {
                AxleCurve::DamperLengthRight
            } else {
                AxleCurve::DamperLengthLeft
            };
            super::axle::evaluate(curve, &position, direction, (ride, 0.0), AxleAlong::Heave)
        }
    };
    found.ok_or(Error::NoValue {
        what: "damper_length",
    })
}

/// Wheel rate with its derivative, as [`wheel_rate`](crate::curves::wheel_rate()).
///
/// * `(spring, rates)`: the spring, and how its numbers change
/// * `ratio`: motion ratio, its outer derivative its slope
/// * `length`: distance between the spring's mounts
pub(super) fn wheel_rate(
    (spring, rates): (&Spring, &Spring),
    ratio: Varied,
    length: Varied,
) -> Option<Dual64> {
    let stiffness = Dual64::new(spring.rate, rates.rate);
    let seats =
        Dual64::new(spring.upper_seat, rates.upper_seat) + Dual64::new(spring.lower_seat, rates.lower_seat);
    let from_spring = stiffness * ratio.re * ratio.re;
    let Some(free) = spring.free_length else {
        return Some(from_spring);
    };
    let free = Dual64::new(free, rates.free_length.unwrap_or(0.0));
    let force = stiffness * (free - (length.re - seats));
    // A spring that is longer than free hangs loose.
    let force = if force.re > 0.0 { force } else { Dual64::from(0.0) };
    Some(from_spring + force * ratio.eps)
}
