//! Outlines of solids: obstacles, and the parts that come near them.

use super::model::{Outline, OutlineKind};
use super::pen::{Pen, Stroke, short};
use super::projection::Projection;
use crate::sheet::boxes::Spot;
use crate::sheet::colour::{BRICK, PLUM};
use crate::sheet::place::Placer;

pub(super) fn draw(pen: &mut Pen, outline: &Outline, projection: &Projection) {
    let (colour, width, opacity) = match outline.kind {
        OutlineKind::Part => (PLUM, 1.1, 0.12),
        OutlineKind::Obstacle => (BRICK, 2.2, 0.28),
    };
    let mut data = String::new();
    for (index, (x, y)) in spots(outline, projection).enumerate() {
        data += if index == 0 { "M" } else { "L" };
        data += &format!("{} {} ", short(x), short(y));
    }
    data.push('Z');
    let line = Stroke::solid(colour, width);
    if outline.window.is_none() {
        pen.path(data, Some((colour, opacity)), line);
        return;
    }
    pen.path(data, Some((colour, opacity)), Stroke::solid(colour, 0.0));
    let ends = outline.places.iter().zip(outline.places.iter().cycle().skip(1));
    for (from, to) in ends.filter(|(from, to)| !is_cut(outline, **from, **to)) {
        pen.line(projection.at(*from), projection.at(*to), line);
    }
}

/// Whether an edge runs along the window that the outline was cut to.
fn is_cut(outline: &Outline, from: (f64, f64), to: (f64, f64)) -> bool {
    let Some((middle, half)) = outline.window else {
        return false;
    };
    let on = |one: f64, other: f64, middle: f64, half: f64| {
        [-half, half].into_iter().any(|side| {
            [one, other]
                .into_iter()
                .all(|place| (place - middle - side).abs() < 1e-6 * half)
        })
    };
    on(from.0, to.0, middle.0, half.0) || on(from.1, to.1, middle.1, half.1)
}

/// Keeps labels off the line.
pub(super) fn avoid(placer: &mut Placer, outline: &Outline, projection: &Projection) {
    let spots: Vec<Spot> = spots(outline, projection).collect();
    for (from, to) in spots.iter().zip(spots.iter().cycle().skip(1)) {
        placer.avoid(*from, *to, 0.7);
    }
}

/// Where its label belongs: the middle of the box round it.
pub(super) fn middle(outline: &Outline, projection: &Projection) -> Spot {
    let reach = |number: fn(Spot) -> f64| {
        let numbers = spots(outline, projection).map(number);
        let (low, high) = numbers.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), number| {
            (low.min(number), high.max(number))
        });
        (low + high) / 2.0
    };
    (reach(|spot| spot.0), reach(|spot| spot.1))
}

fn spots(outline: &Outline, projection: &Projection) -> impl Iterator<Item = Spot> {
    outline.places.iter().map(|place| projection.at(*place))
}
