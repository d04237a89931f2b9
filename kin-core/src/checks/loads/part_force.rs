//! Forces that act on a moving part besides those of the ground, the coilover and the rods.

use crate::Error;
use crate::pickups::validate::{coordinates, finite, known_part};
use crate::pickups::{Measured, Point, Quantity, mirrored};
use nalgebra::Vector3;
use serde::{Deserialize, Serialize};

/// A known force on a moving part: the pull of an anti-roll bar's link, the weight of an arm, a leaf spring.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PartForce {
    /// What it is called in messages.
    pub name: String,
    /// The part it acts on: `lower_arm`, `upper_arm`, `upright`, `axle`, or a link's name.
    pub rides_on: String,
    /// The point of that part where it acts, as measured (mm).
    pub point: Point,
    /// The force on the part, in vehicle axes (N). It keeps its direction as the part moves.
    pub force: Vector3<f64>,
}

impl PartForce {
    /// The same force on the other side of the car.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        Self {
            point: mirrored(&self.point),
            force: mirrored(&self.force),
            ..self.clone()
        }
    }

    pub(super) fn validate(&self, field: &str, parts: &[&str]) -> Result<(), Error> {
        known_part(&self.rides_on, &format!("{field}.rides_on"), parts)?;
        coordinates(&self.point, &format!("{field}.point"))?;
        for (value, axis) in self.force.iter().zip(["x", "y", "z"]) {
            finite(*value, &format!("{field}.force {axis}"))?;
        }
        Ok(())
    }
}

impl Measured for PartForce {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        self.point.visit(visitor);
        for component in self.force.iter_mut() {
            visitor(component, Quantity::Force);
        }
    }
}
