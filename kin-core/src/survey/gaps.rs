//! What readings leave free, in words, and what to measure.

use super::datum::null_space;
use super::error::SurveyError;
use super::network::Network;
use super::notebook::Survey;
use super::reading::Axis;
use super::words::{listed, point_words};
use crate::Sentence;
use crate::pickups::Point;
use nalgebra::{DMatrix, Matrix3, Vector3};

/// Directions in which the readings hold a point by less than this share of the best held one are free.
const FREE: f64 = 1e-6;
/// Points that move by less than this share stay.
const STAYS: f64 = 1e-4;
/// A direction this near to an axis is that axis.
const ALONG: f64 = 0.95;

/// Whether the covariance shows that nothing is free, without a decomposition.
///
/// One over the square of the least singular value is at most the covariance's trace, and the square of the greatest at most the
/// sum of squares of the derivatives.
pub(super) fn surely_none(jacobian: &DMatrix<f64>, covariance: &DMatrix<f64>) -> bool {
    covariance.trace() * jacobian.norm_squared() < 1.0 / (FREE * FREE)
}

/// The gaps as an error; none where every point is held.
///
/// The null space of the readings' derivatives, without the free motions of the whole, says which points move and how.
pub(super) fn gaps(
    survey: &Survey,
    network: &Network,
    places: &[Point],
    jacobian: &DMatrix<f64>,
    free: &DMatrix<f64>,
) -> Option<SurveyError> {
    let mut held = jacobian.clone();
    let scale = jacobian.norm().max(1.0) / (network.unknowns.max(1) as f64).sqrt();
    let rows = held.nrows();
    held = held.resize_vertically(rows + free.ncols(), 0.0);
    for (place, column) in free.column_iter().enumerate() {
        held.row_mut(rows + place)
            .copy_from(&(column.transpose() * scale));
    }
    let directions = null_space(&held, None, FREE)?;
    if directions.ncols() == 0 {
        return None;
    }
    let spread = &directions * directions.transpose();
    let sentences = groups(network, &spread)
        .into_iter()
        .map(|group| sentence(network, places, &spread, &group))
        .collect();
    Some(SurveyError::NotDetermined {
        readings: network.rows.len(),
        unknowns: network.unknowns.saturating_sub(free.ncols()),
        gaps: if survey.readings.is_empty() {
            Vec::new()
        } else {
            sentences
        },
    })
}

/// The part of the null space's projector that belongs to two points.
fn block(network: &Network, spread: &DMatrix<f64>, first: usize, second: usize) -> Matrix3<f64> {
    Matrix3::from_fn(
        |row, column| match (network.columns[first][row], network.columns[second][column]) {
            (Some(row), Some(column)) => spread[(row, column)],
            _ => 0.0,
        },
    )
}

/// The points that are free, those that move together in one group.
fn groups(network: &Network, spread: &DMatrix<f64>) -> Vec<Vec<usize>> {
    let moves = |first, second| block(network, spread, first, second).norm() > STAYS;
    let mut left: Vec<usize> = (0..network.points.len())
        .filter(|point| moves(*point, *point))
        .collect();
    let mut groups = Vec::new();
    while !left.is_empty() {
        let mut group = vec![left.remove(0)];
        let mut looked_at = 0;
        while looked_at < group.len() {
            let from = group[looked_at];
            let (with, without): (Vec<usize>, Vec<usize>) =
                left.iter().partition(|other| moves(from, **other));
            group.extend(with);
            left = without;
            looked_at += 1;
        }
        groups.push(group);
    }
    groups
}

fn sentence(network: &Network, places: &[Point], spread: &DMatrix<f64>, group: &[usize]) -> Sentence {
    let name = |point: usize| {
        network
            .points
            .get_index(point)
            .map_or_else(String::new, |name| point_words(name))
    };
    if let [point] = group {
        return alone(&name(*point), block(network, spread, *point, *point)).into();
    }
    // The coordinate that the free motion moves most is the one that tells most.
    let mut most = (group[0], Axis::X, 0.0);
    for point in group {
        let own = block(network, spread, *point, *point);
        for axis in Axis::ALL {
            let moved = own[(axis.index(), axis.index())];
            if moved > most.2 + 1e-9 {
                most = (*point, axis, moved);
            }
        }
    }
    let names: Vec<String> = group.iter().map(|point| name(*point)).collect();
    let settled = places.len() > group.len();
    let or_tape = if settled {
        ", or tape one of them to points outside the group"
    } else {
        ""
    };
    format!(
        "{} can still move together: measure the {} of {}{or_tape}",
        listed(&names),
        most.1.word(),
        name(most.0)
    )
    .into()
}

/// What nothing fixes of one point.
fn alone(name: &str, own: Matrix3<f64>) -> String {
    let eigen = own.symmetric_eigen();
    let free: Vec<Vector3<f64>> = eigen
        .eigenvalues
        .iter()
        .zip(eigen.eigenvectors.column_iter())
        .filter(|(value, _)| **value > STAYS)
        .map(|(_, direction)| direction.into_owned())
        .collect();
    let where_from = |axis: Axis| match axis {
        Axis::X => "from the axle line",
        Axis::Y => "from the centreline",
        Axis::Z => "from the floor",
    };
    match free.as_slice() {
        [direction] => {
            let axis = main_axis(direction);
            if direction[axis.index()].abs() >= ALONG {
                let from = where_from(axis);
                format!(
                    "nothing fixes the {} of {name}: measure it {from}, or tape {name} to two more points",
                    axis.word()
                )
            } else {
                format!(
                    "nothing fixes {name} along the direction {}: measure its {}, or tape it to two more points that lie that way",
                    direction_words(direction),
                    axis.word()
                )
            }
        }
        [_, _] => {
            // Held in the one direction that is square to both.
            let held = free[0].cross(&free[1]);
            let axis = main_axis(&held);
            let others: Vec<String> = Axis::ALL
                .iter()
                .filter(|other| **other != axis)
                .map(|other| other.word().to_owned())
                .collect();
            format!(
                "only one direction of {name} is fixed, {}: measure its {}, or tape it to three more points",
                direction_words(&held),
                listed(&others)
            )
        }
        _ => format!(
            "nothing fixes {name}: measure its height, offset and station, or tape it to four points that stand apart"
        ),
    }
}

fn main_axis(direction: &Vector3<f64>) -> Axis {
    let mut main = Axis::X;
    for axis in Axis::ALL {
        if direction[axis.index()].abs() > direction[main.index()].abs() + 1e-9 {
            main = axis;
        }
    }
    main
}

/// A direction as parts that a person can point along.
fn direction_words(direction: &Vector3<f64>) -> String {
    let main = main_axis(direction);
    let sign = direction[main.index()].signum();
    let parts = [("forward", "rearward"), ("left", "right"), ("up", "down")];
    let words: Vec<String> = parts
        .iter()
        .zip((direction * sign).iter())
        .filter(|(_, part)| part.abs() >= 0.1)
        .map(|((positive, negative), part)| {
            let word = if *part > 0.0 { positive } else { negative };
            format!("{:.1} {word}", part.abs())
        })
        .collect();
    listed(&words)
}
