//! Tables: aligned text, CSV and JSON from the same columns.

use comfy_table::{CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, TableStyle, Width};
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

/// Headings of tables that keep to a width are broken into lines of about this length; into shorter ones where that does
/// not do.
const HEADING_COLUMNS: [usize; 4] = [16, 12, 10, 8];
/// Longer words may be broken.
const LONGEST_WORD: u16 = 24;
/// Spaces round a cell.
const PADDING: u16 = 2;
/// A line of text is this wide at most: what a terminal and a printed page show without breaking it.
const LINE_COLUMNS: u16 = 100;

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

    /// Aligned text for people, at most 100 columns wide where that can be.
    #[must_use]
    pub fn text(&self) -> String {
        self.fitting(LINE_COLUMNS)
    }

    /// Aligned text with each heading on one line; where that is wider than this many columns, as [`Self::text_within`].
    #[must_use]
    pub fn fitting(&self, width: u16) -> String {
        let plain = self.arranged(None);
        if is_within(&plain, width) {
            plain
        } else {
            self.text_within(width)
        }
    }

    /// Aligned text of at most this many columns: headings are broken, then texts are wrapped, and what is still too wide
    /// goes on in a table of its own below, behind the first column again. Numbers stay whole.
    #[must_use]
    pub fn text_within(&self, width: u16) -> String {
        let tried = HEADING_COLUMNS.map(|heading| self.arranged(Some((width, heading))));
        if let Some(fits) = tried.iter().find(|text| is_within(text, width)) {
            return fits.clone();
        }
        let blocks = self.blocks(width);
        let texts: Vec<String> = blocks
            .iter()
            .map(|block| block.arranged(Some((width, HEADING_COLUMNS[0]))))
            .collect();
        texts.join("\n\n")
    }

    /// The table in parts, each behind the first column, as many columns in each as have room.
    fn blocks(&self, width: u16) -> Vec<Self> {
        let mut blocks: Vec<Self> = Vec::new();
        for column in self.columns.iter().skip(1) {
            let widened = blocks.last().map(|block| {
                let mut columns = block.columns.clone();
                columns.push(column.clone());
                Self { columns }
            });
            let fits =
                widened.filter(|block| is_within(&block.arranged(Some((width, HEADING_COLUMNS[0]))), width));
            match (fits, blocks.last_mut()) {
                (Some(widened), Some(last)) => *last = widened,
                _ => blocks.push(Self {
                    columns: self
                        .columns
                        .first()
                        .into_iter()
                        .chain([column])
                        .cloned()
                        .collect(),
                }),
            }
        }
        if blocks.is_empty() {
            vec![self.clone()]
        } else {
            blocks
        }
    }

    /// * `within`: the width to keep to, and the length headings are broken to (columns)
    fn arranged(&self, within: Option<(u16, usize)>) -> String {
        let mut table = comfy_table::Table::new();
        table.load_style(style());
        match within {
            None => table.set_content_arrangement(ContentArrangement::Disabled),
            Some((width, _)) => table
                .set_content_arrangement(ContentArrangement::Dynamic)
                .set_width(width),
        };
        table.set_header(
            self.columns
                .iter()
                .map(|column| match within {
                    None => column.name.clone(),
                    Some((_, heading)) => broken(&column.name, heading),
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
            if within.is_some() {
                shown.set_constraint(if is_text {
                    // Texts are wrapped, but not inside of words.
                    ColumnConstraint::LowerBoundary(Width::Fixed(longest_word(column) + PADDING))
                } else {
                    ColumnConstraint::ContentWidth
                });
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

/// Length of the longest word of a column, up to what is still a word.
fn longest_word(column: &Column) -> u16 {
    let words = column.cells.iter().flat_map(|cell| match cell {
        Cell::Text(text) => text.split_whitespace(),
        _ => "".split_whitespace(),
    });
    let longest = words.map(|word| word.chars().count()).max().unwrap_or(0);
    u16::try_from(longest).unwrap_or(u16::MAX).min(LONGEST_WORD)
}

fn is_within(text: &str, width: u16) -> bool {
    text.lines()
        .all(|line| line.chars().count() <= usize::from(width))
}

/// A heading in lines of about this length, broken behind underscores.
fn broken(name: &str, length: usize) -> String {
    let mut lines: Vec<String> = vec![String::new()];
    for part in name.split_inclusive('_') {
        match lines.last_mut() {
            Some(line) if line.is_empty() || line.len() + part.len() <= length => line.push_str(part),
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
mod tests;
