//! The 4 × 4 system of the two pairs, eliminated by blocks.

use super::pair::PairState;

/// The 4 × 4 matrix of the two pairs, eliminated by blocks: P, Q over R, S.
#[derive(Debug, Clone, Copy)]
pub(super) struct Blocks {
    pub(super) p_inverse: [[f64; 2]; 2],
    /// P⁻¹ Q.
    pub(super) carried: [[f64; 2]; 2],
    pub(super) r: [[f64; 2]; 2],
    /// (S - R P⁻¹ Q)⁻¹.
    pub(super) complement_inverse: [[f64; 2]; 2],
}

#[inline(always)]
pub(super) fn inverse(m: [[f64; 2]; 2]) -> [[f64; 2]; 2] {
    let scale = 1.0 / (m[0][0] * m[1][1] - m[0][1] * m[1][0]);
    [
        [m[1][1] * scale, -m[0][1] * scale],
        [-m[1][0] * scale, m[0][0] * scale],
    ]
}

#[inline(always)]
pub(super) fn product(a: &[[f64; 2]; 2], b: &[[f64; 2]; 2]) -> [[f64; 2]; 2] {
    let entry = |i: usize, j: usize| a[i][0] * b[0][j] + a[i][1] * b[1][j];
    [[entry(0, 0), entry(0, 1)], [entry(1, 0), entry(1, 1)]]
}

#[inline(always)]
pub(super) fn times(a: &[[f64; 2]; 2], x: [f64; 2]) -> [f64; 2] {
    [a[0][0] * x[0] + a[0][1] * x[1], a[1][0] * x[0] + a[1][1] * x[1]]
}

impl Blocks {
    #[inline(always)]
    pub(super) fn new(lower: &PairState, upper: &PairState) -> Self {
        let p = [[lower.f_by[0], lower.f_by[1]], [upper.f_by[0], upper.f_by[1]]];
        let q = [[lower.f_by[2], lower.f_by[3]], [upper.f_by[2], upper.f_by[3]]];
        let r = [[lower.g_by[0], lower.g_by[1]], [upper.g_by[0], upper.g_by[1]]];
        let s = [[lower.g_by[2], lower.g_by[3]], [upper.g_by[2], upper.g_by[3]]];
        let p_inverse = inverse(p);
        let carried = product(&p_inverse, &q);
        let through = product(&r, &carried);
        let complement = [
            [s[0][0] - through[0][0], s[0][1] - through[0][1]],
            [s[1][0] - through[1][0], s[1][1] - through[1][1]],
        ];
        Self {
            p_inverse,
            carried,
            r,
            complement_inverse: inverse(complement),
        }
    }

    /// X, τ, Y, ψ for the right-hand sides of the two F rows and of the two G rows.
    #[inline(always)]
    pub(super) fn solve(&self, f: [f64; 2], g: [f64; 2]) -> [f64; 4] {
        let first = times(&self.p_inverse, f);
        let through = times(&self.r, first);
        let second = times(&self.complement_inverse, [g[0] - through[0], g[1] - through[1]]);
        let back = times(&self.carried, second);
        [first[0] - back[0], first[1] - back[1], second[0], second[1]]
    }
}
