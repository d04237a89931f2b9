//! Changes of a description by the names of its numbers, between a script's units and the core's.

use crate::explain::value_words;
use crate::host::{ScriptError, finite};
use crate::model::{Body, Model};
use crate::units::Units;
use kin_core::Dimension;
use kin_core::pickups::{Named, Quantity};
use kin_core::study::{Number, Subject};
use rhai::{Array, Dynamic};

/// How many core units one unit of a number is in a description with these units.
pub(crate) fn core_factor(quantity: Quantity, units: &Units) -> f64 {
    let dimension = match quantity {
        Quantity::Length => Dimension::Length,
        Quantity::Rate => Dimension::Rate,
        Quantity::Force => Dimension::Force,
        Quantity::Mass => Dimension::Mass,
        Quantity::Torque | Quantity::TorsionalRate => Dimension::Torque,
        Quantity::Stress => Dimension::Stress,
        Quantity::Speed => Dimension::Speed,
        // Descriptions hold degrees, whatever the unit of length.
        Quantity::Angle => return 1.0,
    };
    units.core_units(dimension)
}

/// The symbol of a number of a description.
pub(crate) fn symbol_of(quantity: Quantity, units: &Units) -> String {
    match quantity {
        Quantity::Length => units.length.symbol().to_owned(),
        Quantity::Angle => "deg".to_owned(),
        _ => String::new(),
    }
}

/// The places of a name, with what they hold.
pub(crate) fn places(subject: &Subject, name: &str) -> Result<Vec<(usize, Number)>, ScriptError> {
    let places = subject
        .places(name)
        .map_err(|error| ScriptError::new(error.to_string()).with_key(name))?;
    let numbers = subject.numbers();
    Ok(places
        .into_iter()
        .filter_map(|place| Some((place, numbers.get(place)?.clone())))
        .collect())
}

/// The changes that give named numbers other values: one number a number, a point its three coordinates.
pub(crate) fn changes_to(
    subject: &Subject,
    units: &Units,
    name: &str,
    value: &Dynamic,
) -> Result<Vec<(usize, f64)>, ScriptError> {
    let places = places(subject, name)?;
    let values = match value.clone().try_cast::<Array>() {
        Some(list) => list,
        None => vec![value.clone()],
    };
    if values.len() != places.len() {
        return Err(ScriptError::new(format!(
            "`{name}` has {} numbers, and {} was given",
            places.len(),
            value_words(value)
        ))
        .with_key(name));
    }
    let changes = places.into_iter().zip(&values).map(|((place, number), value)| {
        let wanted = finite(value, &number.name)? * core_factor(number.quantity, units);
        Ok((place, wanted - number.value))
    });
    changes.collect()
}

/// A model with changes added to numbers of its description (core units).
pub(crate) fn changed_model(model: &Model, changes: &[(usize, f64)]) -> Model {
    let units = model.units;
    let mut changed = model.clone();
    let mut next = 0;
    let mut add = |_: &str, value: &mut f64, quantity: Quantity| {
        let change: f64 = changes
            .iter()
            .filter(|(place, _)| *place == next)
            .map(|(_, change)| change)
            .sum();
        if change != 0.0 {
            *value += change / core_factor(quantity, &units);
        }
        next += 1;
    };
    match &mut changed.body {
        Body::DoubleWishbone { corner, .. } => corner.visit_named(&mut add),
        Body::LiveAxle(axle) => axle.visit_named(&mut add),
    }
    changed
}
