//! A proof that two bodies stay a given distance apart between two places of a line of motion.
//!
//! Two convex bodies are at least as far apart as any plane between them says: for a unit vector n, the least of
//! `n . x` over the first less the greatest of `n . y` over the second. At both ends of an interval the direction
//! of the closest points gives the exact distance. Between them n is taken linearly from one to the other, and every
//! corner of a body on the cubic that has its places and rates at both ends; `n . x` is then a polynomial of degree
//! four along the interval. Written in Bernstein's form it lies above its least coefficient, and halving the
//! interval brings the coefficients down to the curve. No further position has to be solved for.
//!
//! The cubic strays from the true path by a length of the fourth order, which [`cubic_error`] estimates; an interval
//! where that could matter is not judged.

use super::piece::{Placed, Rates};
use crate::geometry::{Closest, Core};
use nalgebra::Vector3;

/// Coefficients of a polynomial of degree four in Bernstein's form.
type Quartic = [f64; 5];

/// How often an interval is halved in search of a proof.
const MOST_HALVINGS: usize = 12;
/// Intervals whose cubics may stray farther than this (mm) are not judged.
const STRAYS_MM: f64 = 4e-7;

/// One end of an interval: both bodies and their closest points.
#[derive(Debug, Clone, Copy)]
pub(super) struct End<'a> {
    pub(super) bodies: [&'a Placed; 2],
    pub(super) closest: &'a Closest,
}

/// Whether the distance of the cores surely stays above `distance` (mm) over an interval of this `width` (mm).
pub(super) fn stays_above(distance: f64, start: &End<'_>, end: &End<'_>, width: f64) -> bool {
    if start.closest.touches() || end.closest.touches() {
        return false;
    }
    if strays(start, end, width) {
        return false;
    }
    if one_plane(distance, start, end, width) {
        return true;
    }
    let normals = [start.closest.direction, end.closest.direction];
    let low = support(&normals, start, end, width, 0, -1.0);
    let high = support(&normals, start, end, width, 1, 1.0);
    // The vector between two unit vectors is shorter than one: at most 1 - k s (1 - s), with k = 1 - n0 . n1.
    let k = 0.5 * (normals[0] - normals[1]).norm_squared();
    let shortening = [0.0, k / 4.0, k / 3.0, k / 4.0, 0.0];
    let left_over =
        std::array::from_fn(|place| low[place] - high[place] - distance * (1.0 - shortening[place]));
    positive(&left_over, MOST_HALVINGS)
}

/// The proof with one plane for the whole interval, that of either end: quick, and enough away from a turning point.
///
/// Only for a segment that moves past something that stands, which is what most questions are about.
fn one_plane(distance: f64, start: &End<'_>, end: &End<'_>, width: f64) -> bool {
    let (
        (Core::Segment(then), Core::Segment(now)),
        (Rates::Segment(rates), Rates::Segment(later)),
        Rates::Still,
    ) = (
        (&start.bodies[0].core, &end.bodies[0].core),
        (&start.bodies[0].rates, &end.bodies[0].rates),
        &start.bodies[1].rates,
    )
    else {
        return false;
    };
    let third = width / 3.0;
    let ends = [(then.start, now.start, 0), (then.end, now.end, 1)];
    [start.closest, end.closest].into_iter().any(|closest| {
        let normal = &closest.direction;
        let needed = normal.dot(&closest.on_second) + distance;
        ends.iter().all(|(from, to, which)| {
            let (from, to) = (normal.dot(from), normal.dot(to));
            let after = from + normal.dot(&rates[*which]) * third;
            let before = to - normal.dot(&later[*which]) * third;
            from.min(to).min(after).min(before) > needed
        })
    })
}

/// Whether the cubics between both ends may stray from the true paths.
pub(super) fn strays(start: &End<'_>, end: &End<'_>, width: f64) -> bool {
    let error = |body: usize| cubic_error(start.bodies[body], end.bodies[body], width);
    error(0) + error(1) > STRAYS_MM
}

fn positive(polynomial: &Quartic, halvings: usize) -> bool {
    if polynomial.iter().all(|coefficient| *coefficient > 0.0) {
        return true;
    }
    if halvings == 0 || polynomial[0] <= 0.0 || polynomial[4] <= 0.0 {
        return false;
    }
    let (left, right) = halved(polynomial);
    positive(&left, halvings - 1) && positive(&right, halvings - 1)
}

/// De Casteljau's halving.
fn halved(polynomial: &Quartic) -> (Quartic, Quartic) {
    let (mut row, mut left, mut right) = (*polynomial, *polynomial, *polynomial);
    for level in 1..5 {
        for place in 0..5 - level {
            row[place] = 0.5 * (row[place] + row[place + 1]);
        }
        left[level] = row[0];
        right[4 - level] = row[4 - level];
    }
    (left, right)
}

/// Where the path of a corner may leave its cubic (mm), from how much its rate changes over the interval: on a curve
/// of radius R at speed v the fourth derivative is about v^4 / R^3, and the change of rate v^2 w / R.
fn cubic_error(start: &Placed, end: &Placed, width: f64) -> f64 {
    let (change, speed) = match (&start.rates, &end.rates) {
        (Rates::Segment(from), Rates::Segment(to)) => {
            let change = |place: usize| (to[place] - from[place]).norm_squared();
            (change(0).max(change(1)).sqrt(), end.speed().max(start.speed()))
        }
        (
            Rates::Cuboid { centre, axes },
            Rates::Cuboid {
                centre: then,
                axes: later,
            },
        ) => {
            let half = match &start.core {
                Core::Cuboid(cuboid) => cuboid.half,
                _ => Vector3::zeros(),
            };
            let turning = (0..3).map(|axis| (later.column(axis) - axes.column(axis)).norm() * half[axis]);
            (
                (then - centre).norm() + turning.sum::<f64>(),
                end.speed().max(start.speed()),
            )
        }
        (
            Rates::Disc { centre, axis },
            Rates::Disc {
                centre: then,
                axis: later,
            },
        ) => {
            let radius = match &start.core {
                Core::Disc(disc) => disc.radius,
                _ => 0.0,
            };
            let change = (then - centre).norm() + (later - axis).norm() * radius;
            (change, end.speed().max(start.speed()))
        }
        _ => return 0.0,
    };
    if speed > 0.0 {
        width * change.powi(3) / (24.0 * speed * speed)
    } else {
        0.0
    }
}

/// The reach of one body along the moving normal: its least (`sign` -1) or greatest (`sign` 1) over the body.
fn support(
    normals: &[Vector3<f64>; 2],
    start: &End<'_>,
    end: &End<'_>,
    width: f64,
    body: usize,
    sign: f64,
) -> Quartic {
    let (from, to) = (start.bodies[body], end.bodies[body]);
    let path = |places: [Vector3<f64>; 2], rates: [Vector3<f64>; 2]| {
        dotted(normals, &controls(&places, &rates, width))
    };
    let outer = |one: Quartic, other: Quartic| -> Quartic {
        std::array::from_fn(|place| sign * (sign * one[place]).max(sign * other[place]))
    };
    match (&from.core, &to.core, &from.rates, &to.rates) {
        (Core::Segment(then), Core::Segment(now), Rates::Segment(rates), Rates::Segment(later)) => outer(
            path([then.start, now.start], [rates[0], later[0]]),
            path([then.end, now.end], [rates[1], later[1]]),
        ),
        (
            Core::Cuboid(then),
            Core::Cuboid(now),
            Rates::Cuboid { centre, axes },
            Rates::Cuboid {
                centre: later,
                axes: turning,
            },
        ) => {
            let (places, later_places) = (then.corners(), now.corners());
            let corners = (0..8).map(|corner| {
                let local = then.axes.tr_mul(&(places[corner] - then.centre));
                path(
                    [places[corner], later_places[corner]],
                    [centre + axes * local, later + turning * local],
                )
            });
            corners.reduce(outer).unwrap_or([f64::NAN; 5])
        }
        (
            Core::Disc(then),
            Core::Disc(now),
            Rates::Disc { centre, axis },
            Rates::Disc {
                centre: later,
                axis: turning,
            },
        ) => {
            let middle = path([then.centre, now.centre], [*centre, *later]);
            // A disc reaches radius |n x axis| to either side; the length of a vector polynomial lies below the
            // polynomial of the lengths of its coefficients.
            let axes = controls(
                &[then.axis.into_inner(), now.axis.into_inner()],
                &[*axis, *turning],
                width,
            );
            let tilted = crossed(normals, &axes);
            std::array::from_fn(|place| middle[place] + sign * then.radius * tilted[place].norm())
        }
        // What stands still, by its corners as well: the chord of its reach would be first order in the turn of n.
        (Core::Segment(segment), ..) => {
            outer(straight(normals, &segment.start), straight(normals, &segment.end))
        }
        (Core::Cuboid(cuboid), ..) => {
            let corners = cuboid.corners();
            let corners = corners.iter().map(|corner| straight(normals, corner));
            corners.reduce(outer).unwrap_or([f64::NAN; 5])
        }
        _ => {
            // A plane's normal does not turn. A disc that stands reaches less than the chord: reach is convex in n.
            let reach = |end: &End<'_>, normal: &Vector3<f64>| {
                let closest = end.closest;
                normal.dot(if body == 0 {
                    &closest.on_first
                } else {
                    &closest.on_second
                })
            };
            rising(reach(start, &normals[0]), reach(end, &normals[1]))
        }
    }
}

/// A point that stands still along the moving normal.
fn straight(normals: &[Vector3<f64>; 2], point: &Vector3<f64>) -> Quartic {
    rising(normals[0].dot(point), normals[1].dot(point))
}

/// A straight line in Bernstein's form of degree four.
fn rising(first: f64, last: f64) -> Quartic {
    std::array::from_fn(|place| first + (last - first) * (place as f64 / 4.0))
}

/// Bezier points of the cubic with these ends and rates.
fn controls(places: &[Vector3<f64>; 2], rates: &[Vector3<f64>; 2], width: f64) -> [Vector3<f64>; 4] {
    [
        places[0],
        places[0] + rates[0] * (width / 3.0),
        places[1] - rates[1] * (width / 3.0),
        places[1],
    ]
}

/// Product of the linear normal with a cubic.
fn dotted(normals: &[Vector3<f64>; 2], cubic: &[Vector3<f64>; 4]) -> Quartic {
    let [first, last] = normals
        .each_ref()
        .map(|normal| cubic.each_ref().map(|point| normal.dot(point)));
    [
        first[0],
        0.25 * (last[0] + 3.0 * first[1]),
        0.5 * (last[1] + first[2]),
        0.25 * (3.0 * last[2] + first[3]),
        last[3],
    ]
}

fn crossed(normals: &[Vector3<f64>; 2], cubic: &[Vector3<f64>; 4]) -> [Vector3<f64>; 5] {
    let [first, last] = normals
        .each_ref()
        .map(|normal| cubic.each_ref().map(|point| normal.cross(point)));
    [
        first[0],
        (last[0] + first[1] * 3.0) * 0.25,
        (last[1] + first[2]) * 0.5,
        (last[2] * 3.0 + first[3]) * 0.25,
        last[3],
    ]
}
