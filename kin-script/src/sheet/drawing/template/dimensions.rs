//! Sizes on the sheet: places from the datum at the left and below, edge distances above and at the right.

use super::super::dimension::draw_head;
use super::super::pen::{Pen, Stroke};
use super::Template;
use super::layout::{LETTERS, Layout, PIXELS_PER_MM};
use super::plate::distinct;
use crate::sheet::boxes::Spot;
use crate::sheet::colour::{INK, SOFT_INK};
use crate::sheet::text::fit;

/// From the plate to where a line may bend, from there to its number (CSS pixels).
const STRAIGHT: f64 = 12.0;
const BENT: f64 = 12.0;
/// Least distance of two numbers (CSS pixels).
const APART: f64 = 15.0;
/// From the plate to the lines of edge distances (CSS pixels).
const EDGE_LINE: f64 = 22.0;
/// Longest number (CSS pixels).
const WIDEST: f64 = 66.0;
const THIN: Stroke = Stroke::solid(SOFT_INK, 0.6);
const LINE: Stroke = Stroke::solid(INK, 0.8);

pub(super) fn draw(pen: &mut Pen, template: &Template, layout: &Layout) {
    let across = distinct(places(template, |hole| hole.0, template.width));
    let up = distinct(places(template, |hole| hole.1, template.length));
    for (value, x) in across.iter().zip(spread(&across, layout.plate.left)) {
        let from = layout.at((*value, 0.0)).0;
        let foot = layout.plate.bottom + 7.0;
        pen.line((from, foot), (from, foot + STRAIGHT), THIN);
        pen.line((from, foot + STRAIGHT), (x, foot + STRAIGHT + BENT), THIN);
        let words = fit(&template.figure(*value), LETTERS, WIDEST, 1);
        let middle = foot + STRAIGHT + BENT + 4.0 + width(&words.lines) / 2.0;
        pen.upright_text(&words, (x, middle), LETTERS, INK);
    }
    // Upwards on the sheet is downwards in pixels: the spread is found on the mirrored axis.
    for (value, down) in up.iter().zip(spread(&up, -layout.plate.bottom)) {
        let from = layout.at((0.0, *value)).1;
        let edge = layout.plate.left - 7.0;
        pen.line((edge, from), (edge - STRAIGHT, from), THIN);
        pen.line((edge - STRAIGHT, from), (edge - STRAIGHT - BENT, -down), THIN);
        let words = fit(&template.figure(*value), LETTERS, WIDEST, 1);
        pen.text(&words, (edge - STRAIGHT - BENT - 4.0, -down), LETTERS, INK, "end");
    }
    edges(pen, template, layout);
}

/// The places along one direction that get a number: the datum, the holes and the far edge.
fn places(template: &Template, of: impl Fn((f64, f64)) -> f64, end: f64) -> impl Iterator<Item = f64> {
    let holes: Vec<f64> = template.holes.iter().map(|hole| of(hole.at)).collect();
    [0.0, end].into_iter().chain(holes)
}

/// Pixels for numbers at these places (mm, rising), each as near to its own as the next allows: pushed apart in groups
/// that keep their middle.
fn spread(places: &[f64], start: f64) -> Vec<f64> {
    // Sum of wishes and count of each group; a group that runs into the one before joins it.
    let mut groups: Vec<(f64, usize)> = Vec::new();
    let first = |(sum, count): (f64, usize)| sum / count as f64 - APART * (count - 1) as f64 / 2.0;
    for place in places {
        let mut group = (start + place * PIXELS_PER_MM, 1);
        while let Some(before) = groups.last().copied() {
            if first(before) + APART * before.1 as f64 <= first(group) {
                break;
            }
            groups.pop();
            group = (group.0 + before.0, group.1 + before.1);
        }
        groups.push(group);
    }
    groups
        .into_iter()
        .flat_map(|group| (0..group.1).map(move |index| first(group) + APART * index as f64))
        .collect()
}

/// From the outermost holes to the free edges.
fn edges(pen: &mut Pen, template: &Template, layout: &Layout) {
    let reach = |of: fn((f64, f64)) -> f64| {
        let numbers = template.holes.iter().map(|hole| of(hole.at));
        numbers.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), number| {
            (low.min(number), high.max(number))
        })
    };
    let (first, last) = reach(|at| at.0);
    let (_, highest) = reach(|at| at.1);
    let y = layout.plate.top - EDGE_LINE;
    let columns = [layout.at((first, 0.0)).0, layout.at((last, 0.0)).0];
    let middle = (columns[0] + columns[1]) / 2.0;
    for (from, to, length) in [
        (layout.plate.left, columns[0], first),
        (columns[1], layout.plate.right, template.width - last),
    ] {
        for x in [from, to] {
            pen.line((x, layout.plate.top - 6.0), (x, y - 4.0), THIN);
        }
        arrow(pen, (from, y), (to, y));
        let words = fit(&template.size(length), LETTERS, WIDEST, 1);
        let half = width(&words.lines) / 2.0;
        // Two numbers above a narrow plate keep to their own sides.
        let own = (from + to) / 2.0;
        let x = if from < layout.plate.left + 1e-9 {
            own.min(middle - 4.0 - half)
        } else {
            own.max(middle + 4.0 + half)
        };
        pen.text(&words, (x, y - 11.0), LETTERS, INK, "middle");
    }
    let x = layout.plate.right + EDGE_LINE;
    let (low, high) = (layout.at((0.0, highest)).1, layout.plate.top);
    for y in [low, high] {
        pen.line((layout.plate.right + 6.0, y), (x + 4.0, y), THIN);
    }
    arrow(pen, (x, high), (x, low));
    let words = fit(&template.size(template.length - highest), LETTERS, WIDEST, 1);
    pen.text(&words, (x + 9.0, (low + high) / 2.0), LETTERS, INK, "start");
}

/// A line with an arrowhead at each end.
fn arrow(pen: &mut Pen, from: Spot, to: Spot) {
    let length = (to.0 - from.0).hypot(to.1 - from.1).max(f64::MIN_POSITIVE);
    let along = ((to.0 - from.0) / length, (to.1 - from.1) / length);
    pen.line(from, to, LINE);
    draw_head(pen, from, along);
    draw_head(pen, to, (-along.0, -along.1));
}

fn width(lines: &[String]) -> f64 {
    lines.iter().map(|line| LETTERS.width(line)).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_pushed_apart_no_more_than_needed() {
        let near = spread(&[0.0, 1.0, 40.0], 100.0);
        let middle = 100.0 + 0.5 * PIXELS_PER_MM;
        assert!((near[0] - (middle - APART / 2.0)).abs() < 1e-9, "{near:?}");
        assert!((near[1] - near[0] - APART).abs() < 1e-9);
        assert!((near[2] - (100.0 + 40.0 * PIXELS_PER_MM)).abs() < 1e-9);
        let many: Vec<f64> = (0..20).map(f64::from).collect();
        let spread = spread(&many, 0.0);
        assert!(spread.windows(2).all(|pair| pair[1] - pair[0] >= APART - 1e-9));
    }
}
