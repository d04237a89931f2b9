//! Adjusted points and readings as tables.

use crate::table::{Cell, Column, Table};
use crate::units::{Measure, Units};
use kin_core::Dimension;
use kin_core::survey::{Adjustment, Axis, Basis, Kind};

/// The adjusted points: coordinates, and standard deviations a priori and scaled.
#[must_use]
pub fn point_table(adjusted: &Adjustment, units: &Units) -> Table {
    let suffix = units.suffix(Measure::LENGTH);
    let shown = |value: f64| Cell::Number(units.from_core(value, Measure::LENGTH));
    let (coarse, fine) = (
        units.decimals(Dimension::Length),
        units.decimals(Dimension::FineLength),
    );
    let names = adjusted.names().map(|name| Cell::Text(name.to_owned())).collect();
    let mut columns = vec![text("point", names)];
    for axis in Axis::ALL {
        let cells = adjusted.names().map(|name| {
            adjusted
                .place(name)
                .map_or(Cell::Empty, |place| shown(place[axis.index()]))
        });
        columns.push(column(
            format!("{}{suffix}", axis.letter()),
            coarse,
            cells.collect(),
        ));
    }
    for (heading, basis) in [("a_priori", Basis::APriori), ("scaled", Basis::Scaled)] {
        for axis in Axis::ALL {
            let deviation = |name| adjusted.standard_deviations(name, basis);
            let cells = adjusted.names().map(|name| {
                deviation(name).map_or(Cell::Empty, |deviations| shown(deviations[axis.index()]))
            });
            columns.push(column(
                format!("sd_{}_{heading}{suffix}", axis.letter()),
                fine,
                cells.collect(),
            ));
        }
    }
    Table { columns }
}

/// The readings that count, with residual, share that the others check, normalised residual and estimated mistake. Lengths are in
/// the reader's unit, angles in degrees.
#[must_use]
pub fn reading_table(adjusted: &Adjustment, units: &Units) -> Table {
    let judged = adjusted.readings();
    let kind = |index: usize| adjusted.reading(index).map(|reading| reading.observed.kind());
    let in_unit = |index: usize, value: f64| {
        let dimension = if kind(index) == Some(Kind::Angle) {
            Dimension::FineAngle
        } else {
            Dimension::FineLength
        };
        Cell::Number(units.from_core(
            value,
            Measure {
                dimension,
                per_travel: false,
            },
        ))
    };
    let fine = units.decimals(Dimension::FineLength);
    let words = judged.iter().map(|judged| {
        let words = adjusted
            .reading(judged.index)
            .map_or_else(String::new, |reading| reading.observed.words());
        Cell::Text(words.trim_start_matches("the ").to_owned())
    });
    let labels = judged.iter().map(|judged| {
        let label = adjusted
            .reading(judged.index)
            .map_or("", |reading| reading.label.as_str());
        Cell::Text(label.rsplit(", ").next().unwrap_or(label).to_owned())
    });
    let suffix = units.suffix(Measure::LENGTH);
    let values =
        |value: &dyn Fn(&kin_core::survey::JudgedReading) -> Cell| judged.iter().map(value).collect();
    Table {
        columns: vec![
            text("reading", words.collect()),
            text("where", labels.collect()),
            column(
                format!("deviation{suffix}"),
                fine,
                values(&|judged| in_unit(judged.index, judged.deviation)),
            ),
            column(
                format!("residual{suffix}"),
                fine,
                values(&|judged| in_unit(judged.index, judged.residual)),
            ),
            column(
                "redundancy".to_owned(),
                2,
                values(&|judged| Cell::Number(judged.redundancy)),
            ),
            column(
                "normalised".to_owned(),
                2,
                values(&|judged| judged.normalised.into()),
            ),
            column(
                format!("mistake{suffix}"),
                fine,
                values(&|judged| {
                    judged
                        .mistake
                        .map_or(Cell::Empty, |mistake| in_unit(judged.index, mistake))
                }),
            ),
        ],
    }
}

pub(super) fn text(name: &str, cells: Vec<Cell>) -> Column {
    column(name.to_owned(), 0, cells)
}

pub(super) fn column(name: String, decimals: usize, cells: Vec<Cell>) -> Column {
    Column {
        name,
        decimals,
        cells,
    }
}
