//! Bolts: shear, bending, bearing and clamp.

use super::asked::refused;
use super::brackets::share;
use super::columns::{numbers, words};
use super::report::{Item, Report, Value};
use super::{Answer, Asked, FitCheck, Typed};
use crate::host::ScriptError;
use crate::table::Table;
use crate::units::Units;
use kin_core::Dimension;
use kin_core::checks::{BoltCheck, BoltEffect, BoltQuestion, Effect, check_bolt};
use rhai::Dynamic;

pub(super) const CHECK: FitCheck = FitCheck {
    word: "bolts",
    counted: "check_bolts",
    needs_ride_height: false,
    documentation: "One bolt, or a list of bolts: shear, bending, bearing, and the clamp of its torque against the proof load. \
        Stresses are estimates.\n\n\
        Keys of a bolt: `name`, `size` (such as \"1/2-13\" or \"M12x1.75\"), `grade` (such as \"grade 8\" or \"class 10.9\"), `shear` \
        (\"single\" or \"double\"), `force` (static, across the bolt), `load_factor` (for bumps, 3 unless given), `lever` (single \
        shear: from the face of the tab to the middle of the eye), `threads_in_shear_plane`, `shear_limit`, `bending_limit`, `tab` \
        (`thickness`, `bearing_limit`, `tensile`, `hole`, `edge_distance`), `torque`, `condition` of the threads (\"plain\", \"zinc_plated\" unless given, \"lubricated\", \"cadmium_plated\", \
        \"anti_seize\").\n\n\
        Can be read: `torque` and `clamp` (as asked for), `share_of_proof`, `usual_torque`, `usual_clamp`, `force` (counted with), \
        `rules` (the effect nearest to its limit), `stress` and `limit` of it, `shear_stress`, `bending_stress`, `bearing_stress`, `not_judged` (where bearing has no limit), and `tables`.",
    run,
};

fn run(asked: &Asked<'_>, question: Dynamic) -> Result<Answer, ScriptError> {
    let mut checks = Vec::new();
    for bolt in asked.read_list::<BoltQuestion>(question, "the bolt")? {
        let check = check_bolt(&bolt).map_err(|error| refused(&error, &asked.units))?;
        checks.push((bolt.name, check));
    }
    let report = Report {
        check: CHECK.word,
        heading: "Bolts (estimate)",
        items: checks
            .iter()
            .map(|(name, check)| item(name, check, &asked.units))
            .collect(),
        findings: checks
            .iter()
            .flat_map(|(_, check)| check.findings.clone())
            .collect(),
    };
    Ok(Answer {
        report,
        typed: Typed::Bolts(checks),
    })
}

fn item(name: &str, check: &BoltCheck, units: &Units) -> Item {
    let mut item = Item::new(name)
        .quantity("force", "force counted with", check.force, Dimension::Force)
        .quantity(
            "usual_torque",
            "usual torque",
            check.usual.torque,
            Dimension::Torque,
        )
        .quantity(
            "usual_clamp",
            "clamp of the usual torque",
            check.usual.force,
            Dimension::Force,
        );
    if let Some(clamp) = check.clamp {
        item = item
            .quantity("torque", "torque asked for", clamp.torque, Dimension::Torque)
            .quantity("clamp", "clamp of that torque", clamp.force, Dimension::Force)
            .with(
                "share_of_proof",
                "of the proof load",
                Value::Share(clamp.share_of_proof),
            );
    }
    if let Some(rules) = check.rules {
        item = item
            .text("rules", "nearest to its limit", rules.effect.name())
            .quantity("stress", "", rules.stress, Dimension::Stress)
            .maybe("limit", "", (rules.limit, Dimension::Stress), "none");
    }
    for found in &check.effects {
        let key = match found.effect {
            BoltEffect::Shear => "shear_stress",
            BoltEffect::Bending => "bending_stress",
            BoltEffect::Bearing => "bearing_stress",
        };
        item = item.quantity(key, "", found.stress, Dimension::Stress);
    }
    if check.effects.iter().any(|found| found.limit.is_none()) {
        item = item.text(
            "not_judged",
            "not judged",
            "bearing on the tab, whose limit is not known",
        );
    }
    item.table("nominal stresses", table(&check.effects, units))
}

fn table(rows: &[Effect], units: &Units) -> Table {
    Table {
        columns: vec![
            words(rows, "effect", |row| row.effect.name().to_owned()),
            numbers(rows, units, "stress", Dimension::Stress, |row| Some(row.stress)),
            numbers(rows, units, "limit", Dimension::Stress, |row| row.limit),
            share(rows, Effect::share),
        ],
    }
}
