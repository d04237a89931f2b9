//! What a spring has to carry.

use crate::pickups::{Measured, PickupError, Quantity, incomplete, positive_of, within_of};
use crate::{Dimension, Rounding, Sentence};
use serde::{Deserialize, Serialize};

/// Standard gravity (m/s^2), so that kilograms become newtons: ISO 80000-3.
pub const GRAVITY: f64 = 9.80665;

/// Masses above this (kg) on one wheel are taken for a wrong unit.
const HEAVIEST_KG: f64 = 20_000.0;

/// The mass that rests on one wheel's spring: given as such, or weighed under the wheel less what is not sprung.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SprungLoad {
    /// Sprung mass carried by this wheel (kg).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sprung_mass: Option<f64>,
    /// What a scale under this wheel shows (kg); needs `unsprung_mass`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub corner_weight: Option<f64>,
    /// Unsprung mass of this wheel (kg): wheel, brake, upright and half of the arms, or half of a live axle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unsprung_mass: Option<f64>,
}

impl SprungLoad {
    /// A sprung mass (kg).
    #[must_use]
    pub fn of_sprung_mass(sprung_mass: f64) -> Self {
        Self {
            sprung_mass: Some(sprung_mass),
            ..Self::default()
        }
    }

    /// The sprung mass (kg).
    ///
    /// # Errors
    /// When nothing or too much is given, or when the masses cannot be right.
    pub fn mass(&self) -> Result<f64, PickupError> {
        let advice = "give the mass that one wheel carries";
        for (mass, field) in [
            (self.sprung_mass, "load.sprung_mass"),
            (self.corner_weight, "load.corner_weight"),
            (self.unsprung_mass, "load.unsprung_mass"),
        ] {
            if let Some(mass) = mass {
                positive_of(mass, Dimension::Mass, field, advice)?;
                within_of(mass, Dimension::Mass, field, (0.0, HEAVIEST_KG), advice)?;
            }
        }
        match (self.sprung_mass, self.corner_weight, self.unsprung_mass) {
            (Some(sprung), None, _) => Ok(sprung),
            (None, Some(weighed), Some(unsprung)) if weighed > unsprung => Ok(weighed - unsprung),
            (None, Some(weighed), Some(unsprung)) => Err(PickupError::Misplaced {
                field: "load.corner_weight".into(),
                problem: Sentence::new("`load.corner_weight` (")
                    .rounded(weighed, Dimension::Mass, Rounding::AsGiven)
                    .words(") is not above `load.unsprung_mass` (")
                    .rounded(unsprung, Dimension::Mass, Rounding::AsGiven)
                    .words(")"),
                advice: "what the scale shows includes wheel, brake and axle: are the two swapped?",
            }),
            (None, Some(_), None) => Err(incomplete(
                "load.unsprung_mass",
                "say how much of the weighed mass is wheel, brake, upright or axle and does not rest on the spring",
            )),
            _ => Err(incomplete(
                "load",
                "give exactly one of `sprung_mass`, or `corner_weight` with `unsprung_mass`",
            )),
        }
    }
}

impl Measured for SprungLoad {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        let masses = [
            &mut self.sprung_mass,
            &mut self.corner_weight,
            &mut self.unsprung_mass,
        ];
        for mass in masses.into_iter().flatten() {
            visitor(mass, Quantity::Mass);
        }
    }
}

/// Where the weight acts on the wheel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LoadPoint {
    /// At the wheel centre, where motion ratio and wheel rate are taken.
    #[default]
    WheelCentre,
    /// At the contact point, which rises a little more or less than the wheel centre where camber changes.
    ContactPoint,
}
