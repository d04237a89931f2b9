//! The moving page: a corner or an axle that is taken hold of, solved in the browser by the program's own solver.

mod axle_numbers;
mod corner_numbers;
mod part_numbers;

use super::document::{Document, DocumentKind};
use super::template::{Template, filled};
use crate::host::ScriptError;
use crate::model::{Body, Model, Suspension, in_core_units};
use crate::units::{LengthUnit, Measure, Units};
use axle_numbers::{MirroredParts, NamedLink};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use kin_core::Dimension;
use kin_core::pickups::{LiveAxle, Side};
use minijinja::Value as Safe;
use part_numbers::Numbers;
use serde::Serialize;

const PAGE: Template = Template {
    name: "moving.html.jinja",
    text: include_str!("moving.html.jinja"),
};
const STYLE: &str = include_str!("moving.css");
/// The page's own script; later parts use earlier ones.
const SCRIPT: [&str; 18] = [
    include_str!("moving/lists.js"),
    include_str!("moving/solver.js"),
    include_str!("moving/numbers.js"),
    include_str!("moving/travel.js"),
    include_str!("moving/state.js"),
    include_str!("moving/pen.js"),
    include_str!("moving/view.js"),
    include_str!("moving/corner.js"),
    include_str!("moving/corner_drawing.js"),
    include_str!("moving/axle_travel.js"),
    include_str!("moving/axle.js"),
    include_str!("moving/axle_drawing.js"),
    include_str!("moving/spread.js"),
    include_str!("moving/handles.js"),
    include_str!("moving/fields.js"),
    include_str!("moving/curves.js"),
    include_str!("moving/play.js"),
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
    axle: bool,
    slides: bool,
    /// A right corner, shown as a left one.
    right_corner: bool,
    /// An axle whose right side follows its left one.
    follows: bool,
    held_too_much: bool,
    model: Safe,
    solver: Safe,
    script: Safe,
}

/// What the page's script is given.
#[derive(Serialize)]
struct Moved {
    numbers: Numbers,
    /// Of an axle, in their order.
    links: Option<Vec<NamedLink>>,
    mirrored: Option<MirroredParts>,
    #[serde(rename = "heldTooMuch")]
    held_too_much: bool,
    ride: f64,
    droop: f64,
    bump: f64,
    unit: Shown,
    rate: Shown,
    force: Shown,
    /// Units of lengths and of rates in refusals.
    spoken: [Shown; 2],
}

/// How numbers of a kind are written: core units in one of them, symbol, decimals, and the step of an arrow key.
#[derive(Serialize)]
struct Shown {
    size: f64,
    symbol: String,
    decimals: usize,
    step: f64,
}

/// A page on which a corner or an axle is moved by hand.
///
/// * `droop`, `bump`: how far the wheels go from ride height (mm, positive)
///
/// # Errors
/// A ride height that the damper never has, and travel beyond the reach of the linkage.
pub fn moving_page(
    model: &Model,
    suspension: &Suspension,
    droop: f64,
    bump: f64,
) -> Result<Document, ScriptError> {
    let failed = |error: kin_core::Error| crate::vocabulary::core_error(&error, &model.units);
    let units = &model.units;
    let mut moved = Moved {
        numbers: Vec::new(),
        links: None,
        mirrored: None,
        held_too_much: false,
        ride: 0.0,
        droop,
        bump,
        unit: shown(units, Dimension::Length),
        rate: finer(shown(units, Dimension::Rate)),
        force: finer(shown(units, Dimension::Force)),
        spoken: [Dimension::Length, Dimension::Rate].map(|dimension| shown(units, dimension)),
    };
    let mut context = Context {
        style: Safe::from_safe_string(STYLE.to_owned()),
        title: model.title.clone(),
        unit: units.length.symbol(),
        provenance: model.provenance.clone(),
        axle: false,
        slides: false,
        right_corner: false,
        follows: false,
        held_too_much: false,
        model: Safe::default(),
        // Its letters mean nothing to HTML.
        solver: Safe::from_safe_string(STANDARD.encode(SOLVER)),
        script: Safe::from_safe_string(script()),
    };
    let reach = suspension.reach();
    match suspension {
        Suspension::Corner(corner) => {
            let pickups = corner.pickups();
            moved.numbers = corner_numbers::of_corner(pickups);
            moved.ride = corner.ride_travel().map_err(failed)?;
            context.right_corner = corner.side() == Side::Right;
            context.slides = pickups
                .any_damper()
                .is_some_and(|damper| damper.rides_on != "upright");
        }
        Suspension::Axle(axle) => {
            let (whole, described) = (axle.pickups(), described_axle(model, axle.pickups()));
            moved.numbers = axle_numbers::of_axle(whole);
            moved.links = Some(axle_numbers::links(&described, whole));
            moved.mirrored = Some(axle_numbers::mirrored(&described));
            moved.held_too_much = axle.is_held_too_much();
            moved.ride = axle.ride_travel().map_err(failed)?;
            context.axle = true;
            context.follows = described.right == kin_core::pickups::RightSide::Mirror;
            context.held_too_much = moved.held_too_much;
            context.slides = whole
                .any_dampers()
                .is_some_and(|dampers| dampers.left.rides_on != "axle");
        }
    }
    within_reach(
        "droop",
        droop,
        reach.lowest.map(|lowest| moved.ride - lowest),
        units,
    )?;
    within_reach(
        "bump",
        bump,
        reach.highest.map(|highest| highest - moved.ride),
        units,
    )?;
    context.model = Safe::from_safe_string(as_data(&moved)?);
    Ok(Document {
        kind: DocumentKind::Page,
        text: filled(&PAGE, context)?,
    })
}

/// Refuses travel that the linkage does not have (mm from ride height).
fn within_reach(key: &str, asked: f64, reach: Option<f64>, units: &Units) -> Result<(), ScriptError> {
    let Some(reach) = reach.filter(|reach| asked > *reach) else {
        return Ok(());
    };
    let text = |travel: f64| units.length.text(travel);
    Err(ScriptError::new(format!(
        "the moving page, `{key}`: {} is asked, and the linkage itself ends at {} of {key}",
        text(asked),
        text(reach)
    ))
    .with_key(key)
    .with_help(format!("give `{key}` as the travel that the car has")))
}

/// The axle as written, with what its right side leaves out.
fn described_axle(model: &Model, whole: &LiveAxle) -> LiveAxle {
    match &model.body {
        Body::LiveAxle(axle) => in_core_units(axle, &model.units),
        Body::DoubleWishbone { .. } => whole.clone(),
    }
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
