//! What stands beside a panel: names of curves and areas, lines across, and what found no room inside.

use super::canvas::Stroke;
use super::check::{ordered, panel_range};
use super::curve::{left_end, right_end};
use super::layout::{Beside, PanelPlan, fit_beside, pixel};
use super::look::{hue, stroke};
use super::margin::{Entry, Sample};
use super::model::{Envelope, Limit, LimitKind, Panel, Series};
use super::ticks::{scaled, ticks};
use crate::sheet::colour::{AXIS, Colour, INK, SOFT_INK};
use crate::sheet::text::{clean, number};

/// A part of a panel that carries a label.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Part {
    Series(usize),
    Envelope(usize),
    Limit(usize),
    Band(usize),
    Mark(usize),
}

/// Nearer to the edge than this, a curve is said to end there (CSS pixels).
const AT_EDGE: f64 = 6.0;

pub(super) const DASH_DOT: &[f64] = &[10.0, 3.5, 2.0, 3.5];

pub(super) fn limit_stroke(kind: LimitKind) -> Stroke {
    match kind {
        LimitKind::Stop => Stroke::solid(INK, 1.3),
        LimitKind::Reference => Stroke {
            colour: SOFT_INK,
            width: 1.1,
            dash: DASH_DOT,
        },
    }
}

pub(super) fn series_stroke(series: &Series, index: usize) -> Stroke {
    stroke(series.look.unwrap_or(index), series.emphasis)
}

pub(super) fn envelope_tint(envelope: &Envelope, index: usize) -> Colour {
    hue(envelope.look.unwrap_or(index)).tint(0.26)
}

/// The parts with a label beside the panel; `outside` are those that found no room in it.
pub(super) fn parts(panel: &Panel, outside: &[Part]) -> Vec<Part> {
    let mut parts = Vec::new();
    let named = |text: &str| !clean(text).is_empty();
    for (index, series) in panel.series.iter().enumerate() {
        if named(&series.name) || series.end_values {
            parts.push(Part::Series(index));
        }
    }
    parts.extend(
        panel
            .envelopes
            .iter()
            .enumerate()
            .filter(|(_, e)| named(&e.name))
            .map(|(i, _)| Part::Envelope(i)),
    );
    parts.extend(
        panel
            .limits
            .iter()
            .enumerate()
            .filter(|(_, l)| named(&l.label))
            .map(|(i, _)| Part::Limit(i)),
    );
    parts.extend_from_slice(outside);
    parts
}

/// Words and sample of a part, before anything has a place.
pub(super) fn describe(panel: &Panel, part: Part) -> Option<Beside> {
    Some(match part {
        Part::Series(index) => {
            let series = panel.series.get(index)?;
            Beside {
                words: series_words(panel, series),
                sample: Sample::Line(series_stroke(series, index)),
            }
        }
        Part::Envelope(index) => {
            let envelope = panel.envelopes.get(index)?;
            Beside {
                words: envelope.name.clone(),
                sample: Sample::Tint(envelope_tint(envelope, index)),
            }
        }
        Part::Limit(index) => {
            let limit = panel.limits.get(index)?;
            Beside {
                words: limit_words(panel, limit),
                sample: Sample::Line(limit_stroke(limit.kind)),
            }
        }
        Part::Band(index) => {
            let band = panel.bands.get(index)?;
            Beside {
                words: band.label.clone(),
                sample: Sample::Zone(band.kind),
            }
        }
        Part::Mark(index) => Beside {
            words: panel.marks.get(index)?.label.clone(),
            sample: Sample::Dot,
        },
    })
}

fn series_words(panel: &Panel, series: &Series) -> String {
    let name = clean(&series.name);
    let shown = |point: &&(f64, f64)| point.0.is_finite() && point.1.is_finite();
    let last = series
        .points
        .iter()
        .filter(shown)
        .max_by(|a, b| a.0.total_cmp(&b.0));
    match last.filter(|_| series.end_values) {
        Some(point) if name.is_empty() => value_text(panel, point.1),
        Some(point) => format!("{name}: {}", value_text(panel, point.1)),
        None => name,
    }
}

/// A number on the panel's axis, to about a five-hundredth of what the axis spans.
pub(super) fn value_text(panel: &Panel, value: f64) -> String {
    let (low, high) = panel_range(panel);
    let power = ticks(low, high, 5).power;
    let decimals = (500.0 / scaled(high - low, power)).log10().round().max(0.0);
    number(scaled(value, power), decimals as usize)
}

/// A line beyond an asked range is not lost: its label says where it would be.
fn limit_words(panel: &Panel, limit: &Limit) -> String {
    let (low, high) = panel_range(panel);
    if limit.at > high {
        format!("↑ {}", limit.label)
    } else if limit.at < low {
        format!("↓ {}", limit.label)
    } else {
        limit.label.clone()
    }
}

/// The labels beside a panel that has its place.
pub(super) fn entries(plan: &PanelPlan<'_>, parts: &[Part], width: f64) -> Vec<Entry> {
    parts
        .iter()
        .filter_map(|part| {
            let Beside { words, sample } = describe(plan.panel, *part)?;
            let (height, tied) = anchor(plan, *part)?;
            let height = height.clamp(plan.area.top, plan.area.bottom);
            Some(Entry {
                height,
                words: fit_beside(&words, width),
                sample,
                tied,
            })
        })
        .collect()
}

/// Height a label belongs to, and where its part ends there.
fn anchor(plan: &PanelPlan<'_>, part: Part) -> Option<(f64, Option<f64>)> {
    let right = plan.area.right;
    let end_of = |end: f64| {
        if right - end < AT_EDGE {
            right
        } else {
            end + AT_EDGE
        }
    };
    let panel = plan.panel;
    let middle = plan.area.centre().1;
    Some(match part {
        Part::Series(index) => match right_end(plan.curves.get(index)?) {
            Some(end) => (end.1, Some(end_of(end.0))),
            None => (middle, None),
        },
        Part::Envelope(index) => {
            let points = panel.envelopes.get(index)?.points.iter();
            let ends: Vec<_> = points
                .map(|(x, low, high)| pixel(&plan.x, &plan.y, (*x, low + (high - low) * 0.85)))
                .collect();
            let end = right_end(&[ends.into_iter().filter(|end| end.0.is_finite()).collect()]);
            end.map_or((middle, None), |end| (end.1, Some(end_of(end.0))))
        }
        Part::Limit(index) => {
            let at = panel.limits.get(index)?.at;
            (plan.y.at(at), plan.y.holds(at).then_some(right))
        }
        Part::Band(index) => {
            let (from, to) = ordered(panel.bands.get(index)?);
            let edge = |value: f64| plan.y.at(value).clamp(plan.area.top, plan.area.bottom);
            ((edge(from) + edge(to)) / 2.0, Some(right))
        }
        Part::Mark(index) => (plan.y.at(panel.marks.get(index)?.at.1), None),
    })
}

/// Where the number at a curve's left end goes: its place in the panel and its words.
pub(super) fn start_value(plan: &PanelPlan<'_>, index: usize) -> Option<((f64, f64), String)> {
    let series = plan.panel.series.get(index).filter(|series| series.end_values)?;
    let first = series
        .points
        .iter()
        .filter(|point| point.0.is_finite() && point.1.is_finite())
        .min_by(|a, b| a.0.total_cmp(&b.0))?;
    let seen = left_end(plan.curves.get(index)?)?;
    // Only where the curve's own end is in sight: elsewhere the number would belong to another place.
    let own = pixel(&plan.x, &plan.y, *first);
    ((seen.0 - own.0).abs() < 1.0 && (seen.1 - own.1).abs() < 1.0)
        .then(|| (seen, value_text(plan.panel, first.1)))
}

/// The line that ties a label to its curve.
pub(super) const TIE_COLOUR: Colour = AXIS;
