//! What is asked about the way out of a bolt.

use crate::pickups::validate::{coordinates, finite, incomplete, length_within, positive_of};
use crate::pickups::{Measured, Point, Quantity, lengths};
use crate::{Dimension, Error};
use nalgebra::Vector3;
use serde::{Deserialize, Serialize};

/// Which end of the damper the bolt holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DamperEnd {
    /// The mount on the body.
    UpperMount,
    /// The mount on the moving part.
    LowerMount,
}

/// A round part around the axis of the damper or of the spring: a body, a can, a coil.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RoundPart {
    /// Where it begins, from the upper mount along the axis (mm).
    pub from_upper: f64,
    /// Where it ends, from the lower mount along the axis (mm).
    pub from_lower: f64,
    /// Its radius (mm).
    pub radius: f64,
}

/// Something round that stands around: a tube, a lip, a brake line.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RoundObstacle {
    /// What it is called.
    pub name: String,
    /// One end of its middle line, in vehicle axes, at the travel asked about (mm).
    pub start: Point,
    /// The other end (mm).
    pub end: Point,
    /// Its radius (mm).
    pub radius: f64,
}

/// The bolt of a damper's mount, and what stands around it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WithdrawalQuestion {
    /// What the mount is called.
    pub name: String,
    /// Which end of the damper.
    pub end: DamperEnd,
    /// Along the bolt from its nut to its head, in vehicle axes at the travel asked about; any length.
    pub towards_head: Vector3<f64>,
    /// Width over the outsides of the bracket, its middle at the mount (mm).
    pub outside_width: f64,
    /// Length of the bolt under its head (mm).
    pub bolt_length: f64,
    /// Largest diameter of head or washer (mm).
    pub head_diameter: f64,
    /// Height of the head (mm).
    pub head_height: f64,
    /// Length that nut and socket need on the nut side (mm).
    #[serde(default)]
    pub socket_length: f64,
    /// Largest diameter of nut, washer or socket (mm).
    #[serde(default)]
    pub socket_diameter: f64,
    /// Wheel travel from ride height at which the work is done (mm), bump positive. When absent, full droop, as the car
    /// hangs on stands, where the description says how far that is, and else ride height.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub travel: Option<f64>,
    /// Body of the damper.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub damper: Option<RoundPart>,
    /// The spring.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spring: Option<RoundPart>,
    /// What else stands around.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub obstacles: Vec<RoundObstacle>,
    /// Gap below which the path counts as tight (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wanted_gap: Option<f64>,
}

/// Gap wanted where none is stated (mm): about what a tape and a hand-held tool are good for.
const USUAL_GAP_MM: f64 = 3.0;

impl WithdrawalQuestion {
    pub(super) fn wanted_gap(&self) -> f64 {
        self.wanted_gap.unwrap_or(USUAL_GAP_MM)
    }

    pub(super) fn validate(&self) -> Result<(), Error> {
        for (value, field, advice) in [
            (
                self.outside_width,
                "outside_width",
                "measure over the outsides of the bracket",
            ),
            (self.bolt_length, "bolt_length", "measure under the head"),
            (
                self.head_diameter,
                "head_diameter",
                "measure across the corners, or the washer",
            ),
        ] {
            positive_of(value, Dimension::Length, field, advice)?;
        }
        for (value, field) in [
            (self.head_height, "head_height"),
            (self.socket_length, "socket_length"),
            (self.socket_diameter, "socket_diameter"),
            (self.wanted_gap(), "wanted_gap"),
        ] {
            length_within(value, field, (0.0, 1_000.0), "give a length of zero or more")?;
        }
        finite(self.travel.unwrap_or(0.0), "travel")?;
        for value in self.towards_head.iter() {
            finite(*value, "towards_head")?;
        }
        if self.towards_head.norm() < 1e-9 {
            return Err(incomplete(
                "towards_head",
                "give the direction of the bolt, such as [1, 0, 0]",
            )
            .into());
        }
        if self.bolt_length < self.outside_width {
            let problem = "the bolt is shorter than the bracket is wide over its outsides";
            return Err(incomplete("bolt_length", problem).into());
        }
        for (part, field) in [(&self.damper, "damper"), (&self.spring, "spring")] {
            let Some(part) = part else { continue };
            positive_of(
                part.radius,
                Dimension::Length,
                &format!("{field}.radius"),
                "give the radius, not the diameter",
            )?;
            for (value, end) in [(part.from_upper, "from_upper"), (part.from_lower, "from_lower")] {
                length_within(
                    value,
                    &format!("{field}.{end}"),
                    (0.0, 5_000.0),
                    "measure along the damper from that mount",
                )?;
            }
        }
        if self.damper.is_none() && self.spring.is_none() && self.obstacles.is_empty() {
            let problem =
                "give the body of the damper, the spring or an obstacle: something that the bolt could meet";
            return Err(incomplete("damper", problem).into());
        }
        for (place, obstacle) in self.obstacles.iter().enumerate() {
            let field = format!("obstacles[{place}]");
            coordinates(&obstacle.start, &format!("{field}.start"))?;
            coordinates(&obstacle.end, &format!("{field}.end"))?;
            length_within(
                obstacle.radius,
                &format!("{field}.radius"),
                (0.0, 5_000.0),
                "give the radius",
            )?;
        }
        Ok(())
    }
}

impl Measured for RoundPart {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        for length in [&mut self.from_upper, &mut self.from_lower, &mut self.radius] {
            visitor(length, Quantity::Length);
        }
    }
}

impl Measured for WithdrawalQuestion {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        for length in [
            &mut self.outside_width,
            &mut self.bolt_length,
            &mut self.head_diameter,
            &mut self.head_height,
            &mut self.socket_length,
            &mut self.socket_diameter,
        ] {
            visitor(length, Quantity::Length);
        }
        lengths([&mut self.travel, &mut self.wanted_gap], visitor);
        self.damper.visit(visitor);
        self.spring.visit(visitor);
        for obstacle in &mut self.obstacles {
            obstacle.start.visit(visitor);
            obstacle.end.visit(visitor);
            visitor(&mut obstacle.radius, Quantity::Length);
        }
    }
}
