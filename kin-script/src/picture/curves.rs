//! Curves of one or several sweeps as a figure, a panel for each reading.

use super::stroke_zones::{axle_stroke_zones, stroke_zones};
use crate::explain::joined;
use crate::host::ScriptError;
use crate::model::Suspension;
use crate::readings::Reading;
use crate::sheet::plot::{Axis, Emphasis, Figure, Limit, LimitKind, Panel, Series};
use crate::sweep::{Sweep, Variable};
use crate::table::fixed;
use crate::units::{LengthUnit, Measure, Units};
use crate::vocabulary::core_error;
use kin_core::Dimension;

/// Panels that one figure holds at most.
const MOST_PANELS: usize = 6;
/// Curves that one panel holds at most: more cannot be told apart.
const MOST_CURVES: usize = 8;

/// A figure of the named readings.
///
/// * `runs`: sweeps with the names they are given in the figure; all along the same variable, in the same units
///
/// # Errors
/// Unknown readings, sweeps that do not go together, and readings that exist nowhere along them.
pub fn curves(title: &str, runs: &[(String, &Sweep)], names: &[String]) -> Result<Figure, ScriptError> {
    let Some((_, first)) = runs.first() else {
        return Err(ScriptError::new("there is no sweep to plot"));
    };
    if names.is_empty() || names.len() > MOST_PANELS {
        return Err(ScriptError::new(format!(
            "a figure has 1 to {MOST_PANELS} panels, {} asked",
            names.len()
        )));
    }
    let units = first.model.units;
    if runs
        .iter()
        .any(|(_, run)| run.varied != first.varied || run.model.units != units)
    {
        return Err(ScriptError::new(
            "the sweeps do not go on one picture: they vary different things, or in other units",
        )
        .with_help("sweep them all along the same variable, and describe the models in the same unit"));
    }
    let Some(&variable) = first.varied.last() else {
        return Err(
            ScriptError::new("the sweep varies nothing").with_help("give a list, such as steps(-50, 75, 5)")
        );
    };
    let (words, low, high) = variable.words();
    let mut figure = Figure {
        title: title.to_owned(),
        x: Axis::new(words, units.symbol(variable.measure())).with_words(low, high),
        ..Figure::default()
    };
    for name in names {
        figure.panels.push(panel(runs, name, &units)?);
    }
    if let Some(ride) = ride_place(runs, variable, &units)? {
        figure.limits.push(Limit {
            at: ride,
            label: "ride height".into(),
            kind: LimitKind::Reference,
        });
    }
    let titles: Vec<String> = runs
        .iter()
        .map(|(name, _)| name.clone())
        .filter(|name| !name.is_empty())
        .collect();
    figure.description = format!(
        "{} against {}{}",
        readings_in_words(&figure.panels),
        words.to_lowercase(),
        if titles.is_empty() {
            String::new()
        } else {
            format!("; curves: {}", titles.join(", "))
        }
    );
    Ok(figure)
}

/// What the panels show, as the beginning of a sentence: "Damper length, motion ratio and camber".
fn readings_in_words(panels: &[Panel]) -> String {
    let mut names: Vec<String> = Vec::new();
    for panel in panels {
        // What a reading is made of stands on its axis.
        let title = panel.y.name.split(" (").next().unwrap_or_default();
        let name = match names.is_empty() {
            true => title.to_owned(),
            false => title
                .chars()
                .enumerate()
                .flat_map(|(place, letter)| match place {
                    0 => letter.to_lowercase().collect::<Vec<_>>(),
                    _ => vec![letter],
                })
                .collect(),
        };
        names.push(name);
    }
    joined(&names, "and")
}

fn panel(runs: &[(String, &Sweep)], name: &str, units: &Units) -> Result<Panel, ScriptError> {
    let mut panel: Option<(Reading, Panel)> = None;
    for (place, (label, run)) in runs.iter().enumerate() {
        let reading = run.reading(name)?;
        let (_, panel) = panel.get_or_insert_with(|| {
            let (low, high) = reading.sign_words();
            let mut axis = Axis::new(reading.title(), units.symbol(reading.measure()));
            axis.low_words = (!low.is_empty()).then(|| low.to_owned());
            axis.high_words = (!high.is_empty()).then(|| high.to_owned());
            axis.least_span = least_span(reading.measure(), units);
            (reading, Panel::new(axis))
        });
        let looks_by_run = runs.len() > 1;
        for (place_inside, (inner, points)) in grouped(run, reading)?.into_iter().enumerate() {
            let name = match (label.is_empty(), inner.is_empty()) {
                (false, false) => format!("{label}, {inner}"),
                _ => format!("{label}{inner}"),
            };
            let look = if looks_by_run { place } else { place_inside };
            panel.series.push(Series {
                look: Some(look),
                emphasis: if place == 0 {
                    Emphasis::Strong
                } else {
                    Emphasis::Normal
                },
                end_values: looks_by_run || inner.is_empty(),
                ..Series::new(name, points)
            });
        }
    }
    let Some((reading, mut panel)) = panel else {
        return Err(ScriptError::new("there is no sweep to plot"));
    };
    if panel.series.len() > MOST_CURVES {
        return Err(ScriptError::new(format!(
            "{} curves in one panel cannot be told apart; at most {MOST_CURVES}",
            panel.series.len()
        ))
        .with_help("plot fewer sweeps, or a grid with fewer values of its first variable"));
    }
    if panel
        .series
        .iter()
        .all(|series| series.points.iter().all(|point| !point.1.is_finite()))
    {
        return Err(
            ScriptError::new(format!("`{name}` has no value anywhere along the sweep"))
                .with_help("does the model have the part it needs, such as a coilover or a spring?"),
        );
    }
    if let Some((_, run)) = runs.first() {
        panel.bands = match &*run.suspension {
            Suspension::Corner(corner) => stroke_zones(corner.pickups(), reading, units),
            Suspension::Axle(axle) => axle_stroke_zones(axle.pickups(), reading, units),
        };
    }
    Ok(panel)
}

/// A name, which may be empty, and the points of a curve.
type NamedCurve = (String, Vec<(f64, f64)>);

/// The curve of a sweep, or one curve for each value of a grid's first variable.
fn grouped(run: &Sweep, reading: Reading) -> Result<Vec<NamedCurve>, ScriptError> {
    let values = run.values(reading)?;
    let inner = run.variable_values(run.varied.len().saturating_sub(1));
    let points = inner.iter().zip(values).map(|(x, y)| (*x, y.unwrap_or(f64::NAN)));
    if run.varied.len() < 2 {
        let mut points: Vec<(f64, f64)> = points.collect();
        in_order(&mut points);
        return Ok(vec![(String::new(), points)]);
    }
    let units = run.model.units;
    let variable = run.varied.first().copied().unwrap_or(Variable::Travel);
    let outers = run.variable_values(0);
    let decimals = match units.length {
        _ if outers.iter().all(|outer| outer.fract() == 0.0) => 0,
        LengthUnit::Inch => 2,
        LengthUnit::Millimetre => 1,
    };
    let mut groups: Vec<NamedCurve> = Vec::new();
    let mut before = None;
    for (outer, point) in outers.into_iter().zip(points) {
        match groups.last_mut() {
            Some((_, points)) if before == Some(outer) => points.push(point),
            _ => {
                let label = format!(
                    "{} {} {}",
                    variable.key().replace('_', " "),
                    fixed(outer, decimals).replace('-', "\u{2212}"),
                    units.symbol(variable.measure())
                );
                groups.push((label, vec![point]));
            }
        }
        before = Some(outer);
    }
    groups.iter_mut().for_each(|(_, points)| in_order(points));
    Ok(groups)
}

/// A curve is joined along its axis, whatever order its positions were asked in.
fn in_order(points: &mut [(f64, f64)]) {
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
}

/// A span below which a curve counts as flat, so that round-off is not blown up to fill the panel.
fn least_span(measure: Measure, units: &Units) -> f64 {
    let core = match measure.dimension {
        Dimension::Length => 1.0,
        Dimension::Angle => 0.1_f64.to_radians(),
        Dimension::Ratio => 0.01,
        Dimension::Rate => 0.1,
        _ => 1e-3,
    };
    units.from_core(if measure.per_travel { core / 100.0 } else { core }, measure)
}

/// Where ride height lies on the travel axis, when all sweeps agree on it.
pub(super) fn ride_place(
    runs: &[(String, &Sweep)],
    variable: Variable,
    units: &Units,
) -> Result<Option<f64>, ScriptError> {
    if variable == Variable::Bump {
        return Ok(Some(0.0));
    }
    if variable != Variable::Travel {
        return Ok(None);
    }
    let mut common: Option<f64> = None;
    for (_, run) in runs {
        let ride = run.suspension.ride_travel();
        let ride = units.from_core(ride.map_err(|error| core_error(&error, units))?, Measure::LENGTH);
        if common.is_some_and(|other| (other - ride).abs() > 1e-9) {
            return Ok(None);
        }
        common = Some(ride);
    }
    Ok(common)
}
