//! Factors of a small square matrix, kept for several right-hand sides.

use super::real::Real;

/// Lower and upper factors with row exchanges; the diagonal holds reciprocals.
#[derive(Clone, Copy)]
pub(crate) struct Lu<const N: usize> {
    factors: [[f64; N]; N],
    order: [usize; N],
    positive: bool,
}

impl<const N: usize> Lu<N> {
    /// Factors a matrix given by rows; none when it is singular to the last bit or not finite.
    #[inline]
    pub(crate) fn new(mut rows: [[f64; N]; N]) -> Option<Self> {
        let mut order = [0; N];
        for (place, slot) in order.iter_mut().enumerate() {
            *slot = place;
        }
        let mut positive = true;
        for column in 0..N {
            let mut best = column;
            let mut largest = rows[column][column].abs();
            for (row, values) in rows.iter().enumerate().skip(column + 1) {
                let size = values[column].abs();
                if size > largest {
                    largest = size;
                    best = row;
                }
            }
            if !(largest > 0.0 && largest.is_finite()) {
                return None;
            }
            if best != column {
                rows.swap(best, column);
                order.swap(best, column);
                positive = !positive;
            }
            let pivot = rows[column];
            positive ^= pivot[column] < 0.0;
            let reciprocal = 1.0 / pivot[column];
            rows[column][column] = reciprocal;
            for values in rows.iter_mut().skip(column + 1) {
                let factor = values[column] * reciprocal;
                values[column] = factor;
                for place in column + 1..N {
                    values[place] -= factor * pivot[place];
                }
            }
        }
        Some(Self {
            factors: rows,
            order,
            positive,
        })
    }

    /// Solves for one right-hand side.
    #[inline]
    pub(crate) fn solve(&self, right_hand_side: &[f64; N]) -> [f64; N] {
        let mut solution = [0.0; N];
        for row in 0..N {
            let mut sum = right_hand_side[self.order[row]];
            for (factor, known) in self.factors[row].iter().zip(&solution).take(row) {
                sum -= factor * known;
            }
            solution[row] = sum;
        }
        for row in (0..N).rev() {
            let mut sum = solution[row];
            for (factor, known) in self.factors[row].iter().zip(&solution).skip(row + 1) {
                sum -= factor * known;
            }
            solution[row] = sum * self.factors[row][row];
        }
        solution
    }

    /// Solves for one right-hand side whose numbers may carry derivatives.
    pub(crate) fn solve_in<T: Real>(&self, right_hand_side: &[T; N]) -> [T; N] {
        let mut solution = [T::from(0.0); N];
        for row in 0..N {
            let mut sum = right_hand_side[self.order[row]];
            for (factor, known) in self.factors[row].iter().zip(&solution).take(row) {
                sum -= *known * *factor;
            }
            solution[row] = sum;
        }
        for row in (0..N).rev() {
            let mut sum = solution[row];
            for (factor, known) in self.factors[row].iter().zip(&solution).skip(row + 1) {
                sum -= *known * *factor;
            }
            solution[row] = sum * self.factors[row][row];
        }
        solution
    }

    /// Whether the determinant is positive.
    #[inline]
    pub(crate) fn determinant_is_positive(&self) -> bool {
        self.positive
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn solves_what_it_factored() {
        let rows = [[0.0, 2.0, 1.0], [4.0, -1.0, 0.5], [1.0, 1.0, 1.0]];
        let factors = Lu::new(rows).expect("regular");
        let wanted = [1.0, -2.0, 3.0];
        let mut image = [0.0; 3];
        for (sum, row) in image.iter_mut().zip(&rows) {
            *sum = row.iter().zip(&wanted).map(|(a, b)| a * b).sum();
        }
        for (found, expected) in factors.solve(&image).iter().zip(&wanted) {
            assert!((found - expected).abs() < 1e-14);
        }
        // det = -2 (4 - 0.5) + (4 + 1) = -2
        assert!(!factors.determinant_is_positive());
    }

    #[test]
    fn a_singular_or_broken_matrix_has_no_factors() {
        assert!(Lu::new([[1.0, 2.0], [2.0, 4.0]]).is_none());
        assert!(Lu::new([[f64::NAN, 2.0], [2.0, f64::NAN]]).is_none());
    }
}
