//! Where one point lies, from what was read between it and points that have a place already.

use super::network::{Network, Row, evaluate};
use super::reading::Axis;
use crate::pickups::Point;
use nalgebra::{Matrix3, Vector3};

/// Steps for one point.
const MOST_STEPS: usize = 60;
/// A reading counts with at most this much (squared, in standard deviations) when places are compared: one mistaken reading is
/// not to outweigh all others.
const CAP: f64 = 50.0;
/// Places nearer than this (mm) are the same.
const SAME_PLACE: f64 = 1.0;
/// A direction counts as held when the readings hold it by at least this share of the best held one.
const HELD: f64 = 1e-6;
/// How far a point is looked for where no tape says (mm).
const USUAL_DISTANCE: f64 = 300.0;

/// A possible place, with how badly the readings fit there.
pub(super) struct Candidate {
    pub(super) place: Point,
    pub(super) cost: f64,
}

/// The points of a row.
pub(super) fn points_of(row: Row) -> Vec<usize> {
    match row {
        Row::Coordinate(of, _, None) => vec![of],
        Row::Distance(a, b) | Row::Coordinate(a, _, Some(b)) | Row::Angle(a, b) | Row::Mirror(a, b, _) => {
            vec![a, b]
        }
        Row::Rigid([a, b], [c, d]) => vec![a, b, c, d],
    }
}

/// The possible places of a point, best first, at most four.
///
/// * `rows`: the readings that are about it and otherwise about placed points only
pub(super) fn candidates(
    network: &Network,
    point: usize,
    rows: &[usize],
    places: &[Point],
    sketch: Option<&Point>,
) -> Vec<Candidate> {
    let mut places = places.to_vec();
    let mut found: Vec<Candidate> = Vec::new();
    for start in starts(network, point, rows, &places, sketch) {
        places[point] = start;
        let (candidate, held) = settle(network, point, rows, &mut places);
        if !candidate.cost.is_finite() {
            continue;
        }
        let known = found
            .iter_mut()
            .find(|known| (known.place - candidate.place).norm() < SAME_PLACE);
        match known {
            Some(known) if candidate.cost < known.cost => *known = candidate,
            Some(_) => {}
            None => found.push(candidate),
        }
        // A point that can still slide has any number of places: one is as good as another.
        if !held {
            break;
        }
    }
    found.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    let best = found.first().map_or(0.0, |best| best.cost);
    found.retain(|candidate| candidate.cost <= 4.0 * best + 40.0);
    found.truncate(4);
    found
}

/// Places to start from: known coordinates as known, the others about the middle of the neighbours.
fn starts(
    network: &Network,
    point: usize,
    rows: &[usize],
    places: &[Point],
    sketch: Option<&Point>,
) -> Vec<Point> {
    let mut known = [None; 3];
    for axis in Axis::ALL {
        let stated = network.columns[point][axis.index()].is_none();
        known[axis.index()] = if stated {
            Some(network.stated[point][axis.index()])
        } else {
            rows.iter().find_map(|row| match network.rows[*row] {
                (Row::Coordinate(of, along, None), value, _) if of == point && along == axis => Some(value),
                _ => None,
            })
        };
    }
    let mut neighbours: Vec<Point> = Vec::new();
    let mut lengths: Vec<f64> = Vec::new();
    for row in rows {
        let (row, value, _) = network.rows[*row];
        neighbours.extend(
            points_of(row)
                .into_iter()
                .filter(|other| *other != point)
                .map(|other| places[other]),
        );
        if let Row::Distance(..) = row {
            lengths.push(value);
        }
    }
    let middle = if neighbours.is_empty() {
        Point::zeros()
    } else {
        neighbours.iter().sum::<Point>() / neighbours.len() as f64
    };
    let reach = if lengths.is_empty() {
        USUAL_DISTANCE
    } else {
        lengths.iter().sum::<f64>() / lengths.len() as f64
    };
    let mut starts: Vec<Point> = sketch.copied().into_iter().collect();
    // Each unknown coordinate on either side of the middle and near it, not quite on it: on a line of symmetry no step leads off.
    let tries = |axis: usize| match known[axis] {
        Some(value) => vec![value],
        None if neighbours.is_empty() => vec![0.0],
        None => [0.83, -0.79, 0.07]
            .map(|share| middle[axis] + share * reach)
            .to_vec(),
    };
    for x in tries(0) {
        for y in tries(1) {
            for z in tries(2) {
                starts.push(Point::new(x, y, z));
            }
        }
    }
    starts
}

/// Moves the point to where its readings fit best, and says whether they hold it in every direction.
fn settle(network: &Network, point: usize, rows: &[usize], places: &mut [Point]) -> (Candidate, bool) {
    let mut damping = 1e-2;
    let mut here = normal(network, point, rows, places);
    for _ in 0..MOST_STEPS {
        let mut matrix = here.matrix;
        for axis in 0..3 {
            matrix[(axis, axis)] += damping * matrix[(axis, axis)].max(1e-6);
        }
        let Some(step) = matrix.cholesky().map(|factors| factors.solve(&-here.slope)) else {
            break;
        };
        let before = places[point];
        places[point] += step;
        let there = normal(network, point, rows, places);
        if there.sum <= here.sum {
            damping = (damping * 0.1_f64).max(1e-12);
            here = there;
            if step.norm() < 1e-6 {
                break;
            }
        } else {
            places[point] = before;
            damping *= 10.0;
            if damping > 1e9 {
                break;
            }
        }
    }
    // Stated coordinates hold by themselves.
    let held = here.matrix.symmetric_eigenvalues();
    let least = HELD * held.amax();
    let candidate = Candidate {
        place: places[point],
        cost: here.capped,
    };
    (candidate, held.iter().all(|value| *value > least))
}

struct Normal {
    matrix: Matrix3<f64>,
    slope: Vector3<f64>,
    sum: f64,
    capped: f64,
}

fn normal(network: &Network, point: usize, rows: &[usize], places: &[Point]) -> Normal {
    let mut normal = Normal {
        matrix: Matrix3::zeros(),
        slope: Vector3::zeros(),
        sum: 0.0,
        capped: 0.0,
    };
    let free = network.columns[point].map(|column| column.is_some());
    for (axis, free) in free.iter().enumerate() {
        if !free {
            normal.matrix[(axis, axis)] = 1.0;
        }
    }
    for row in rows {
        let (row, value, deviation) = network.rows[*row];
        let (computed, slopes) = evaluate(row, places);
        let residual = (computed - value) / deviation;
        let mut slope = Vector3::zeros();
        for (_, part) in slopes.iter().filter(|(of, _)| *of == point) {
            slope += part / deviation;
        }
        for (axis, free) in free.iter().enumerate() {
            if !free {
                slope[axis] = 0.0;
            }
        }
        normal.matrix += slope * slope.transpose();
        normal.slope += slope * residual;
        normal.sum += residual * residual;
        normal.capped += (residual * residual).min(CAP);
    }
    normal
}
