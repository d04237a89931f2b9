//! How well the readings agree: cofactors, and the global test.

use super::least_squares::{column_scale, scale_columns};
use crate::Sentence;
use nalgebra::DMatrix;
use statrs::distribution::{ChiSquared, ContinuousCDF};

/// Share of honest surveys that the global test calls worse or better than stated, half on each side.
const SIGNIFICANCE: f64 = 0.05;

/// The covariance of the unknowns for standard deviations as stated: the inverse of the normal matrix, or its least-norm inverse
/// where free directions are held still. None where something else is free.
///
/// * `jacobian`: derivatives over standard deviations
/// * `free`: orthonormal columns along which nothing changes
pub(super) fn covariance(jacobian: &DMatrix<f64>, free: &DMatrix<f64>) -> Option<DMatrix<f64>> {
    let mut scale = column_scale(jacobian);
    if free.ncols() > 0 {
        // Held still along the free directions, all unknowns count alike.
        scale.fill(1.0);
    }
    let scaled = scale_columns(jacobian, &scale);
    let mut normal = scaled.tr_mul(&scaled);
    // Any weight serves; one of the size of the others keeps digits.
    let weight = (normal.trace() / normal.nrows().max(1) as f64).max(f64::MIN_POSITIVE);
    normal += free * free.transpose() * weight;
    let mut inverse = normal.cholesky()?.inverse();
    inverse -= free * free.transpose() / weight;
    for row in 0..inverse.nrows() {
        for column in 0..inverse.ncols() {
            inverse[(row, column)] *= scale[row] * scale[column];
        }
    }
    inverse.iter().all(|value| value.is_finite()).then_some(inverse)
}

/// The sum of squared weighted residuals against what honest readings give (chi-square distribution).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GlobalTest {
    /// Sum of squared residuals over their standard deviations.
    pub sum_of_squares: f64,
    /// Readings beyond what the coordinates need.
    pub redundancy: usize,
    /// Below this the readings agree better than stated (chi-square at 2.5 %).
    pub lower: f64,
    /// Above this they agree worse than stated (chi-square at 97.5 %).
    pub upper: f64,
    /// The chance of a sum this large or larger when all standard deviations are right.
    pub probability: f64,
}

impl GlobalTest {
    pub(super) fn new(sum_of_squares: f64, redundancy: usize) -> Option<Self> {
        let distribution = ChiSquared::new(redundancy as f64).ok()?;
        Some(Self {
            sum_of_squares,
            redundancy,
            lower: distribution.inverse_cdf(0.5 * SIGNIFICANCE),
            upper: distribution.inverse_cdf(1.0 - 0.5 * SIGNIFICANCE),
            probability: distribution.sf(sum_of_squares.max(0.0)),
        })
    }

    /// Whether the readings agree as well as their standard deviations say, or better.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.sum_of_squares <= self.upper
    }

    /// It in words.
    #[must_use]
    pub fn sentence(&self) -> Sentence {
        let numbers = format!(
            "the sum of squares is {:.1} for {} surplus readings, {:.1} to {:.1} would be usual",
            self.sum_of_squares, self.redundancy, self.lower, self.upper
        );
        let words = if !self.holds() {
            format!(
                "The readings agree WORSE than their standard deviations say: {numbers}. A reading is mistaken, or the tape is \
                     coarser than stated."
            )
        } else if self.sum_of_squares < self.lower {
            format!("The readings agree better than their standard deviations say: {numbers}.")
        } else {
            format!("The readings agree as well as their standard deviations say: {numbers}.")
        };
        words.into()
    }
}

/// The range that holds a standard deviation with a chance of 95 %, found with so many degrees of freedom.
pub(super) fn deviation_range(found: f64, degrees: usize) -> Option<[f64; 2]> {
    let distribution = ChiSquared::new(degrees as f64).ok()?;
    let squares = found * found * degrees as f64;
    let at = |share: f64| (squares / distribution.inverse_cdf(share)).sqrt();
    Some([at(1.0 - 0.5 * SIGNIFICANCE), at(0.5 * SIGNIFICANCE)])
}
