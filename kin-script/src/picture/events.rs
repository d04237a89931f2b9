//! Findings on a picture of curves: marked where they happen in the wheel's travel.

use super::curves::ride_place;
use crate::host::ScriptError;
use crate::sheet::plot::{Figure, Limit, LimitKind, Mark, Series};
use crate::sweep::{Sweep, Variable};
use crate::units::{LengthUnit, Measure};
use kin_core::checks::{DamperStroke, Finding, Verdict};

/// More cannot be told apart on one picture.
const MOST_EVENTS: usize = 8;
/// Travels nearer than this (mm) are the same event.
const SAME_MM: f64 = 1e-6;

/// Something that happens at one place of the wheel's travel.
#[derive(Debug, Clone, PartialEq)]
pub struct Event {
    /// Travel of the wheel from ride height (mm), bump positive.
    pub at: f64,
    /// What happens, in a few words.
    pub what: String,
    /// Whether it fits, where that was asked.
    pub verdict: Verdict,
}

impl Event {
    /// What a finding says, if it has a place in the travel.
    #[must_use]
    pub fn of_finding(finding: &Finding) -> Option<Self> {
        Some(Self {
            at: finding.at_travel?,
            what: finding.subject.clone(),
            verdict: finding.verdict,
        })
    }

    /// What a damper does along the travel: it tops out, touches its bump stop, meets metal. What else its check found has
    /// events of its own.
    #[must_use]
    pub fn of_stroke(stroke: &DamperStroke) -> Vec<Self> {
        let budget = &stroke.budget;
        let has_stop = stroke.lengths.stop_contact > stroke.lengths.compressed;
        let reached = [
            (budget.droop_to_top_out.map(|droop| -droop), "tops out"),
            (budget.bump_to_stop.filter(|_| has_stop), "touches the bump stop"),
            (budget.bump_to_metal, "meets metal"),
        ];
        let mut findings: Vec<Self> = stroke.findings.iter().filter_map(Self::of_finding).collect();
        let mut events = Vec::new();
        for (at, what) in reached {
            let Some(at) = at else { continue };
            let here = |event: &Self| (event.at - at).abs() < SAME_MM;
            let verdict = findings
                .iter()
                .filter(|event| here(event))
                .map(|event| event.verdict)
                .max();
            findings.retain(|event| !here(event));
            events.push(Self {
                at,
                what: what.to_owned(),
                verdict: verdict.unwrap_or(Verdict::NotAsked),
            });
        }
        events.extend(findings);
        events
    }

    fn label(&self, unit: LengthUnit) -> String {
        let way = if self.at < 0.0 { "droop" } else { "bump" };
        let place = format!("{} {way}", unit.text(self.at.abs()));
        match self.verdict {
            Verdict::NotAsked => format!("{}, {place}", self.what),
            verdict => format!("{verdict}: {}, {place}", self.what),
        }
    }
}

/// Marks events on a figure of sweeps: a line through all panels, and a point on the first curve of each.
///
/// # Errors
/// Sweeps that do not vary the wheel's travel, or that differ in ride height, and more events than can be told apart.
pub fn mark(
    figure: &mut Figure,
    runs: &[(String, &Sweep)],
    mut events: Vec<Event>,
) -> Result<(), ScriptError> {
    let Some(first) = runs.first().map(|(_, run)| *run) else {
        return Ok(());
    };
    let units = first.model.units;
    let variable = first.varied.last().copied().unwrap_or(Variable::Travel);
    let Some(ride) = ride_place(runs, variable, &units)? else {
        return Err(ScriptError::new(
            "findings have no place on this picture: it is not drawn along the wheel's travel, or ride height differs",
        )
        .with_key("findings")
        .with_help("sweep along `bump`, which counts from ride height as findings do"));
    };
    events.sort_by(|a, b| a.at.total_cmp(&b.at).then_with(|| a.what.cmp(&b.what)));
    events.dedup_by(|next, kept| next.what == kept.what && (next.at - kept.at).abs() < SAME_MM);
    if events.len() > MOST_EVENTS {
        return Err(ScriptError::new(format!(
            "{} findings on one picture cannot be told apart; at most {MOST_EVENTS}",
            events.len()
        ))
        .with_key("findings")
        .with_help("choose those that matter, such as `findings.filter(|one| one.verdict == \"fails\")`"));
    }
    // The picture keeps the reach of its curves: what happens beyond is told at its edge.
    figure.x.range = reach(figure, ride);
    let mut told = Vec::new();
    for event in &events {
        let at = ride + units.from_core(event.at, Measure::LENGTH);
        let label = event.label(units.length);
        for panel in &mut figure.panels {
            let value = panel.series.first().and_then(|series| value_at(series, at));
            panel.marks.extend(value.map(|value| Mark {
                at: (at, value),
                label: String::new(),
            }));
        }
        told.push(label.clone());
        figure.limits.push(Limit {
            at,
            label,
            kind: LimitKind::Stop,
        });
    }
    if !told.is_empty() {
        figure.description += &format!("; marked: {}", told.join("; "));
    }
    Ok(())
}

/// Marks places along the shared axis of a figure: a line through all panels with its words, and a point on each curve.
///
/// * `places`: words and place in the unit of the axis
///
/// # Errors
/// Places beyond the curves, and more than can be told apart.
pub fn mark_places(figure: &mut Figure, places: &[(String, f64)]) -> Result<(), ScriptError> {
    if places.len() > MOST_EVENTS {
        return Err(ScriptError::new(format!(
            "{} marks on one picture cannot be told apart; at most {MOST_EVENTS}",
            places.len()
        ))
        .with_key("mark"));
    }
    for (words, at) in places {
        let mut met = 0;
        for panel in &mut figure.panels {
            let values = panel.series.iter().filter_map(|series| value_at(series, *at));
            let marks: Vec<Mark> = values
                .map(|value| Mark {
                    at: (*at, value),
                    label: String::new(),
                })
                .collect();
            met += marks.len();
            panel.marks.extend(marks);
        }
        if met == 0 {
            return Err(ScriptError::new(format!("`{words}`: no curve reaches {at}"))
                .with_key("mark")
                .with_help("mark a place inside what the sweep varies, in its unit"));
        }
        figure.limits.push(Limit {
            at: *at,
            label: words.clone(),
            kind: LimitKind::Reference,
        });
        figure.description += &format!("; marked: {words}");
    }
    Ok(())
}

/// The reach of the curves along the shared axis, ride height included; none where there is nothing to tell.
fn reach(figure: &Figure, ride: f64) -> Option<(f64, f64)> {
    let points = figure
        .panels
        .iter()
        .flat_map(|panel| &panel.series)
        .flat_map(|series| &series.points);
    let places = points.map(|point| point.0).filter(|place| place.is_finite());
    let (low, high) = places.fold((ride, ride), |(low, high), place| {
        (low.min(place), high.max(place))
    });
    (high > low).then_some((low, high))
}

/// The value of a curve at a place, straight between its points.
fn value_at(series: &Series, at: f64) -> Option<f64> {
    series.points.windows(2).find_map(|pair| {
        let [(from, low), (to, high)] = pair else {
            return None;
        };
        let inside = *from <= at && at <= *to && to > from;
        let value = low + (high - low) * (at - from) / (to - from);
        (inside && value.is_finite()).then_some(value)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_curve_is_read_between_its_points() {
        let series = Series::new("", vec![(-10.0, 1.0), (0.0, 2.0), (10.0, f64::NAN)]);
        assert_eq!(value_at(&series, -5.0), Some(1.5));
        assert_eq!(value_at(&series, 5.0), None);
        assert_eq!(value_at(&series, 11.0), None);
    }

    #[test]
    fn a_place_is_marked_on_every_curve_that_reaches_it() {
        use crate::sheet::plot::{Axis, Panel};
        let short = Series::new("short", vec![(0.0, 1.0), (10.0, 2.0)]);
        let long = Series::new("long", vec![(0.0, 1.0), (30.0, 4.0)]);
        let mut figure = Figure {
            panels: vec![Panel {
                series: vec![short, long],
                ..Panel::new(Axis::new("Camber", "deg"))
            }],
            ..Figure::default()
        };
        mark_places(&mut figure, &[("in a bend".into(), 20.0)]).expect("a place on one of them");
        assert_eq!(figure.panels[0].marks.len(), 1);
        assert_eq!(
            (figure.panels[0].marks[0].at, figure.limits[0].at),
            ((20.0, 3.0), 20.0)
        );
        assert!(mark_places(&mut figure, &[("too far".into(), 31.0)]).is_err());
    }

    #[test]
    fn an_event_says_where_it_is_in_the_reader_s_unit() {
        let event = Event {
            at: -50.8,
            what: "tops out".into(),
            verdict: Verdict::Tight,
        };
        assert_eq!(event.label(LengthUnit::Inch), "tight: tops out, 2.00 in droop");
        let plain = Event {
            at: 12.0,
            verdict: Verdict::NotAsked,
            ..event
        };
        assert_eq!(plain.label(LengthUnit::Millimetre), "tops out, 12.0 mm bump");
    }
}
