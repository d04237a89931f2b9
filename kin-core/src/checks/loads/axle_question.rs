//! What is asked about the loads of an axle.

use super::axle::{no_supports, supports_of};
use super::corner_question::{masses, multiples};
use super::part_force::PartForce;
use crate::Error;
use crate::pickups::{LiveAxle, Measured, Quantity};
use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

/// The force of the ground on one wheel, as multiples of that wheel's static load.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WheelFactors {
    /// Up positive.
    pub vertical: f64,
    /// Along X: driving positive, braking negative.
    #[serde(default)]
    pub longitudinal: f64,
    /// Along Y: to the left of the car positive.
    #[serde(default)]
    pub lateral: f64,
}

/// A load case of an axle.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AxleLoadCase {
    /// What it is called.
    pub name: String,
    /// On the left wheel.
    pub left: WheelFactors,
    /// On the right wheel.
    pub right: WheelFactors,
    /// Travel of the left wheel from ride height (mm), bump positive.
    #[serde(default)]
    pub travel_left: f64,
    /// Travel of the right wheel from ride height (mm), bump positive.
    #[serde(default)]
    pub travel_right: f64,
}

impl AxleLoadCase {
    /// The usual cases: assumptions, common practice, no source.
    ///
    /// Standing still; a bump under both wheels or under the left one that triples the wheel load; driving and braking
    /// with as much grip as load, with a fifth of the load shifted to or from the axle; a right-hand corner that leaves
    /// three tenths of its load on the right wheel, with as much grip as load.
    #[must_use]
    pub fn usual() -> Vec<Self> {
        let wheel = |vertical, longitudinal, lateral| WheelFactors {
            vertical,
            longitudinal,
            lateral,
        };
        let case = |name: &str, left: WheelFactors, right: WheelFactors| Self {
            name: name.to_owned(),
            left,
            right,
            travel_left: 0.0,
            travel_right: 0.0,
        };
        let both = |name: &str, factors: WheelFactors| case(name, factors, factors);
        vec![
            both("static", wheel(1.0, 0.0, 0.0)),
            both("bump", wheel(3.0, 0.0, 0.0)),
            case("bump on the left", wheel(3.0, 0.0, 0.0), wheel(1.0, 0.0, 0.0)),
            both("driving", wheel(1.2, 1.2, 0.0)),
            both("braking", wheel(0.8, -0.8, 0.0)),
            case("cornering", wheel(1.7, 0.0, -1.7), wheel(0.3, 0.0, -0.3)),
        ]
    }

    pub(super) fn mean_travel(&self) -> f64 {
        0.5 * (self.travel_left + self.travel_right)
    }
}

/// What is asked about the loads of an axle.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AxleLoadQuestion {
    /// What a scale under the left wheel shows at ride height (kg).
    pub wheel_load_left: f64,
    /// What a scale under the right wheel shows at ride height (kg).
    pub wheel_load_right: f64,
    /// Mass of the whole axle with its wheels (kg). Its weight acts at the wheel centres, half at each.
    #[serde(default)]
    pub unsprung: f64,
    /// The cases; the usual ones when empty, see [`AxleLoadCase::usual`].
    #[serde(default)]
    pub cases: Vec<AxleLoadCase>,
    /// Other forces on the axle or its links, the same in every case.
    #[serde(default)]
    pub part_forces: Vec<PartForce>,
    /// The most that a part may see (N), by the names of [`AxleForces::by_name`](super::AxleForces::by_name).
    #[serde(default)]
    pub limits: IndexMap<String, f64>,
}

impl AxleLoadQuestion {
    /// The cases asked for, or the usual ones.
    #[must_use]
    pub fn cases_or_usual(&self) -> Vec<AxleLoadCase> {
        if self.cases.is_empty() {
            AxleLoadCase::usual()
        } else {
            self.cases.clone()
        }
    }

    pub(super) fn validate(&self, pickups: &LiveAxle) -> Result<(), Error> {
        let loads = [
            (self.wheel_load_left, "wheel_load_left"),
            (self.wheel_load_right, "wheel_load_right"),
        ];
        masses(&loads, self.unsprung)?;
        for (place, case) in self.cases.iter().enumerate() {
            for (wheel, side) in [(&case.left, "left"), (&case.right, "right")] {
                multiples(
                    [wheel.vertical, wheel.longitudinal, wheel.lateral],
                    [case.travel_left, case.travel_right],
                    &format!("cases[{place}].{side}"),
                )?;
            }
        }
        let parts: Vec<&str> = std::iter::once("axle")
            .chain(pickups.links.keys().map(String::as_str))
            .collect();
        for (place, force) in self.part_forces.iter().enumerate() {
            force.validate(&format!("part_forces[{place}]"), &parts)?;
        }
        supports_of(pickups).map(|_| ()).ok_or_else(no_supports)
    }
}

impl Measured for AxleLoadCase {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        visitor(&mut self.travel_left, Quantity::Length);
        visitor(&mut self.travel_right, Quantity::Length);
    }
}

impl Measured for AxleLoadQuestion {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        for mass in [
            &mut self.wheel_load_left,
            &mut self.wheel_load_right,
            &mut self.unsprung,
        ] {
            visitor(mass, Quantity::Mass);
        }
        self.cases.visit(visitor);
        self.part_forces.visit(visitor);
        for limit in self.limits.values_mut() {
            visitor(limit, Quantity::Force);
        }
    }
}
