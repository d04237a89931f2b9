//! Each requirement of a tolerance study: its line in the table, its sentence, its values.

use crate::fit::{Item, Value};
use crate::study::AskedOutcome;
use crate::study::spoken::{part, percent, size, way};
use crate::table::{Cell, Column, Table};
use crate::units::{Measure, Units};
use kin_core::study::{Number, OutcomeTolerance};

/// A requirement with what was asked of it.
pub(super) type Row<'a> = (&'a AskedOutcome, &'a OutcomeTolerance);

/// Linear and Monte Carlo side by side.
pub(super) fn table(rows: &[Row<'_>], units: &Units) -> Table {
    let decimals = rows
        .iter()
        .map(|(asked, _)| decimals(asked.measure, units))
        .max()
        .unwrap_or(2);
    let texts = |name: &str, of: &dyn Fn(&Row<'_>) -> String| Column {
        name: name.to_owned(),
        decimals: 0,
        cells: rows.iter().map(|row| Cell::Text(of(row))).collect(),
    };
    let numbers = |name: &str, of: &dyn Fn(&OutcomeTolerance) -> Option<f64>| Column {
        name: name.to_owned(),
        decimals,
        cells: rows
            .iter()
            .map(|(asked, found)| Cell::from(of(found).map(|value| units.from_core(value, asked.measure))))
            .collect(),
    };
    let shares = |name: &str, of: &dyn Fn(&OutcomeTolerance) -> f64| Column {
        name: name.to_owned(),
        decimals: 1,
        cells: rows
            .iter()
            .map(|(asked, found)| Cell::from(asked.has_limit().then(|| 100.0 * of(found))))
            .collect(),
    };
    Table {
        columns: vec![
            texts("outcome", &|(asked, _)| asked.name.clone()),
            texts("unit", &|(asked, _)| units.symbol(asked.measure)),
            numbers("measured", &|found| Some(found.linear.value)),
            numbers("sd_linear", &|found| Some(found.linear.deviation)),
            numbers("sd_found", &|found| found.sampled.deviation),
            numbers("low_5", &|found| found.sampled.low),
            numbers("high_95", &|found| found.sampled.high),
            shares("linear_%", &|found| found.linear.holds),
            shares("found_%", &|found| found.sampled.holds),
        ],
    }
}

/// Deviations are small beside the numbers themselves: a decimal more, and two for ratios.
fn decimals(measure: Measure, units: &Units) -> usize {
    units.decimals_of(measure) + 1
}

/// Where both ways to the share differ by more than this, the result is far from linear.
const NEARLY_LINEAR: f64 = 0.04;
/// Between these shares a limit may as well be kept as not.
const UNDECIDED: std::ops::Range<f64> = 0.1..0.9;

/// How sure a requirement is, and what would make it fail.
pub(super) fn statement((asked, found): &Row<'_>, numbers: &[Number], units: &Units) -> Option<String> {
    if !asked.has_limit() {
        return None;
    }
    let limit = limit_words(asked, units);
    let holds_now = found.requirement.margin(found.linear.value) >= 0.0;
    let share = percent(found.sampled.holds);
    let mut text = format!(
        "{}, {limit} wanted: holds in {share} of what your tape allows",
        capital(&asked.name)
    );
    let turning = found
        .turning_point
        .and_then(|turning| Some((turning, numbers.get(turning.place)?)));
    text += &match (turning, holds_now) {
        (Some((turning, number)), true) => format!(
            "; it fails when the {} is really more than {} {} than measured, all else as measured.",
            part(&number.name),
            size(number, turning.change, units),
            way(number, turning.change)
        ),
        (Some((turning, number)), false) => format!(
            "; it fails as measured, and would hold if the {} were really {} {} than measured, all else as measured.",
            part(&number.name),
            size(number, turning.change, units),
            way(number, turning.change)
        ),
        (None, true) => "; no likely error of a single coordinate makes it fail.".to_owned(),
        (None, false) => {
            "; it fails as measured, and no likely error of a single coordinate mends it.".to_owned()
        }
    };
    let apart = found.linear.holds - found.sampled.holds;
    if apart.abs() > NEARLY_LINEAR {
        text += &format!(
            " To first order it would be {}: the result bends within the error of the tape, and the variants are right.",
            percent(found.linear.holds)
        );
    }
    if UNDECIDED.contains(&found.sampled.holds) {
        text += " The tape alone cannot decide this: ask for a gauge or a bar that reads it directly.";
    }
    Some(text)
}

fn limit_words(asked: &AskedOutcome, units: &Units) -> String {
    let text = |value: f64| {
        let symbol = units.symbol(asked.measure);
        let number = crate::table::fixed(
            units.from_core(value, asked.measure),
            decimals(asked.measure, units),
        );
        let number = if number.contains('.') {
            number.trim_end_matches('0').trim_end_matches('.').to_owned()
        } else {
            number
        };
        if symbol.is_empty() {
            number
        } else {
            format!("{number} {symbol}")
        }
    };
    match (asked.at_least, asked.at_most) {
        (Some(low), Some(high)) => format!("{} to {}", text(low), text(high)),
        (Some(low), None) => format!("at least {}", text(low)),
        (None, Some(high)) => format!("at most {}", text(high)),
        (None, None) => String::new(),
    }
}

/// The values that a script reads by the outcome's name.
pub(super) fn item((asked, found): &Row<'_>, numbers: &[Number]) -> Item {
    let measured = |value: f64| {
        if asked.measure.per_travel {
            Value::PerTravel(value, asked.measure.dimension)
        } else {
            Value::Quantity(value, asked.measure.dimension)
        }
    };
    let maybe = |value: Option<f64>| value.map_or(Value::Absent("no variant has it"), measured);
    let mut item = Item::new(asked.name.clone())
        .with("value", "", measured(found.linear.value))
        .with("deviation_linear", "", measured(found.linear.deviation))
        .with("deviation", "", maybe(found.sampled.deviation))
        .with("mean", "", maybe(found.sampled.mean))
        .with("low", "", maybe(found.sampled.low))
        .with("middle", "", maybe(found.sampled.middle))
        .with("high", "", maybe(found.sampled.high))
        .with("holds_linear", "", Value::Share(found.linear.holds))
        .with("holds", "", Value::Share(found.sampled.holds));
    if let Some((turning, number)) = found
        .turning_point
        .and_then(|turning| Some((turning, numbers.get(turning.place)?)))
    {
        item = item
            .text("turns_with", "", number.name.clone())
            .length("turns_at", "", turning.change);
    }
    item
}

pub(super) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
