//! What fixes the axes: stated coordinates, absolute readings, or nothing.

use super::network::{Network, Row};
use crate::Sentence;
use crate::pickups::Point;
use nalgebra::{DMatrix, DVector, Vector3};

/// A motion counts as free when the readings see less than this share of it.
const UNSEEN: f64 = 1e-9;

/// What carries the axes of the adjusted coordinates.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Datum {
    /// Coordinates that were stated.
    Stated,
    /// Heights, offsets and stations that were read (with or without stated coordinates).
    Read,
    /// Nothing fixes some motions of the whole: the points are held where their starting places lie on average (inner
    /// constraint). Distances between them are right; where they lie together is chosen.
    Inner {
        /// How many motions of the whole nothing fixes, 1 to 6.
        free: usize,
    },
}

impl Datum {
    pub(super) fn of(network: &Network, free: usize) -> Self {
        let reads = |(row, ..): &(Row, f64, f64)| {
            matches!(
                row,
                Row::Coordinate(_, _, None) | Row::Angle(..) | Row::Mirror(..)
            )
        };
        if free > 0 {
            Self::Inner { free }
        } else if network.rows.iter().any(reads) {
            Self::Read
        } else {
            Self::Stated
        }
    }

    /// It in words.
    #[must_use]
    pub fn sentence(&self) -> Sentence {
        match self {
            Self::Stated => Sentence::new("The axes are carried by the coordinates that were stated."),
            Self::Read => Sentence::new(
                "The axes are carried by what was read from floor, centreline and axle line, and by any coordinates stated.",
            ),
            Self::Inner { free } => Sentence::new(format!(
                "Nothing fixes {free} of the 6 ways in which all points can move together, so these were chosen (inner \
                 constraint): distances between points are right, but the place and direction of the whole are not those of the car."
            )),
        }
    }
}

/// The motions of all points together that leave every reading and every stated coordinate as they are, as orthonormal
/// columns over the unknowns.
///
/// Three shifts and three turns about the middle of the points are tried; what is free is where neither a stated coordinate
/// nor a reading changes.
pub(super) fn free_motions(network: &Network, places: &[Point], jacobian: &DMatrix<f64>) -> DMatrix<f64> {
    let none = DMatrix::zeros(network.unknowns, 0);
    if network.unknowns == 0 {
        return none;
    }
    let middle = places.iter().sum::<Point>() / places.len().max(1) as f64;
    let size = places
        .iter()
        .map(|place| (place - middle).norm())
        .fold(1.0, f64::max);
    let mut motions = DMatrix::zeros(network.unknowns, 6);
    let mut at_stated = Vec::new();
    for (place, columns) in places.iter().zip(&network.columns) {
        let arm = (place - middle) / size;
        for (axis, column) in columns.iter().enumerate() {
            let row: [f64; 6] = std::array::from_fn(|motion| {
                let along = Vector3::ith(motion % 3, 1.0);
                if motion < 3 {
                    along[axis]
                } else {
                    along.cross(&arm)[axis]
                }
            });
            match column {
                Some(column) => motions.row_mut(*column).copy_from_slice_row(&row),
                None => at_stated.push(row),
            }
        }
    }
    // What the readings and the stated coordinates see of each motion.
    let seen_by_readings = jacobian * &motions;
    let scale = jacobian.norm().max(f64::MIN_POSITIVE);
    let rows = seen_by_readings.nrows() + at_stated.len();
    let mut seen = DMatrix::zeros(rows.max(6), 6);
    for (place, row) in seen_by_readings.row_iter().enumerate() {
        seen.row_mut(place).copy_from(&(row / scale));
    }
    for (place, row) in at_stated.iter().enumerate() {
        seen.row_mut(seen_by_readings.nrows() + place)
            .copy_from_slice_row(row);
    }
    let Some(turns) = null_space(&seen, Some(1.0), UNSEEN) else {
        return none;
    };
    orthonormal(&(motions * turns))
}

trait CopyRow {
    fn copy_from_slice_row(&mut self, row: &[f64; 6]);
}

impl<S: nalgebra::RawStorageMut<f64, nalgebra::U1, nalgebra::Dyn>> CopyRow
    for nalgebra::Matrix<f64, nalgebra::U1, nalgebra::Dyn, S>
{
    fn copy_from_slice_row(&mut self, row: &[f64; 6]) {
        for (to, from) in self.iter_mut().zip(row) {
            *to = *from;
        }
    }
}

/// The directions that a matrix with at least as many rows as columns takes to nothing, as orthonormal columns; none where the
/// decomposition does not end.
///
/// * `share`: singular values below this share of `size` count as nothing; without a size, of the greatest one
pub(super) fn null_space(matrix: &DMatrix<f64>, size: Option<f64>, share: f64) -> Option<DMatrix<f64>> {
    let columns = matrix.ncols();
    let mut tall = matrix.clone();
    if tall.nrows() < columns {
        tall = tall.resize_vertically(columns, 0.0);
    }
    let decomposed = nalgebra::SVD::try_new(tall, false, true, f64::EPSILON, 10_000)?;
    let directions = decomposed.v_t?;
    let size = size.unwrap_or_else(|| decomposed.singular_values.amax());
    let free: Vec<DVector<f64>> = decomposed
        .singular_values
        .iter()
        .zip(directions.row_iter())
        .filter(|(value, _)| **value <= share * size)
        .map(|(_, row)| row.transpose())
        .collect();
    Some(if free.is_empty() {
        DMatrix::zeros(columns, 0)
    } else {
        DMatrix::from_columns(&free)
    })
}

/// The same directions as orthonormal columns; those that are nothing by themselves are left out.
fn orthonormal(columns: &DMatrix<f64>) -> DMatrix<f64> {
    let mut kept: Vec<DVector<f64>> = Vec::new();
    for column in columns.column_iter() {
        let mut rest: DVector<f64> = column.into_owned();
        let size = rest.norm();
        // Twice is enough for round-off.
        for _ in 0..2 {
            for known in &kept {
                let part = known.dot(&rest);
                rest -= known * part;
            }
        }
        if rest.norm() > 1e-9 * size && rest.norm() > 1e-12 {
            kept.push(rest.normalize());
        }
    }
    if kept.is_empty() {
        DMatrix::zeros(columns.nrows(), 0)
    } else {
        DMatrix::from_columns(&kept)
    }
}
