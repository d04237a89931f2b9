//! A table from rows that a script has worked out.

use crate::explain::value_words;
use crate::host::ScriptError;
use crate::table::{Cell, Column, Table, fixed};
use rhai::{Array, Dynamic};

/// Digits that the largest number of a column is shown with.
const SHOWN_DIGITS: i32 = 5;
const MOST_DECIMALS: i32 = 5;

/// The table with these column names and rows.
///
/// # Errors
/// A row that is no list or has another number of cells, and cells that are neither numbers nor texts.
pub(super) fn table(names: Vec<String>, rows: Array) -> Result<Table, ScriptError> {
    let mut columns: Vec<Column> = names
        .into_iter()
        .map(|name| Column {
            name,
            decimals: 0,
            cells: Vec::with_capacity(rows.len()),
        })
        .collect();
    if columns.is_empty() {
        return Err(ScriptError::new("the table has no columns").with_help("give a list of column names"));
    }
    for (place, row) in rows.into_iter().enumerate() {
        let number = place + 1;
        let words = value_words(&row);
        let Some(cells) = row.try_cast::<Array>() else {
            return Err(ScriptError::new(format!(
                "row {number} of the table: expected a list, got {words}"
            )));
        };
        if cells.len() != columns.len() {
            return Err(ScriptError::new(format!(
                "row {number} of the table has {} cells, and there are {} columns",
                cells.len(),
                columns.len()
            )));
        }
        for (column, value) in columns.iter_mut().zip(cells) {
            let read = cell(&value).map_err(|error| ScriptError {
                what: format!("row {number} of the table, `{}`: {}", column.name, error.what),
                ..error
            })?;
            column.cells.push(read);
        }
    }
    for column in &mut columns {
        column.decimals = decimals(&column.cells);
    }
    Ok(Table { columns })
}

fn cell(value: &Dynamic) -> Result<Cell, ScriptError> {
    if value.is_unit() {
        return Ok(Cell::Empty);
    }
    if let Ok(text) = value.as_immutable_string_ref() {
        return Ok(Cell::Text(text.to_string()));
    }
    crate::host::finite(value, "a cell is a number or a text").map(Cell::Number)
}

/// Decimals that show the largest number with five digits, less where all the rest would be zeros.
fn decimals(cells: &[Cell]) -> usize {
    let numbers = || {
        cells.iter().filter_map(|cell| match cell {
            Cell::Number(number) => Some(*number),
            _ => None,
        })
    };
    let largest = numbers().map(f64::abs).fold(0.0, f64::max);
    let before_point = if largest < 1.0 {
        1
    } else {
        largest.log10().floor() as i32 + 1
    };
    let most = (SHOWN_DIGITS - before_point).clamp(0, MOST_DECIMALS) as usize;
    let ends_in_zeros = |decimals: usize| {
        numbers().all(|number| {
            let text = fixed(number, most);
            text.bytes()
                .rev()
                .take(most - decimals)
                .all(|digit| digit == b'0')
        })
    };
    (0..most)
        .find(|decimals| ends_in_zeros(*decimals))
        .unwrap_or(most)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(rows: &[&[Dynamic]]) -> Array {
        rows.iter().map(|row| Dynamic::from_array(row.to_vec())).collect()
    }

    #[test]
    fn columns_show_as_many_decimals_as_their_numbers_are_worth() {
        let made = table(
            vec!["hole".into(), "length_mm".into(), "ratio".into(), "row".into()],
            rows(&[
                &["inner".into(), 301.651.into(), 0.951_52.into(), 1.0.into()],
                &["outer".into(), 286.0.into(), 1.002_31.into(), 2_i64.into()],
            ]),
        )
        .expect("a table");
        let decimals: Vec<usize> = made.columns.iter().map(|column| column.decimals).collect();
        assert_eq!(decimals, [0, 2, 4, 0]);
        assert_eq!(
            made.csv().expect("a text"),
            "hole,length_mm,ratio,row\ninner,301.651,0.95152,1\nouter,286,1.00231,2\n"
        );
    }

    #[test]
    fn rows_that_do_not_fit_are_named() {
        let message = |given| {
            table(vec!["a".into(), "b".into()], given)
                .err()
                .map(|error| error.what)
                .unwrap_or_default()
        };
        assert_eq!(
            message(rows(&[&[1.0.into(), 2.0.into()], &[1.0.into()]])),
            "row 2 of the table has 1 cells, and there are 2 columns"
        );
        assert_eq!(
            message(vec![7_i64.into()]),
            "row 1 of the table: expected a list, got the whole number 7"
        );
        assert!(message(rows(&[&[1.0.into(), f64::NAN.into()]])).starts_with("row 1 of the table, `b`: "));
        assert!(message(rows(&[&[true.into(), 1.0.into()]])).contains("`a`: a cell is a number or a text"));
    }
}
