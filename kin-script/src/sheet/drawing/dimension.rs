//! Measured distances: lines, arrowheads and their text.

use super::dimension_rows::{HEAD, LETTERS, ROW, Rows, dimensions, is_short, text_span};
use super::model::{Dimension, DimensionPlace, View};
use super::pen::{Pen, Stroke};
use super::projection::Projection;
use crate::sheet::boxes::{Rect, Spot, distance};
use crate::sheet::colour::{AXIS, INK, SOFT_INK};
use crate::sheet::place::{Placer, leader_end};
use crate::sheet::text::{Fitted, HALF_HEIGHT, LEADING, clean, fit};

/// From the parts to the first row of dimension lines (CSS pixels).
const FIRST: f64 = 16.0;
/// From the parts to a line along them (CSS pixels).
const ALONG: f64 = 22.0;
/// Widest line of a text that stands beside its dimension line (CSS pixels).
const LOOSE_WIDTH: f64 = 120.0;
/// Longer ways from a line to its text get a leader line (CSS pixels).
const CLOSE: f64 = 16.0;
/// Free line ends on both sides of the text (CSS pixels).
const GAP: f64 = 3.0;
const LINE: Stroke = Stroke::solid(INK, 0.9);
const EXTENSION: Stroke = Stroke::solid(SOFT_INK, 0.6);

/// Draws the dimensions of a view and takes their room; returns the texts that have no place in a line, with the middle of
/// theirs.
pub(super) fn draw<'a>(
    pen: &mut Pen,
    placer: &mut Placer,
    view: &'a View,
    rows: &Rows,
    projection: &Projection,
) -> Vec<(Spot, &'a str)> {
    let mut texts = Vec::new();
    for (index, dimension) in dimensions(view).enumerate() {
        let row = ROW * rows.row_of.get(index).copied().unwrap_or(0) as f64;
        let ends = (projection.at(dimension.from), projection.at(dimension.to));
        let content = projection.content;
        let text = match dimension.place {
            DimensionPlace::Below => draw_level(
                pen,
                placer,
                dimension,
                ends,
                content.bottom + FIRST + row,
                &projection.cell,
            ),
            DimensionPlace::Left => draw_upright(
                pen,
                placer,
                dimension,
                ends,
                content.left - FIRST - row,
                &projection.cell,
            ),
            DimensionPlace::Right => draw_upright(
                pen,
                placer,
                dimension,
                ends,
                content.right + FIRST + row,
                &projection.cell,
            ),
            DimensionPlace::Along => Some(draw_along(pen, placer, ends)),
        };
        texts.extend(text.map(|middle| (middle, dimension.text.as_str())));
    }
    texts
}

/// Draws the texts that have no place in a line of their own; returns those for which there was no room.
pub(super) fn draw_texts(pen: &mut Pen, placer: &mut Placer, texts: Vec<(Spot, &str)>) -> Vec<String> {
    texts
        .into_iter()
        .filter_map(|(middle, text)| draw_loose(pen, placer, middle, text))
        .collect()
}

/// A text that has no place of its own in a line: as near to the middle of its line as there is room. Returned if there is none.
fn draw_loose(pen: &mut Pen, placer: &mut Placer, middle: Spot, text: &str) -> Option<String> {
    let words = fit(text, LETTERS, LOOSE_WIDTH, 2);
    let steps = words.lines.len().saturating_sub(1) as f64 * LEADING;
    let size = (words_width(&words), LETTERS.size * (2.0 * HALF_HEIGHT + steps));
    match placer.place(middle, size, 4.0) {
        Some(area) => {
            if let Some(end) = leader_end(middle, &area, CLOSE) {
                pen.line(middle, end, Stroke::solid(AXIS, 0.7));
            }
            pen.text(&words, area.centre(), LETTERS, INK, "middle");
            None
        }
        None => Some(clean(text)),
    }
}

/// Draws a level dimension; returns the middle of its line if its text found no room there.
fn draw_level(
    pen: &mut Pen,
    placer: &mut Placer,
    dimension: &Dimension,
    ends: (Spot, Spot),
    y: f64,
    cell: &Rect,
) -> Option<Spot> {
    let (low, high) = (ends.0.0.min(ends.1.0), ends.0.0.max(ends.1.0));
    for end in [ends.0, ends.1] {
        draw_extension(pen, placer, (end.0, end.1 + 6.0), (end.0, y + 4.0));
    }
    let words = fit(&dimension.text, LETTERS, cell.width() - 4.0, 1);
    let (start, end) = kept_inside(text_span(low, high, words_width(&words)), cell.left, cell.right);
    let half = LETTERS.size * HALF_HEIGHT;
    let area = Rect::new(start, y - half, end, y + half);
    let free = placer.is_free(&area);
    draw_line(
        pen,
        (low, y),
        (high, y),
        free.then_some(((start - GAP, y), (end + GAP, y))),
    );
    placer.avoid((low, y), (high, y), 1.0);
    if !free {
        return Some(((low + high) / 2.0, y));
    }
    pen.text(&words, area.centre(), LETTERS, INK, "middle");
    placer.take(area.grown(2.0));
    None
}

/// Draws an upright dimension; returns the middle of its line if its text found no room there.
fn draw_upright(
    pen: &mut Pen,
    placer: &mut Placer,
    dimension: &Dimension,
    ends: (Spot, Spot),
    x: f64,
    cell: &Rect,
) -> Option<Spot> {
    let (low, high) = (ends.0.1.min(ends.1.1), ends.0.1.max(ends.1.1));
    for end in [ends.0, ends.1] {
        let side = if x < end.0 { -1.0 } else { 1.0 };
        draw_extension(pen, placer, (end.0 + side * 6.0, end.1), (x + side * 4.0, end.1));
    }
    let words = fit(&dimension.text, LETTERS, cell.height() - 4.0, 1);
    let (start, end) = kept_inside(text_span(low, high, words_width(&words)), cell.top, cell.bottom);
    let half = LETTERS.size * HALF_HEIGHT;
    let area = Rect::new(x - half, start, x + half, end);
    let free = placer.is_free(&area);
    draw_line(
        pen,
        (x, low),
        (x, high),
        free.then_some(((x, start - GAP), (x, end + GAP))),
    );
    placer.avoid((x, low), (x, high), 1.0);
    if !free {
        return Some((x, (low + high) / 2.0));
    }
    pen.upright_text(&words, area.centre(), LETTERS, INK);
    placer.take(area.grown(2.0));
    None
}

/// Draws a dimension beside its two places, to the left of the way from one to the other; returns the middle of its line.
fn draw_along(pen: &mut Pen, placer: &mut Placer, ends: (Spot, Spot)) -> Spot {
    let length = distance(ends.0, ends.1).max(f64::MIN_POSITIVE);
    let aside = ((ends.1.1 - ends.0.1) / length, (ends.0.0 - ends.1.0) / length);
    let moved = |end: Spot, by: f64| (end.0 + aside.0 * by, end.1 + aside.1 * by);
    for end in [ends.0, ends.1] {
        draw_extension(pen, placer, moved(end, 6.0), moved(end, ALONG + 4.0));
    }
    let (from, to) = (moved(ends.0, ALONG), moved(ends.1, ALONG));
    draw_line(pen, from, to, None);
    placer.avoid(from, to, 1.0);
    ((from.0 + to.0) / 2.0, (from.1 + to.1) / 2.0)
}

/// A thin line from a measured place to the dimension line.
fn draw_extension(pen: &mut Pen, placer: &mut Placer, from: Spot, to: Spot) {
    pen.line(from, to, EXTENSION);
    placer.avoid(from, to, 0.3);
}

/// A line with an arrowhead at each end, open where its text stands; on a short line the arrowheads point inwards from
/// outside.
fn draw_line(pen: &mut Pen, from: Spot, to: Spot, gap: Option<(Spot, Spot)>) {
    let length = distance(from, to);
    if length <= f64::EPSILON {
        return;
    }
    let along = ((to.0 - from.0) / length, (to.1 - from.1) / length);
    let back = |spot: Spot, by: f64| (spot.0 + along.0 * by, spot.1 + along.1 * by);
    if is_short(length) {
        pen.line(back(from, -2.0 * HEAD.0), back(to, 2.0 * HEAD.0), LINE);
        draw_head(pen, from, (-along.0, -along.1));
        draw_head(pen, to, along);
    } else {
        match gap {
            Some((start, end)) if is_between(from, start, end, to) => {
                pen.line(from, start, LINE);
                pen.line(end, to, LINE);
            }
            _ => pen.line(from, to, LINE),
        }
        draw_head(pen, from, along);
        draw_head(pen, to, (-along.0, -along.1));
    }
}

/// Whether four places on a level or upright line follow each other.
fn is_between(from: Spot, start: Spot, end: Spot, to: Spot) -> bool {
    let along = |spot: Spot| spot.0 + spot.1;
    along(from) < along(start) && along(start) < along(end) && along(end) < along(to)
}

/// An arrowhead with its tip at a place, its body in the direction `back` from there.
pub(super) fn draw_head(pen: &mut Pen, tip: Spot, back: Spot) {
    let base = (tip.0 + back.0 * HEAD.0, tip.1 + back.1 * HEAD.0);
    let side = (-back.1 * HEAD.1, back.0 * HEAD.1);
    pen.polygon(
        &[
            tip,
            (base.0 + side.0, base.1 + side.1),
            (base.0 - side.0, base.1 - side.1),
        ],
        INK,
    );
}

fn words_width(words: &Fitted) -> f64 {
    words
        .lines
        .iter()
        .map(|line| LETTERS.width(line))
        .fold(0.0, f64::max)
}

fn kept_inside((start, end): (f64, f64), low: f64, high: f64) -> (f64, f64) {
    let shift = (low + 2.0 - start).max(0.0) - (end - high + 2.0).max(0.0);
    (start + shift, end + shift)
}
