//! The tables of a calibration.

use super::Calibrated;
use super::answer::{Verdict, share_that_holds};
use super::moved::moved;
use crate::study::AskedOutcome;
use crate::study::search::{number_column, text_column};
use crate::table::Table;
use crate::units::{Measure, Units};

/// Numbers in the table of what moved.
const MOST_MOVED: usize = 12;

/// The unit of all readings, where they have one in common.
fn common_unit(calibrated: &Calibrated, units: &Units) -> Option<String> {
    let mut symbols = calibrated
        .asked
        .readings
        .iter()
        .map(|words| units.symbol(words.measure));
    let first = symbols.next()?;
    symbols.all(|symbol| symbol == first).then_some(first)
}

pub(super) fn readings_caption(calibrated: &Calibrated, units: &Units) -> String {
    let unit = common_unit(calibrated, units).filter(|unit| !unit.is_empty());
    let unit = unit.map_or_else(String::new, |unit| format!(" in {unit}"));
    format!(
        "Readings{unit}; `residual` is read less fitted, and beyond 3 `normalised` it does not agree with the rest"
    )
}

pub(super) fn readings_table(calibrated: &Calibrated, units: &Units) -> Table {
    let ends = || calibrated.found.readings.iter().zip(&calibrated.asked.readings);
    let readings = || {
        calibrated
            .asked
            .question
            .readings
            .iter()
            .zip(&calibrated.asked.readings)
    };
    let core = |value: f64, measure: Measure| Some(units.from_core(value, measure));
    let mut columns = vec![text_column(
        "reading",
        readings().map(|(reading, _)| reading.name.clone()),
    )];
    if common_unit(calibrated, units).is_none() {
        columns.push(text_column(
            "unit",
            readings().map(|(_, words)| units.symbol(words.measure)),
        ));
    }
    columns.extend([
        number_column(
            "read",
            2,
            readings().map(|(reading, words)| core(reading.value, words.measure)),
        ),
        number_column(
            "survey",
            2,
            ends().map(|(end, words)| core(end.before, words.measure)),
        ),
        number_column(
            "fitted",
            2,
            ends().map(|(end, words)| core(end.after, words.measure)),
        ),
        number_column(
            "residual",
            3,
            ends().map(|(end, words)| core(end.residual, words.measure)),
        ),
        number_column(
            "error",
            3,
            ends().map(|(end, words)| core(end.deviation, words.measure)),
        ),
        number_column("normalised", 1, ends().map(|(end, _)| end.normalised)),
    ]);
    Table { columns }
}

pub(super) fn moved_table(calibrated: &Calibrated, units: &Units) -> Table {
    let mut all = moved(calibrated, units);
    all.truncate(MOST_MOVED);
    let columns = vec![
        text_column("number", all.iter().map(|one| one.name.clone())),
        text_column("unit", all.iter().map(|one| one.symbol.clone())),
        number_column("change", 3, all.iter().map(|one| Some(one.change))),
        number_column("in_deviations", 2, all.iter().map(|one| Some(one.share))),
        number_column("deviation_before", 3, all.iter().map(|one| Some(one.before))),
        number_column("deviation_now", 3, all.iter().map(|one| Some(one.after))),
    ];
    Table { columns }
}

/// An outcome, what it is from, and its value with its standard deviation (core units).
type OutcomeRow<'a> = (&'a AskedOutcome, &'static str, Option<(f64, f64)>);

/// Two rows for each outcome: from the survey alone, and with the readings.
pub(super) fn outcome_table(verdicts: &[Verdict<'_>], units: &Units) -> Table {
    let rows: Vec<OutcomeRow<'_>> = verdicts
        .iter()
        .flat_map(|verdict| {
            [
                (verdict.asked, "survey", verdict.before),
                (verdict.asked, "with readings", verdict.after),
            ]
        })
        .collect();
    let shown = |value: f64, asked: &AskedOutcome| units.from_core(value, asked.measure);
    let mut columns = vec![
        text_column("outcome", rows.iter().map(|(asked, ..)| asked.name.clone())),
        text_column("from", rows.iter().map(|(_, from, _)| (*from).to_owned())),
        text_column("unit", rows.iter().map(|(asked, ..)| units.symbol(asked.measure))),
        number_column(
            "value",
            3,
            rows.iter()
                .map(|(asked, _, end)| end.map(|end| shown(end.0, asked))),
        ),
        number_column(
            "deviation",
            3,
            rows.iter()
                .map(|(asked, _, end)| end.map(|end| shown(end.1, asked))),
        ),
    ];
    if verdicts.iter().any(|verdict| verdict.asked.has_limit()) {
        let shares = rows
            .iter()
            .map(|(asked, _, end)| Some(100.0 * share_that_holds(asked, (*end)?)?));
        columns.push(number_column("holds_percent", 1, shares));
    }
    Table { columns }
}

pub(super) fn candidate_table(calibrated: &Calibrated) -> Table {
    let ends = || calibrated.ends.iter();
    let found = |end: &kin_core::study::calibration::AlternativeEnd| end.calibration.as_ref().ok().cloned();
    let columns = vec![
        text_column(
            "candidate",
            calibrated.asked.candidates.iter().map(|one| one.name.clone()),
        ),
        number_column(
            "chi_square",
            1,
            ends().map(|end| found(end).map(|fit| fit.chi_square)),
        ),
        number_column(
            "explained_percent",
            1,
            ends().map(|end| found(end).map(|fit| 100.0 * fit.chance)),
        ),
        number_column("probable_percent", 1, ends().map(|end| Some(100.0 * end.share))),
    ];
    Table { columns }
}
