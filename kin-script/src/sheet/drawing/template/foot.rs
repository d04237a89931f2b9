//! The foot of the sheet: the check square, the table of holes, and what to mind.

use super::super::pen::{Pen, Stroke};
use super::Template;
use super::layout::{LETTERS, Layout, PIXELS_PER_MM};
use crate::sheet::boxes::Spot;
use crate::sheet::colour::{AXIS, INK};
use crate::sheet::text::{Fitted, LEADING, Type, fit};

const HEADS: Type = Type::bold(11.5);
const SQUARE_HEAD: Type = Type::bold(13.0);
/// Height of a row of the table (CSS pixels).
const ROW: f64 = 16.0;
/// Right ends of the columns of a table, from its left end, and its whole width (CSS pixels).
const COLUMNS: [f64; 5] = [36.0, 88.0, 140.0, 188.0, 240.0];
const TABLE_GAP: f64 = 24.0;
/// Between the square and what stands beside it (CSS pixels).
const BESIDE: f64 = 20.0;
/// Between the square and the line below it (CSS pixels).
const BELOW: f64 = 10.0;

const CAUTION: &str = "Caution: this is what was typed in, not what stands on the car. Measure the square both ways, punch \
    through the crosses, and measure the punch marks from the datum before drilling.";

/// Height of the foot; none where the table has no room beside the square.
pub(super) fn height(template: &Template, layout: &Layout) -> Option<f64> {
    let tables = tables(layout)?;
    let rows = template.holes.len().div_ceil(tables) + 1;
    let square = layout.square * PIXELS_PER_MM;
    Some(square.max(rows as f64 * ROW + 6.0) + BELOW + caution_height(layout))
}

/// How many tables have room side by side.
fn tables(layout: &Layout) -> Option<usize> {
    let room = layout.area.width() - layout.square * PIXELS_PER_MM - BESIDE;
    let width = COLUMNS.last().copied().unwrap_or_default();
    let count = ((room + TABLE_GAP) / (width + TABLE_GAP)).floor();
    (count >= 1.0).then_some(count as usize)
}

fn caution(layout: &Layout) -> Fitted {
    fit(CAUTION, LETTERS, layout.area.width(), 3)
}

fn caution_height(layout: &Layout) -> f64 {
    LETTERS.size * LEADING * caution(layout).lines.len() as f64
}

pub(super) fn draw(pen: &mut Pen, template: &Template, layout: &Layout) {
    draw_square(pen, template, layout);
    draw_tables(pen, template, layout);
    let middle = layout.area.bottom - caution_height(layout) / 2.0;
    pen.text(
        &caution(layout),
        (layout.area.left, middle),
        LETTERS,
        INK,
        "start",
    );
}

fn draw_square(pen: &mut Pen, template: &Template, layout: &Layout) {
    let edge = layout.square * PIXELS_PER_MM;
    let (left, top) = (layout.area.left, layout.foot_top);
    let corners = [
        (left, top),
        (left + edge, top),
        (left + edge, top + edge),
        (left, top + edge),
    ];
    for (from, to) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        pen.line(*from, *to, Stroke::solid(INK, 0.8));
    }
    let size = template.size(layout.square);
    let head = format!("{size} x {size}");
    let words = format!(
        "Check square: it must measure {size} both ways with a steel rule. If it does not, the sheet is of no use: \
         print it again at 100 %, with every \u{201c}fit\u{201d} and \u{201c}shrink\u{201d} turned off, and measure again."
    );
    let room = edge - 16.0;
    let head = fit(&head, SQUARE_HEAD, room, 1);
    pen.text(&head, (left + edge / 2.0, top + 16.0), SQUARE_HEAD, INK, "middle");
    let words = fit(&words, LETTERS, room, 10);
    pen.text(
        &words,
        (left + edge / 2.0, top + edge / 2.0 + 12.0),
        LETTERS,
        INK,
        "middle",
    );
}

fn draw_tables(pen: &mut Pen, template: &Template, layout: &Layout) {
    let Some(tables) = tables(layout) else { return };
    let rows = template.holes.len().div_ceil(tables);
    let width = COLUMNS.last().copied().unwrap_or_default();
    let mut left = layout.area.left + layout.square * PIXELS_PER_MM + BESIDE;
    for holes in template.holes.chunks(rows.max(1)) {
        let mut y = layout.foot_top + ROW / 2.0;
        draw_row(
            pen,
            (left, y),
            HEADS,
            ["hole", "across", "up", "drill", "edge"].map(str::to_owned),
        );
        pen.line(
            (left, y + ROW / 2.0 + 1.0),
            (left + width, y + ROW / 2.0 + 1.0),
            Stroke::solid(AXIS, 0.8),
        );
        y += 2.0;
        for hole in holes {
            y += ROW;
            let cells = [
                hole.name.clone(),
                template.figure(hole.at.0),
                template.figure(hole.at.1),
                template.figure(hole.diameter),
                template.figure(template.edge_distance(hole)),
            ];
            draw_row(pen, (left, y), LETTERS, cells);
        }
        left += width + TABLE_GAP;
    }
}

fn draw_row(pen: &mut Pen, (left, y): Spot, face: Type, cells: [String; 5]) {
    let mut from = 0.0;
    for (cell, end) in cells.iter().zip(COLUMNS) {
        let words = fit(cell, face, end - from - 4.0, 1);
        pen.text(&words, (left + end, y), face, INK, "end");
        from = end;
    }
}
