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
    pen.path(data, Some((colour, opacity)), Stroke::solid(colour, width));
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
