//! Tables: aligned text, CSV and JSON from the same columns.

use comfy_table::{CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, TableStyle};
use serde::Deserialize;
use serde_json::{Map, Value};

/// Numbers from here on are shown with an exponent: three hundred digits are no column.
const LARGE: f64 = 1e12;

/// How a file of a table writes numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum DecimalMark {
    /// `1.5`, with commas between the cells.
    #[default]
    Point,
    /// `1,5`, with semicolons between the cells: what spreadsheets expect where the comma is the decimal mark.
    Comma,
}

/// Headings of tables that keep to a width are broken into lines of about this length.
const HEADING_COLUMNS: usize = 16;

/// One column of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Name with its unit, such as `camber_deg`.
    pub name: String,
    /// Decimals shown in text; files carry full precision.
    pub decimals: usize,
    /// One cell for each row.
    pub cells: Vec<Cell>,
}

/// One cell of a table.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// A number in the unit of the column.
    Number(f64),
    /// A text.
    Text(String),
    /// No value exists here.
    Empty,
}

impl From<Option<f64>> for Cell {
    fn from(value: Option<f64>) -> Self {
        value
            .filter(|value| value.is_finite())
            .map_or(Self::Empty, Self::Number)
    }
}

/// A table with named columns of equal height.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// The columns, left to right.
    pub columns: Vec<Column>,
}

/// A table that could not be written; the message says why.
#[derive(Debug, thiserror::Error)]
#[error("the table could not be written: {0}")]
pub struct TableError(String);

impl Table {
    /// How many rows there are.
    #[must_use]
    pub fn rows(&self) -> usize {
        self.columns
            .iter()
            .map(|column| column.cells.len())
            .max()
            .unwrap_or(0)
    }

    /// The first rows.
    #[must_use]
    pub fn first_rows(&self, most: usize) -> Self {
        let mut shorter = self.clone();
        for column in &mut shorter.columns {
            column.cells.truncate(most);
        }
        shorter
    }

    /// Aligned text for people.
    #[must_use]
    pub fn text(&self) -> String {
        self.arranged(None)
    }

    /// Aligned text of at most this many columns, where the texts in it can be wrapped that far; numbers stay whole.
    #[must_use]
    pub fn text_within(&self, width: u16) -> String {
        self.arranged(Some(width))
    }

    fn arranged(&self, width: Option<u16>) -> String {
        let mut table = comfy_table::Table::new();
        table.load_style(style());
        match width {
            None => table.set_content_arrangement(ContentArrangement::Disabled),
            Some(width) => table
                .set_content_arrangement(ContentArrangement::Dynamic)
                .set_width(width),
        };
        table.set_header(
            self.columns
                .iter()
                .map(|column| match width {
                    None => column.name.clone(),
                    Some(_) => broken(&column.name),
                })
                .collect::<Vec<_>>(),
        );
        for row in 0..self.rows() {
            let cells = self.columns.iter().map(|column| match column.cells.get(row) {
                Some(Cell::Number(value)) => fixed(*value, column.decimals),
                Some(Cell::Text(text)) => text.clone(),
                Some(Cell::Empty) | None => "-".to_owned(),
            });
            table.add_row(cells.collect::<Vec<_>>());
        }
        for (column, shown) in self.columns.iter().zip(table.column_iter_mut()) {
            let is_text = column.cells.iter().any(|cell| matches!(cell, Cell::Text(_)));
            if !is_text && width.is_some() {
                shown.set_constraint(ColumnConstraint::ContentWidth);
            }
            shown.set_cell_alignment(if is_text {
                CellAlignment::Left
            } else {
                CellAlignment::Right
            });
        }
        let lines: Vec<String> = table.lines().map(|line| line.trim_end().to_owned()).collect();
        lines.join("\n")
    }

    /// CSV with a header line; full precision, empty cells where there is no value.
    ///
    /// # Errors
    /// When the writer fails.
    pub fn csv(&self) -> Result<String, TableError> {
        self.csv_with(DecimalMark::Point)
    }

    /// The same with a choice of the decimal mark.
    ///
    /// # Errors
    /// When the writer fails.
    pub fn csv_with(&self, mark: DecimalMark) -> Result<String, TableError> {
        let number = |value: f64| {
            let text = without_signed_zero(value).to_string();
            match mark {
                DecimalMark::Point => text,
                DecimalMark::Comma => text.replace('.', ","),
            }
        };
        let delimiter = match mark {
            DecimalMark::Point => b',',
            DecimalMark::Comma => b';',
        };
        let mut writer = csv::WriterBuilder::new()
            .delimiter(delimiter)
            .from_writer(Vec::new());
        let failed = |error: &dyn std::fmt::Display| TableError(error.to_string());
        writer
            .write_record(self.columns.iter().map(|column| column.name.as_str()))
            .map_err(|error| failed(&error))?;
        for row in 0..self.rows() {
            let record = self.columns.iter().map(|column| match column.cells.get(row) {
                Some(Cell::Number(value)) => number(*value),
                Some(Cell::Text(text)) => text.clone(),
                Some(Cell::Empty) | None => String::new(),
            });
            writer.write_record(record).map_err(|error| failed(&error))?;
        }
        let bytes = writer.into_inner().map_err(|error| failed(&error))?;
        String::from_utf8(bytes).map_err(|error| failed(&error))
    }

    /// JSON: a list of rows, each an object by column name; null where there is no value.
    ///
    /// # Errors
    /// When the writer fails.
    pub fn json(&self) -> Result<String, TableError> {
        pretty(&self.rows_as_json())
    }

    /// The rows, each an object by column name; null where there is no value.
    #[must_use]
    pub fn rows_as_json(&self) -> Value {
        (0..self.rows())
            .map(|row| {
                let fields = self.columns.iter().map(|column| {
                    let value = match column.cells.get(row) {
                        Some(Cell::Number(value)) => Value::from(without_signed_zero(*value)),
                        Some(Cell::Text(text)) => Value::from(text.as_str()),
                        Some(Cell::Empty) | None => Value::Null,
                    };
                    (column.name.clone(), value)
                });
                Value::Object(fields.collect::<Map<_, _>>())
            })
            .collect()
    }
}

/// A heading in lines, broken behind underscores.
fn broken(name: &str) -> String {
    let mut lines: Vec<String> = vec![String::new()];
    for part in name.split_inclusive('_') {
        match lines.last_mut() {
            Some(line) if line.is_empty() || line.len() + part.len() <= HEADING_COLUMNS => {
                line.push_str(part)
            }
            _ => lines.push(part.to_owned()),
        }
    }
    lines.join("\n")
}

/// A JSON value as indented text.
pub(crate) fn pretty(value: &Value) -> Result<String, TableError> {
    serde_json::to_string_pretty(value).map_err(|error| TableError(error.to_string()))
}

/// One line under the header, nothing else: columns are read downwards.
fn style() -> TableStyle {
    TableStyle::new().header_separator(LineStyle::none().fill('-').junction(' '))
}

/// The same number; a zero has no sign.
fn without_signed_zero(value: f64) -> f64 {
    value + 0.0
}

/// A number with fixed decimals; a rounded zero has no sign.
#[must_use]
pub fn fixed(value: f64, decimals: usize) -> String {
    if value.abs() >= LARGE {
        return format!("{value:.3e}");
    }
    let text = format!("{value:.decimals$}");
    if text.starts_with('-') && text.chars().all(|digit| "-0.".contains(digit)) {
        text.trim_start_matches('-').to_owned()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sample() -> Table {
        Table {
            columns: vec![
                Column {
                    name: "travel_mm".into(),
                    decimals: 0,
                    cells: vec![Cell::Number(-25.0), Cell::Number(0.0)],
                },
                Column {
                    name: "camber_deg".into(),
                    decimals: 3,
                    cells: vec![Cell::Number(-0.0001), Cell::Empty],
                },
                Column {
                    name: "hole".into(),
                    decimals: 0,
                    cells: vec![Cell::Text("a, \"b\"".into()), Cell::Text("c".into())],
                },
            ],
        }
    }

    #[test]
    fn text_is_aligned_and_rounded() {
        let text = sample().text();
        assert!(text.contains("camber_deg"), "{text}");
        assert!(text.contains("      0.000"), "{text}");
        assert!(!text.contains("-0.000"), "{text}");
    }

    #[test]
    fn a_zero_has_no_sign_in_any_form() {
        let table = Table {
            columns: vec![Column {
                name: "toe_deg".into(),
                decimals: 1,
                cells: vec![Cell::Number(-0.0)],
            }],
        };
        assert_eq!(table.csv().expect("a table"), "toe_deg\n0\n");
        assert!(!table.json().expect("a table").contains('-'));
        assert!(table.text().ends_with("0.0"));
    }

    #[test]
    fn a_decimal_comma_goes_with_semicolons() {
        let table = Table {
            columns: vec![
                Column {
                    name: "gap_mm".into(),
                    decimals: 1,
                    cells: vec![Cell::Number(-1.25), Cell::Number(1e6), Cell::Empty],
                },
                Column {
                    name: "where".into(),
                    decimals: 0,
                    cells: vec![
                        Cell::Text("front; left".into()),
                        Cell::Text("1.5 in".into()),
                        Cell::Empty,
                    ],
                },
            ],
        };
        assert_eq!(
            table.csv_with(DecimalMark::Comma).expect("a table"),
            "gap_mm;where\n-1,25;\"front; left\"\n1000000;1.5 in\n;\n"
        );
        // What was written is read back by a reader told of the semicolon.
        let text = table.csv_with(DecimalMark::Comma).expect("a table");
        let mut reader = csv::ReaderBuilder::new()
            .delimiter(b';')
            .from_reader(text.as_bytes());
        let first = reader.records().next().expect("a row").expect("cells");
        assert_eq!(first[0].replace(',', ".").parse(), Ok(-1.25));
        assert_eq!(&first[1], "front; left");
    }

    #[test]
    fn csv_quotes_and_keeps_precision() {
        let csv = sample().csv().expect("a table");
        assert_eq!(
            csv,
            "travel_mm,camber_deg,hole\n-25,-0.0001,\"a, \"\"b\"\"\"\n0,,c\n"
        );
    }

    #[test]
    fn json_is_a_list_of_rows() {
        let json: Value = serde_json::from_str(&sample().json().expect("a table")).expect("JSON");
        assert_eq!(json[1]["camber_deg"], Value::Null);
        assert_eq!(json[0]["travel_mm"], -25.0);
    }
}
