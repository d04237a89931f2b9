//! The figures of the example vehicles, against those of a program that shares no code with this one.

use std::collections::BTreeMap;
use std::path::Path;

use serde::Deserialize;

use crate::examples::{examples, kin, run};

/// The source of these figures and their finish: `tests/reference/README.md`.
#[derive(Deserialize)]
struct Reference {
    model_files: BTreeMap<String, Columns>,
    script_tables: BTreeMap<String, Columns>,
}

type Columns = BTreeMap<String, Figures>;

#[derive(Deserialize)]
struct Figures {
    digits: i32,
    values: Vec<f64>,
}

/// Half a unit of the last printed digit is the rounding; the other half covers the rates, which the source took by
/// central differences.
const UNITS_OF_THE_LAST_DIGIT: f64 = 1.0;

fn reference() -> Reference {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/reference/example_vehicles.json");
    serde_json::from_str(&std::fs::read_to_string(file).unwrap()).unwrap()
}

/// A CSV text as columns by name, without the units behind the names of curves.
fn columns(csv: &str) -> BTreeMap<String, Vec<f64>> {
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let names: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
    let mut columns = BTreeMap::new();
    for record in reader.records() {
        for (name, cell) in names.iter().zip(&record.unwrap()) {
            let column: &mut Vec<f64> = columns.entry(name.clone()).or_default();
            column.push(cell.parse().unwrap_or(f64::NAN));
        }
    }
    columns
}

fn agree(context: &str, name: &str, found: &[f64], figures: &Figures) {
    let tolerance = UNITS_OF_THE_LAST_DIGIT * 10.0_f64.powi(-figures.digits);
    assert_eq!(found.len(), figures.values.len(), "{context}, {name}");
    for (row, (found, expected)) in found.iter().zip(&figures.values).enumerate() {
        assert!(
            (found - expected).abs() <= tolerance,
            "{context}, {name}, row {row}: {found} instead of {expected}"
        );
    }
}

#[test]
fn curves_of_the_model_files_agree_with_an_independent_program() {
    for (file, expected) in reference().model_files {
        let travels = &expected["travel"].values;
        let names: Vec<&str> = expected
            .keys()
            .map(String::as_str)
            .filter(|name| *name != "travel")
            .collect();
        let ran = kin(
            &examples().join("vehicles"),
            &[
                "run",
                &format!("{file}.toml"),
                "--format=csv",
                &format!("--curves={}", names.join(",")),
                &format!("--from={}", travels[0]),
                &format!("--to={}", travels[travels.len() - 1]),
                &format!("--step={}", travels[1] - travels[0]),
            ],
        );
        assert_eq!(ran.exit, 0, "{}", ran.complaint);
        let found = columns(&ran.printed);
        for name in names {
            let column = found.iter().find(|(column, _)| {
                ["", "_mm", "_deg"]
                    .iter()
                    .any(|unit| **column == format!("{name}{unit}"))
            });
            let (_, values) = column.unwrap_or_else(|| panic!("{file} printed no {name}"));
            agree(&file, name, values, &expected[name]);
        }
    }
}

#[test]
fn tables_of_the_scripts_agree_with_an_independent_program() {
    for (place, expected) in reference().script_tables {
        let (script, table) = place.split_once('/').unwrap();
        let ran = run(&examples().join(format!("{script}.rhai")));
        assert_eq!(ran.exit, 0, "{}", ran.complaint);
        let found = columns(&std::fs::read_to_string(ran.output.path().join(table)).unwrap());
        for (name, figures) in &expected {
            agree(&place, name, &found[name], figures);
        }
    }
}
