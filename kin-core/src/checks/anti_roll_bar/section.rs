//! How stiff an anti-roll bar is: its twist, and the bending of its arms in series.

use crate::pickups::{Measured, PickupError, Quantity, length_within, positive_of, within_of};
use crate::{Dimension, Sentence};
use serde::{Deserialize, Serialize};
use std::f64::consts::PI;

/// Shear modulus of spring steel (N/mm^2), the usual figure for bars and springs (from memory).
const STEEL_SHEAR_MODULUS: f64 = 79_300.0;
/// Young's modulus of steel (N/mm^2) (from memory).
const STEEL_YOUNG_MODULUS: f64 = 206_000.0;

/// The material and the cross-section of a bar.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BarSection {
    /// Outside diameter (mm).
    pub outside_diameter: f64,
    /// Inside diameter of a tube (mm); 0 for a solid bar.
    #[serde(default)]
    pub inside_diameter: f64,
    /// Shear modulus (N/mm^2); spring steel, 79 300, when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shear_modulus: Option<f64>,
    /// Young's modulus (N/mm^2), for the bending of arms; steel, 206 000, when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub young_modulus: Option<f64>,
}

/// How the arms of a bar bend.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum ArmBending {
    /// So little that it does not count.
    #[default]
    Stiff,
    /// Bent from the bar itself, with its cross-section.
    SameAsBar,
    /// A flat blade.
    Blade {
        /// Across the bend: in the direction of the link's force (mm).
        thickness: f64,
        /// The other way (mm).
        width: f64,
    },
    /// Force at the end of one arm per deflection there (N/mm), as measured.
    Rate(f64),
}

impl Measured for BarSection {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        visitor(&mut self.outside_diameter, Quantity::Length);
        visitor(&mut self.inside_diameter, Quantity::Length);
        for modulus in [&mut self.shear_modulus, &mut self.young_modulus]
            .into_iter()
            .flatten()
        {
            visitor(modulus, Quantity::Stress);
        }
    }
}

impl Measured for ArmBending {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        match self {
            Self::Stiff | Self::SameAsBar => {}
            Self::Blade { thickness, width } => {
                visitor(thickness, Quantity::Length);
                visitor(width, Quantity::Length);
            }
            Self::Rate(rate) => visitor(rate, Quantity::Rate),
        }
    }
}

impl BarSection {
    /// Torque per twist (N mm/rad) of a straight piece of this length (mm): `G J / L`, with `J = pi (D^4 - d^4) / 32`.
    ///
    /// The torsion of a round bar, in every strength-of-materials book (from memory).
    #[must_use]
    pub fn torsional_rate(&self, length: f64) -> f64 {
        let polar = PI * (self.outside_diameter.powi(4) - self.inside_diameter.powi(4)) / 32.0;
        self.shear_modulus.unwrap_or(STEEL_SHEAR_MODULUS) * polar / length
    }

    /// Force per deflection (N/mm) at the end of one arm of this length (mm), as a cantilever: `3 E I / l^3`.
    ///
    /// None for an arm that counts as stiff. An estimate: the root is taken as clamped to the bar.
    #[must_use]
    pub fn arm_rate(&self, arm: &ArmBending, length: f64) -> Option<f64> {
        let second_moment = match *arm {
            ArmBending::Stiff => return None,
            ArmBending::Rate(rate) => return Some(rate),
            ArmBending::SameAsBar => {
                PI * (self.outside_diameter.powi(4) - self.inside_diameter.powi(4)) / 64.0
            }
            ArmBending::Blade { thickness, width } => width * thickness.powi(3) / 12.0,
        };
        let young = self.young_modulus.unwrap_or(STEEL_YOUNG_MODULUS);
        Some(3.0 * young * second_moment / length.powi(3))
    }

    pub(super) fn validate(&self, arm: &ArmBending) -> Result<(), PickupError> {
        length_within(
            self.outside_diameter,
            "section.outside_diameter",
            (3.0, 200.0),
            "give the diameter of the bar; is the unit right?",
        )?;
        let inside = self.inside_diameter;
        length_within(
            inside,
            "section.inside_diameter",
            (0.0, 200.0),
            "give 0 for a solid bar",
        )?;
        if inside >= self.outside_diameter {
            return Err(PickupError::Misplaced {
                field: "section.inside_diameter".into(),
                problem: Sentence::new("`section.inside_diameter` (")
                    .given_length(inside)
                    .words(") is not less than `section.outside_diameter` (")
                    .given_length(self.outside_diameter)
                    .words(")"),
                advice: "are the two diameters swapped?",
            });
        }
        let moduli = [
            (self.shear_modulus, "section.shear_modulus"),
            (self.young_modulus, "section.young_modulus"),
        ];
        for (modulus, field) in moduli {
            let advice = "steel has about 79 300 MPa (11 500 000 psi) in shear and 206 000 MPa (30 000 000 psi) in tension";
            within_of(
                modulus.unwrap_or(1e5),
                Dimension::Stress,
                field,
                (100.0, 1e6),
                advice,
            )?;
        }
        match *arm {
            ArmBending::Stiff | ArmBending::SameAsBar => Ok(()),
            ArmBending::Rate(rate) => {
                let advice = "give the force per travel at the end of one arm";
                positive_of(rate, Dimension::Rate, "arm.rate", advice)
            }
            ArmBending::Blade { thickness, width } => {
                let advice = "give the size of the blade";
                length_within(thickness, "arm.blade.thickness", (0.5, 200.0), advice)?;
                length_within(width, "arm.blade.width", (0.5, 200.0), advice)
            }
        }
    }
}
