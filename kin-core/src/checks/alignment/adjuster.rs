//! What an alignment can be set with: shims, eccentrics, and the length of the tie rod.

use crate::checks::joint_angle::unit;
use crate::checks::moving_parts::Mover;
use crate::pickups::{
    Measured, PickupError, Point, Quantity, incomplete, known_part, length_within, positive_of,
};
use crate::{Dimension, Error, Sentence};
use nalgebra::Vector3;
use serde::{Deserialize, Serialize};

/// Pickups move no farther than this (mm), where no range is stated: more is another car.
const USUAL_MOST_MM: f64 = 20.0;

/// A pickup that can be moved to set the alignment.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Adjuster {
    /// Which: `upper_arm.front_pivot`, `upper_arm.rear_pivot`, `upper_arm` for both, the same of `lower_arm`,
    /// `upper_arm.ball_joint` or `lower_arm.ball_joint` where it slides on its arm, or `tie_rod` for its length.
    pub pickup: String,
    /// The way it moves with a positive amount, [forward, left, up] of any length; inboard when absent. The tie rod has
    /// none: a positive amount makes it longer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub direction: Option<Point>,
    /// Thickness of one shim (mm), where it is set in whole shims.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shim: Option<f64>,
    /// Offset of an eccentric's cam (mm), where it is set by turning one; it then moves by this much either way.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub eccentric: Option<f64>,
    /// The least amount (mm); 20 mm the other way when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub least: Option<f64>,
    /// The largest amount (mm); 20 mm when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most: Option<f64>,
}

impl Measured for Adjuster {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        // A direction has no unit.
        for length in [
            &mut self.shim,
            &mut self.eccentric,
            &mut self.least,
            &mut self.most,
        ]
        .into_iter()
        .flatten()
        {
            visitor(length, Quantity::Length);
        }
    }
}

/// What an adjuster moves, per mm of its amount.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Moves {
    /// Pivots of the upper (0) or lower (1) arm: whether the front and the rear one, and which way.
    Pivots {
        arm: usize,
        front: bool,
        rear: bool,
        way: Vector3<f64>,
    },
    /// The ball joint of an arm, on the arm.
    BallJoint { arm: usize, way: Vector3<f64> },
    /// The length of the tie rod.
    TieRod,
}

/// An adjuster that was understood.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Setting {
    pub(super) moves: Moves,
    pub(super) shim: Option<f64>,
    pub(super) range: (f64, f64),
}

impl Setting {
    pub(super) fn of(mover: &Mover<'_>, adjuster: &Adjuster, field: &str) -> Result<Self, Error> {
        let named = |name: &str| format!("{field}.{name}");
        let known = [
            "upper_arm.front_pivot",
            "upper_arm.rear_pivot",
            "upper_arm",
            "upper_arm.ball_joint",
            "lower_arm.front_pivot",
            "lower_arm.rear_pivot",
            "lower_arm",
            "lower_arm.ball_joint",
            "tie_rod",
        ];
        known_part(&adjuster.pickup, &named("pickup"), &known)?;
        let way = match &adjuster.direction {
            Some(_) if adjuster.pickup == "tie_rod" => {
                let problem = "the tie rod is made longer or shorter and has no direction";
                return Err(incomplete(&named("direction"), problem).into());
            }
            Some(direction) => unit(mover, direction, &named("direction"))?,
            None => -Vector3::y(),
        };
        let arm = usize::from(adjuster.pickup.starts_with("lower_arm"));
        let part = adjuster.pickup.split_once('.').map(|(_, part)| part);
        let moves = match part {
            Some("ball_joint") => Moves::BallJoint { arm, way },
            None if adjuster.pickup == "tie_rod" => Moves::TieRod,
            part => Moves::Pivots {
                arm,
                front: part != Some("rear_pivot"),
                rear: part != Some("front_pivot"),
                way,
            },
        };
        Ok(Self {
            moves,
            shim: adjuster.shim,
            range: range(adjuster, field)?,
        })
    }
}

fn range(adjuster: &Adjuster, field: &str) -> Result<(f64, f64), Error> {
    let named = |name: &str| format!("{field}.{name}");
    if let Some(shim) = adjuster.shim {
        positive_of(
            shim,
            Dimension::Length,
            &named("shim"),
            "give the thickness of one shim",
        )?;
    }
    if adjuster.shim.is_some() && adjuster.eccentric.is_some() {
        let problem = "give either a `shim` or an `eccentric`, not both";
        return Err(incomplete(&named("eccentric"), problem).into());
    }
    let within_reason = (-100.0, 100.0);
    let usual = match adjuster.eccentric {
        Some(eccentric) => {
            let advice = "give the offset of the cam";
            positive_of(eccentric, Dimension::Length, &named("eccentric"), advice)?;
            length_within(eccentric, &named("eccentric"), within_reason, advice)?;
            eccentric
        }
        None => USUAL_MOST_MM,
    };
    let (least, most) = (adjuster.least.unwrap_or(-usual), adjuster.most.unwrap_or(usual));
    for (value, name) in [(least, "least"), (most, "most")] {
        length_within(value, &named(name), within_reason, "is the unit right?")?;
    }
    if least > most {
        let problem = Sentence::new(format!("`{}` (", named("least")))
            .given_length(least)
            .words(") is more than `most` (")
            .given_length(most)
            .words(")");
        return Err(PickupError::Misplaced {
            field: named("least"),
            problem,
            advice: "are the two swapped?",
        }
        .into());
    }
    Ok((least, most))
}
