//! Whether a figure can be drawn, and the ranges its axes show.

use super::model::{Axis, Band, Figure, Limit, Panel};
use super::ticks::{padded_range, tight_range};
use crate::sheet::PictureError;
use crate::sheet::text::clean;

const MOST_PANELS: usize = 6;
/// Share of the span shown of a zone that has no far end.
const OPEN_ZONE: f64 = 0.13;

/// Refuses what cannot be drawn.
pub(super) fn check(figure: &Figure) -> Result<(), PictureError> {
    PictureError::check_width(figure.width)?;
    let count = figure.panels.len();
    if count == 0 || count > MOST_PANELS {
        return Err(PictureError::PanelCount { count });
    }
    check_axis(&figure.x)?;
    check_across(&figure.bands, &figure.limits)?;
    figure.panels.iter().try_for_each(check_panel)
}

fn check_panel(panel: &Panel) -> Result<(), PictureError> {
    check_axis(&panel.y)?;
    check_across(&panel.bands, &panel.limits)?;
    let name = clean(&panel.y.name);
    if panel.series.is_empty() && panel.envelopes.is_empty() {
        return Err(PictureError::Empty {
            place: format!("panel `{name}`"),
        });
    }
    for series in &panel.series {
        check_curve(
            &series.name,
            &name,
            series.points.iter().map(|(x, y)| [*x, *y, *y]),
        )?;
    }
    for envelope in &panel.envelopes {
        check_curve(
            &envelope.name,
            &name,
            envelope.points.iter().map(|(x, low, high)| [*x, *low, *high]),
        )?;
    }
    for mark in &panel.marks {
        for number in [mark.at.0, mark.at.1] {
            PictureError::check_number(number, || format!("the mark `{}`", clean(&mark.label)))?;
        }
    }
    Ok(())
}

fn check_curve(
    series: &str,
    panel: &str,
    points: impl Iterator<Item = [f64; 3]>,
) -> Result<(), PictureError> {
    let mut found = false;
    for point in points.filter(|point| point.iter().all(|number| number.is_finite())) {
        found = true;
        for number in point {
            PictureError::check_number(number, || format!("a point of curve `{}`", clean(series)))?;
        }
    }
    let (series, panel) = (clean(series), panel.to_owned());
    if found {
        Ok(())
    } else {
        Err(PictureError::NoFinitePoint { series, panel })
    }
}

fn check_axis(axis: &Axis) -> Result<(), PictureError> {
    let name = clean(&axis.name);
    PictureError::check_number(axis.least_span, || format!("the least span of axis `{name}`"))?;
    let Some((low, high)) = axis.range else {
        return Ok(());
    };
    for end in [low, high] {
        PictureError::check_number(end, || format!("the range of axis `{name}`"))?;
    }
    // A range that vanishes beside its own ends has no two numbers to put ticks at.
    if high - low > 1e-12 * low.abs().max(high.abs()) && high - low > 1e-150 {
        Ok(())
    } else {
        Err(PictureError::BadRange {
            axis: name,
            low,
            high,
        })
    }
}

fn check_across(bands: &[Band], limits: &[Limit]) -> Result<(), PictureError> {
    for band in bands {
        for end in [band.from, band.to].into_iter().filter(|end| !end.is_infinite()) {
            PictureError::check_number(end, || format!("an end of the zone `{}`", clean(&band.label)))?;
        }
    }
    for limit in limits {
        PictureError::check_number(limit.at, || format!("the limit `{}`", clean(&limit.label)))?;
    }
    Ok(())
}

/// Lowest and highest of the numbers met.
#[derive(Debug, Clone, Copy)]
struct Extent {
    low: f64,
    high: f64,
}

impl Extent {
    fn new() -> Self {
        Self {
            low: f64::INFINITY,
            high: f64::NEG_INFINITY,
        }
    }

    fn meet(&mut self, number: f64) {
        if number.is_finite() {
            self.low = self.low.min(number);
            self.high = self.high.max(number);
        }
    }
}

/// Range of the shared axis: the reach of the curves and of the lines across, unpadded. Zones are cut at it.
pub(super) fn shared_range(figure: &Figure) -> (f64, f64) {
    if let Some(range) = figure.x.range {
        return range;
    }
    let mut extent = Extent::new();
    for panel in &figure.panels {
        panel
            .series
            .iter()
            .flat_map(|series| &series.points)
            .for_each(|point| extent.meet(point.0));
        panel
            .envelopes
            .iter()
            .flat_map(|envelope| &envelope.points)
            .for_each(|point| extent.meet(point.0));
        panel.marks.iter().for_each(|mark| extent.meet(mark.at.0));
    }
    figure.limits.iter().for_each(|limit| extent.meet(limit.at));
    tight_range(extent.low, extent.high, figure.x.least_span)
}

/// Range of a panel's own axis: curves, lines across, marks and the edges of zones, padded.
pub(super) fn panel_range(panel: &Panel) -> (f64, f64) {
    if let Some(range) = panel.y.range {
        return range;
    }
    let mut extent = Extent::new();
    panel
        .series
        .iter()
        .flat_map(|series| &series.points)
        .for_each(|point| extent.meet(point.1));
    for point in panel.envelopes.iter().flat_map(|envelope| &envelope.points) {
        extent.meet(point.1);
        extent.meet(point.2);
    }
    panel.marks.iter().for_each(|mark| extent.meet(mark.at.1));
    panel.limits.iter().for_each(|limit| extent.meet(limit.at));
    for band in &panel.bands {
        extent.meet(band.from);
        extent.meet(band.to);
    }
    let span = extent.high - extent.low;
    let (mut low, mut high) = padded_range(extent.low, extent.high, panel.y.least_span);
    for (from, to) in panel.bands.iter().map(ordered) {
        if from == f64::NEG_INFINITY && to.is_finite() {
            low = low.min(to - OPEN_ZONE * span);
        }
        if to == f64::INFINITY && from.is_finite() {
            high = high.max(from + OPEN_ZONE * span);
        }
    }
    (low, high)
}

/// A zone's ends, the lower one first.
pub(super) fn ordered(band: &Band) -> (f64, f64) {
    (band.from.min(band.to), band.from.max(band.to))
}
