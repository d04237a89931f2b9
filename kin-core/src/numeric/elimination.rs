//! Gaussian elimination of a small system with several right-hand sides at once.

/// Solves in place. Each row holds the N coefficients of an equation and, behind them, its right-hand sides; afterwards
/// the place of each right-hand side in row i holds unknown i of its solution.
///
/// Returns whether the determinant is positive; none when the matrix is singular to the last bit or not finite.
#[inline]
pub(crate) fn eliminate<const N: usize, const WIDTH: usize>(rows: &mut [[f64; WIDTH]; N]) -> Option<bool> {
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
            positive = !positive;
        }
        let mut pivot = rows[column];
        positive ^= pivot[column] < 0.0;
        let reciprocal = 1.0 / pivot[column];
        for value in pivot.iter_mut().skip(column + 1) {
            *value *= reciprocal;
        }
        rows[column] = pivot;
        for values in rows.iter_mut().skip(column + 1) {
            let factor = values[column];
            for place in column + 1..WIDTH {
                values[place] -= factor * pivot[place];
            }
        }
    }
    for column in (1..N).rev() {
        let known = rows[column];
        for values in rows.iter_mut().take(column) {
            let factor = values[column];
            for side in N..WIDTH {
                values[side] -= factor * known[side];
            }
        }
    }
    Some(positive)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn solves_two_right_hand_sides() {
        // det = -2 (4 - 0.5) + (4 + 1) = -2; the right-hand sides are the images of (1, -2, 3) and (0, 1, 0).
        let mut rows = [
            [0.0, 2.0, 1.0, -1.0, 2.0],
            [4.0, -1.0, 0.5, 7.5, -1.0],
            [1.0, 1.0, 1.0, 2.0, 1.0],
        ];
        assert_eq!(eliminate(&mut rows), Some(false));
        for (row, expected) in rows.iter().zip([[1.0, 0.0], [-2.0, 1.0], [3.0, 0.0]]) {
            assert!((row[3] - expected[0]).abs() < 1e-14 && (row[4] - expected[1]).abs() < 1e-14);
        }
    }

    #[test]
    fn a_singular_or_broken_matrix_has_no_solution() {
        assert!(eliminate(&mut [[1.0, 2.0, 1.0], [2.0, 4.0, 1.0]]).is_none());
        assert!(eliminate(&mut [[f64::NAN, 2.0, 1.0], [2.0, f64::NAN, 1.0]]).is_none());
    }
}
