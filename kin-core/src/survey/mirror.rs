//! Telling an arrangement of points from its mirror images.

use super::least_squares::{LeastSquares, least_squares};
use super::network::Network;
use super::notebook::Survey;
use super::reading::Axis;
use super::words::{listed, point_words};
use crate::Sentence;
use crate::pickups::{Point, Side};
use nalgebra::Matrix3;

/// Two arrangements whose sums of squared residuals differ by less are told apart by no reading: readings with honest errors
/// would prefer the worse one by so much once in 400 times (exp(-12/2)).
const AS_LIKELY: f64 = 12.0;
/// Points that lie this near (mm) in both arrangements are the same.
const SAME_PLACE: f64 = 0.1;
/// A point may lie this far (mm) below the floor by its readings' errors.
const BELOW_FLOOR: f64 = 10.0;

/// How the arrangement was told from its mirror images.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum MirrorImage {
    /// The readings fit no other arrangement.
    ByReadings,
    /// Others fit as well; this one has the points on their stated sides.
    BySides,
    /// Others fit as well; this one is nearest to the sketch.
    BySketch,
    /// Others fit as well, but put points under the floor.
    AboveFloor,
    /// Others fit as well, and nothing tells which is right.
    Undecided {
        /// Points that lie elsewhere in another arrangement.
        points: Vec<String>,
    },
}

impl MirrorImage {
    /// It in words; none where the readings decide.
    #[must_use]
    pub fn sentence(&self) -> Option<Sentence> {
        let words = match self {
            Self::ByReadings => return None,
            Self::BySides => "The readings fit a mirror image as well; the stated sides of the car tell which one is meant.".to_owned(),
            Self::BySketch => "The readings fit a mirror image as well; the sketch tells which one is meant.".to_owned(),
            Self::AboveFloor => "The readings fit a mirror image as well; that one lies partly under the floor.".to_owned(),
            Self::Undecided { points } => {
                let names: Vec<String> = points.iter().map(|name| point_words(name)).collect();
                format!(
                    "UNDECIDED: the readings fit a mirror image as well, in which {} lie elsewhere. State the side of the car, \
                     sketch a point, or read a height, an offset or a station there.",
                    listed(&names)
                )
            }
        };
        Some(words.into())
    }
}

/// An arrangement that fits.
#[derive(Debug, Clone)]
pub(super) struct Arrangement {
    pub(super) fit: LeastSquares,
    pub(super) places: Vec<Point>,
}

/// The arrangement that is meant among those that fit, and how it was told. None when none was given.
pub(super) fn choose(
    survey: &Survey,
    network: &Network,
    mut found: Vec<Arrangement>,
) -> Option<(Arrangement, MirrorImage)> {
    let best = least(&found)?.clone();
    found.extend(reflections(network, &best));
    let best = least(&found)?.clone();
    let turns = free_turns(network, &best);
    let mut likely: Vec<Arrangement> = vec![best.clone()];
    for other in found {
        let near = other.fit.sum_of_squares <= best.fit.sum_of_squares + AS_LIKELY;
        if near && likely.iter().all(|known| !same(known, &other, turns)) {
            likely.push(other);
        }
    }
    if likely.len() == 1 {
        return Some((best, MirrorImage::ByReadings));
    }
    let by = [
        (MirrorImage::BySides, wrong_sides(survey, network, &likely)),
        (MirrorImage::AboveFloor, under_floor(network, &likely)),
        (
            MirrorImage::BySketch,
            from_sketch(survey, network, &likely, turns),
        ),
    ];
    let mut decided = MirrorImage::ByReadings;
    for (by, costs) in by {
        let least = costs.iter().copied().fold(f64::INFINITY, f64::min);
        let mut keep = costs.iter().map(|cost| *cost <= least);
        let before = likely.len();
        likely.retain(|_| keep.next().unwrap_or(false));
        if likely.len() < before {
            decided = by;
        }
    }
    if likely.len() == 1 {
        return Some((likely.swap_remove(0), decided));
    }
    // Nothing tells: the one that lies furthest left, so that the answer does not depend on chance.
    likely.sort_by(|a, b| sum(&b.places, Axis::Y).total_cmp(&sum(&a.places, Axis::Y)));
    let chosen = likely.swap_remove(0);
    let elsewhere = network.points.iter().enumerate().filter(|(place, _)| {
        likely.iter().any(|other| {
            (aligned(&other.places, &chosen.places, turns)[*place] - chosen.places[*place]).norm()
                > SAME_PLACE
        })
    });
    let points = elsewhere.map(|(_, name)| name.clone()).collect();
    Some((chosen, MirrorImage::Undecided { points }))
}

fn least(found: &[Arrangement]) -> Option<&Arrangement> {
    found
        .iter()
        .min_by(|a, b| a.fit.sum_of_squares.total_cmp(&b.fit.sum_of_squares))
}

fn sum(places: &[Point], axis: Axis) -> f64 {
    places.iter().map(|place| place[axis.index()]).sum()
}

/// The arrangement mirrored at planes square to each axis, adjusted again.
fn reflections(network: &Network, best: &Arrangement) -> Vec<Arrangement> {
    let count = best.places.len().max(1) as f64;
    let stated = network.columns.iter().zip(&best.places);
    let stated: Vec<&Point> = stated
        .filter(|(columns, _)| columns.iter().any(Option::is_none))
        .map(|(_, place)| place)
        .collect();
    let mut mirrored = Vec::new();
    for axis in Axis::ALL {
        let mut planes = vec![sum(&best.places, axis) / count];
        planes.extend(stated.first().map(|place| place[axis.index()]));
        for plane in planes {
            let mut places = best.places.clone();
            for place in &mut places {
                place[axis.index()] = 2.0 * plane - place[axis.index()];
            }
            if let Ok(fit) = least_squares(network, &network.unknowns_of(&places)) {
                let places = network.places_of(&fit.unknowns);
                mirrored.push(Arrangement { fit, places });
            }
        }
    }
    mirrored
}

/// Whether the whole may turn or shift without any reading changing.
fn free_turns(network: &Network, best: &Arrangement) -> bool {
    super::datum::free_motions(network, &best.places, &best.fit.jacobian).ncols() > 0
}

fn same(one: &Arrangement, other: &Arrangement, turns: bool) -> bool {
    let moved = aligned(&other.places, &one.places, turns);
    moved
        .iter()
        .zip(&one.places)
        .all(|(other, one)| (other - one).norm() <= SAME_PLACE)
}

/// Places shifted and turned (never mirrored) to lie on others as well as they can, where they may.
///
/// The turn is that of W. Kabsch (Acta Cryst. A32, 1976): from the singular vectors of the sum of products, the last reversed
/// where they would mirror.
fn aligned(places: &[Point], onto: &[Point], turns: bool) -> Vec<Point> {
    if !turns || places.is_empty() {
        return places.to_vec();
    }
    let count = places.len() as f64;
    let (middle, middle_onto) = (
        places.iter().sum::<Point>() / count,
        onto.iter().sum::<Point>() / count,
    );
    let mut products = Matrix3::zeros();
    for (place, onto) in places.iter().zip(onto) {
        products += (onto - middle_onto) * (place - middle).transpose();
    }
    let decomposed = products.svd(true, true);
    let (Some(u), Some(v_t)) = (decomposed.u, decomposed.v_t) else {
        return places.to_vec();
    };
    let mut signs = Matrix3::identity();
    signs[(2, 2)] = (u * v_t).determinant().signum();
    let turn = u * signs * v_t;
    places
        .iter()
        .map(|place| middle_onto + turn * (place - middle))
        .collect()
}

fn wrong_sides(survey: &Survey, network: &Network, likely: &[Arrangement]) -> Vec<f64> {
    let wrong = |places: &[Point]| {
        let named = network.points.iter().zip(places);
        let wrong = named.filter(|(name, place)| match survey.sides.get(*name) {
            Some(Side::Left) => place.y < 0.0,
            Some(Side::Right) => place.y > 0.0,
            None => false,
        });
        wrong.count() as f64
    };
    likely
        .iter()
        .map(|arrangement| wrong(&arrangement.places))
        .collect()
}

/// Points under the floor count only where something is counted from the floor.
fn under_floor(network: &Network, likely: &[Arrangement]) -> Vec<f64> {
    let stated = network.columns.iter().any(|columns| columns[2].is_none());
    let read = network
        .rows
        .iter()
        .any(|(row, ..)| matches!(row, super::network::Row::Coordinate(_, Axis::Z, None)));
    likely
        .iter()
        .map(|arrangement| {
            let low = arrangement.places.iter().filter(|place| place.z < -BELOW_FLOOR);
            if stated || read { low.count() as f64 } else { 0.0 }
        })
        .collect()
}

fn from_sketch(survey: &Survey, network: &Network, likely: &[Arrangement], turns: bool) -> Vec<f64> {
    let sketched: Vec<(usize, Point)> = network
        .points
        .iter()
        .enumerate()
        .filter_map(|(place, name)| survey.sketch.get(name).map(|sketch| (place, *sketch)))
        .collect();
    let sketch: Vec<Point> = sketched.iter().map(|(_, sketch)| *sketch).collect();
    likely
        .iter()
        .map(|arrangement| {
            let there: Vec<Point> = sketched
                .iter()
                .map(|(place, _)| arrangement.places[*place])
                .collect();
            let moved = aligned(&there, &sketch, turns);
            let apart = moved
                .iter()
                .zip(&sketch)
                .map(|(there, sketch)| (there - sketch).norm_squared());
            // Whole millimetres: a sketch says no more.
            apart.sum::<f64>().sqrt().round()
        })
        .collect()
}
