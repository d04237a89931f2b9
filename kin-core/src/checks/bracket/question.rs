//! What is asked about a bracket.

use crate::checks::bolt::{force_and_factor, usual_load_factor};
use crate::checks::bolt_data::HoleClass;
use crate::pickups::validate::{incomplete, length_within, positive_of, stress};
use crate::pickups::{Measured, Quantity};
use crate::{Dimension, Error};
use nalgebra::Vector3;
use serde::{Deserialize, Serialize};

/// The static force on a bracket at its hole, in the bracket's own directions (N).
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BracketForce {
    /// Away from the root along the tabs: pulling positive, pushing negative.
    #[serde(default)]
    pub outward: f64,
    /// In the plane of the tabs, square to that: it bends them edgewise.
    #[serde(default)]
    pub across: f64,
    /// Along the bolt: it bends the tabs flatwise, where they are weak.
    #[serde(default)]
    pub sideways: f64,
}

impl BracketForce {
    /// From a force in vehicle axes.
    ///
    /// * `force`: on the bracket (N), such as [`SupportForces::force_on_body`](crate::checks::loads::SupportForces)
    /// * `bolt_axis`: along the bolt, any length
    /// * `outward`: from the root of the bracket to its hole, any length
    ///
    /// None where the two directions are zero or the same.
    #[must_use]
    pub fn resolved(force: &Vector3<f64>, bolt_axis: &Vector3<f64>, outward: &Vector3<f64>) -> Option<Self> {
        let axis = bolt_axis.try_normalize(1e-9)?;
        let along = (outward - axis * axis.dot(outward)).try_normalize(1e-6 * outward.norm())?;
        Some(Self {
            outward: force.dot(&along),
            across: force.dot(&axis.cross(&along)).abs(),
            sideways: force.dot(&axis).abs(),
        })
    }

    pub(super) fn size(&self) -> f64 {
        self.outward.hypot(self.across).hypot(self.sideways)
    }
}

/// The fillet weld at the root of each tab.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Weld {
    /// Leg of the fillet (mm).
    pub leg: f64,
    /// Length of the run on one tab, all sides together (mm).
    pub length_per_tab: f64,
    /// Stress in the throat that it may see (MPa); the usual one when absent: three tenths of the tensile strength of a common
    /// filler, 70 ksi: 145 MPa (from memory).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limit: Option<f64>,
}

/// Stress in the throat of a weld where no limit is stated (MPa).
const USUAL_WELD_LIMIT_MPA: f64 = 145.0;

impl Weld {
    pub(super) fn limit(&self) -> f64 {
        self.limit.unwrap_or(USUAL_WELD_LIMIT_MPA)
    }
}

/// A bracket, and what loads it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BracketQuestion {
    /// What the mount is called.
    pub name: String,
    /// How many tabs carry: one or two.
    pub tabs: u32,
    /// Thickness of a tab (mm).
    pub thickness: f64,
    /// Width of a tab at its root and at its hole (mm).
    pub width: f64,
    /// From the root, where the tab is welded or bent, to the middle of the hole (mm).
    pub height: f64,
    /// From the middle of the hole to the nearest free edge (mm).
    pub edge_distance: f64,
    /// Diameter of the hole as it is (mm); absent when none is drilled yet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hole: Option<f64>,
    /// Thread of the bolt that goes in, such as `1/2-13`.
    pub bolt: String,
    /// How much room the bolt shall have.
    #[serde(default)]
    pub hole_class: HoleClass,
    /// Drill to this diameter instead of the one that bolt and class ask for (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drill_to: Option<f64>,
    /// Yield of the tab's material (MPa).
    pub yielding: f64,
    /// The static force at the hole.
    pub force: BracketForce,
    /// What the static force is multiplied with for bumps; 3 is common practice, no source.
    #[serde(default = "usual_load_factor")]
    pub load_factor: f64,
    /// The weld, where there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weld: Option<Weld>,
}

impl BracketQuestion {
    pub(super) fn validate(&self) -> Result<(), Error> {
        if !(1..=2).contains(&self.tabs) {
            return Err(incomplete("tabs", "a bracket has one tab or two").into());
        }
        for (value, field, advice) in [
            (self.thickness, "thickness", "give the thickness of one tab"),
            (self.width, "width", "give the width of a tab at its root"),
            (
                self.height,
                "height",
                "measure from the root to the middle of the hole",
            ),
            (
                self.edge_distance,
                "edge_distance",
                "measure from the middle of the hole",
            ),
        ] {
            positive_of(value, Dimension::Length, field, advice)?;
        }
        stress(self.yielding, "yielding")?;
        length_within(
            self.edge_distance,
            "edge_distance",
            (0.0, 0.5 * self.width),
            "the nearest edge is never farther from the middle of the hole than half the width of the tab",
        )?;
        for (value, field) in [(self.hole, "hole"), (self.drill_to, "drill_to")] {
            if let Some(value) = value {
                positive_of(
                    value,
                    Dimension::Length,
                    field,
                    "give the diameter, or leave it out",
                )?;
                length_within(
                    value,
                    field,
                    (0.0, self.width),
                    "a hole is smaller than the tab is wide",
                )?;
            }
        }
        let BracketForce {
            outward,
            across,
            sideways,
        } = self.force;
        for force in [outward, across, sideways] {
            force_and_factor(force, self.load_factor)?;
        }
        if let Some(weld) = &self.weld {
            for (value, field, advice) in [
                (weld.leg, "weld.leg", "give the leg of the fillet"),
                (
                    weld.length_per_tab,
                    "weld.length_per_tab",
                    "give the run on one tab",
                ),
            ] {
                positive_of(value, Dimension::Length, field, advice)?;
            }
            stress(weld.limit(), "weld.limit")?;
        }
        Ok(())
    }
}

impl Measured for BracketQuestion {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        for length in [
            &mut self.thickness,
            &mut self.width,
            &mut self.height,
            &mut self.edge_distance,
        ] {
            visitor(length, Quantity::Length);
        }
        for length in [&mut self.hole, &mut self.drill_to].into_iter().flatten() {
            visitor(length, Quantity::Length);
        }
        visitor(&mut self.yielding, Quantity::Stress);
        for force in [
            &mut self.force.outward,
            &mut self.force.across,
            &mut self.force.sideways,
        ] {
            visitor(force, Quantity::Force);
        }
        if let Some(weld) = &mut self.weld {
            visitor(&mut weld.leg, Quantity::Length);
            visitor(&mut weld.length_per_tab, Quantity::Length);
            if let Some(limit) = &mut weld.limit {
                visitor(limit, Quantity::Stress);
            }
        }
    }
}
