//! Gaussian elimination of a small system with several right-hand sides at once.
//!
//! The system is kept column by column, so that one operation serves two equations at once on any processor.

/// A pivot is kept where it is at least this share of the greatest in its column: exchanges cost time, and round-off
/// grows by little.
const KEPT: f64 = 0.1;

/// Solves N equations in place. The first N columns hold the coefficients, the others the right-hand sides; entry i
/// belongs to equation i, and entries from N on are padding. Afterwards entry i of a right-hand side is unknown i.
///
/// Returns the determinant; none when the matrix is singular to the last bit or not finite.
#[inline(always)]
pub(crate) fn eliminate<const N: usize, const LANES: usize, const WIDTH: usize>(
    columns: &mut [[f64; LANES]; WIDTH],
) -> Option<f64> {
    const { assert!(N <= 5 && N <= LANES && N < WIDTH) };
    let pivots = [
        forward::<N, LANES, WIDTH, 0>(columns),
        forward::<N, LANES, WIDTH, 1>(columns),
        forward::<N, LANES, WIDTH, 2>(columns),
        forward::<N, LANES, WIDTH, 3>(columns),
        forward::<N, LANES, WIDTH, 4>(columns),
    ];
    let determinant: f64 = pivots.iter().map(|pivot| pivot.determinant).product();
    if !(determinant.abs() > 0.0 && determinant.is_finite()) {
        return None;
    }
    backward::<N, LANES, WIDTH, 4>(columns, &pivots);
    backward::<N, LANES, WIDTH, 3>(columns, &pivots);
    backward::<N, LANES, WIDTH, 2>(columns, &pivots);
    backward::<N, LANES, WIDTH, 1>(columns, &pivots);
    backward::<N, LANES, WIDTH, 0>(columns, &pivots);
    Some(determinant)
}

/// What one unknown leaves behind.
#[derive(Clone, Copy)]
struct Pivot {
    /// Its factor of the determinant.
    determinant: f64,
    reciprocal: f64,
}

/// Takes one unknown out of the equations after its own. The column is part of the type: every loop then has a fixed
/// length, and is unrolled.
#[inline(always)]
fn forward<const N: usize, const LANES: usize, const WIDTH: usize, const COLUMN: usize>(
    columns: &mut [[f64; LANES]; WIDTH],
) -> Pivot {
    if COLUMN >= N {
        return Pivot {
            determinant: 1.0,
            reciprocal: 1.0,
        };
    }
    let mut largest = 0.0;
    for value in &columns[COLUMN][COLUMN + 1..N] {
        let size = value.abs();
        largest = if size > largest { size } else { largest };
    }
    let mut sign = 1.0;
    if columns[COLUMN][COLUMN].abs() < KEPT * largest {
        exchange::<N, LANES, WIDTH>(columns, COLUMN);
        sign = -1.0;
    }
    let pivot = columns[COLUMN][COLUMN];
    let reciprocal = 1.0 / pivot;
    let found = Pivot {
        determinant: sign * pivot,
        reciprocal,
    };
    if COLUMN + 1 == N {
        return found;
    }
    // Whole pairs are changed; the pivot's own equation by nothing.
    let first = (COLUMN + 1) & !1;
    let mut factors = [0.0; LANES];
    for lane in COLUMN + 1..LANES {
        factors[lane] = columns[COLUMN][lane] * reciprocal;
    }
    for column in columns.iter_mut().skip(COLUMN + 1) {
        let value = column[COLUMN];
        for lane in first..LANES {
            column[lane] -= factors[lane] * value;
        }
    }
    found
}

/// Exchanges an equation with the one after it that has the greatest value in its column.
#[cold]
#[inline(never)]
fn exchange<const N: usize, const LANES: usize, const WIDTH: usize>(
    columns: &mut [[f64; LANES]; WIDTH],
    column: usize,
) {
    let size = |row: &usize| columns[column][*row].abs();
    let best = (column..N).max_by(|a, b| size(a).total_cmp(&size(b)));
    for values in columns {
        values.swap(column, best.unwrap_or(column));
    }
}

/// Finds one unknown and takes it out of the equations before its own.
#[inline(always)]
fn backward<const N: usize, const LANES: usize, const WIDTH: usize, const COLUMN: usize>(
    columns: &mut [[f64; LANES]; WIDTH],
    pivots: &[Pivot; 5],
) {
    if COLUMN >= N {
        return;
    }
    let (coefficients, sides) = columns.split_at_mut(N);
    for side in sides {
        let value = side[COLUMN] * pivots[COLUMN].reciprocal;
        side[COLUMN] = value;
        for lane in 0..COLUMN {
            side[lane] -= coefficients[COLUMN][lane] * value;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn solves_two_right_hand_sides_and_leaves_padding_alone() {
        // det = -2 (4 - 0.5) + (4 + 1) = -2; the right-hand sides are the images of (1, -2, 3) and (0, 1, 0).
        let mut columns = [
            [0.0, 4.0, 1.0, 9.0],
            [2.0, -1.0, 1.0, 9.0],
            [1.0, 0.5, 1.0, 9.0],
            [-1.0, 7.5, 2.0, 9.0],
            [2.0, -1.0, 1.0, 9.0],
        ];
        let determinant = eliminate::<3, 4, 5>(&mut columns).expect("regular");
        assert!((determinant + 2.0).abs() < 1e-14);
        for (side, expected) in columns[3..].iter().zip([[1.0, -2.0, 3.0], [0.0, 1.0, 0.0]]) {
            for (found, expected) in side.iter().zip(expected) {
                assert!((found - expected).abs() < 1e-14);
            }
        }
    }

    #[test]
    fn a_singular_or_broken_matrix_has_no_solution() {
        assert!(eliminate::<2, 2, 3>(&mut [[1.0, 2.0], [2.0, 4.0], [1.0, 1.0]]).is_none());
        assert!(eliminate::<2, 2, 3>(&mut [[f64::NAN, 2.0], [2.0, f64::NAN], [1.0, 1.0]]).is_none());
    }
}
