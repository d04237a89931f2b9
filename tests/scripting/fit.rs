//! The checks of the fit, as scripts ask for them and people read them.

mod alignment;
mod anti_roll_bar;
mod bearings;
mod bump_steer;
mod bushings;
mod card;
mod clearance;
mod driveline;
mod hoses;
mod joints;
mod whole;

use std::collections::BTreeMap;
use std::path::Path;

use crate::support::Garage;
use kin_core::pickups::{Measured, Quantity};
use kin_core::{Dimension, samples};
use kin_script::explain::Report;
use kin_script::model::{Body, Model, ModelFile, ModelFormat};
use kin_script::units::{LengthUnit, Units};
use kin_script::vocabulary;
use serde::Deserialize;

/// A garage with the whole vocabulary and the invented wagon, both axles, in millimetres and in inches.
pub(super) fn garage() -> Garage {
    let mut garage = Garage::new();
    garage.registrars = vocabulary::REGISTRARS.to_vec();
    let bodies = [
        (
            "front",
            Body::DoubleWishbone {
                corner: samples::wagon_front(),
                right: None,
            },
        ),
        ("rear", Body::LiveAxle(samples::wagon_rear())),
    ];
    for (name, body) in bodies {
        for (unit, ending) in [(LengthUnit::Millimetre, ""), (LengthUnit::Inch, "_inch")] {
            let units = Units::new(unit, None);
            let mut body = body.clone();
            match &mut body {
                Body::DoubleWishbone { corner, .. } => in_units(corner, &units),
                Body::LiveAxle(axle) => in_units(axle, &units),
            }
            let model = Model {
                title: format!("Orvane, {name}"),
                provenance: None,
                units,
                body,
            };
            let file = ModelFile::write(&model, ModelFormat::Toml).unwrap();
            garage.file(&format!("{name}{ending}.toml"), &file);
        }
    }
    garage
}

fn in_units(pickups: &mut impl Measured, units: &Units) {
    pickups.visit(&mut |number, quantity| {
        let dimension = match quantity {
            Quantity::Length => Dimension::Length,
            Quantity::Rate => Dimension::Rate,
            Quantity::Mass => Dimension::Mass,
            Quantity::Force => Dimension::Force,
            _ => return,
        };
        *number /= units.core_units(dimension);
    });
}

/// What a script prints.
pub(super) fn printed(script: &str) -> String {
    let garage = garage();
    garage
        .run(script)
        .unwrap_or_else(|report| panic!("{}", report.render(false)));
    garage.printed.text()
}

/// Numbers that a script prints, one a line.
pub(super) fn numbers(script: &str) -> Vec<f64> {
    let text = printed(script);
    let lines = text.lines();
    lines
        .map(|line| line.parse().unwrap_or_else(|_| panic!("{line} is no number")))
        .collect()
}

/// What a user reads about a script that must not run.
pub(super) fn mistake(script: &str) -> Report {
    garage().report(script)
}

/// Whether the program would exit as for a failed check.
pub(super) fn fails(script: &str) -> bool {
    let garage = garage();
    let outcome = garage
        .run(script)
        .unwrap_or_else(|report| panic!("{}", report.render(false)));
    !outcome.failed_checks.is_empty()
}

#[derive(Deserialize)]
struct Reference {
    checks: BTreeMap<String, BTreeMap<String, Figures>>,
}

#[derive(Deserialize)]
struct Figures {
    digits: i32,
    values: Vec<f64>,
}

/// Compares numbers with printed ones of `tests/reference/example_vehicles.json`: half a unit of the last digit, and what
/// the last digits of a printed travel add.
pub(super) fn agree(check: &str, name: &str, found: &[f64]) {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/reference/example_vehicles.json");
    let reference: Reference = serde_json::from_str(&std::fs::read_to_string(file).unwrap()).unwrap();
    let figures = &reference.checks[check][name];
    assert_eq!(found.len(), figures.values.len(), "{check}, {name}");
    let tolerance = 0.6 * 10.0_f64.powi(-figures.digits);
    for (found, expected) in found.iter().zip(&figures.values) {
        assert!(
            (found - expected).abs() <= tolerance,
            "{check}, {name}: {found} instead of {expected}"
        );
    }
}

/// Two lists of numbers that say the same in other units.
pub(super) fn same(found: &[f64], expected: &[f64]) {
    assert_eq!(found.len(), expected.len());
    for (found, expected) in found.iter().zip(expected) {
        // Points divided by 25.4 are off in their last digits, and a place of a flat least value is no sharper than 1e-4.
        assert!(
            (found - expected).abs() <= 1e-6 * expected.abs().max(1.0),
            "{found} instead of {expected}"
        );
    }
}
