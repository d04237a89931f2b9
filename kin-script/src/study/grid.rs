//! The answer to a grid over one or two numbers: a table, and curves or maps with the region that holds.

use super::choices::{chosen_columns, outcome_column};
use super::{AskedOutcome, Judged, Met, Options, Row, StudyAnswer, StudyPicture, how_compared};
use crate::fit::{Item, Value};
use crate::host::ScriptError;
use crate::sheet::contour::ContourMap;
use crate::sheet::plot::{Axis, Band, BandKind, Emphasis, Figure, Limit, LimitKind, Panel, Series};
use crate::table::{Cell, Column, Table};
use crate::units::Units;
use indexmap::IndexMap;
use kin_core::checks::Verdict;

/// Names of the pictures: a map or panel for each outcome, in their order.
const MAPS: [&str; 6] = ["map", "map_2", "map_3", "map_4", "map_5", "map_6"];

/// What a line between the places of a grid is worth.
const BETWEEN_PLACES: &str = "Between the places that were worked out, each limit is taken to change evenly, and so is drawn the \
    line where all just hold: where it matters, ask for finer steps.";

/// The study of a grid.
///
/// * `rows`: those that were looked at, in the order of their combinations
///
/// # Errors
/// More than two numbers, and options that are no rising numbers.
pub fn grid_answer(
    title: &str,
    units: &Units,
    options: &Options,
    outcomes: &[AskedOutcome],
    rows: &[Row],
) -> Result<StudyAnswer, ScriptError> {
    let places = rising(options)?;
    let limited = rows
        .iter()
        .any(|row| row.result.as_ref().is_ok_and(|judged| judged.worst().is_some()));
    let mut answer = StudyAnswer::new("grid", format!("Grid: {title}"), *units);
    answer = statements(answer, options, rows, limited);
    let holding = rows.iter().filter(|row| limited && holds(row)).count();
    answer.items.push(
        Item::new("")
            .with("variants", "places looked at", Value::Count(rows.len() as i64))
            .with("holding", "where every limit holds", Value::Count(holding as i64)),
    );
    answer = answer.table(
        "grid",
        "Every place",
        table(units, options, outcomes, rows, limited),
    );
    answer.pictures = match places.as_slice() {
        [xs] => figure(&answer.title, units, options, outcomes, rows, xs, limited)
            .map(|figure| ("curves", StudyPicture::Curves(figure)))
            .into_iter()
            .collect(),
        [xs, ys] => maps(&answer.title, units, options, outcomes, rows, (xs, ys), limited),
        _ => Vec::new(),
    };
    let is_drawn = !answer.pictures.is_empty();
    answer
        .tables
        .iter_mut()
        .for_each(|table| table.is_drawn = is_drawn);
    Ok(answer)
}

/// Whether a grid can go over these options.
///
/// # Errors
/// More than two numbers, and options that are no rising numbers.
pub fn check_grid(options: &Options) -> Result<(), ScriptError> {
    rising(options).map(|_| ())
}

/// The numbers of each option.
fn rising(options: &Options) -> Result<Vec<Vec<f64>>, ScriptError> {
    if options.0.len() > 2 {
        return Err(ScriptError::new("a grid goes over one or two numbers")
            .with_help("use `choices` for more, or fix the others in the model")
            .with_key("over"));
    }
    options
        .0
        .iter()
        .map(|option| {
            let rises =
                |numbers: &Vec<f64>| numbers.len() > 1 && numbers.windows(2).all(|pair| pair[0] < pair[1]);
            option.numbers().filter(rises).ok_or_else(|| {
                ScriptError::new(format!(
                    "a grid goes over rising numbers, and `{}` holds something else",
                    option.name
                ))
                .with_help("such as steps(80, 200, 10); use `choices` for parts and points")
                .with_key(option.name.as_str())
            })
        })
        .collect()
}

fn holds(row: &Row) -> bool {
    row.result
        .as_ref()
        .is_ok_and(|judged| judged.verdict() != Verdict::Fails)
}

fn worst_share(row: &Row) -> Option<f64> {
    row.result.as_ref().ok().and_then(Judged::worst).map(signed_share)
}

/// What is left to a limit, below zero where it fails and only there.
fn signed_share(met: &Met) -> f64 {
    if met.verdict == Verdict::Fails {
        met.share.min(-f64::MIN_POSITIVE)
    } else {
        met.share.max(0.0)
    }
}

/// What is left to each limit in every row. A row that does not have a limit which others have, since it is said only where it
/// matters, does not fail it: it has the room of its worst one there, if that is any. A row that could not be judged has none.
fn limit_layers(rows: &[Row]) -> Vec<Vec<Option<f64>>> {
    let mut layers: IndexMap<(&str, usize), Vec<Option<f64>>> = IndexMap::new();
    let room = |row: &Row| worst_share(row).map(|share| share.max(0.0));
    let rest: Vec<Option<f64>> = rows.iter().map(room).collect();
    for (place, row) in rows.iter().enumerate() {
        let mut met_before: IndexMap<&str, usize> = IndexMap::new();
        for met in row.result.iter().flat_map(|judged| &judged.limits) {
            let count = met_before.entry(&met.subject).or_insert(0);
            let layer = layers
                .entry((&met.subject, *count))
                .or_insert_with(|| rest.clone());
            layer[place] = Some(signed_share(met));
            *count += 1;
        }
    }
    layers.into_values().collect()
}

fn statements(answer: StudyAnswer, options: &Options, rows: &[Row], limited: bool) -> StudyAnswer {
    let mut answer = answer;
    let unjudged = rows.iter().filter(|row| row.result.is_err()).count();
    if limited {
        let holding = rows.iter().filter(|row| holds(row)).count();
        let best = rows
            .iter()
            .filter_map(|row| Some((row, worst_share(row)?)))
            .max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.combination.cmp(&a.0.combination)));
        let best = best.map_or(String::new(), |(row, share)| {
            format!(
                " The most room is at {}, with {} % of what is asked.",
                options.words(row.combination),
                crate::table::fixed(100.0 * share, 0)
            )
        });
        answer = answer.says(format!(
            "Every limit holds at {holding} of {} places.{best}",
            rows.len()
        ));
        let compared = how_compared(&answer.units);
        answer = answer.says(compared);
        answer = answer.says(BETWEEN_PLACES);
    }
    if unjudged > 0 {
        answer = answer.says(format!(
            "{unjudged} of {} places could not be judged; the table says why.",
            rows.len()
        ));
    }
    answer
}

fn table(units: &Units, options: &Options, outcomes: &[AskedOutcome], rows: &[Row], limited: bool) -> Table {
    // A grid has no order but its own: the number in front is left out.
    let mut columns: Vec<Column> = chosen_columns(options, rows, false).into_iter().skip(1).collect();
    for (place, asked) in outcomes.iter().enumerate() {
        columns.push(outcome_column(
            units,
            asked,
            rows.iter().map(|row| row.value(place)),
        ));
    }
    let failed = rows.iter().any(|row| row.result.is_err());
    if limited || failed {
        let verdict = |row: &Row| match &row.result {
            Ok(judged) => Cell::Text(judged.verdict().word().to_owned()),
            Err(_) => Cell::Text("no answer".to_owned()),
        };
        let why = |row: &Row| match &row.result {
            Ok(judged) => Cell::Text(judged.worst().map_or(String::new(), |worst| worst.words(units))),
            Err(reason) => Cell::Text(reason.clone()),
        };
        let column = |name: &str, cells: Vec<Cell>| Column {
            name: name.to_owned(),
            decimals: 0,
            cells,
        };
        columns.push(column("verdict", rows.iter().map(verdict).collect()));
        columns.push(column("decided_by", rows.iter().map(why).collect()));
    }
    Table { columns }
}

fn axis(options: &Options, place: usize) -> Axis {
    options.0.get(place).map_or_else(Axis::default, |option| {
        Axis::new(option.title.clone(), option.unit.clone())
    })
}

/// A panel for each outcome over the one number.
fn figure(
    title: &str,
    units: &Units,
    options: &Options,
    outcomes: &[AskedOutcome],
    rows: &[Row],
    xs: &[f64],
    limited: bool,
) -> Option<Figure> {
    let mut figure = Figure {
        title: title.to_owned(),
        x: axis(options, 0),
        ..Figure::default()
    };
    for (place, asked) in outcomes.iter().take(MAPS.len()).enumerate() {
        let shown = |value: f64| units.from_core(value, asked.measure);
        let points: Vec<(f64, f64)> = rows
            .iter()
            .filter_map(|row| Some((*xs.get(row.combination)?, shown(row.value(place)?))))
            .collect();
        if points.is_empty() {
            continue;
        }
        let mut panel = Panel::new(Axis::new(asked.name.clone(), units.symbol(asked.measure)));
        for (limit, words) in [(asked.at_least, "at least"), (asked.at_most, "at most")] {
            if let Some(limit) = limit.map(shown) {
                panel.limits.push(Limit {
                    at: limit,
                    label: format!("{words} {}", super::options::shown(limit)),
                    kind: LimitKind::Stop,
                });
            }
        }
        panel.series.push(Series {
            emphasis: Emphasis::Strong,
            end_values: true,
            ..Series::new("", points)
        });
        figure.panels.push(panel);
    }
    if limited {
        figure.bands = holding_bands(rows, xs);
    }
    (!figure.panels.is_empty()).then_some(figure)
}

/// The stretches where every limit holds, each taken to change evenly from place to place.
fn holding_bands(rows: &[Row], xs: &[f64]) -> Vec<Band> {
    let layers = limit_layers(rows);
    let mut bands: Vec<(f64, f64)> = Vec::new();
    for (place, pair) in rows.windows(2).enumerate() {
        let ends = pair.iter().map(|row| xs.get(row.combination).copied());
        let [Some(from), Some(to)] = ends.collect::<Vec<_>>()[..] else {
            continue;
        };
        let margins = |layer: &Vec<Option<f64>>| {
            let at = |place: usize| layer.get(place).copied().flatten();
            Some((at(place)?, at(place + 1)?))
        };
        let stretch = layers.iter().try_fold((from, to), |(low, high), layer| {
            let (before, after) = margins(layer)?;
            let crossing = from + (to - from) * before / (before - after);
            match (before >= 0.0, after >= 0.0) {
                (true, true) => Some((low, high)),
                (true, false) => Some((low, high.min(crossing))),
                (false, true) => Some((low.max(crossing), high)),
                (false, false) => None,
            }
        });
        let Some((low, high)) = stretch.filter(|(low, high)| low < high) else {
            continue;
        };
        match bands.last_mut() {
            Some(last) if last.1 >= low => last.1 = high,
            _ => bands.push((low, high)),
        }
    }
    bands
        .into_iter()
        .map(|(from, to)| Band {
            from,
            to,
            label: "all limits hold".to_owned(),
            kind: BandKind::Wanted,
        })
        .collect()
}

/// A map for each outcome; with limits alone, one of the worst margin.
fn maps(
    title: &str,
    units: &Units,
    options: &Options,
    outcomes: &[AskedOutcome],
    rows: &[Row],
    (xs, ys): (&[f64], &[f64]),
    limited: bool,
) -> Vec<(&'static str, StudyPicture)> {
    // The last option runs fastest; the map has the first one across.
    let on_map = |read: &dyn Fn(usize, &Row) -> Option<f64>| {
        let mut values = vec![None; xs.len() * ys.len()];
        for (place, row) in rows.iter().enumerate() {
            let (column, line) = (row.combination / ys.len(), row.combination % ys.len());
            if let Some(value) = values.get_mut(line * xs.len() + column) {
                *value = read(place, row);
            }
        }
        values
    };
    let margins: Vec<Vec<Option<f64>>> = if limited { limit_layers(rows) } else { Vec::new() };
    let margins: Vec<Vec<Option<f64>>> = margins
        .iter()
        .map(|layer| on_map(&|place, _| layer.get(place).copied().flatten()))
        .collect();
    let map = |z: Axis, values: Vec<Option<f64>>| ContourMap {
        title: title.to_owned(),
        description: format!(
            "{} over {} and {}.",
            z.name,
            axis(options, 0).name,
            axis(options, 1).name
        ),
        x: axis(options, 0),
        y: axis(options, 1),
        z,
        xs: xs.to_vec(),
        ys: ys.to_vec(),
        values,
        margins: margins.clone(),
    };
    if outcomes.is_empty() && limited {
        let percent = on_map(&|_, row| worst_share(row).map(|share| 100.0 * share));
        let z = Axis::new("Worst margin", "% of what is asked");
        return vec![(MAPS[0], StudyPicture::Map(map(z, percent)))];
    }
    outcomes
        .iter()
        .enumerate()
        .zip(MAPS)
        .map(|((place, asked), name)| {
            let shown = |_, row: &Row| {
                row.value(place)
                    .map(|value| units.from_core(value, asked.measure))
            };
            let z = Axis::new(asked.name.clone(), units.symbol(asked.measure));
            (name, StudyPicture::Map(map(z, on_map(&shown))))
        })
        .collect()
}
