//! What is asked about the loads of a corner.

use super::corner::support_of;
use super::part_force::PartForce;
use crate::pickups::validate::{finite, positive_of, within, within_of};
use crate::pickups::{DoubleWishbone, Measured, Quantity, Side};
use crate::{Dimension, Error};
use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

/// Multiples beyond this are a slip of the pen.
pub(super) const LARGEST_MULTIPLE: f64 = 20.0;

/// A load case of one wheel: multiples of the static wheel load at the contact point, at one position.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CornerLoadCase {
    /// What it is called.
    pub name: String,
    /// Vertical force, as a multiple of the static wheel load, up positive.
    pub vertical: f64,
    /// Force along X, as a multiple of the static wheel load: driving positive, braking negative.
    #[serde(default)]
    pub longitudinal: f64,
    /// Force along Y, as a multiple of the static wheel load: to the left of the car positive.
    #[serde(default)]
    pub lateral: f64,
    /// Whether the force along X acts at the height of the wheel centre: a wheel that is driven or braked through a
    /// shaft from the body. Otherwise it acts at the contact point, as it does with brakes at the wheel.
    #[serde(default)]
    pub through_shaft: bool,
    /// Wheel travel from ride height (mm), bump positive.
    #[serde(default)]
    pub travel: f64,
    /// Rack displacement (mm), +Y positive.
    #[serde(default)]
    pub rack: f64,
}

impl CornerLoadCase {
    /// The usual cases: assumptions, common practice, no source.
    ///
    /// Standing still; a bump that triples the wheel load; braking on a wheel that carries half as much again, with as
    /// much grip as load; the outer wheel of a corner with 1.7 times its load, with as much grip as load.
    #[must_use]
    pub fn usual(side: Side) -> Vec<Self> {
        let inboard = if side == Side::Left { -1.0 } else { 1.0 };
        let case = |name: &str, vertical: f64, longitudinal: f64, lateral: f64| Self {
            name: name.to_owned(),
            vertical,
            longitudinal,
            lateral: lateral * inboard,
            through_shaft: false,
            travel: 0.0,
            rack: 0.0,
        };
        vec![
            case("static", 1.0, 0.0, 0.0),
            case("bump", 3.0, 0.0, 0.0),
            case("braking", 1.5, -1.5, 0.0),
            case("cornering", 1.7, 0.0, 1.7),
        ]
    }
}

/// What is asked about the loads of a corner.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CornerLoadQuestion {
    /// What a scale under the wheel shows at ride height (kg).
    pub wheel_load: f64,
    /// Mass of the parts that hang on the wheel instead of the spring (kg). Its weight acts at the wheel centre.
    #[serde(default)]
    pub unsprung: f64,
    /// The cases; the usual ones when empty, see [`CornerLoadCase::usual`].
    #[serde(default)]
    pub cases: Vec<CornerLoadCase>,
    /// Other forces on moving parts, the same in every case.
    #[serde(default)]
    pub part_forces: Vec<PartForce>,
    /// The most that a part may see (N), by the names of [`CornerForces::by_name`](super::CornerForces::by_name).
    #[serde(default)]
    pub limits: IndexMap<String, f64>,
}

impl CornerLoadQuestion {
    /// The cases asked for, or the usual ones.
    #[must_use]
    pub fn cases_or_usual(&self, side: Side) -> Vec<CornerLoadCase> {
        if self.cases.is_empty() {
            CornerLoadCase::usual(side)
        } else {
            self.cases.clone()
        }
    }

    pub(super) fn validate(&self, pickups: &DoubleWishbone) -> Result<(), Error> {
        masses(&[(self.wheel_load, "wheel_load")], self.unsprung)?;
        for (place, case) in self.cases.iter().enumerate() {
            let field = format!("cases[{place}]");
            multiples(
                [case.vertical, case.longitudinal, case.lateral],
                [case.travel, case.rack],
                &field,
            )?;
        }
        let parts = ["lower_arm", "upper_arm", "upright"];
        for (place, force) in self.part_forces.iter().enumerate() {
            force.validate(&format!("part_forces[{place}]"), &parts)?;
        }
        if support_of(pickups).is_none() {
            return Err(super::corner::no_support("coilover"));
        }
        Ok(())
    }
}

/// Masses on the scales and below the springs.
pub(super) fn masses(wheel_loads: &[(f64, &str)], unsprung: f64) -> Result<(), Error> {
    let mut sum = 0.0;
    for (mass, field) in wheel_loads {
        let advice = "give what a scale under the wheel shows";
        positive_of(*mass, Dimension::Mass, field, advice)?;
        within_of(
            *mass,
            Dimension::Mass,
            field,
            (0.0, 10_000.0),
            "is the unit right (kilograms or pounds)?",
        )?;
        sum += mass;
    }
    within_of(
        unsprung,
        Dimension::Mass,
        "unsprung",
        (0.0, sum),
        "the unsprung mass is part of what the scales show",
    )?;
    Ok(())
}

/// Multiples and positions of one case.
pub(super) fn multiples<const N: usize>(
    multiples: [f64; N],
    travels: [f64; 2],
    field: &str,
) -> Result<(), Error> {
    for value in multiples {
        within(
            value,
            field,
            (-LARGEST_MULTIPLE, LARGEST_MULTIPLE),
            "give multiples of the static wheel load, not forces",
        )?;
    }
    for value in travels {
        finite(value, field)?;
    }
    Ok(())
}

impl Measured for CornerLoadCase {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        visitor(&mut self.travel, Quantity::Length);
        visitor(&mut self.rack, Quantity::Length);
    }
}

impl Measured for CornerLoadQuestion {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        visitor(&mut self.wheel_load, Quantity::Mass);
        visitor(&mut self.unsprung, Quantity::Mass);
        self.cases.visit(visitor);
        self.part_forces.visit(visitor);
        for limit in self.limits.values_mut() {
            visitor(limit, Quantity::Force);
        }
    }
}
