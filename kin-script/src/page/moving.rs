//! The moving page: a corner that is taken hold of, solved in the browser by the program's own solver.

mod numbers;

use super::document::{Document, DocumentKind};
use super::template::{Template, filled};
use crate::host::ScriptError;
use crate::model::{Model, Suspension};
use crate::units::{LengthUnit, Measure, Units};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use kin_core::Dimension;
use kin_core::pickups::Side;
use minijinja::Value as Safe;
use serde::Serialize;

const PAGE: Template = Template {
    name: "moving.html.jinja",
    text: include_str!("moving.html.jinja"),
};
const STYLE: &str = include_str!("moving.css");
/// The page's own script; later parts use earlier ones.
const SCRIPT: [&str; 6] = [
    include_str!("moving/solver.js"),
    include_str!("moving/state.js"),
    include_str!("moving/drawing.js"),
    include_str!("moving/curves.js"),
    include_str!("moving/controls.js"),
    include_str!("moving/page.js"),
];
/// `kin-core` for the browser, made by `kin-core/browser/build`.
const SOLVER: &[u8] = include_bytes!("../../../kin-core/browser/kin_browser.wasm");
/// A press of an arrow key in inches.
const SIXTEENTH: f64 = 25.4 / 16.0;

#[derive(Serialize)]
struct Context {
    style: Safe,
    title: String,
    unit: &'static str,
    provenance: Option<String>,
    slides: bool,
    mirrored: bool,
    curves: [CurveBox; 4],
    model: Safe,
    solver: Safe,
    script: Safe,
}

#[derive(Serialize)]
struct CurveBox {
    key: &'static str,
    caption: String,
}

/// What the page's script is given.
#[derive(Serialize)]
struct Moved {
    numbers: Vec<Option<f64>>,
    ride: f64,
    droop: f64,
    bump: f64,
    unit: Shown,
    rate: Shown,
    force: Shown,
}

/// How numbers of a kind are written: core units in one of them, symbol, decimals, and the step of an arrow key.
#[derive(Serialize)]
struct Shown {
    size: f64,
    symbol: String,
    decimals: usize,
    step: f64,
}

/// A page on which a corner is moved by hand.
///
/// * `droop`, `bump`: how far the wheel goes from ride height (mm, positive)
///
/// # Errors
/// A live axle, and a ride height that the damper never has.
pub fn moving_page(
    model: &Model,
    suspension: &Suspension,
    droop: f64,
    bump: f64,
) -> Result<Document, ScriptError> {
    let Suspension::Corner(corner) = suspension else {
        return Err(
            ScriptError::new("a moving page is made of a double wishbone; this is a live axle").with_help(
                "`animation` moves an axle as a picture, and `draw` shows it with droop and bump as ghosts",
            ),
        );
    };
    let failed = |error: kin_core::Error| crate::vocabulary::core_error(&error, &model.units);
    let units = &model.units;
    let pickups = corner.pickups();
    let moved = Moved {
        numbers: numbers::of_corner(pickups),
        ride: corner.ride_travel().map_err(failed)?,
        droop,
        bump,
        unit: shown(units, Dimension::Length),
        rate: finer(shown(units, Dimension::Rate)),
        force: finer(shown(units, Dimension::Force)),
    };
    let rate = units.symbol(Measure {
        dimension: Dimension::Rate,
        per_travel: false,
    });
    let force = shown(units, Dimension::Force).symbol;
    let slides = pickups
        .any_damper()
        .is_some_and(|damper| damper.rides_on != "upright");
    let curve = |key, caption: String| CurveBox { key, caption };
    let context = Context {
        style: Safe::from_safe_string(STYLE.to_owned()),
        title: model.title.clone(),
        unit: units.length.symbol(),
        provenance: model.provenance.clone(),
        slides,
        mirrored: corner.side() == Side::Right,
        curves: [
            curve("motion_ratio", "Motion ratio, damper over wheel".to_owned()),
            curve("wheel_rate", format!("Wheel rate ({rate})")),
            curve("wheel_force", format!("Spring force at the wheel ({force})")),
            curve("camber", "Camber (deg), plus leans out".to_owned()),
        ],
        model: Safe::from_safe_string(as_data(&moved)?),
        // Its letters mean nothing to HTML.
        solver: Safe::from_safe_string(STANDARD.encode(SOLVER)),
        script: Safe::from_safe_string(script()),
    };
    Ok(Document {
        kind: DocumentKind::Page,
        text: filled(&PAGE, context)?,
    })
}

fn shown(units: &Units, dimension: Dimension) -> Shown {
    Shown {
        size: units.core_units(dimension),
        symbol: units.symbol(Measure {
            dimension,
            per_travel: false,
        }),
        decimals: units.decimals(dimension),
        step: match units.length {
            LengthUnit::Millimetre => 1.0,
            LengthUnit::Inch => SIXTEENTH,
        },
    }
}

/// With one more decimal: a small step of a point shows.
fn finer(shown: Shown) -> Shown {
    Shown {
        decimals: shown.decimals + 1,
        ..shown
    }
}

/// JSON that cannot end the element it stands in.
fn as_data(value: &impl Serialize) -> Result<String, ScriptError> {
    serde_json::to_string(value)
        .map(|text| text.replace('<', "\\u003c"))
        .map_err(|error| ScriptError::new(format!("the page could not be written: {error}")))
}

/// All parts in one scope of their own.
fn script() -> String {
    format!("(() => {{\n\"use strict\";\n\n{}}})();", SCRIPT.join("\n"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_script_cannot_end_its_element() {
        assert!(!script().contains("</"));
    }
}
