//! The answer to a choice: every combination with its verdict, ranked, and why each loser loses.

use super::options::decimals_needed;
use super::{AskedOutcome, Judged, Options, StudyAnswer, how_compared};
use crate::fit::{Item, Value};
use crate::table::{Cell, Column, Table};
use crate::units::Units;
use kin_core::checks::Verdict;

/// A combination that was looked at.
#[derive(Debug, Clone)]
pub struct Row {
    /// Which combination, counted from zero.
    pub combination: usize,
    /// What was found, or why it could not be judged.
    pub result: Result<Judged, String>,
}

/// The study of a choice.
///
/// * `rows`: those that were looked at, in the order of their combinations
#[must_use]
pub fn choices_answer(
    title: &str,
    units: &Units,
    options: &Options,
    outcomes: &[AskedOutcome],
    mut rows: Vec<Row>,
) -> StudyAnswer {
    let done = rows.len();
    let ranked = rows
        .iter()
        .any(|row| row.result.as_ref().is_ok_and(|judged| judged.worst().is_some()));
    if ranked {
        rows.sort_by(|a, b| {
            order(b)
                .total_cmp(&order(a))
                .then(a.combination.cmp(&b.combination))
        });
    }
    let answer = StudyAnswer::new("choices", format!("Choices: {title}"), *units);
    let answer = statements(answer, units, options, &rows, ranked);
    let unjudged = rows.iter().filter(|row| row.result.is_err()).count();
    let holding = rows.iter().filter(|row| holds(row)).count();
    let best = rows.first().filter(|row| row.result.is_ok());
    let mut item = Item::new("")
        .with("variants", "variants looked at", Value::Count(done as i64))
        .with("holding", "that meet every limit", Value::Count(holding as i64))
        .with(
            "unjudged",
            "that could not be judged",
            Value::Count(unjudged as i64),
        );
    if let Some(best) = best.filter(|_| ranked) {
        item = item.text("best", "best", options.words(best.combination));
        if let Some(worst) = best.result.as_ref().ok().and_then(Judged::worst) {
            item = item.with("best_margin", "its worst margin", Value::Share(worst.share));
        }
    }
    let mut answer = answer.table(
        "ranking",
        if ranked {
            "Best first; margins in percent of what was asked for"
        } else {
            "In the order of the options"
        },
        ranking(units, options, &rows, ranked),
    );
    answer.items.push(item);
    if !outcomes.is_empty() {
        answer = answer.table(
            "outcomes",
            "What was asked of each, in the same order",
            outcome_table(units, options, outcomes, &rows),
        );
    }
    answer
}

impl Row {
    /// An outcome (core units), by its place among those asked; none where it could not be read.
    pub(super) fn value(&self, place: usize) -> Option<f64> {
        let values = &self.result.as_ref().ok()?.values;
        values.get(place)?.as_ref().ok().copied()
    }
}

/// How many have the same worst margin as the first.
fn tied(rows: &[Row]) -> usize {
    let worst = |row: &Row| Some(row.result.as_ref().ok()?.worst()?.share);
    let first = rows.first().and_then(worst);
    let same = |row: &&Row| match (worst(row), first) {
        (Some(own), Some(first)) => (own - first).abs() <= 1e-9,
        _ => false,
    };
    rows.iter().take_while(same).count()
}

fn holds(row: &Row) -> bool {
    row.result
        .as_ref()
        .is_ok_and(|judged| judged.verdict() != Verdict::Fails)
}

/// Where a row stands: what fails lies below all that holds, what could not be judged below everything.
fn order(row: &Row) -> f64 {
    match &row.result {
        Err(_) => f64::NEG_INFINITY,
        Ok(judged) => match judged.worst() {
            None => f64::INFINITY,
            Some(worst) if worst.verdict == Verdict::Fails => worst.share.min(0.0),
            Some(worst) => worst.share.max(f64::MIN_POSITIVE),
        },
    }
}

fn statements(
    answer: StudyAnswer,
    units: &Units,
    options: &Options,
    rows: &[Row],
    ranked: bool,
) -> StudyAnswer {
    let count = rows.len();
    if !ranked {
        return answer.says(
            "No limit was asked for, so nothing is ranked: give `fit`, or outcomes with `at_least` or `at_most`.",
        );
    }
    let holding = rows.iter().filter(|row| holds(row)).count();
    let first = rows.first().and_then(|row| {
        let worst = row.result.as_ref().ok()?.worst()?;
        Some((options.words(row.combination), worst.words(units)))
    });
    let mut answer = answer;
    if let Some((words, worst)) = first {
        answer = answer.says(match holding {
            0 => format!(
                "None of {count} meets every limit. The nearest is {words}; what it misses most is {worst}."
            ),
            1 => format!("One of {count} meets every limit: {words}. Its narrowest margin: {worst}."),
            _ => format!(
                "{holding} of {count} meet every limit. Best is {words}; its narrowest margin: {worst}."
            ),
        });
    }
    let alike = tied(rows);
    if alike > 1 {
        answer = answer.says(format!(
            "{alike} of them share that narrowest margin, so the order among them says nothing: choose by something else."
        ));
    }
    let unjudged = rows.iter().filter(|row| row.result.is_err()).count();
    if unjudged > 0 {
        answer = answer.says(format!(
            "{unjudged} of {count} could not be judged; their rows stand last and say why."
        ));
    }
    answer.says(how_compared(units))
}

fn text_column(name: &str, cells: Vec<String>) -> Column {
    Column {
        name: name.to_owned(),
        decimals: 0,
        cells: cells.into_iter().map(Cell::Text).collect(),
    }
}

/// The rank and what was chosen.
pub(super) fn chosen_columns(options: &Options, rows: &[Row], ranked: bool) -> Vec<Column> {
    let mut columns = Vec::new();
    columns.push(Column {
        name: if ranked { "rank" } else { "number" }.to_owned(),
        decimals: 0,
        cells: (1..=rows.len()).map(|rank| Cell::Number(rank as f64)).collect(),
    });
    for (place, option) in options.0.iter().enumerate() {
        let cell = |row: &Row| {
            let chosen = options.places(row.combination).get(place).copied().unwrap_or(0);
            option
                .alternatives
                .get(chosen)
                .map_or(Cell::Empty, |chosen| chosen.label.clone())
        };
        columns.push(Column {
            name: option.column.clone(),
            decimals: option.numbers().map_or(0, |numbers| decimals_needed(&numbers)),
            cells: rows.iter().map(cell).collect(),
        });
    }
    columns
}

fn ranking(units: &Units, options: &Options, rows: &[Row], ranked: bool) -> Table {
    let mut columns = chosen_columns(options, rows, ranked);
    let verdict = |row: &Row| match &row.result {
        Ok(judged) => judged.verdict().word().to_owned(),
        Err(_) => "no answer".to_owned(),
    };
    columns.push(text_column("verdict", rows.iter().map(verdict).collect()));
    columns.push(Column {
        name: "margin_percent".to_owned(),
        decimals: 0,
        cells: rows
            .iter()
            .map(|row| {
                let worst = row.result.as_ref().ok().and_then(Judged::worst);
                Cell::from(worst.map(|worst| 100.0 * worst.share))
            })
            .collect(),
    });
    let why = |row: &Row| match &row.result {
        Ok(judged) => reasons(judged, units),
        Err(reason) => reason.clone(),
    };
    columns.push(text_column("decided_by", rows.iter().map(why).collect()));
    Table { columns }
}

/// What a variant fails at most and how many limits it misses besides; where nothing fails, its narrowest margin.
fn reasons(judged: &Judged, units: &Units) -> String {
    let failed = judged
        .limits
        .iter()
        .filter(|met| met.verdict == Verdict::Fails)
        .count();
    let worst = judged.worst().map_or(String::new(), |worst| worst.words(units));
    match failed {
        0 | 1 => worst,
        more => format!("{worst}; and {} more", more - 1),
    }
}

fn outcome_table(units: &Units, options: &Options, outcomes: &[AskedOutcome], rows: &[Row]) -> Table {
    let mut columns = chosen_columns(options, rows, true);
    for (place, asked) in outcomes.iter().enumerate() {
        columns.push(outcome_column(
            units,
            asked,
            rows.iter().map(|row| row.value(place)),
        ));
    }
    Table { columns }
}

/// A column of an outcome's values (core units), named after it with its unit.
pub(super) fn outcome_column(
    units: &Units,
    asked: &AskedOutcome,
    values: impl Iterator<Item = Option<f64>>,
) -> Column {
    let shown = |value: f64| units.from_core(value, asked.measure);
    Column {
        name: format!("{}{}", asked.name.replace(' ', "_"), units.suffix(asked.measure)),
        decimals: units.decimals_of(asked.measure) + 1,
        cells: values.map(|value| Cell::from(value.map(shown))).collect(),
    }
}
