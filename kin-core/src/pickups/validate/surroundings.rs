//! Ride height, stops, straps and wanted travel.

use super::PickupError;
use super::numbers::{coordinates, finite, incomplete, length_within, positive_of};
use super::part::known_part;
use crate::Dimension;
use crate::pickups::{RideHeight, Stops, Wanted};

pub(super) fn check_surroundings(
    ride_height: Option<RideHeight>,
    stops: &Stops,
    wanted: Option<Wanted>,
    parts: &[&str],
    has_damper: bool,
) -> Result<(), PickupError> {
    if let Some(ride) = ride_height {
        check_ride_height(ride, has_damper)?;
    }
    for (value, field) in [(stops.bump, "stops.bump"), (stops.droop, "stops.droop")] {
        if let Some(value) = value {
            length_within(
                value,
                field,
                (0.0, 1_000.0),
                "count the travel from ride height to the stop, positive",
            )?;
        }
    }
    for (place, strap) in stops.straps.iter().enumerate() {
        let field = format!("stops.straps[{place}]");
        coordinates(&strap.upper_mount, &format!("{field}.upper_mount"))?;
        coordinates(&strap.lower_mount, &format!("{field}.lower_mount"))?;
        known_part(&strap.rides_on, &format!("{field}.rides_on"), parts)?;
        positive_of(
            strap.length,
            Dimension::Length,
            &format!("{field}.length"),
            "give the length of the taut strap",
        )?;
    }
    if let Some(wanted) = wanted {
        let fields = [
            (wanted.bump, "wanted.bump"),
            (wanted.droop, "wanted.droop"),
            (wanted.margin, "wanted.margin"),
        ];
        for (value, field) in fields {
            wanted_travel(value.unwrap_or(0.0), field)?;
        }
    }
    Ok(())
}

/// Checks wheel travel that somebody wants to keep (mm).
pub(crate) fn wanted_travel(value: f64, field: &str) -> Result<(), PickupError> {
    length_within(
        value,
        field,
        (0.0, 1_000.0),
        "count it from ride height, positive",
    )
}

fn check_ride_height(ride: RideHeight, has_damper: bool) -> Result<(), PickupError> {
    for (value, field) in [
        (ride.travel, "ride_height.travel"),
        (ride.damper_length, "ride_height.damper_length"),
        (ride.hub_to_lip, "ride_height.hub_to_lip"),
        (ride.hub_to_lip_as_measured, "ride_height.hub_to_lip_as_measured"),
    ] {
        finite(value.unwrap_or(0.0), field)?;
    }
    match (
        ride.travel,
        ride.damper_length,
        ride.hub_to_lip,
        ride.hub_to_lip_as_measured,
    ) {
        (Some(_), None, None, None) | (None, None, Some(_), Some(_)) => Ok(()),
        (None, Some(_), None, None) if has_damper => Ok(()),
        (None, Some(_), None, None) => Err(incomplete(
            "ride_height.damper_length",
            "there is no damper here that could have this length",
        )),
        (None, None, Some(_), None) => Err(incomplete(
            "ride_height.hub_to_lip_as_measured",
            "say how high the lip stood above the hub when the pickups were measured",
        )),
        (None, None, None, Some(_)) => Err(incomplete(
            "ride_height.hub_to_lip",
            "say how high the lip shall stand above the hub",
        )),
        _ => Err(incomplete(
            "ride_height",
            "give exactly one of `travel`, `damper_length`, or `hub_to_lip` with `hub_to_lip_as_measured`",
        )),
    }
}
