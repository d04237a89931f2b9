//! Joints of one part: neither on one another nor out of each other's reach.

use super::{PickupError, UNIT_ADVICE};
use crate::pickups::{Arm, Point};

/// A rod or arm shorter than this (mm) is taken for a wrong unit: no road car has one.
const SHORTEST_ROD_MM: f64 = 30.0;
/// A rod or arm longer than this (mm) is taken for a wrong unit.
pub(super) const LONGEST_ROD_MM: f64 = 5_000.0;

/// The ends of a rod must be apart as a rod is long.
pub(super) fn rod(first: (&Point, &str), second: (&Point, &str)) -> Result<(), PickupError> {
    let distance_mm = (first.0 - second.0).norm();
    let (first, second) = (first.1.to_owned(), second.1.to_owned());
    if distance_mm < 1e-3 {
        let advice = "they coincide; give two different points";
        return Err(PickupError::TooClose {
            first,
            second,
            distance_mm,
            advice,
        });
    }
    if distance_mm < SHORTEST_ROD_MM {
        return Err(PickupError::TooClose {
            first,
            second,
            distance_mm,
            advice: UNIT_ADVICE,
        });
    }
    if distance_mm > LONGEST_ROD_MM {
        return Err(PickupError::TooFar {
            first,
            second,
            distance_mm,
            advice: UNIT_ADVICE,
        });
    }
    Ok(())
}

/// The two pivots must span an axis, and the ball joint must stand off it.
pub(super) fn arm_shape(arm: &Arm, name: &str) -> Result<(), PickupError> {
    let axis = arm.rear_pivot - arm.front_pivot;
    let distance_mm = axis.norm();
    if distance_mm < 5.0 {
        return Err(PickupError::TooClose {
            first: format!("{name}.front_pivot"),
            second: format!("{name}.rear_pivot"),
            distance_mm,
            advice: "the two pivots must span the axis that the arm turns about",
        });
    }
    let offset = arm.ball_joint - arm.front_pivot;
    let distance_mm = (offset - axis * (axis.dot(&offset) / axis.norm_squared())).norm();
    if distance_mm < SHORTEST_ROD_MM {
        return Err(PickupError::TooClose {
            first: format!("{name}.ball_joint"),
            second: format!("axis of {name}"),
            distance_mm,
            advice: "the ball joint must stand off the line through both pivots",
        });
    }
    Ok(())
}
