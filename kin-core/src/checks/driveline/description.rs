//! A propeller shaft as measured.

use crate::Error;
use crate::checks::motion_range::MotionRange;
use crate::pickups::{Measured, Point, Quantity, angle_within, coordinates, length_within};
use serde::{Deserialize, Serialize};

/// A propeller shaft and its joints.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Driveline {
    /// Centre of the joint at the gearbox (mm), fixed to the body.
    pub gearbox_joint: Point,
    /// Slope of the gearbox's output shaft (deg), positive when it falls towards the rear. With the pinion nose up by as
    /// much both shafts are parallel.
    pub output_falls: f64,
    /// Whether the joint at the gearbox is a double one, which turns evenly by itself: the pinion then points at it.
    #[serde(default)]
    pub double_joint_at_gearbox: bool,
    /// Largest angle at which a joint still turns without binding (deg), over all travel.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub joint_limit: Option<f64>,
    /// Largest angle of a joint at ride height (deg); 3 when absent. For the pinion's joint behind a double joint, this is
    /// `largest_difference`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub running_limit: Option<f64>,
    /// Largest difference of the angles of both joints at ride height (deg); 1 when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub largest_difference: Option<f64>,
    /// How far the slip joint can still go together from ride height (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slip_in: Option<f64>,
    /// How far the slip joint can come apart from ride height and still hold (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slip_out: Option<f64>,
    /// How far the wheels move.
    #[serde(default)]
    pub range: MotionRange,
}

impl Measured for Driveline {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        self.gearbox_joint.visit(visitor);
        visitor(&mut self.output_falls, Quantity::Angle);
        for angle in [
            &mut self.joint_limit,
            &mut self.running_limit,
            &mut self.largest_difference,
        ]
        .into_iter()
        .flatten()
        {
            visitor(angle, Quantity::Angle);
        }
        for length in [&mut self.slip_in, &mut self.slip_out].into_iter().flatten() {
            visitor(length, Quantity::Length);
        }
        self.range.visit(visitor);
    }
}

impl Driveline {
    pub(super) fn validate(&self) -> Result<(), Error> {
        coordinates(&self.gearbox_joint, "gearbox_joint")?;
        let advice = "give degrees, positive when the output shaft falls towards the rear";
        angle_within(self.output_falls, "output_falls", (-45.0, 45.0), advice)?;
        for (value, field) in [
            (self.joint_limit, "joint_limit"),
            (self.running_limit, "running_limit"),
            (self.largest_difference, "largest_difference"),
        ] {
            angle_within(
                value.unwrap_or(0.0),
                field,
                (0.0, 90.0),
                "give degrees, 0 or more",
            )?;
        }
        for (value, field) in [(self.slip_in, "slip_in"), (self.slip_out, "slip_out")] {
            let advice = "measure the slip left at ride height, positive";
            length_within(value.unwrap_or(0.0), field, (0.0, 1_000.0), advice)?;
        }
        Ok(())
    }
}
