//! How the travel left in a damper changes with the description.

use super::{Change, ride};
use crate::Error;
use crate::pickups::{AxleSides, Damper, Side};
use crate::study::StrokeReading;

/// A damper whose length misses the limit by more than this (mm) where the travel ends has not met it.
const MET_MM: f64 = 1e-6;

/// Derivative of a number of the stroke check; zero where the limit is never met.
///
/// * `value`: the number itself (mm)
pub(super) fn derivative(
    change: &Change<'_>,
    reading: StrokeReading,
    side: Side,
    value: f64,
) -> Result<f64, Error> {
    let right = side == Side::Right;
    let travel_at_ride = match change {
        Change::Corner(corner, _) => corner.ride_travel()?,
        Change::Axle(axle, _) => axle.ride_travel()?,
    };
    let ride_rate = ride::derivative(change)?;
    let rates = match change {
        Change::Corner(_, direction) => direction.any_damper().cloned(),
        Change::Axle(_, direction) => direction.any_dampers().and_then(|both| of_side(both, right)),
    };
    let rates = rates.ok_or(Error::NoValue { what: reading.key() })?;
    let bump = match reading {
        StrokeReading::BumpToStop | StrokeReading::BumpToMetal => value,
        StrokeReading::DroopToTopOut => -value,
        StrokeReading::LengthAtRide => {
            return Ok(ride::damper_length(change, travel_at_ride, ride_rate, right)?
                .re
                .eps);
        }
    };
    // Lengths are sums of the catalogue's numbers, so their rates are the same sums.
    let length_rate = length_of(&rates, reading);
    let place = travel_at_ride + bump;
    let length = ride::damper_length(change, place, 0.0, right)?.re.re;
    if (length - limit_of(change, reading, right).unwrap_or(length)).abs() > MET_MM {
        return Ok(0.0);
    }
    let moved = ride::travel_at_length(change, place, length_rate, right)? - ride_rate;
    let derivative = if reading == StrokeReading::DroopToTopOut {
        -moved
    } else {
        moved
    };
    if derivative.is_finite() {
        Ok(derivative)
    } else {
        Err(Error::NoValue { what: reading.key() })
    }
}

/// The length between the mounts that the reading is about (mm).
fn limit_of(change: &Change<'_>, reading: StrokeReading, right: bool) -> Option<f64> {
    let damper = match change {
        Change::Corner(corner, _) => corner.pickups.any_damper().cloned(),
        Change::Axle(axle, _) => axle.pickups.any_dampers().and_then(|both| of_side(both, right)),
    }?;
    Some(length_of(&damper, reading))
}

/// The length between the mounts at which a damper meets a limit (mm).
fn length_of(damper: &Damper, reading: StrokeReading) -> f64 {
    match reading {
        StrokeReading::BumpToStop => damper.stop_contact_between_mounts(),
        StrokeReading::BumpToMetal => damper.compressed_between_mounts(),
        _ => damper.extended_between_mounts(),
    }
}

fn of_side(both: &AxleSides<Damper>, right: bool) -> Option<Damper> {
    if right {
        both.right.clone()
    } else {
        Some(both.left.clone())
    }
}
