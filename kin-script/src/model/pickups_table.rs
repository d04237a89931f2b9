//! A description as a table: each point with its three coordinates, each other number with its unit.

use super::{Body, Model, dimension_of};
use crate::table::{Cell, Column, Table};
use crate::units::{Measure, Units};
use kin_core::pickups::{Named, Quantity};

/// Files carry full precision; this is for the text form.
const DECIMALS: usize = 2;

/// A number of the description by the keys that lead to it.
struct Entry {
    name: String,
    value: f64,
    quantity: Quantity,
}

impl Model {
    /// The pickups and all other numbers as they were given, in the description's units: columns `name`, `x_mm`, `y_mm`, `z_mm`
    /// for points, and `number`, `unit` for the rest.
    ///
    /// A side that is the mirror image of the one given is not repeated.
    #[must_use]
    pub fn pickups_table(&self) -> Table {
        let mut entries = Vec::new();
        match &self.body {
            Body::DoubleWishbone { corner, right } => {
                list(&mut entries, "", &mut corner.clone());
                if let Some(right) = right {
                    list(&mut entries, "right.", &mut right.clone());
                }
            }
            Body::LiveAxle(axle) => list(&mut entries, "", &mut axle.clone()),
        }
        table(&entries, &self.units)
    }
}

fn list(entries: &mut Vec<Entry>, before: &str, description: &mut impl Named) {
    description.visit_named(&mut |name, value, quantity| {
        entries.push(Entry {
            name: format!("{before}{name}"),
            value: *value,
            quantity,
        });
    });
}

fn table(entries: &[Entry], units: &Units) -> Table {
    let suffix = units.suffix(Measure::LENGTH);
    let headings = ["name".to_owned()]
        .into_iter()
        .chain(["x", "y", "z"].map(|axis| format!("{axis}{suffix}")))
        .chain(["number".to_owned(), "unit".to_owned()]);
    let mut columns: Vec<Column> = headings
        .map(|name| Column {
            name,
            decimals: DECIMALS,
            cells: Vec::new(),
        })
        .collect();
    let mut rest = entries;
    while let Some((first, others)) = rest.split_first() {
        let row = match point(rest) {
            Some((name, [x, y, z])) => {
                rest = rest.get(3..).unwrap_or_default();
                let number = |value: f64| Cell::from(Some(value));
                [
                    text(name),
                    number(x),
                    number(y),
                    number(z),
                    Cell::Empty,
                    Cell::Empty,
                ]
            }
            None => {
                rest = others;
                let value = Cell::from(Some(first.value));
                let unit = text(&unit(first.quantity, units));
                [
                    text(&first.name),
                    Cell::Empty,
                    Cell::Empty,
                    Cell::Empty,
                    value,
                    unit,
                ]
            }
        };
        for (column, cell) in columns.iter_mut().zip(row) {
            column.cells.push(cell);
        }
    }
    Table { columns }
}

/// The point that these entries begin with.
fn point(entries: &[Entry]) -> Option<(&str, [f64; 3])> {
    let [x, y, z, ..] = entries else {
        return None;
    };
    let name = x.name.strip_suffix(".x")?;
    let is_of_it = |entry: &Entry, axis: &str| entry.name.strip_suffix(axis) == Some(name);
    (is_of_it(y, ".y") && is_of_it(z, ".z")).then_some((name, [x.value, y.value, z.value]))
}

fn text(words: &str) -> Cell {
    Cell::Text(words.to_owned())
}

fn unit(quantity: Quantity, units: &Units) -> String {
    match dimension_of(quantity) {
        Some(dimension) => units.symbol(Measure {
            dimension,
            per_travel: false,
        }),
        None => "deg".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{ModelFile, ModelFormat};
    use kin_core::samples;

    fn row(table: &Table, name: &str) -> Vec<Cell> {
        let place = table.columns[0]
            .cells
            .iter()
            .position(|cell| *cell == Cell::Text(name.to_owned()))
            .unwrap_or_else(|| panic!("no {name}"));
        table
            .columns
            .iter()
            .map(|column| column.cells[place].clone())
            .collect()
    }

    #[test]
    fn points_have_coordinates_and_other_numbers_their_units() {
        let model = Model {
            title: "Wagon".to_owned(),
            provenance: None,
            units: Units::default(),
            body: Body::DoubleWishbone {
                corner: samples::wagon_front(),
                right: None,
            },
        };
        let table = model.pickups_table();
        let headings: Vec<&str> = table.columns.iter().map(|column| column.name.as_str()).collect();
        assert_eq!(headings, ["name", "x_mm", "y_mm", "z_mm", "number", "unit"]);
        // As the sample gives them.
        let mount = samples::wagon_front().coilover.unwrap().upper_mount;
        let [x, y, z] = [mount.x, mount.y, mount.z].map(Cell::Number);
        assert_eq!(
            row(&table, "coilover.upper_mount"),
            [text("coilover.upper_mount"), x, y, z, Cell::Empty, Cell::Empty]
        );
        assert_eq!(row(&table, "spring.rate")[5], text("N/mm"));
        assert_eq!(row(&table, "wheel.camber")[5], text("deg"));
        assert_eq!(row(&table, "wheel.tyre_radius")[5], text("mm"));
    }

    #[test]
    fn inches_stay_inches_and_a_right_corner_of_its_own_is_listed() {
        let text_of = |path: &str| std::fs::read_to_string(path).unwrap();
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../examples/vehicles");
        let given = text_of(&format!("{folder}/wagon_front.toml"));
        let mut model = ModelFile::read(&given, ModelFormat::Toml).unwrap();
        model.units = Units::new(crate::units::LengthUnit::Inch, None);
        let Body::DoubleWishbone { corner, right } = &mut model.body else {
            panic!("a corner");
        };
        *right = Some(corner.mirrored());
        let table = model.pickups_table();
        assert_eq!(table.columns[1].name, "x_in");
        assert_eq!(row(&table, "spring.rate")[5], text("lb/in"));
        let (left, right) = (row(&table, "tie_rod.outer"), row(&table, "right.tie_rod.outer"));
        assert_eq!(
            (left[2].clone(), right[2].clone()),
            (Cell::Number(668.0), Cell::Number(-668.0))
        );
    }
}
