//! The joints that are asked about.

use super::SphericalBearing;
use crate::checks::motion_range::MotionRange;
use crate::pickups::{Measured, Point, Quantity, angle_within, incomplete, positive_of};
use crate::{Dimension, Error};
use serde::{Deserialize, Serialize};

/// Swing left below which a check says "tight" (deg), where the user states none (common practice, no source): about
/// what the direction of a bolt can be set to by eye.
const USUAL_MARGIN_DEG: f64 = 1.0;
/// A joint to be checked.
///
/// Names are those of the description: `coilover.upper_mount`, `coilover.lower_mount`, `upper_arm.ball_joint`,
/// `lower_arm.ball_joint`, `tie_rod.inner`, `tie_rod.outer`; of an axle `coilovers.left.upper_mount` and the like,
/// `links.upper_left.body`, `links.upper_left.axle`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Joint {
    /// Which joint.
    pub at: String,
    /// Direction of the bolt, pin or stud as measured, of any length. An arm's ball joint takes the line through both
    /// ball joints when it is absent; an axial joint has no axis of its own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub axis: Option<Point>,
    /// Direction of the socket as measured, of an arm's ball joint or an axial joint; centred at ride height when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub socket: Option<Point>,
    /// Whether the stud points along its rod, as in the inner joint of a steering rack.
    #[serde(default)]
    pub axial: bool,
    /// How far the joint can swing either way (deg).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limit: Option<f64>,
    /// The sizes to find that limit from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bearing: Option<SphericalBearing>,
    /// Swing to spare below which the check says "tight" (deg); 1 deg when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub margin: Option<f64>,
}

/// The joints to be checked, and how far the wheel moves.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JointsQuestion {
    /// The joints.
    pub joints: Vec<Joint>,
    /// How far the wheels and the rack move.
    #[serde(default)]
    pub range: MotionRange,
}

impl Measured for Joint {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        // Directions have no unit.
        self.bearing.visit(visitor);
        for angle in [&mut self.limit, &mut self.margin].into_iter().flatten() {
            visitor(angle, Quantity::Angle);
        }
    }
}

impl Measured for JointsQuestion {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        self.joints.visit(visitor);
        self.range.visit(visitor);
    }
}

impl Joint {
    /// Limit and margin (rad).
    pub(super) fn limits(&self, field: &str) -> Result<(Option<f64>, f64), Error> {
        let named = |name: &str| format!("{field}.{name}");
        let limit = match (self.limit, &self.bearing) {
            (Some(_), Some(_)) => {
                let problem = "give either `limit` or the sizes of the `bearing`, not both";
                return Err(incomplete(&named("limit"), problem).into());
            }
            (Some(limit), None) => {
                let advice = "give the swing either way in degrees";
                positive_of(limit.to_radians(), Dimension::Angle, &named("limit"), advice)?;
                angle_within(limit, &named("limit"), (0.0, 90.0), advice)?;
                Some(limit.to_radians())
            }
            (None, Some(bearing)) => {
                bearing.validate(&named("bearing"))?;
                Some(bearing.swing_limit()?)
            }
            (None, None) => None,
        };
        let margin = self.margin.unwrap_or(USUAL_MARGIN_DEG);
        angle_within(margin, &named("margin"), (0.0, 90.0), "give degrees, 0 or more")?;
        Ok((limit, margin.to_radians()))
    }
}
