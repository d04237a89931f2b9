//! A description that can be an axle.

use super::damper::{check_damper, check_spring, one_damper};
use super::distance::rod;
use super::numbers::{angle_within, coordinates, incomplete, length_within, positive_of};
use super::surroundings::check_surroundings;
use super::{PickupError, TYRE_RADIUS_MM, UNIT_ADVICE};
use crate::pickups::LiveAxle;
use crate::{Dimension, Sentence};

impl LiveAxle {
    /// Checks that the description can be an axle; the right side must be written out.
    ///
    /// # Errors
    /// A [`PickupError`] that names the first field found wrong.
    pub fn validate(&self) -> Result<(), PickupError> {
        if self.links.is_empty() {
            return Err(incomplete(
                "links",
                "an axle needs links; four of them, or three and a panhard rod",
            ));
        }
        for (name, link) in &self.links {
            let (body, axle) = (format!("links.{name}.body"), format!("links.{name}.axle"));
            coordinates(&link.body, &body)?;
            coordinates(&link.axle, &axle)?;
            rod((&link.body, &body), (&link.axle, &axle))?;
            if let Some(stiffness) = link.stiffness {
                positive_of(
                    stiffness,
                    Dimension::Rate,
                    &format!("links.{name}.stiffness"),
                    "give the axial stiffness",
                )?;
            }
        }
        coordinates(&self.wheels.left, "wheels.left")?;
        let Some(right) = &self.wheels.right else {
            return Err(incomplete(
                "wheels.right",
                "give the right wheel, or say `right: \"mirror\"` for the axle",
            ));
        };
        coordinates(right, "wheels.right")?;
        length_within(
            self.wheels.tyre_radius,
            "wheels.tyre_radius",
            TYRE_RADIUS_MM,
            UNIT_ADVICE,
        )?;
        if self.wheels.left.y <= right.y {
            return Err(PickupError::Misplaced {
                field: "wheels.left".into(),
                problem: Sentence::new("`wheels.left` (y = ")
                    .given_length(self.wheels.left.y)
                    .words(") is not to the left of `wheels.right` (y = ")
                    .given_length(right.y)
                    .words(")"),
                advice: "Y points left: the left wheel has the larger y",
            });
        }
        rod((&self.wheels.left, "wheels.left"), (right, "wheels.right"))?;
        self.places(right)?;
        if let Some(pinion) = &self.pinion {
            coordinates(&pinion.point, "pinion.point")?;
            angle_within(
                pinion.nose_up,
                "pinion.nose_up",
                (-45.0, 45.0),
                "give degrees, positive nose up",
            )?;
        }
        self.mounts()
    }

    fn mounts(&self) -> Result<(), PickupError> {
        let parts: Vec<&str> = std::iter::once("axle")
            .chain(self.links.keys().map(String::as_str))
            .collect();
        one_damper(
            self.coilovers.is_some(),
            self.dampers.is_some(),
            "coilovers",
            "dampers",
        )?;
        for (sides, field) in [(&self.coilovers, "coilovers"), (&self.dampers, "dampers")] {
            let Some(sides) = sides else { continue };
            check_damper(&sides.left, &format!("{field}.left"), &parts)?;
            let right = sides.right.as_ref().ok_or_else(|| right_missing(field))?;
            check_damper(right, &format!("{field}.right"), &parts)?;
        }
        if let Some(sides) = &self.springs {
            check_spring(&sides.left, "springs.left", &parts, self.coilovers.is_some())?;
            let right = sides.right.as_ref().ok_or_else(|| right_missing("springs"))?;
            check_spring(right, "springs.right", &parts, self.coilovers.is_some())?;
        }
        check_surroundings(
            self.ride_height,
            &self.stops,
            self.wanted,
            &parts,
            self.any_dampers().is_some(),
        )
    }
}

fn right_missing(field: &str) -> PickupError {
    incomplete(
        &format!("{field}.right"),
        "give the right one, or say `right: \"mirror\"` for the axle",
    )
}
