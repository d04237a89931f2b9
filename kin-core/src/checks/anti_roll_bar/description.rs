//! An anti-roll bar as measured.

use super::section::{ArmBending, BarSection};
use crate::Dimension;
use crate::checks::motion_range::MotionRange;
use crate::pickups::{Measured, PickupError, Point, Quantity, coordinates, positive, positive_of, within_of};
use serde::{Deserialize, Serialize};

/// One end of an anti-roll bar.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BarSide {
    /// Where the arm begins, on the axis that the bar turns about (mm).
    pub root: Point,
    /// Joint between the arm and its link (mm).
    pub arm_end: Point,
    /// Joint between the link and what it pulls on (mm).
    pub link_end: Point,
    /// The part that carries that joint: `lower_arm`, `upper_arm`, `upright`, `axle`, a link's name, or `body` for a bar
    /// that is mounted on an axle.
    pub rides_on: String,
    /// Length of the link as it is set (mm); the distance between its joints as measured when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub link_length: Option<f64>,
}

/// An anti-roll bar with its links, in vehicle axes, as measured.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AntiRollBar {
    /// Material and cross-section.
    pub section: BarSection,
    /// How the arms bend.
    #[serde(default)]
    pub arm: ArmBending,
    /// Length that is twisted (mm); the distance between both roots when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Option<f64>,
    /// What the bar turns in: `body`, or `axle`.
    #[serde(default = "body")]
    pub mounted_on: String,
    /// The left end.
    pub left: BarSide,
    /// The right end; the mirror of the left one, with the link as measured, when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub right: Option<BarSide>,
    /// Roll stiffness of the car's other axle, springs and bar (N mm per degree).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub other_axle_roll_stiffness: Option<f64>,
    /// Force at a wheel that counts as no preload (N); 20 N when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub largest_preload: Option<f64>,
    /// How far the wheels move.
    #[serde(default)]
    pub range: MotionRange,
}

fn body() -> String {
    "body".to_owned()
}

impl Measured for BarSide {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        self.root.visit(visitor);
        self.arm_end.visit(visitor);
        self.link_end.visit(visitor);
        if let Some(length) = &mut self.link_length {
            visitor(length, Quantity::Length);
        }
    }
}

impl Measured for AntiRollBar {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        self.section.visit(visitor);
        self.arm.visit(visitor);
        if let Some(length) = &mut self.length {
            visitor(length, Quantity::Length);
        }
        self.left.visit(visitor);
        self.right.visit(visitor);
        if let Some(rate) = &mut self.other_axle_roll_stiffness {
            visitor(rate, Quantity::TorsionalRate);
        }
        if let Some(force) = &mut self.largest_preload {
            visitor(force, Quantity::Force);
        }
        self.range.visit(visitor);
    }
}

impl BarSide {
    fn validate(&self, name: &str) -> Result<(), PickupError> {
        coordinates(&self.root, &format!("{name}.root"))?;
        coordinates(&self.arm_end, &format!("{name}.arm_end"))?;
        coordinates(&self.link_end, &format!("{name}.link_end"))?;
        if let Some(length) = self.link_length {
            let field = format!("{name}.link_length");
            positive_of(
                length,
                Dimension::Length,
                &field,
                "give the length between the joints of the link",
            )?;
        }
        Ok(())
    }
}

impl AntiRollBar {
    pub(super) fn validate(&self) -> Result<(), PickupError> {
        self.section.validate(&self.arm)?;
        self.left.validate("left")?;
        if let Some(right) = &self.right {
            right.validate("right")?;
        }
        let length = self.length.unwrap_or(1.0);
        positive_of(
            length,
            Dimension::Length,
            "length",
            "give the length of the bar between its arms",
        )?;
        let other = self.other_axle_roll_stiffness.unwrap_or(1.0);
        positive(other, "other_axle_roll_stiffness", "give N mm per degree of roll")?;
        let preload = self.largest_preload.unwrap_or(0.0);
        within_of(
            preload,
            Dimension::Force,
            "largest_preload",
            (0.0, 1e5),
            "give a force at the wheel",
        )
    }
}
