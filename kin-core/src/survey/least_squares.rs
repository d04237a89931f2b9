//! Weighted least squares: Levenberg's damping far from the solution, plain Gauss-Newton near it.

use nalgebra::{DMatrix, DVector};

/// Steps tried before giving up.
const MOST_ITERATIONS: usize = 500;
/// Damping at the start, as a share of the normal matrix's diagonal.
const FIRST_DAMPING: f64 = 1e-3;
/// Damping below this is none: from there on the steps are plain Gauss-Newton.
const NO_DAMPING: f64 = 1e-9;
/// Damping beyond this leaves nothing to try.
const MOST_DAMPING: f64 = 1e12;
/// A step this small, relative to the unknowns, may be the last one.
const SMALL_STEP: f64 = 1e-9;
/// A step this small is round-off.
const NO_STEP: f64 = 1e-15;
/// A sum of squares that grows by less than this share did not grow: it is round-off.
const ROUND_OFF: f64 = 1e-12;

/// Equations that a number of unknowns should fulfil as well as they can.
pub trait Equations {
    /// How many equations there are.
    fn count(&self) -> usize;

    /// Residuals (computed minus observed, over the standard deviation) and their derivatives, a row for each equation.
    fn evaluate(&self, unknowns: &DVector<f64>, residuals: &mut DVector<f64>, jacobian: &mut DMatrix<f64>);

    /// Directions in which nothing changes, as columns: the unknowns are kept still along them.
    fn free_directions(&self, unknowns: &DVector<f64>, jacobian: &DMatrix<f64>) -> DMatrix<f64> {
        let _ = jacobian;
        DMatrix::zeros(unknowns.len(), 0)
    }
}

/// The unknowns that fit best.
#[derive(Debug, Clone, PartialEq)]
pub struct LeastSquares {
    /// The unknowns.
    pub unknowns: DVector<f64>,
    /// Weighted residuals there.
    pub residuals: DVector<f64>,
    /// Their derivatives there.
    pub jacobian: DMatrix<f64>,
    /// Sum of their squares.
    pub sum_of_squares: f64,
    /// Steps taken.
    pub iterations: usize,
    /// Whether the last steps still needed damping, as when the equations leave an unknown free.
    pub damped: bool,
}

/// Why no unknowns were found.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum LeastSquaresError {
    /// The equations have no finite value at the start.
    #[error("the equations have no finite value at the start")]
    NotFinite,
    /// The steps did not end.
    #[error("no end after {iterations} steps, the last of length {last_step:e}")]
    NotConverged {
        /// Steps tried.
        iterations: usize,
        /// Length of the last one.
        last_step: f64,
        /// The unknowns where it stopped.
        unknowns: DVector<f64>,
    },
}

/// Finds the unknowns with the least sum of squared residuals near the start.
///
/// Steps that make the sum grow are damped until it shrinks (K. Levenberg 1944, D. Marquardt 1963: the diagonal of the normal
/// matrix is multiplied); once damping is down to nothing the steps are those of Gauss and Newton, and they go on until they
/// no longer shrink, so that the unknowns are right to round-off.
///
/// # Errors
/// Equations without a finite value at the start, and steps that do not end.
pub fn least_squares(
    equations: &dyn Equations,
    start: &DVector<f64>,
) -> Result<LeastSquares, LeastSquaresError> {
    let mut here = Place::at(equations, start.clone());
    if !here.sum.is_finite() {
        return Err(LeastSquaresError::NotFinite);
    }
    let mut damping = FIRST_DAMPING;
    let mut last_step = f64::INFINITY;
    for iteration in 1..=MOST_ITERATIONS {
        let plain = damping < NO_DAMPING;
        let Some(step) = here.step(equations, if plain { 0.0 } else { damping }) else {
            damping = raised(damping);
            if damping > MOST_DAMPING {
                return Err(here.lost(iteration, last_step));
            }
            continue;
        };
        let size = here.relative(&step);
        if !size.is_finite() {
            return Err(here.lost(iteration, last_step));
        }
        let there = Place::at(equations, &here.unknowns + &step);
        // The sum itself has no digits left below the rounding of the largest residuals' parts.
        let shrinks = there.sum <= here.sum * (1.0 + ROUND_OFF) + f64::MIN_POSITIVE;
        if !shrinks {
            // A tiny step that cannot shrink the sum any more: this is the place.
            if size < SMALL_STEP && here.is_flat() {
                return Ok(here.found(iteration, !plain));
            }
            damping = raised(damping);
            if damping > MOST_DAMPING {
                return Err(here.lost(iteration, size));
            }
            continue;
        }
        let stands = size < NO_STEP || (size < SMALL_STEP && size >= 0.5 * last_step);
        here = there;
        if stands && here.is_flat() {
            return Ok(here.found(iteration, !plain));
        }
        last_step = size;
        damping = if plain { damping } else { damping * 0.1 };
    }
    Err(here.lost(MOST_ITERATIONS, last_step))
}

fn raised(damping: f64) -> f64 {
    (damping * 10.0).max(10.0 * NO_DAMPING)
}

/// Unknowns with residuals and derivatives.
struct Place {
    unknowns: DVector<f64>,
    residuals: DVector<f64>,
    jacobian: DMatrix<f64>,
    sum: f64,
}

impl Place {
    fn at(equations: &dyn Equations, unknowns: DVector<f64>) -> Self {
        let mut residuals = DVector::zeros(equations.count());
        let mut jacobian = DMatrix::zeros(equations.count(), unknowns.len());
        equations.evaluate(&unknowns, &mut residuals, &mut jacobian);
        Self {
            sum: residuals.norm_squared(),
            unknowns,
            residuals,
            jacobian,
        }
    }

    /// The step, from the normal equations with columns scaled to unit length.
    fn step(&self, equations: &dyn Equations, damping: f64) -> Option<DVector<f64>> {
        let unknowns = self.unknowns.len();
        let scale = column_scale(&self.jacobian);
        let scaled = scale_columns(&self.jacobian, &scale);
        let mut normal = scaled.tr_mul(&scaled);
        let free = equations.free_directions(&self.unknowns, &self.jacobian);
        if free.ncols() > 0 {
            let mut free = free;
            for (mut row, scale) in free.row_iter_mut().zip(&scale) {
                row *= *scale;
            }
            normal += &free * free.transpose();
        }
        for place in 0..unknowns {
            normal[(place, place)] += damping * normal[(place, place)].max(1e-6);
        }
        let factors = normal.cholesky()?;
        let step = factors.solve(&-scaled.tr_mul(&self.residuals));
        let step = step.component_mul(&DVector::from_iterator(unknowns, scale.iter().copied()));
        step.iter().all(|part| part.is_finite()).then_some(step)
    }

    /// The length of a step relative to the unknowns, each by its own size.
    fn relative(&self, step: &DVector<f64>) -> f64 {
        let largest = self.unknowns.amax();
        let parts = step.iter().zip(&self.unknowns);
        // An unknown near zero is as large as the others let it be, where all are alike, and as large as itself where not.
        let ratio =
            parts.map(|(step, unknown)| step.abs() / unknown.abs().max(1e-3 * largest.min(1.0)).max(1e-30));
        ratio.fold(0.0, f64::max)
    }

    /// Whether the residuals stand square on every column of the derivatives, as they do where the sum is least.
    fn is_flat(&self) -> bool {
        let size = self.residuals.norm();
        if size < 1e-9 {
            return true;
        }
        self.jacobian.column_iter().all(|column| {
            let length = column.norm();
            length == 0.0 || column.dot(&self.residuals).abs() <= 1e-6 * length * size
        })
    }

    fn found(self, iterations: usize, damped: bool) -> LeastSquares {
        LeastSquares {
            unknowns: self.unknowns,
            residuals: self.residuals,
            jacobian: self.jacobian,
            sum_of_squares: self.sum,
            iterations,
            damped,
        }
    }

    fn lost(&self, iterations: usize, last_step: f64) -> LeastSquaresError {
        LeastSquaresError::NotConverged {
            iterations,
            last_step,
            unknowns: self.unknowns.clone(),
        }
    }
}

/// One over the length of each column; 1 for a column of zeros.
pub(super) fn column_scale(jacobian: &DMatrix<f64>) -> Vec<f64> {
    let lengths = jacobian.column_iter().map(|column| column.norm());
    lengths
        .map(|length| if length > 0.0 { 1.0 / length } else { 1.0 })
        .collect()
}

pub(super) fn scale_columns(jacobian: &DMatrix<f64>, scale: &[f64]) -> DMatrix<f64> {
    let mut scaled = jacobian.clone();
    for (mut column, scale) in scaled.column_iter_mut().zip(scale) {
        column *= *scale;
    }
    scaled
}
