//! The answer to a comparison: chosen numbers with differences to the first model, and the findings that changed.

use super::{AskedOutcome, Judged, Met, StudyAnswer};
use crate::fit::{Item, Value};
use crate::table::{Cell, Column, Table};
use crate::units::{Measure, Units};
use kin_core::checks::Verdict;

/// One model with what was asked of it.
#[derive(Debug, Clone)]
pub struct Compared {
    /// What the user calls it.
    pub name: String,
    /// What was found, or why nothing could be.
    pub judged: Result<Judged, String>,
    /// Half the track at ride height (mm); a corner's.
    pub half_track: Option<f64>,
    /// Travel at which it was looked at as ride height (mm), counted from its pickups as measured.
    pub ride_travel: Option<f64>,
}

/// Decimals of numbers of every kind in one column.
const DECIMALS: usize = 4;

/// A number of every model, by name.
struct Line {
    name: String,
    measure: Measure,
    values: Vec<Option<f64>>,
}

/// The comparison of models, the first being what the others are compared with.
///
/// * `kept`: what was kept alike, in words
#[must_use]
pub fn comparison(units: &Units, models: &[Compared], outcomes: &[AskedOutcome], kept: &str) -> StudyAnswer {
    let names: Vec<String> = models.iter().map(|model| model.name.clone()).collect();
    let title = format!("Comparison: {}", crate::explain::joined(&names, "and"));
    let lines = lines(models, outcomes);
    let mut answer = StudyAnswer::new("compare", title, *units);
    for other in models.iter().skip(1) {
        if let Some(first) = models.first() {
            answer = answer.says(change_words(first, other, units));
        }
    }
    for model in models {
        if let Err(reason) = &model.judged {
            answer = answer.says(format!("{} could not be judged: {reason}", model.name));
        }
    }
    answer = answer.says(kept);
    answer = answer.table(
        "comparison",
        "At ride height where no place is named; differences to the first",
        table(units, models, &lines),
    );
    let changed = changed(units, models);
    if changed.rows() > 0 {
        answer = answer.table("changed", "Findings that change", changed);
    }
    for (place, model) in models.iter().enumerate() {
        answer.items.push(item(model, place, &lines));
    }
    answer
}

/// What changes from the first model to another, in a sentence.
fn change_words(first: &Compared, other: &Compared, units: &Units) -> String {
    let (Ok(before), Ok(after)) = (&first.judged, &other.judged) else {
        return format!("{} and {} cannot be compared.", first.name, other.name);
    };
    let pairs = changes(before, after);
    if pairs.is_empty() {
        return format!(
            "From {} to {} no finding changes: {} before and after.",
            first.name,
            other.name,
            after.verdict()
        );
    }
    let worse: Vec<String> = pairs
        .iter()
        .filter(|(old, new)| new.verdict > old.verdict)
        .map(|(_, new)| new.words(units))
        .collect();
    let better = pairs.len() - worse.len();
    let verb = |findings: usize, rest: &str| {
        let get = if findings == 1 { "gets" } else { "get" };
        format!("{} {get} {rest}", counted(findings))
    };
    let change = if worse.is_empty() {
        format!("{} and none gets worse", verb(better, "better"))
    } else {
        format!(
            "{}: {}; {}",
            verb(worse.len(), "worse"),
            worse.join("; "),
            verb(better, "better")
        )
    };
    format!("From {} to {} {change}.", first.name, other.name)
}

fn counted(findings: usize) -> String {
    match findings {
        0 => "no findings".to_owned(),
        1 => "1 finding".to_owned(),
        more => format!("{more} findings"),
    }
}

/// Limits that both have and whose verdict differs.
fn changes<'a>(before: &'a Judged, after: &'a Judged) -> Vec<(&'a Met, &'a Met)> {
    let pair = |old: &'a Met| {
        let new = after.limits.iter().find(|new| new.subject == old.subject)?;
        (new.verdict != old.verdict).then_some((old, new))
    };
    before.limits.iter().filter_map(pair).collect()
}

fn lines(models: &[Compared], outcomes: &[AskedOutcome]) -> Vec<Line> {
    let mut lines: Vec<Line> = outcomes
        .iter()
        .enumerate()
        .map(|(place, asked)| Line {
            name: asked.name.clone(),
            measure: asked.measure,
            values: models
                .iter()
                .map(|model| {
                    model
                        .judged
                        .as_ref()
                        .ok()?
                        .values
                        .get(place)?
                        .as_ref()
                        .ok()
                        .copied()
                })
                .collect(),
        })
        .collect();
    for (name, value) in [
        (
            "half track",
            (|model: &Compared| model.half_track) as fn(&Compared) -> Option<f64>,
        ),
        ("ride height, from the pickups as measured", |model| {
            model.ride_travel
        }),
    ] {
        lines.push(Line {
            name: name.to_owned(),
            measure: Measure::LENGTH,
            values: models.iter().map(value).collect(),
        });
    }
    // What none of them has, such as a wheel rate without a spring, is not asked about.
    lines.retain(|line| line.values.iter().any(Option::is_some));
    lines
}

fn table(units: &Units, models: &[Compared], lines: &[Line]) -> Table {
    let texts = |name: &str, cells: Vec<String>| Column {
        name: name.to_owned(),
        decimals: 0,
        cells: cells.into_iter().map(Cell::Text).collect(),
    };
    let mut columns = vec![
        texts("number", lines.iter().map(|line| line.name.clone()).collect()),
        texts(
            "unit",
            lines.iter().map(|line| units.symbol(line.measure)).collect(),
        ),
    ];
    let shown = |line: &Line, place: usize| {
        let value = line.values.get(place).copied().flatten();
        value.map(|value| units.from_core(value, line.measure))
    };
    for (place, model) in models.iter().enumerate() {
        columns.push(Column {
            name: model.name.replace(' ', "_"),
            decimals: DECIMALS,
            cells: lines.iter().map(|line| Cell::from(shown(line, place))).collect(),
        });
        if place > 0 {
            let difference = |line: &Line| Some(shown(line, place)? - shown(line, 0)?);
            columns.push(Column {
                name: format!("{}_difference", model.name.replace(' ', "_")),
                decimals: DECIMALS,
                cells: lines.iter().map(|line| Cell::from(difference(line))).collect(),
            });
        }
    }
    Table { columns }
}

fn changed(units: &Units, models: &[Compared]) -> Table {
    let mut rows: Vec<[String; 4]> = Vec::new();
    if let Some((first, others)) = models.split_first()
        && let Ok(before) = &first.judged
    {
        for other in others {
            let Ok(after) = &other.judged else { continue };
            for (old, new) in changes(before, after) {
                rows.push([
                    other.name.clone(),
                    format!("{} -> {}", old.verdict, new.verdict),
                    old.words(units),
                    new.words(units),
                ]);
            }
        }
    }
    let column = |place: usize, name: &str| Column {
        name: name.to_owned(),
        decimals: 0,
        cells: rows.iter().map(|row| Cell::Text(row[place].clone())).collect(),
    };
    Table {
        columns: vec![
            column(0, "with"),
            column(1, "verdict"),
            column(2, "before"),
            column(3, "after"),
        ],
    }
}

/// What a script reads of one model.
fn item(model: &Compared, place: usize, lines: &[Line]) -> Item {
    let verdict = model
        .judged
        .as_ref()
        .map_or("no answer", |judged| judged.verdict().word());
    let failing = model.judged.as_ref().map_or(0, |judged| {
        judged
            .limits
            .iter()
            .filter(|met| met.verdict == Verdict::Fails)
            .count()
    });
    let values = lines
        .iter()
        .filter_map(|line| {
            let value = line.values.get(place).copied().flatten()?;
            let dimension = line.measure.dimension;
            let value = if line.measure.per_travel {
                Value::PerTravel(value, dimension)
            } else {
                Value::Quantity(value, dimension)
            };
            Some((line.name.clone(), value))
        })
        .collect();
    Item::new(&model.name)
        .text("verdict", "verdict", verdict)
        .with("failing", "findings that fail", Value::Count(failing as i64))
        .with("values", "", Value::Named(values))
}
