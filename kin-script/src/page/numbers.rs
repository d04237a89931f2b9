//! The numbers of the checks and of studies as rows and tables.

use super::heading::heading;
use crate::fit::{FitSheet, Item, Report, Value, value_text};
use crate::stroke_sheet::stroke_rows;
use crate::table::{Cell, Table, fixed};
use crate::units::Units;
use kin_core::checks::DamperStroke;
use serde::Serialize;

/// Letters across that a table may have to stand in one of two columns on paper.
const NARROW_LETTERS: usize = 66;
/// A value of more letters than this is told in the whole width.
const SHORT_VALUE: usize = 44;
/// Rows up to which the values of a part stay in one piece on paper.
const SHORT_PART: usize = 9;
/// Rows up to which a table stays in one piece on paper.
const SHORT_TABLE: usize = 16;

/// What one check found in numbers.
#[derive(Debug, Serialize)]
pub(super) struct Section {
    heading: String,
    values: Values,
}

/// The values of several parts, and behind them their tables.
#[derive(Debug, Serialize)]
pub(super) struct Values {
    parts: Vec<PartRows>,
    tables: Vec<Grid>,
    /// Whether some values are sentences.
    wordy: bool,
    /// Whether all of it goes into half the width of paper.
    small: bool,
}

/// The values of one part.
#[derive(Debug, Serialize)]
struct PartRows {
    name: String,
    rows: Vec<(String, Vec<String>)>,
    short: bool,
}

/// A table.
#[derive(Debug, Serialize)]
pub(super) struct Grid {
    caption: String,
    columns: Vec<String>,
    rows: Vec<Vec<Field>>,
    wide: bool,
    short: bool,
    /// How many rows are left out.
    more: usize,
}

#[derive(Debug, Serialize)]
struct Field {
    text: String,
    number: bool,
}

/// The numbers of every check that has some.
pub(super) fn sections(fit: &FitSheet) -> Vec<Section> {
    let stroke = Section {
        heading: "Damper stroke".to_owned(),
        values: Values::new(
            fit.stroke
                .iter()
                .map(|damper| stroke_part(damper, &fit.units))
                .collect(),
            Vec::new(),
        ),
    };
    let answers = fit
        .answers
        .iter()
        .map(|answer| section(&answer.report, &fit.units));
    std::iter::once(stroke)
        .chain(answers)
        .filter(|section| !section.values.is_empty())
        .collect()
}

fn stroke_part(stroke: &DamperStroke, units: &Units) -> PartRows {
    let rows = stroke_rows(stroke, units).into_iter().skip(1);
    let rows = rows.map(|(heading, words)| (heading.to_owned(), vec![words]));
    PartRows::new(stroke.damper.to_string(), rows.collect())
}

fn section(report: &Report, units: &Units) -> Section {
    let mut values = values(&report.items, units);
    // A part that is called like its check needs no name.
    for part in &mut values.parts {
        if part.name == report.heading {
            part.name.clear();
        }
    }
    Section {
        heading: report.heading.to_owned(),
        values,
    }
}

/// The values and tables of parts; what has no label is there for scripts.
pub(super) fn values(items: &[Item], units: &Units) -> Values {
    let lines = |value: &Value| match value {
        Value::List(values) => values.iter().map(|value| value_text(value, units)).collect(),
        one => vec![value_text(one, units)],
    };
    let parts = items.iter().map(|item| {
        let shown = item.entries.iter().filter(|entry| !entry.label.is_empty());
        let rows = shown.map(|entry| (entry.label.to_owned(), lines(&entry.value)));
        PartRows::new(item.name.clone(), rows.collect())
    });
    let tables = items.iter().flat_map(|item| {
        let alone = items.len() == 1 || item.name.is_empty();
        item.tables.iter().map(move |(caption, table)| {
            if alone {
                grid(caption, table, units)
            } else {
                grid(&format!("{}: {caption}", item.name), table, units)
            }
        })
    });
    Values::new(parts.collect(), tables.collect())
}

impl Values {
    fn new(parts: Vec<PartRows>, tables: Vec<Grid>) -> Self {
        let parts: Vec<PartRows> = parts.into_iter().filter(|part| !part.rows.is_empty()).collect();
        let mut told = parts
            .iter()
            .flat_map(|part| &part.rows)
            .flat_map(|(_, values)| values);
        let wordy = told.any(|value| value.chars().count() > SHORT_VALUE);
        let short = parts.len() <= 1 && parts.iter().all(|part| part.short);
        Self {
            wordy,
            small: short && !wordy && tables.iter().all(|table| table.short && !table.wide),
            parts,
            tables,
        }
    }

    fn is_empty(&self) -> bool {
        self.parts.is_empty() && self.tables.is_empty()
    }
}

impl PartRows {
    fn new(name: String, rows: Vec<(String, Vec<String>)>) -> Self {
        Self {
            short: rows.len() <= SHORT_PART,
            name,
            rows,
        }
    }
}

/// A table with all its rows.
pub(super) fn grid(caption: &str, table: &Table, units: &Units) -> Grid {
    let rows: Vec<Vec<Field>> = (0..table.rows())
        .map(|row| {
            let fields = table.columns.iter().map(|column| match column.cells.get(row) {
                Some(Cell::Number(value)) => Field {
                    text: fixed(*value, column.decimals),
                    number: true,
                },
                Some(Cell::Text(text)) => Field {
                    text: text.clone(),
                    number: false,
                },
                Some(Cell::Empty) | None => Field {
                    text: "-".to_owned(),
                    number: true,
                },
            });
            fields.collect()
        })
        .collect();
    let letters = |place: usize, name: &str| {
        let cells = rows.iter().filter_map(|row| row.get(place));
        let longest = cells.map(|field| field.text.chars().count()).max();
        longest.unwrap_or(0).max(name.chars().count()) + 2
    };
    let names: Vec<String> = table
        .columns
        .iter()
        .map(|column| heading(&column.name, units))
        .collect();
    let across: usize = names
        .iter()
        .enumerate()
        .map(|(place, name)| letters(place, name))
        .sum();
    Grid {
        caption: caption.to_owned(),
        columns: names,
        short: rows.len() <= SHORT_TABLE,
        rows,
        wide: across > NARROW_LETTERS,
        more: 0,
    }
}

/// A table with its first rows, and how many more there are.
pub(super) fn first_rows(caption: &str, table: &Table, most: usize, units: &Units) -> Grid {
    Grid {
        more: table.rows().saturating_sub(most),
        ..grid(caption, &table.first_rows(most), units)
    }
}
