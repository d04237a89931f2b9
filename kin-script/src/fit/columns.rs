//! Columns of a report's tables.

use crate::table::{Cell, Column};
use crate::units::{Measure, Units};
use kin_core::Dimension;

/// A column of numbers, named with its unit.
pub(super) fn numbers<R>(
    rows: &[R],
    units: &Units,
    name: &str,
    dimension: Dimension,
    of: impl Fn(&R) -> Option<f64>,
) -> Column {
    let measure = Measure {
        dimension,
        per_travel: false,
    };
    measured(rows, units, name, measure, of)
}

/// A column of numbers per travel, named with its unit.
pub(super) fn rates<R>(
    rows: &[R],
    units: &Units,
    name: &str,
    dimension: Dimension,
    of: impl Fn(&R) -> Option<f64>,
) -> Column {
    let measure = Measure {
        dimension,
        per_travel: true,
    };
    measured(rows, units, name, measure, of)
}

fn measured<R>(
    rows: &[R],
    units: &Units,
    name: &str,
    measure: Measure,
    of: impl Fn(&R) -> Option<f64>,
) -> Column {
    Column {
        name: format!("{name}{}", units.suffix(measure)),
        decimals: units.decimals_of(measure),
        cells: rows
            .iter()
            .map(|row| Cell::from(of(row).map(|value| units.from_core(value, measure))))
            .collect(),
    }
}

/// A column of words.
pub(super) fn words<R>(rows: &[R], name: &str, of: impl Fn(&R) -> String) -> Column {
    Column {
        name: name.to_owned(),
        decimals: 0,
        cells: rows.iter().map(|row| Cell::Text(of(row))).collect(),
    }
}
