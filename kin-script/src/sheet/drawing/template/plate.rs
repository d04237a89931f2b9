//! The plate itself: its outline, its root, its holes with their centre lines.

use super::super::pen::{Pen, Stroke, short};
use super::layout::{Layout, PIXELS_PER_MM};
use super::{Hole, Template};
use crate::sheet::colour::{AXIS, INK, SOFT_INK};
use crate::sheet::text::{Type, fit};

const NAME: Type = Type::plain(11.0);
const WORDS: Type = Type::plain(11.5);
/// How far centre lines reach beyond the plate (CSS pixels).
const BEYOND: f64 = 4.0;
/// A hole smaller than this (CSS pixels, radius) has its name beside it.
const LEAST_INSIDE: f64 = 20.0;
const CENTRE_LINE: Stroke = Stroke {
    colour: SOFT_INK,
    width: 0.5,
    dash: "14 3 3 3",
    opacity: 1.0,
};

pub(super) fn draw(pen: &mut Pen, template: &Template, layout: &Layout) {
    draw_outline(pen, template, layout);
    draw_root(pen, layout);
    let plate = layout.plate;
    for across in distinct(template.holes.iter().map(|hole| hole.at.0)) {
        let x = layout.at((across, 0.0)).0;
        pen.line((x, plate.top - BEYOND), (x, plate.bottom + BEYOND), CENTRE_LINE);
    }
    for up in distinct(template.holes.iter().map(|hole| hole.at.1)) {
        let y = layout.at((0.0, up)).1;
        pen.line((plate.left - BEYOND, y), (plate.right + BEYOND, y), CENTRE_LINE);
    }
    for hole in &template.holes {
        draw_hole(pen, hole, layout);
    }
}

/// Sharp at the root, rounded at the other two corners.
fn draw_outline(pen: &mut Pen, template: &Template, layout: &Layout) {
    let plate = layout.plate;
    let radius = template.corner_radius * PIXELS_PER_MM;
    let place = |x: f64, y: f64| format!("{} {}", short(x), short(y));
    let round = |x: f64, y: f64| {
        if radius > 0.0 {
            format!("A{} {} 0 0 1 {}", short(radius), short(radius), place(x, y))
        } else {
            String::new()
        }
    };
    let data = format!(
        "M{} L{} {} L{} {} L{} Z",
        place(plate.left, plate.bottom),
        place(plate.left, plate.top + radius),
        round(plate.left + radius, plate.top),
        place(plate.right - radius, plate.top),
        round(plate.right, plate.top + radius),
        place(plate.right, plate.bottom)
    );
    pen.path(data, None, Stroke::solid(INK, 1.1));
}

fn draw_root(pen: &mut Pen, layout: &Layout) {
    let plate = layout.plate;
    pen.line(
        (plate.left, plate.bottom),
        (plate.right, plate.bottom),
        Stroke::solid(INK, 2.2),
    );
    let mut x = plate.left + 7.0;
    while x < plate.right {
        pen.line(
            (x, plate.bottom + 1.0),
            (x - 5.0, plate.bottom + 6.0),
            Stroke::solid(AXIS, 0.7),
        );
        x += 9.0;
    }
    pen.circle((plate.left, plate.bottom), 4.0, None, Stroke::solid(INK, 1.2));
    let words = fit("root", WORDS, 60.0, 1);
    pen.text(
        &words,
        (plate.right + 10.0, plate.bottom),
        WORDS,
        SOFT_INK,
        "start",
    );
}

fn draw_hole(pen: &mut Pen, hole: &Hole, layout: &Layout) {
    let centre = layout.at(hole.at);
    let radius = hole.diameter / 2.0 * PIXELS_PER_MM;
    pen.circle(centre, radius, None, Stroke::solid(INK, 1.1));
    let cross = (radius * 0.45).min(7.0);
    for (x, y) in [(cross, 0.0), (0.0, cross)] {
        let stroke = Stroke::solid(INK, 0.9);
        pen.line((centre.0 - x, centre.1 - y), (centre.0 + x, centre.1 + y), stroke);
    }
    let words = fit(&hole.name, NAME, 60.0, 1);
    let (place, anchor) = if radius >= LEAST_INSIDE {
        ((centre.0 + radius * 0.42, centre.1 - radius * 0.42), "middle")
    } else {
        let aside = radius * 0.71 + 3.0;
        ((centre.0 + aside, centre.1 - aside - 3.0), "start")
    };
    pen.text(&words, place, NAME, INK, anchor);
}

/// Numbers in rising order, those within a hundredth of a millimetre once.
pub(super) fn distinct(numbers: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut numbers: Vec<f64> = numbers.collect();
    numbers.sort_by(f64::total_cmp);
    numbers.dedup_by(|next, kept| (*next - *kept).abs() < 0.01);
    numbers
}
