//! Dampers and springs that can be what they are said to be.

use super::distance::rod;
use super::numbers::{coordinates, finite, incomplete, length_within, positive_of};
use super::part::known_part;
use super::{PickupError, UNIT_ADVICE};
use crate::pickups::{Damper, Point, Spring};
use crate::{Dimension, Sentence};

/// A damper shorter than this compressed (mm) is taken for a wrong unit.
const SHORTEST_DAMPER_MM: f64 = 50.0;
/// And so is one longer than this (mm): no car has room for it.
const LONGEST_DAMPER_MM: f64 = 2_000.0;

pub(super) fn one_damper(coilover: bool, damper: bool, first: &str, second: &str) -> Result<(), PickupError> {
    if coilover && damper {
        let problem = format!("give either `{first}` or `{second}`, not both");
        return Err(incomplete(second, &problem));
    }
    Ok(())
}

pub(super) fn check_damper(damper: &Damper, field: &str, parts: &[&str]) -> Result<(), PickupError> {
    coordinates(&damper.upper_mount, &format!("{field}.upper_mount"))?;
    coordinates(&damper.lower_mount, &format!("{field}.lower_mount"))?;
    known_part(&damper.rides_on, &format!("{field}.rides_on"), parts)?;
    for (stud, name) in [
        (damper.upper_stud, "upper_stud"),
        (damper.lower_stud, "lower_stud"),
    ] {
        length_within(
            stud.unwrap_or(0.0),
            &format!("{field}.{name}"),
            (-150.0, 150.0),
            UNIT_ADVICE,
        )?;
    }
    let compressed = damper.compressed;
    length_within(
        compressed,
        &format!("{field}.compressed"),
        (SHORTEST_DAMPER_MM, LONGEST_DAMPER_MM),
        UNIT_ADVICE,
    )?;
    length_within(
        damper.extended,
        &format!("{field}.extended"),
        (0.0, LONGEST_DAMPER_MM),
        UNIT_ADVICE,
    )?;
    if damper.extended <= compressed {
        return Err(PickupError::Misplaced {
            field: format!("{field}.extended"),
            problem: Sentence::new(format!("`{field}.extended` ("))
                .given_length(damper.extended)
                .words(format!(") is not longer than `{field}.compressed` ("))
                .given_length(compressed)
                .words(")"),
            advice: "are the two lengths swapped?",
        });
    }
    let stroke = damper.extended - compressed;
    finite(damper.bump_stop, &format!("{field}.bump_stop"))?;
    if damper.bump_stop < 0.0 || damper.bump_stop >= stroke {
        return Err(PickupError::QuantityOutOfRange {
            field: format!("{field}.bump_stop"),
            value: damper.bump_stop,
            dimension: Dimension::Length,
            requirement: Sentence::new("at least 0 and less than the stroke of ").given_length(stroke),
            advice: "give the length of the bump stop on the shaft",
        });
    }
    mounts_apart(&damper.upper_mount, &damper.lower_mount, field)
}

fn mounts_apart(upper: &Point, lower: &Point, field: &str) -> Result<(), PickupError> {
    rod(
        (upper, &format!("{field}.upper_mount")),
        (lower, &format!("{field}.lower_mount")),
    )
}

pub(super) fn check_spring(
    spring: &Spring,
    field: &str,
    parts: &[&str],
    on_coilover: bool,
) -> Result<(), PickupError> {
    positive_of(
        spring.rate,
        Dimension::Rate,
        &format!("{field}.rate"),
        "give the spring rate",
    )?;
    if let Some(free) = spring.free_length {
        positive_of(
            free,
            Dimension::Length,
            &format!("{field}.free_length"),
            "give the length of the unloaded spring",
        )?;
    }
    finite(spring.upper_seat, &format!("{field}.upper_seat"))?;
    finite(spring.lower_seat, &format!("{field}.lower_seat"))?;
    match (&spring.upper_mount, &spring.lower_mount, &spring.rides_on) {
        (None, None, None) if on_coilover => Ok(()),
        (None, None, None) => Err(incomplete(
            field,
            "without a coilover the spring needs its own `upper_mount`, `lower_mount` and `rides_on`",
        )),
        (Some(upper), Some(lower), Some(part)) => {
            coordinates(upper, &format!("{field}.upper_mount"))?;
            coordinates(lower, &format!("{field}.lower_mount"))?;
            known_part(part, &format!("{field}.rides_on"), parts)?;
            mounts_apart(upper, lower, field)
        }
        _ => Err(incomplete(
            field,
            "a spring that stands apart needs all three of `upper_mount`, `lower_mount` and `rides_on`",
        )),
    }
}
