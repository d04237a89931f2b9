//! A description that can be a corner of a car.

use super::damper::{check_damper, check_spring, one_damper};
use super::distance::{arm_shape, rod};
use super::numbers::{angle_within, coordinates, length_within};
use super::surroundings::check_surroundings;
use super::{PickupError, TYRE_RADIUS_MM, UNIT_ADVICE};
use crate::Sentence;
use crate::pickups::{DoubleWishbone, Side};

/// Static camber and toe beyond this (deg) are taken for a slip of the pen.
const LARGEST_WHEEL_ANGLE_DEG: f64 = 15.0;

impl DoubleWishbone {
    /// Checks that the description can be a corner of a car.
    ///
    /// # Errors
    /// A [`PickupError`] that names the first field found wrong.
    pub fn validate(&self) -> Result<(), PickupError> {
        for (arm, name) in [(&self.upper_arm, "upper_arm"), (&self.lower_arm, "lower_arm")] {
            for (point, field) in [
                (&arm.front_pivot, "front_pivot"),
                (&arm.rear_pivot, "rear_pivot"),
                (&arm.ball_joint, "ball_joint"),
            ] {
                coordinates(point, &format!("{name}.{field}"))?;
            }
        }
        coordinates(&self.tie_rod.inner, "tie_rod.inner")?;
        coordinates(&self.tie_rod.outer, "tie_rod.outer")?;
        coordinates(&self.wheel.centre, "wheel.centre")?;
        length_within(
            self.wheel.tyre_radius,
            "wheel.tyre_radius",
            TYRE_RADIUS_MM,
            UNIT_ADVICE,
        )?;
        let angles = (-LARGEST_WHEEL_ANGLE_DEG, LARGEST_WHEEL_ANGLE_DEG);
        angle_within(
            self.wheel.camber,
            "wheel.camber",
            angles,
            "give degrees, positive with the top leaning outboard",
        )?;
        angle_within(
            self.wheel.toe,
            "wheel.toe",
            angles,
            "give degrees per wheel, positive toe-in",
        )?;
        self.sides()?;
        for (arm, name) in [(&self.upper_arm, "upper_arm"), (&self.lower_arm, "lower_arm")] {
            for (pivot, field) in [(&arm.front_pivot, "front_pivot"), (&arm.rear_pivot, "rear_pivot")] {
                rod(
                    (pivot, &format!("{name}.{field}")),
                    (&arm.ball_joint, &format!("{name}.ball_joint")),
                )?;
            }
            arm_shape(arm, name)?;
        }
        rod(
            (&self.tie_rod.inner, "tie_rod.inner"),
            (&self.tie_rod.outer, "tie_rod.outer"),
        )?;
        rod(
            (&self.lower_arm.ball_joint, "lower_arm.ball_joint"),
            (&self.upper_arm.ball_joint, "upper_arm.ball_joint"),
        )?;
        let (upper, lower) = (self.upper_arm.ball_joint.z, self.lower_arm.ball_joint.z);
        if upper <= lower {
            return Err(PickupError::Misplaced {
                field: "upper_arm.ball_joint".into(),
                problem: Sentence::new("the upper ball joint (z = ")
                    .given_length(upper)
                    .words(") is not above the lower one (z = ")
                    .given_length(lower)
                    .words(")"),
                advice: "are `upper_arm` and `lower_arm` swapped?",
            });
        }
        self.steering_arm()?;
        self.places()?;
        self.mounts()
    }

    fn sides(&self) -> Result<(), PickupError> {
        let (sign, side, comparison, other) = match self.side {
            Side::Left => (1.0, "left", ">", "right"),
            Side::Right => (-1.0, "right", "<", "left"),
        };
        for (point, field) in [
            (&self.wheel.centre, "wheel.centre"),
            (&self.upper_arm.ball_joint, "upper_arm.ball_joint"),
            (&self.lower_arm.ball_joint, "lower_arm.ball_joint"),
            (&self.tie_rod.outer, "tie_rod.outer"),
        ] {
            if point.y * sign <= 0.0 {
                let field = field.to_owned();
                return Err(PickupError::WrongSide {
                    field,
                    value: point.y,
                    side,
                    sign: comparison,
                    other,
                });
            }
        }
        for (arm, name) in [(&self.upper_arm, "upper_arm"), (&self.lower_arm, "lower_arm")] {
            for (pivot, field) in [(&arm.front_pivot, "front_pivot"), (&arm.rear_pivot, "rear_pivot")] {
                if (arm.ball_joint.y - pivot.y) * sign <= 0.0 {
                    return Err(PickupError::Misplaced {
                        field: format!("{name}.ball_joint"),
                        problem: Sentence::new(format!("`{name}.ball_joint` (y = "))
                            .given_length(arm.ball_joint.y)
                            .words(format!(") is not outboard of `{name}.{field}` (y = "))
                            .given_length(pivot.y)
                            .words(")"),
                        advice: "check the sign of y, and that pivot and ball joint are not swapped",
                    });
                }
            }
        }
        Ok(())
    }

    /// The tie rod can hold the upright only if its outer joint stands off the steering axis.
    fn steering_arm(&self) -> Result<(), PickupError> {
        let axis = (self.upper_arm.ball_joint - self.lower_arm.ball_joint).normalize();
        let offset = self.tie_rod.outer - self.lower_arm.ball_joint;
        let distance_mm = (offset - axis * axis.dot(&offset)).norm();
        if distance_mm < 5.0 {
            return Err(PickupError::TooClose {
                first: "tie_rod.outer".into(),
                second: "steering axis".into(),
                distance_mm,
                advice: "a tie rod on the line through both ball joints cannot hold the wheel from steering",
            });
        }
        Ok(())
    }

    fn mounts(&self) -> Result<(), PickupError> {
        let parts = ["lower_arm", "upper_arm", "upright"];
        one_damper(
            self.coilover.is_some(),
            self.damper.is_some(),
            "coilover",
            "damper",
        )?;
        for (damper, field) in [(&self.coilover, "coilover"), (&self.damper, "damper")] {
            if let Some(damper) = damper {
                check_damper(damper, field, &parts)?;
            }
        }
        if let Some(spring) = &self.spring {
            check_spring(spring, "spring", &parts, self.coilover.is_some())?;
        }
        check_surroundings(
            self.ride_height,
            &self.stops,
            self.wanted,
            &parts,
            self.any_damper().is_some(),
        )
    }
}
