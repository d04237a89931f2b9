//! Measured distances: lines, arrowheads and their text.

use super::bars::half_width;
use super::dimension_rows::{HEAD, LETTERS, ROW, Rows, dimensions, is_short, text_span};
use super::labels::{along, search};
use super::model::{Dimension, DimensionPlace, Pose, Shape, View};
use super::pen::{Pen, Stroke};
use super::projection::Projection;
use crate::sheet::boxes::{Rect, Spot, distance, off_line};
use crate::sheet::colour::{AXIS, INK, SOFT_INK};
use crate::sheet::place::{Placer, leader_end};
use crate::sheet::text::{Fitted, HALF_HEIGHT, clean, fit};

/// From the parts to the first row of dimension lines (CSS pixels).
const FIRST: f64 = 16.0;
/// From the parts to a line along them (CSS pixels).
const ALONG: f64 = 22.0;
/// From the coils of a spring to a line along it (CSS pixels).
const PAST_COILS: f64 = 8.0;
/// A part this near to the line through two places lies along them (CSS pixels).
const SAME_LINE: f64 = 2.0;
/// Widest line of a text that stands beside its dimension line (CSS pixels).
const LOOSE_WIDTH: f64 = 120.0;
/// Longer ways from a line to its text get a leader line (CSS pixels).
const CLOSE: f64 = 16.0;
/// Free line ends on both sides of the text (CSS pixels).
const GAP: f64 = 3.0;
const LINE: Stroke = Stroke::solid(INK, 0.9);
const EXTENSION: Stroke = Stroke::solid(SOFT_INK, 0.6);

/// A text without a place in its line.
pub(super) struct Loose<'a> {
    line: (Spot, Spot),
    text: &'a str,
}

/// Draws the dimensions of a view and takes their room; returns the texts that have no place in a line, with
/// theirs.
pub(super) fn draw<'a>(
    pen: &mut Pen,
    placer: &mut Placer,
    view: &'a View,
    rows: &Rows,
    projection: &Projection,
) -> Vec<Loose<'a>> {
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
            DimensionPlace::Along => Some(draw_along(
                pen,
                placer,
                ends,
                beyond_springs(view, projection, ends),
            )),
        };
        texts.extend(text.map(|line| Loose {
            line,
            text: &dimension.text,
        }));
    }
    texts
}

/// Draws the texts that have no place in a line of their own; returns those for which there was no room.
pub(super) fn draw_texts(pen: &mut Pen, placer: &mut Placer, texts: Vec<Loose<'_>>) -> Vec<String> {
    texts
        .into_iter()
        .filter_map(|text| draw_loose(pen, placer, &text))
        .collect()
}

/// A text that has no place of its own in a line: as near to its line as there is room. Returned if there is none.
fn draw_loose(pen: &mut Pen, placer: &mut Placer, loose: &Loose<'_>) -> Option<String> {
    let (from, to) = loose.line;
    let anchors = along(from, to);
    match search(placer, loose.text, LETTERS, LOOSE_WIDTH, (&anchors, 4.0)) {
        Some(placed) => {
            if let Some(end) = leader_end(placed.anchor, &placed.area, CLOSE) {
                pen.line(placed.anchor, end, Stroke::solid(AXIS, 0.7));
            }
            pen.text(&placed.words, placed.area.centre(), LETTERS, INK, "middle");
            None
        }
        None => Some(clean(loose.text)),
    }
}

/// Draws a level dimension; returns its line if its text found no room there.
fn draw_level(
    pen: &mut Pen,
    placer: &mut Placer,
    dimension: &Dimension,
    ends: (Spot, Spot),
    y: f64,
    cell: &Rect,
) -> Option<(Spot, Spot)> {
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
        return Some(((low, y), (high, y)));
    }
    pen.text(&words, area.centre(), LETTERS, INK, "middle");
    placer.take(area.grown(2.0));
    None
}

/// Draws an upright dimension; returns its line if its text found no room there.
fn draw_upright(
    pen: &mut Pen,
    placer: &mut Placer,
    dimension: &Dimension,
    ends: (Spot, Spot),
    x: f64,
    cell: &Rect,
) -> Option<(Spot, Spot)> {
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
        return Some(((x, low), (x, high)));
    }
    pen.upright_text(&words, area.centre(), LETTERS, INK);
    placer.take(area.grown(2.0));
    None
}

/// How far from its places a line along them stands: past the coils of a spring between them, which would hide it.
fn beyond_springs(view: &View, projection: &Projection, ends: (Spot, Spot)) -> f64 {
    let main = view.layers.iter().filter(|layer| layer.pose == Pose::Main);
    let coils = main
        .flat_map(|layer| &layer.shapes)
        .filter_map(|shape| match shape {
            Shape::Bar(bar)
                if [bar.from, bar.to]
                    .into_iter()
                    .all(|end| off_line(projection.at(end), ends) < SAME_LINE) =>
            {
                Some(half_width(bar.style, projection.scale))
            }
            _ => None,
        });
    coils.map(|half| half + PAST_COILS).fold(ALONG, f64::max)
}

/// Draws a dimension beside its two places, to the left of the way from one to the other; returns its line.
fn draw_along(pen: &mut Pen, placer: &mut Placer, ends: (Spot, Spot), off: f64) -> (Spot, Spot) {
    let length = distance(ends.0, ends.1).max(f64::MIN_POSITIVE);
    let aside = ((ends.1.1 - ends.0.1) / length, (ends.0.0 - ends.1.0) / length);
    let moved = |end: Spot, by: f64| (end.0 + aside.0 * by, end.1 + aside.1 * by);
    for end in [ends.0, ends.1] {
        draw_extension(pen, placer, moved(end, 6.0), moved(end, off + 4.0));
    }
    let (from, to) = (moved(ends.0, off), moved(ends.1, off));
    draw_line(pen, from, to, None);
    placer.avoid(from, to, 1.0);
    (from, to)
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
