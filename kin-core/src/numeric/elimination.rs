//! Gaussian elimination of a small system with several right-hand sides at once.

/// Solves in place. Each row holds the N coefficients of an equation and, behind them, its right-hand sides; afterwards
/// the place of each right-hand side in row i holds unknown i of its solution.
///
/// Returns the determinant; none when the matrix is singular to the last bit or not finite.
#[inline]
pub(crate) fn eliminate<const N: usize, const WIDTH: usize>(rows: &mut [[f64; WIDTH]; N]) -> Option<f64> {
    const { assert!(N <= 5 && WIDTH > N) };
    let determinant = forward::<N, WIDTH, 0>(rows)
        * forward::<N, WIDTH, 1>(rows)
        * forward::<N, WIDTH, 2>(rows)
        * forward::<N, WIDTH, 3>(rows)
        * forward::<N, WIDTH, 4>(rows);
    if !(determinant.abs() > 0.0 && determinant.is_finite()) {
        return None;
    }
    backward::<N, WIDTH, 4>(rows);
    backward::<N, WIDTH, 3>(rows);
    backward::<N, WIDTH, 2>(rows);
    backward::<N, WIDTH, 1>(rows);
    Some(determinant)
}

/// A pivot is kept where it is at least this share of the greatest in its column: exchanges cost time, and round-off
/// grows by little.
const KEPT: f64 = 0.1;

/// Takes one unknown out of the equations below its own and returns its factor of the determinant. The column is part of the type: every loop then has a fixed
/// length, and is unrolled.
#[inline(always)]
fn forward<const N: usize, const WIDTH: usize, const COLUMN: usize>(rows: &mut [[f64; WIDTH]; N]) -> f64 {
    if COLUMN >= N {
        return 1.0;
    }
    let mut sign = 1.0;
    let mut largest = 0.0;
    for values in rows.iter().skip(COLUMN + 1) {
        let size = values[COLUMN].abs();
        largest = if size > largest { size } else { largest };
    }
    if rows[COLUMN][COLUMN].abs() < KEPT * largest {
        exchange(rows, COLUMN);
        sign = -1.0;
    }
    let pivot = rows[COLUMN][COLUMN];
    let reciprocal = 1.0 / pivot;
    for place in COLUMN + 1..WIDTH {
        rows[COLUMN][place] *= reciprocal;
    }
    for row in COLUMN + 1..N {
        let factor = rows[row][COLUMN];
        for place in COLUMN + 1..WIDTH {
            rows[row][place] -= factor * rows[COLUMN][place];
        }
    }
    sign * pivot
}

/// Exchanges a row with the one below that has the greatest value in its column.
#[cold]
#[inline(never)]
fn exchange<const N: usize, const WIDTH: usize>(rows: &mut [[f64; WIDTH]; N], column: usize) {
    let size = |row: &usize| rows[*row][column].abs();
    let best = (column..N).max_by(|a, b| size(a).total_cmp(&size(b)));
    rows.swap(column, best.unwrap_or(column));
}

/// Takes one known unknown out of the equations above its own.
#[inline(always)]
fn backward<const N: usize, const WIDTH: usize, const COLUMN: usize>(rows: &mut [[f64; WIDTH]; N]) {
    if COLUMN >= N {
        return;
    }
    for row in 0..COLUMN {
        let factor = rows[row][COLUMN];
        for side in N..WIDTH {
            rows[row][side] -= factor * rows[COLUMN][side];
        }
    }
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
        assert!(eliminate(&mut rows).is_some_and(|determinant| (determinant + 2.0).abs() < 1e-14));
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
