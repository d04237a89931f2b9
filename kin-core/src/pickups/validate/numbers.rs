//! Numbers that can be what they are said to be.

use super::{PickupError, UNIT_ADVICE};
use crate::pickups::Point;
use crate::{Dimension, Rounding, Sentence};

/// Coordinates beyond this (mm) are taken for a wrong unit or a slip of the pen.
const FARTHEST_MM: f64 = 20_000.0;

/// Something is missing, or does not go with the rest.
pub(crate) fn incomplete(field: &str, problem: &str) -> PickupError {
    PickupError::Incomplete {
        field: field.to_owned(),
        problem: problem.to_owned(),
    }
}

/// A number must be finite.
pub(crate) fn finite(value: f64, field: &str) -> Result<(), PickupError> {
    if value.is_finite() {
        Ok(())
    } else {
        Err(PickupError::NotFinite {
            field: field.to_owned(),
            value,
        })
    }
}

/// Stresses outside this range (MPa) are taken for a wrong unit: lead yields at the lower end, piano wire breaks at the
/// upper one (from memory).
const STRESS_MPA: (f64, f64) = (10.0, 2_500.0);

/// A stress that a material may see (MPa) must be one that some metal can.
pub(crate) fn stress(value: f64, field: &str) -> Result<(), PickupError> {
    let advice = "is the unit right: psi, ksi or MPa?";
    within_of(value, Dimension::Stress, field, STRESS_MPA, advice)
}

/// A number without unit must lie in a range, both ends included.
pub(crate) fn within(
    value: f64,
    field: &str,
    range: (f64, f64),
    advice: &'static str,
) -> Result<(), PickupError> {
    finite(value, field)?;
    if value >= range.0 && value <= range.1 {
        return Ok(());
    }
    Err(plain_out_of_range(
        value,
        field,
        format!("between {} and {}", range.0, range.1),
        advice,
    ))
}

/// A number without unit must be above zero.
pub(crate) fn positive(value: f64, field: &str, advice: &'static str) -> Result<(), PickupError> {
    finite(value, field)?;
    if value > 0.0 {
        return Ok(());
    }
    Err(plain_out_of_range(value, field, "above 0".to_owned(), advice))
}

fn plain_out_of_range(value: f64, field: &str, requirement: String, advice: &'static str) -> PickupError {
    PickupError::OutOfRange {
        field: field.to_owned(),
        value,
        requirement,
        advice,
    }
}

/// A length (mm) must lie in a range, both ends included.
pub(crate) fn length_within(
    value: f64,
    field: &str,
    range: (f64, f64),
    advice: &'static str,
) -> Result<(), PickupError> {
    within_of(value, Dimension::Length, field, range, advice)
}

/// A number of a dimension (core units) must lie in a range, both ends included.
pub(crate) fn within_of(
    value: f64,
    dimension: Dimension,
    field: &str,
    range: (f64, f64),
    advice: &'static str,
) -> Result<(), PickupError> {
    finite(value, field)?;
    if value >= range.0 && value <= range.1 {
        return Ok(());
    }
    let requirement = Sentence::new("between ")
        .rounded(range.0, dimension, Rounding::AsGiven)
        .words(" and ")
        .rounded(range.1, dimension, Rounding::AsGiven);
    Err(out_of_range(value, dimension, field, requirement, advice))
}

/// An angle in degrees must lie in a range, both ends included.
pub(crate) fn angle_within(
    value: f64,
    field: &str,
    range: (f64, f64),
    advice: &'static str,
) -> Result<(), PickupError> {
    finite(value, field)?;
    if value >= range.0 && value <= range.1 {
        return Ok(());
    }
    // Angles are degrees for every reader.
    let requirement = Sentence::new(format!("between {} deg and {} deg", range.0, range.1));
    Err(out_of_range(
        value.to_radians(),
        Dimension::Angle,
        field,
        requirement,
        advice,
    ))
}

/// A number of a dimension (core units) must be above zero.
pub(crate) fn positive_of(
    value: f64,
    dimension: Dimension,
    field: &str,
    advice: &'static str,
) -> Result<(), PickupError> {
    finite(value, field)?;
    if value > 0.0 {
        return Ok(());
    }
    Err(out_of_range(value, dimension, field, "above 0".into(), advice))
}

fn out_of_range(
    value: f64,
    dimension: Dimension,
    field: &str,
    requirement: Sentence,
    advice: &'static str,
) -> PickupError {
    PickupError::QuantityOutOfRange {
        field: field.to_owned(),
        value,
        dimension,
        requirement,
        advice,
    }
}

/// A point must lie within reach of a car.
pub(crate) fn coordinates(point: &Point, field: &str) -> Result<(), PickupError> {
    for (value, axis) in point.iter().zip(["x", "y", "z"]) {
        length_within(
            *value,
            &format!("{field} {axis}"),
            (-FARTHEST_MM, FARTHEST_MM),
            UNIT_ADVICE,
        )?;
    }
    Ok(())
}
