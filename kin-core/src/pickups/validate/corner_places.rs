//! Points of a corner that no car has where they are said to be.
//!
//! Only what is surely wrong is refused. A car may be odd, and where the origin lies is the owner's choice: a height
//! means something only against another height.

use super::PickupError;
use crate::Sentence;
use crate::pickups::{DoubleWishbone, Point, Side};

/// A wheel centre farther than this from the line between the ball joints (mm) is on another car: wheels of dual
/// axles and of portal hubs stay well within.
const FARTHEST_WHEEL_MM: f64 = 600.0;

impl DoubleWishbone {
    /// Checks each point against the others.
    pub(super) fn places(&self) -> Result<(), PickupError> {
        self.pivots_in_order()?;
        self.tie_rod_outboard()?;
        self.wheel_at_upright()?;
        self.ball_joint_above_road()
    }

    /// The names decide which pivot takes which load, and which one a shim goes under.
    fn pivots_in_order(&self) -> Result<(), PickupError> {
        for (arm, name) in [(&self.upper_arm, "upper_arm"), (&self.lower_arm, "lower_arm")] {
            let (front, rear) = (arm.front_pivot.x, arm.rear_pivot.x);
            if front < rear {
                return Err(PickupError::Misplaced {
                    field: format!("{name}.front_pivot"),
                    problem: Sentence::new(format!("`{name}.front_pivot` (x = "))
                        .given_length(front)
                        .words(format!(") is behind `{name}.rear_pivot` (x = "))
                        .given_length(rear)
                        .words("), and X points forward"),
                    advice: "are the two pivots swapped, or is the sign of x turned round?",
                });
            }
        }
        Ok(())
    }

    fn tie_rod_outboard(&self) -> Result<(), PickupError> {
        let outboard = if self.side == Side::Left { 1.0 } else { -1.0 };
        let (inner, outer) = (self.tie_rod.inner.y, self.tie_rod.outer.y);
        if (outer - inner) * outboard > 0.0 {
            return Ok(());
        }
        Err(PickupError::Misplaced {
            field: "tie_rod.outer".into(),
            problem: Sentence::new("`tie_rod.outer` (y = ")
                .given_length(outer)
                .words(") is not outboard of `tie_rod.inner` (y = ")
                .given_length(inner)
                .words(")"),
            advice: "are the two ends swapped? The outer one is on the upright, the inner one on the rack or centre link",
        })
    }

    fn wheel_at_upright(&self) -> Result<(), PickupError> {
        let distance = to_segment(
            &self.wheel.centre,
            &self.lower_arm.ball_joint,
            &self.upper_arm.ball_joint,
        );
        if distance <= FARTHEST_WHEEL_MM {
            return Ok(());
        }
        Err(PickupError::Misplaced {
            field: "wheel.centre".into(),
            problem: Sentence::new("`wheel.centre` is ")
                .length(distance)
                .words(" from the line between the ball joints, and no wheel is farther than ")
                .given_length(FARTHEST_WHEEL_MM)
                .words(" from its upright"),
            advice: "check its numbers one by one: a digit too many or a sign is wrong, or its unit is not that of the arms",
        })
    }

    fn ball_joint_above_road(&self) -> Result<(), PickupError> {
        let road = self.wheel.centre.z - self.wheel.tyre_radius;
        for (joint, field) in [
            (&self.lower_arm.ball_joint, "lower_arm.ball_joint"),
            (&self.tie_rod.outer, "tie_rod.outer"),
        ] {
            if joint.z < road {
                return Err(PickupError::Misplaced {
                    field: field.into(),
                    problem: Sentence::new(format!("`{field}` (z = "))
                        .given_length(joint.z)
                        .words(
                            ") is below the road, which `wheel.centre` and `wheel.tyre_radius` put at z = ",
                        )
                        .given_length(road),
                    advice: "check its height, the height of the wheel centre, and that the tyre radius is no smaller than \
                             measured",
                });
            }
        }
        Ok(())
    }
}

/// Distance of a point from a line that ends at two points (mm).
fn to_segment(point: &Point, from: &Point, to: &Point) -> f64 {
    let along = to - from;
    let share = (point - from).dot(&along) / along.norm_squared();
    (point - from - along * share.clamp(0.0, 1.0)).norm()
}
