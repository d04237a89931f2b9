//! Brackets: hole, edge, tabs and weld.

use super::asked::refused;
use super::columns::{numbers, words};
use super::report::{Item, Report, Value};
use super::{Answer, Asked, FitCheck, Typed};
use crate::host::ScriptError;
use crate::table::{Cell, Column, Table};
use crate::units::Units;
use kin_core::Dimension::{Force, Stress};
use kin_core::checks::{BracketCheck, BracketQuestion, PlateEffect, PlateStress, check_bracket};
use rhai::Dynamic;

pub(super) const CHECK: FitCheck = FitCheck {
    word: "brackets",
    counted: "check_brackets",
    needs_ride_height: false,
    documentation: "One bracket, or a list of brackets: does the bolt go into the hole, what must be drilled and what edge is left, \
        and stresses of tabs and weld as plain plate estimates.\n\n\
        Keys of a bracket: `name`, `tabs` (1 or 2), `thickness`, `width`, `height` (from the root to the middle of the hole), \
        `edge_distance` (from the middle of the hole), `hole` (its diameter, if there is one), `bolt` (such as \"1/2-13\"), \
        `hole_class` (\"close\", \"normal\" or \"loose\"), `drill_to` (a diameter instead), `yielding` (of the tab's material), \
        `force` (static, at the hole: `outward` from the root, `across` in the plane of the tabs, `sideways` along the bolt), \
        `load_factor` (for bumps, 3 unless given), `weld` (`leg`, `length_per_tab`, `limit`).\n\n\
        Can be read: `hole`, `drilled` (whether it must be), `edge_left`, `edge_in_diameters`, `force` (counted with), `rules` (the \
        effect nearest to its limit), `stress` and `limit` of it, `weld_direct`, `root_stress`, `net_section_stress`, `tear_out_stress`, `weld_stress`, and `tables`.",
    run,
};

fn run(asked: &Asked<'_>, question: Dynamic) -> Result<Answer, ScriptError> {
    let mut items = Vec::new();
    let mut findings = Vec::new();
    let mut checks = Vec::new();
    for bracket in asked.read_list::<BracketQuestion>(question, "the bracket")? {
        let check = check_bracket(&bracket).map_err(|error| refused(&error, &asked.units))?;
        items.push(item(&bracket.name, &check, &asked.units));
        findings.extend(check.findings.clone());
        checks.push((bracket.name, check));
    }
    Ok(Answer {
        report: Report {
            check: CHECK.word,
            heading: "Brackets (estimate)",
            items,
            findings,
        },
        typed: Typed::Brackets(checks),
    })
}

fn item(name: &str, check: &BracketCheck, units: &Units) -> Item {
    let hole = &check.hole;
    let mut item = Item::new(name)
        .length("hole", "hole", hole.diameter)
        .with("drilled", "is to be drilled", Value::Truth(hole.drilled))
        .length("edge_left", "left to the edge", hole.edge_left)
        .with(
            "edge_in_diameters",
            "edge, in hole diameters",
            Value::Number(hole.edge_in_diameters, 2),
        )
        .quantity("force", "force counted with", check.force, Force);
    if let Some(rules) = check.rules {
        item = item
            .text("rules", "nearest to its limit", rules.effect.name())
            .quantity("stress", "", rules.stress, Stress)
            .quantity("limit", "", rules.limit, Stress);
    }
    if let Some(direct) = check.weld_direct {
        item = item.quantity("weld_direct", "weld, without bending", direct, Stress);
    }
    for found in &check.stresses {
        let key = match found.effect {
            PlateEffect::Root => "root_stress",
            PlateEffect::NetSection => "net_section_stress",
            PlateEffect::TearOut => "tear_out_stress",
            PlateEffect::Weld => "weld_stress",
        };
        item = item.quantity(key, "", found.stress, Stress);
    }
    item.table("as plain plates", table(&check.stresses, units))
}

fn table(rows: &[PlateStress], units: &Units) -> Table {
    Table {
        columns: vec![
            words(rows, "effect", |row| row.effect.name().to_owned()),
            numbers(rows, units, "stress", Stress, |row| Some(row.stress)),
            numbers(rows, units, "limit", Stress, |row| Some(row.limit)),
            share(rows, |row| Some(row.stress / row.limit)),
        ],
    }
}

/// A column of shares of a limit, in percent.
pub(super) fn share<R>(rows: &[R], of: impl Fn(&R) -> Option<f64>) -> Column {
    Column {
        name: "of_limit_percent".to_owned(),
        decimals: 0,
        cells: rows
            .iter()
            .map(|row| Cell::from(of(row).map(|share| 100.0 * share)))
            .collect(),
    }
}
