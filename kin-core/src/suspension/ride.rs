//! Ride height: from how it was given to a travel.

use super::{Axle, Corner, LengthCurve};
use crate::Error;
use crate::pickups::{RideHeight, Side};

impl Corner {
    /// Wheel travel at ride height (mm), counted from the pickups as measured; 0 when no ride height is given.
    ///
    /// # Errors
    /// When the ride height is given as a damper length that the damper never has.
    pub fn ride_travel(&self) -> Result<f64, Error> {
        let damper_length = self.pickups.ride_height.and_then(|ride| ride.damper_length);
        match (damper_length, LengthCurve::of_corner_damper(self)) {
            (Some(length), Some(curve)) => curve.nearest_travel_at(length),
            _ => Ok(without_damper(self.pickups.ride_height)),
        }
    }
}

impl Axle {
    /// Travel of both wheels at ride height (mm), counted from the pickups as measured; 0 when no ride height is
    /// given. A ride height given as a damper length is that of the left damper.
    ///
    /// # Errors
    /// When the ride height is given as a damper length that the damper never has.
    pub fn ride_travel(&self) -> Result<f64, Error> {
        let damper_length = self.pickups.ride_height.and_then(|ride| ride.damper_length);
        match (damper_length, LengthCurve::of_axle_damper(self, Side::Left)) {
            (Some(length), Some(curve)) => curve.nearest_travel_at(length),
            _ => Ok(without_damper(self.pickups.ride_height)),
        }
    }
}

fn without_damper(given: Option<RideHeight>) -> f64 {
    match given {
        // Less height between hub and lip means that the wheel has come up.
        Some(RideHeight {
            hub_to_lip: Some(now),
            hub_to_lip_as_measured: Some(then),
            ..
        }) => then - now,
        Some(RideHeight {
            travel: Some(travel), ..
        }) => travel,
        _ => 0.0,
    }
}
