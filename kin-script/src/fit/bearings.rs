//! Bearings with their spacers between the cheeks of their brackets.

use super::asked::refused;
use super::report::{Item, Report};
use super::{Answer, Asked, FitCheck, Typed};
use crate::host::ScriptError;
use kin_core::Dimension::FineLength;
use kin_core::checks::{BearingInBracket, BracketFit, check_bearing_in_bracket};
use rhai::Dynamic;

pub(super) const CHECK: FitCheck = FitCheck {
    word: "bearings",
    counted: "check_bearings",
    needs_ride_height: false,
    documentation: "Whether a bearing with its spacers goes between the cheeks of its bracket, with the tolerances at their worst.\n\n\
        One bearing or a list. Keys: `name`, `bearing_width` (of the ball, or of a bushing's sleeve), `spacer_length` (on either \
        side; 0 unless given), `bracket_width` (inside), `bearing_tolerance`, `spacer_tolerance`, `bracket_tolerance` (either way; 0 \
        unless given), `largest_gap` (that tightening may close; 0.8 mm unless given).\n\n\
        Can be read of each: `clearance`, `least_clearance`, `largest_clearance`, `stack_width`, `bracket_width`.",
    run,
};

fn run(asked: &Asked<'_>, question: Dynamic) -> Result<Answer, ScriptError> {
    let mut items = Vec::new();
    let mut findings = Vec::new();
    let mut fits = Vec::new();
    for bearing in asked.read_list::<BearingInBracket>(question, "the bearing")? {
        let fit = check_bearing_in_bracket(&bearing).map_err(|error| refused(&error, &asked.units))?;
        items.push(item(&bearing, &fit));
        findings.extend(fit.findings.clone());
        fits.push((bearing, fit));
    }
    Ok(Answer {
        report: Report {
            check: CHECK.word,
            heading: "Bearings in brackets",
            items,
            findings,
        },
        typed: Typed::Bearings(fits),
    })
}

fn item(bearing: &BearingInBracket, fit: &BracketFit) -> Item {
    let fine = |item: Item, key, label, value| item.quantity(key, label, value, FineLength);
    let mut item = Item::new(&bearing.name);
    item = fine(item, "clearance", "clearance", fit.clearance);
    if fit.least_clearance < fit.largest_clearance {
        item = fine(item, "least_clearance", "  at worst", fit.least_clearance);
        item = fine(item, "largest_clearance", "  at most", fit.largest_clearance);
    } else {
        item = fine(item, "least_clearance", "", fit.least_clearance);
        item = fine(item, "largest_clearance", "", fit.largest_clearance);
    }
    item = fine(item, "stack_width", "bearing and spacers", fit.stack_width);
    fine(item, "bracket_width", "bracket, inside", bearing.bracket_width)
}
