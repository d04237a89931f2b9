//! Words for springs, dampers, loads, brackets and bolts, as scripts ask them and as sheets show them.

mod bolt_withdrawal;
mod bolts;
mod brackets;
mod bump_stop;
mod damper_setting;
mod loads;
mod ride_height;
mod springs;
mod wire_spring;

use std::collections::BTreeMap;
use std::path::Path;

use crate::examples::examples;
use crate::support::Garage;
use kin_core::pickups::{Measured, Quantity};
use kin_core::samples;
use kin_script::explain::Report;
use kin_script::model::{Body, Model, ModelFile, ModelFormat};
use kin_script::units::{LengthUnit, Units};
use kin_script::vocabulary;
use serde::Deserialize;

/// The wagon's front corner in inches and pounds.
fn in_inches() -> String {
    let mut corner = samples::wagon_front();
    corner.visit(&mut |number, quantity| match quantity {
        Quantity::Length => *number /= 25.4,
        Quantity::Rate => *number *= 25.4 / 4.448_221_615_260_5,
        _ => {}
    });
    let model = Model {
        title: "Wagon, front, in inches".to_owned(),
        provenance: None,
        units: Units::new(LengthUnit::Inch, None),
        body: Body::DoubleWishbone { corner, right: None },
    };
    ModelFile::write(&model, ModelFormat::Toml).unwrap()
}

/// A garage with the example vehicles.
fn garage() -> Garage {
    let mut garage = Garage::new();
    garage.registrars = vocabulary::REGISTRARS.to_vec();
    for name in ["wagon_front", "wagon_rear", "pickup_rear"] {
        let file = format!("vehicles/{name}.toml");
        let text = std::fs::read_to_string(examples().join(&file)).unwrap();
        garage.file(&file, &text);
    }
    garage.file("vehicles/wagon_front_inches.toml", &in_inches());
    garage
}

/// What a script prints.
fn printed(script: &str) -> String {
    let garage = garage();
    garage
        .run(script)
        .unwrap_or_else(|report| panic!("{}", report.render(false)));
    garage.printed.text()
}

/// The numbers that a script prints, one on each line.
fn numbers(script: &str) -> Vec<f64> {
    printed(script)
        .lines()
        .map(|line| line.parse().unwrap_or_else(|_| panic!("{line} is no number")))
        .collect()
}

/// Why a script is refused.
fn refused(script: &str) -> Report {
    garage().report(script)
}

/// Every label leaves room before its value, and no line is wider than the sheet.
fn is_aligned(sheet: &str) {
    for line in sheet.lines() {
        assert!(line.chars().count() <= 120, "too wide: {line}");
        let is_value = line.starts_with("    ") && !line.starts_with("     ");
        if is_value && line.chars().count() > 34 {
            let before: String = line.chars().skip(32).take(2).collect();
            let is_caption = !line.contains("  ") || !line.trim_start().contains("  ");
            assert!(is_caption || before == "  ", "label touches its value: {line}");
        }
    }
}

#[derive(Deserialize)]
struct Reference {
    fit: BTreeMap<String, BTreeMap<String, Figure>>,
}

#[derive(Deserialize)]
struct Figure {
    digits: i32,
    value: f64,
}

/// Holds what a script prints (a name and a number on each line) against the figures of a program that shares no code
/// with this one, within one unit of the last digit they were printed with: `tests/reference/example_vehicles.json`.
fn agree(vehicle: &str, script: &str) {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/reference/example_vehicles.json");
    let reference: Reference = serde_json::from_str(&std::fs::read_to_string(file).unwrap()).unwrap();
    let figures = &reference.fit[vehicle];
    let text = printed(script);
    for line in text.lines() {
        let (name, found) = line.split_once(' ').unwrap();
        let found: f64 = found.parse().unwrap();
        let Figure { digits, value } = &figures[name];
        assert!(
            (found - value).abs() <= 10.0_f64.powi(-digits),
            "{vehicle}, {name}: {found} instead of {value}"
        );
    }
    assert!(!text.is_empty());
}
