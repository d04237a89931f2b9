//! What a calibration came to.

use super::Calibrated;
use super::pictures;
use super::tables::{candidate_table, moved_table, outcome_table, readings_caption, readings_table};
use super::words::{agreement_words, candidate_words, moved_words, verdict_words, worst_words, zero_words};
use crate::fit::{Entry, Item, Value};
use crate::model::Model;
use crate::study::changes::changed_model;
use crate::study::{AskedOutcome, NamedTable, Source, StudyAnswer};
use crate::table::Table;
use crate::units::Units;
use kin_core::study::Subject;
use kin_core::study::calibration::below_normal;

/// Errors of the stated size make the chi-square larger than this in one case of a hundred: beyond, the readings and the survey
/// are said not to agree.
const AGREES_FROM: f64 = 0.01;
/// An outcome before and after: value and standard deviation, core units.
pub(super) struct Verdict<'a> {
    pub(super) asked: &'a AskedOutcome,
    pub(super) before: Option<(f64, f64)>,
    pub(super) after: Option<(f64, f64)>,
}

pub(super) fn answer(model: &Model, described: &Subject, calibrated: &Calibrated) -> StudyAnswer {
    let units = model.units;
    let verdicts = verdicts(calibrated);
    let mut answer = StudyAnswer::new("calibrate", format!("Calibration: {}", model.title), units);
    answer.statements.extend(candidate_words(calibrated));
    answer.statements.push(agreement_words(calibrated));
    answer.statements.extend(worst_words(calibrated, &units));
    answer.statements.extend(moved_words(calibrated, &units));
    answer.statements.extend(zero_words(calibrated, &units));
    answer.statements.extend(
        verdicts
            .iter()
            .filter_map(|verdict| verdict_words(verdict, &units)),
    );
    answer.items = items(calibrated, &verdicts, &units);
    let mut table = |name, caption: &str, table: Table| {
        answer.tables.push(NamedTable {
            name,
            caption: caption.to_owned(),
            table,
            is_drawn: false,
        });
    };
    table(
        "readings",
        &readings_caption(calibrated, &units),
        readings_table(calibrated, &units),
    );
    table(
        "moved",
        "What moved most, in standard deviations of its survey",
        moved_table(calibrated, &units),
    );
    if !verdicts.is_empty() {
        table(
            "outcomes",
            "Outcomes with their standard deviations, before and after the readings",
            outcome_table(&verdicts, &units),
        );
    }
    if !calibrated.ends.is_empty() {
        table(
            "candidates",
            "What each candidate makes of the readings",
            candidate_table(calibrated),
        );
    }
    answer.pictures = pictures::pictures(model, calibrated);
    let changes = calibrated
        .found
        .subject
        .numbers()
        .into_iter()
        .zip(described.numbers())
        .enumerate();
    let changes: Vec<(usize, f64)> = changes
        .map(|(place, (found, was))| (place, found.value - was.value))
        .filter(|(_, change)| *change != 0.0)
        .collect();
    answer.models.push(("model", changed_model(model, &changes)));
    answer
}

fn verdicts(calibrated: &Calibrated) -> Vec<Verdict<'_>> {
    let told = calibrated.asked.outcomes.iter().filter_map(|asked| {
        let Source::Core(outcome) = &asked.source else {
            return None;
        };
        let before = kin_core::study::calibration::outcome_with_deviation(
            &calibrated.surveyed,
            calibrated.prior(),
            outcome,
        );
        Some(Verdict {
            asked,
            before: before.ok(),
            after: calibrated.found.outcome(outcome).ok(),
        })
    });
    told.collect()
}

pub(super) fn agrees(calibrated: &Calibrated) -> bool {
    calibrated.found.chance >= AGREES_FROM
}

/// The share of cases in which an outcome keeps its limits, by its normal distribution.
pub(super) fn share_that_holds(asked: &AskedOutcome, end: (f64, f64)) -> Option<f64> {
    if !asked.has_limit() {
        return None;
    }
    let (value, deviation) = end;
    let below = |limit: f64| {
        if deviation > 0.0 {
            below_normal((limit - value) / deviation)
        } else if value <= limit {
            1.0
        } else {
            0.0
        }
    };
    let high = asked.at_most.map_or(1.0, below);
    let low = asked.at_least.map_or(0.0, below);
    Some((high - low).max(0.0))
}

fn items(calibrated: &Calibrated, verdicts: &[Verdict<'_>], units: &Units) -> Vec<Item> {
    let entry = |key, value| Entry {
        key,
        label: "",
        value,
    };
    let found = &calibrated.found;
    let mut entries = vec![
        entry("agrees", Value::Truth(agrees(calibrated))),
        entry("chi_square", Value::Number(found.chi_square, 2)),
        entry("chance", Value::Number(found.chance, 4)),
    ];
    if let (Some(candidate), Some(end)) = (
        calibrated.asked.candidates.get(calibrated.chosen),
        calibrated.ends.get(calibrated.chosen),
    ) {
        entries.push(entry("candidate", Value::Text(candidate.name.clone())));
        entries.push(entry("candidate_chance", Value::Number(end.share, 4)));
    }
    let mut items = vec![Item {
        name: String::new(),
        entries,
        tables: Vec::new(),
    }];
    for verdict in verdicts {
        let measure = verdict.asked.measure;
        let number = |value: f64| Value::Number(units.from_core(value, measure), 4);
        let mut entries = Vec::new();
        for (end, keys) in [
            (verdict.before, ["before", "deviation_before", "share_before"]),
            (verdict.after, ["now", "deviation_now", "share_now"]),
        ] {
            let Some(end) = end else { continue };
            entries.push(entry(keys[0], number(end.0)));
            entries.push(entry(keys[1], number(end.1)));
            if let Some(share) = share_that_holds(verdict.asked, end) {
                entries.push(entry(keys[2], Value::Number(share, 4)));
            }
        }
        items.push(Item {
            name: verdict.asked.name.clone(),
            entries,
            tables: Vec::new(),
        });
    }
    items
}
