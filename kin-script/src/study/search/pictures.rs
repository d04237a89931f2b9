//! Pictures of a search: the target curve before, after and in steps; the trade-off.

use super::answer::Told;
use super::asked::{CurveGoal, GoalWords};
use crate::model::Model;
use crate::sheet::plot::{Axis, Emphasis, Figure, Limit, LimitKind, Mark, Panel, Series};
use crate::study::StudyPicture;
use crate::units::Measure;
use kin_core::study::search::Goal;
use kin_core::study::{Built, Station, Subject};

/// Points of a curve.
const POINTS: usize = 41;
/// A curve is drawn this share of the targets' stretch beyond its ends.
const BEYOND: f64 = 0.1;

pub(super) fn pictures(
    told: &Told<'_>,
    model: &Model,
    subject: &Subject,
) -> Vec<(&'static str, StudyPicture)> {
    let mut pictures = Vec::new();
    let goals = told.asked.question.goals.iter().zip(&told.asked.goals);
    let panels: Vec<(Panel, (f64, f64))> = goals
        .filter_map(|(goal, words)| target_panel(told, subject, goal, words))
        .collect();
    if !panels.is_empty() {
        let mut x = Axis::new("Wheel travel from ride height", told.units.length.symbol())
            .with_words("droop", "bump");
        x.range = panels
            .iter()
            .map(|(_, range)| *range)
            .reduce(|one, other| (one.0.min(other.0), one.1.max(other.1)));
        let figure = Figure {
            title: format!("Search: {}", model.title),
            subtitle: Some("Curves before and after, with what was wanted as points".to_owned()),
            x,
            panels: panels.into_iter().map(|(panel, _)| panel).collect(),
            ..Figure::default()
        };
        pictures.push(("targets", StudyPicture::Curves(figure)));
    }
    if let Some(figure) = trade_off(told, model) {
        pictures.push(("trade_off", StudyPicture::Curves(figure)));
    }
    pictures
}

fn target_panel(
    told: &Told<'_>,
    subject: &Subject,
    goal: &Goal,
    words: &GoalWords,
) -> Option<(Panel, (f64, f64))> {
    let curve = words.curve.as_ref()?;
    let ends = curve
        .bumps
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), bump| {
            (low.min(*bump), high.max(*bump))
        });
    let beyond = BEYOND * (ends.1 - ends.0);
    let (from, to) = (ends.0 - beyond, ends.1 + beyond);
    let mut series = Vec::new();
    for (place, (name, candidate)) in told.variants().into_iter().enumerate() {
        let points = match name {
            "as described" => curve_points(told, subject, curve, words, from, to),
            _ => curve_points(
                told,
                &subject.changed(&told.changes(candidate)),
                curve,
                words,
                from,
                to,
            ),
        };
        series.push(Series {
            emphasis: if place == 0 {
                Emphasis::Quiet
            } else {
                Emphasis::Normal
            },
            look: Some(place),
            ..Series::new(name, points)
        });
    }
    let length = |bump: f64| told.units.from_core(bump, Measure::LENGTH);
    let marks = goal.points.iter().zip(&curve.bumps).map(|(point, bump)| Mark {
        at: (length(*bump), told.units.from_core(point.target, words.measure)),
        label: String::new(),
    });
    let key = capitalised(&curve.reading.info().key.replace('_', " "));
    let name = if curve.from_ride {
        format!("{key}, change from ride height")
    } else {
        key
    };
    let panel = Panel {
        series,
        marks: marks.collect(),
        ..Panel::new(Axis::new(name, told.units.symbol(words.measure)))
    };
    Some((panel, (length(from), length(to))))
}

fn curve_points(
    told: &Told<'_>,
    subject: &Subject,
    curve: &CurveGoal,
    words: &GoalWords,
    from: f64,
    to: f64,
) -> Vec<(f64, f64)> {
    let Ok(built) = subject.build() else {
        return Vec::new();
    };
    let value = |built: &Built, bump: f64| curve.reading.at(built, Station::bump(bump)).ok();
    let zero = if curve.from_ride {
        value(&built, 0.0)
    } else {
        Some(0.0)
    };
    let points = (0..POINTS).filter_map(|point| {
        let bump = from + (to - from) * point as f64 / (POINTS - 1) as f64;
        let value = value(&built, bump)? - zero?;
        Some((
            told.units.from_core(bump, Measure::LENGTH),
            told.units.from_core(value, words.measure),
        ))
    });
    points.collect()
}

fn trade_off(told: &Told<'_>, model: &Model) -> Option<Figure> {
    let [first, second] = told.asked.question.goals.as_slice() else {
        return None;
    };
    let measures: Vec<Measure> = told.asked.goals.iter().map(|words| words.measure).collect();
    let [one, other] = measures.as_slice() else {
        return None;
    };
    let shown = |deviations: &[f64; 2]| {
        (
            told.units.from_core(deviations[0], *one),
            told.units.from_core(deviations[1], *other),
        )
    };
    let points: Vec<(f64, f64)> = told
        .found
        .front
        .iter()
        .map(|point| shown(&point.deviations))
        .collect();
    if points.len() < 2 {
        return None;
    }
    let marks = points.iter().map(|at| Mark {
        at: *at,
        label: String::new(),
    });
    let mut marks: Vec<Mark> = marks.collect();
    if let Some(best) = &told.found.best {
        let deviations = [0, 1].map(|goal| best.deviation(&told.asked.question, goal));
        marks.push(Mark {
            at: shown(&deviations),
            label: "found with both weighed".to_owned(),
        });
    }
    let off = |goal: &Goal, measure: &Measure| {
        Axis::new(
            format!("Deviation from the wanted {}", goal.name),
            told.units.symbol(*measure),
        )
    };
    Some(Figure {
        title: format!("Trade-off: {}", model.title),
        subtitle: Some(
            "Left and low is better. Points: places found; none in the ranges lies further left and lower as well".to_owned(),
        ),
        x: off(first, one),
        panels: vec![Panel {
            series: vec![Series {
                emphasis: Emphasis::Strong,
                ..Series::new("", points)
            }],
            marks,
            limits: vec![Limit {
                at: 0.0,
                label: String::new(),
                kind: LimitKind::Reference,
            }],
            ..Panel::new(off(second, other))
        }],
        ..Figure::default()
    })
}

/// With a capital at its beginning.
pub(crate) fn capitalised(words: &str) -> String {
    let mut letters = words.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
