//! One panel: zones, grid, areas, lines across, curves, points, labels.

use super::beside::{Part, TIE_COLOUR, entries, envelope_tint, limit_stroke, series_stroke};
use super::canvas::{Canvas, Hold, Lettering, Stroke};
use super::check::ordered;
use super::frame;
use super::layout::{PanelPlan, Plan, pixel};
use super::margin::{self, LABEL};
use super::marks::{DOT, InsideLabel, is_shown, zone_area};
use super::model::{Envelope, Figure};
use super::zone;
use crate::sheet::PictureError;
use crate::sheet::boxes::{Rect, Spot};
use crate::sheet::colour::{INK, PAPER};

/// Draws a panel with its labels.
pub(super) fn draw(
    canvas: &mut Canvas<'_>,
    figure: &Figure,
    plan: &Plan<'_>,
    panel: &PanelPlan<'_>,
    inside: &[InsideLabel],
    beside: &[Part],
) -> Result<(), PictureError> {
    draw_zones(canvas, figure, panel)?;
    frame::draw_grid(canvas, plan, panel)?;
    for (index, envelope) in panel.panel.envelopes.iter().enumerate() {
        draw_envelope(canvas, panel, envelope, index)?;
    }
    draw_lines_across(canvas, figure, panel)?;
    frame::draw_axes(canvas, plan, panel)?;
    for (index, (series, pieces)) in panel.panel.series.iter().zip(&panel.curves).enumerate() {
        let stroke = series_stroke(series, index);
        for piece in pieces {
            match piece.as_slice() {
                [alone] => canvas.dot(*alone, stroke.width, stroke.colour)?,
                line => canvas.line(line, stroke)?,
            }
        }
    }
    for mark in panel.panel.marks.iter().filter(|mark| is_shown(panel, mark.at)) {
        let spot = (panel.x.at(mark.at.0), panel.y.at(mark.at.1));
        canvas.dot(spot, DOT + 1.5, PAPER)?;
        canvas.dot(spot, DOT, INK)?;
    }
    for label in inside {
        if let Some((from, to)) = label.leader {
            canvas.line(&[from, to], Stroke::solid(TIE_COLOUR, 0.7))?;
        }
        let how = Lettering {
            face: LABEL,
            colour: INK,
            hold: Hold::Middle,
            upright: false,
        };
        canvas.text(&label.words, label.area.centre(), how)?;
    }
    margin::draw(canvas, &entries(panel, beside, figure.width), &panel.area)
}

fn draw_zones(canvas: &mut Canvas<'_>, figure: &Figure, panel: &PanelPlan<'_>) -> Result<(), PictureError> {
    for band in &figure.bands {
        let (from, to) = ordered(band);
        let edge = |value: f64| panel.x.at(value).clamp(panel.area.left, panel.area.right);
        let area = Rect::new(edge(from), panel.area.top, edge(to), panel.area.bottom);
        if area.width() > 0.5 {
            zone::draw(canvas, &area, band.kind)?;
        }
    }
    for (index, band) in panel.panel.bands.iter().enumerate() {
        if let Some(area) = zone_area(panel, index) {
            zone::draw(canvas, &area, band.kind)?;
        }
    }
    Ok(())
}

fn draw_lines_across(
    canvas: &mut Canvas<'_>,
    figure: &Figure,
    panel: &PanelPlan<'_>,
) -> Result<(), PictureError> {
    let Rect {
        left,
        top,
        right,
        bottom,
    } = panel.area;
    for limit in figure.limits.iter().filter(|limit| panel.x.holds(limit.at)) {
        let x = panel.x.at(limit.at);
        canvas.line(&[(x, top), (x, bottom)], limit_stroke(limit.kind))?;
    }
    for limit in panel.panel.limits.iter().filter(|limit| panel.y.holds(limit.at)) {
        let y = panel.y.at(limit.at);
        canvas.line(&[(left, y), (right, y)], limit_stroke(limit.kind))?;
    }
    Ok(())
}

/// The area between two curves, edged so that it shows in print.
fn draw_envelope(
    canvas: &mut Canvas<'_>,
    panel: &PanelPlan<'_>,
    envelope: &Envelope,
    index: usize,
) -> Result<(), PictureError> {
    let colour = envelope_tint(envelope, index);
    let is_whole = |(x, low, high): &(f64, f64, f64)| x.is_finite() && low.is_finite() && high.is_finite();
    for run in envelope.points.split(|point| !is_whole(point)) {
        let edge = |which: fn(&(f64, f64, f64)) -> f64| -> Vec<Spot> {
            run.iter()
                .map(|point| pixel(&panel.x, &panel.y, (point.0, which(point))))
                .collect()
        };
        let (low, high) = (edge(|point| point.1), edge(|point| point.2));
        let outline: Vec<Spot> = high.iter().chain(low.iter().rev()).copied().collect();
        let seen = clip_outline(&outline, &panel.area);
        if seen.len() >= 3 {
            canvas.fill(&seen, colour, 1.0)?;
        }
    }
    Ok(())
}

/// One of a place's two numbers.
type Coordinate = fn(Spot) -> f64;

/// The part of an outline inside the panel, edge after edge (the polygon clipping of Sutherland and Hodgman, 1974).
fn clip_outline(outline: &[Spot], area: &Rect) -> Vec<Spot> {
    let mut kept = outline.to_vec();
    let across: Coordinate = |spot| spot.0;
    let down: Coordinate = |spot| spot.1;
    let edges = [
        (across, area.left, 1.0),
        (across, area.right, -1.0),
        (down, area.top, 1.0),
        (down, area.bottom, -1.0),
    ];
    for (along, edge, side) in edges {
        let before = std::mem::take(&mut kept);
        let Some(mut last) = before.last().copied() else {
            break;
        };
        for spot in before {
            let (from, to) = ((along(last) - edge) * side, (along(spot) - edge) * side);
            if (from < 0.0) != (to < 0.0) {
                let share = from / (from - to);
                kept.push((
                    last.0 + (spot.0 - last.0) * share,
                    last.1 + (spot.1 - last.1) * share,
                ));
            }
            if to >= 0.0 {
                kept.push(spot);
            }
            last = spot;
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_outline_is_cut_at_the_panel() {
        let area = Rect::new(0.0, 0.0, 10.0, 10.0);
        let cut = clip_outline(&[(-5.0, 5.0), (5.0, -5.0), (15.0, 5.0), (5.0, 15.0)], &area);
        assert!(
            cut.iter().all(|spot| area.grown(1e-9).holds_spot(*spot)),
            "{cut:?}"
        );
        // The diamond touches the panel's corners from outside: all of the panel is inside it.
        let doubled: f64 = cut
            .iter()
            .zip(cut.iter().cycle().skip(1))
            .map(|(a, b)| a.0 * b.1 - b.0 * a.1)
            .sum();
        assert!((doubled.abs() / 2.0 - 100.0).abs() < 1e-9, "{cut:?}");
        assert!(clip_outline(&[(20.0, 1.0), (30.0, 1.0), (25.0, 4.0)], &area).is_empty());
    }
}
