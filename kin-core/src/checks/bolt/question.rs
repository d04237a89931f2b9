//! What is asked about a bolt.

use super::torque::ThreadCondition;
use crate::checks::bolt_data::Grade;
use crate::pickups::validate::{incomplete, positive_of, stress, within, within_of};
use crate::pickups::{Measured, Quantity};
use crate::{Dimension, Error};
use serde::{Deserialize, Serialize};

/// How a bolt is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Shear {
    /// A tab on one side only: the bolt stands out like a peg.
    Single,
    /// A tab on each side.
    Double,
}

impl Shear {
    pub(super) const fn planes(self) -> f64 {
        match self {
            Self::Single => 1.0,
            Self::Double => 2.0,
        }
    }
}

/// The tab that the bolt bears on.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BoltTab {
    /// Thickness of one tab (mm).
    pub thickness: f64,
    /// Bearing stress it may see (MPa). Without it the limit follows from the next three, where they are given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bearing_limit: Option<f64>,
    /// Tensile strength of its material (MPa).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tensile: Option<f64>,
    /// Diameter of its hole (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hole: Option<f64>,
    /// From the middle of the hole to the free edge in the direction of the force (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub edge_distance: Option<f64>,
}

/// A bolt through a mount, and what loads it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BoltQuestion {
    /// What the mount is called.
    pub name: String,
    /// Thread, such as `1/2-13` or `M12x1.75`.
    pub size: String,
    /// Grade or property class.
    pub grade: Grade,
    /// How it is held.
    pub shear: Shear,
    /// Static force across the bolt (N), such as the coilover's at ride height.
    pub force: f64,
    /// What the static force is multiplied with for bumps; 3 is common practice, no source.
    #[serde(default = "usual_load_factor")]
    pub load_factor: f64,
    /// Single shear: from the face of the tab to the middle of what hangs on the bolt (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lever: Option<f64>,
    /// Whether the thread, not the shank, crosses from the tab into the eye.
    #[serde(default)]
    pub threads_in_shear_plane: bool,
    /// Shear stress it may see (MPa); from the grade when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shear_limit: Option<f64>,
    /// Bending stress it may see (MPa); the yield of the grade when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bending_limit: Option<f64>,
    /// The tab.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tab: Option<BoltTab>,
    /// Torque it is tightened with (N mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub torque: Option<f64>,
    /// What is on the threads.
    #[serde(default)]
    pub condition: ThreadCondition,
}

/// Static force to bump force: common practice, no source.
pub(crate) const fn usual_load_factor() -> f64 {
    3.0
}

/// A force on one mount beyond this (N) is a slip of the pen.
const LARGEST_FORCE_N: f64 = 1e7;

pub(crate) fn force_and_factor(force: f64, load_factor: f64) -> Result<(), Error> {
    within_of(
        force,
        Dimension::Force,
        "force",
        (-LARGEST_FORCE_N, LARGEST_FORCE_N),
        "is the unit right (newtons or pounds)?",
    )?;
    within(
        load_factor,
        "load_factor",
        (1.0, 100.0),
        "it multiplies the static force for bumps: 1 means the force as it is, 3 is usual, and less than the static force \
         is never what a part must carry",
    )?;
    Ok(())
}

impl BoltQuestion {
    pub(super) fn validate(&self) -> Result<(), Error> {
        force_and_factor(self.force, self.load_factor)?;
        match (self.shear, self.lever) {
            (Shear::Single, None) => {
                return Err(incomplete(
                    "lever",
                    "in single shear the bolt bends: give the distance from the face of the tab to the middle of \
                     the eye",
                )
                .into());
            }
            (Shear::Double, Some(_)) => {
                return Err(incomplete(
                    "lever",
                    "in double shear there is none; leave it out, or say `single`",
                )
                .into());
            }
            (Shear::Single, Some(lever)) => {
                positive_of(
                    lever,
                    Dimension::Length,
                    "lever",
                    "measure from the face of the tab to the middle of the eye",
                )?;
            }
            (Shear::Double, None) => {}
        }
        for (limit, field) in [
            (self.shear_limit, "shear_limit"),
            (self.bending_limit, "bending_limit"),
        ] {
            if let Some(limit) = limit {
                stress(limit, field)?;
            }
        }
        if let Some(torque) = self.torque {
            positive_of(
                torque,
                Dimension::Torque,
                "torque",
                "give the torque, or leave it out",
            )?;
        }
        self.tab.map_or(Ok(()), |tab| tab.validate())
    }
}

impl BoltTab {
    fn validate(&self) -> Result<(), Error> {
        positive_of(
            self.thickness,
            Dimension::Length,
            "tab.thickness",
            "give the thickness of one tab",
        )?;
        for (limit, field) in [
            (self.bearing_limit, "tab.bearing_limit"),
            (self.tensile, "tab.tensile"),
        ] {
            if let Some(limit) = limit {
                stress(limit, field)?;
            }
        }
        let optional = [
            (self.hole, "tab.hole", "give the diameter of the hole"),
            (
                self.edge_distance,
                "tab.edge_distance",
                "measure from the middle of the hole",
            ),
        ];
        for (value, field, advice) in optional {
            if let Some(value) = value {
                positive_of(value, Dimension::Length, field, advice)?;
            }
        }
        if let (Some(hole), Some(edge)) = (self.hole, self.edge_distance)
            && edge <= 0.5 * hole
        {
            return Err(incomplete(
                "tab.edge_distance",
                "the edge would be inside the hole: measure from the middle of the hole to the edge, which is more than \
                 half of the hole",
            )
            .into());
        }
        Ok(())
    }
}

impl Measured for BoltQuestion {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        visitor(&mut self.force, Quantity::Force);
        if let Some(lever) = &mut self.lever {
            visitor(lever, Quantity::Length);
        }
        for stress in [&mut self.shear_limit, &mut self.bending_limit]
            .into_iter()
            .flatten()
        {
            visitor(stress, Quantity::Stress);
        }
        if let Some(tab) = &mut self.tab {
            visitor(&mut tab.thickness, Quantity::Length);
            for stress in [&mut tab.bearing_limit, &mut tab.tensile].into_iter().flatten() {
                visitor(stress, Quantity::Stress);
            }
            for length in [&mut tab.hole, &mut tab.edge_distance].into_iter().flatten() {
                visitor(length, Quantity::Length);
            }
        }
        if let Some(torque) = &mut self.torque {
            visitor(torque, Quantity::Torque);
        }
    }
}
