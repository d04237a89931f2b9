//! Two links or coilovers that mirror each other: their lengths and all partial derivatives.

/// The left one of two mirrored links or coilovers (mm).
#[derive(Debug, Clone, Copy)]
pub(crate) struct MirroredPair {
    /// Left point on the body.
    pub(crate) body: [f64; 3],
    /// Left point on the axle.
    pub(crate) axle: [f64; 3],
}

/// What is the same along a line: the roll angle ε of the wheel centres' line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Roll {
    pub(super) half_difference: f64,
    pub(super) sin: f64,
    pub(super) cos: f64,
    /// dε/dr = 1/(a cos ε).
    pub(super) angle_rate: f64,
}

/// Sines and cosines of the two unknown angles.
#[derive(Debug, Clone, Copy)]
pub(super) struct Turn {
    pub(super) sin_pitch: f64,
    pub(super) cos_pitch: f64,
    pub(super) sin_steer: f64,
    pub(super) cos_steer: f64,
}

/// F and G of one pair and their partial derivatives.
#[derive(Debug, Clone, Copy)]
pub(super) struct PairState {
    pub(super) f: f64,
    pub(super) g: f64,
    /// By X, τ, Y, ψ.
    pub(super) f_by: [f64; 4],
    pub(super) g_by: [f64; 4],
    pub(super) f_by_heave: f64,
    pub(super) g_by_heave: f64,
    /// By half the roll difference.
    pub(super) f_by_roll: f64,
    pub(super) g_by_roll: f64,
}

impl MirroredPair {
    /// The same pair with coordinates from the mid point of the wheel centres.
    pub(super) fn relative_to(&self, wheel_centre: &[f64; 3]) -> Self {
        let shift = |p: [f64; 3]| [p[0] - wheel_centre[0], p[1], p[2] - wheel_centre[2]];
        Self {
            body: shift(self.body),
            axle: shift(self.axle),
        }
    }

    /// Half the squared length of one link.
    pub(super) fn half_square(&self) -> f64 {
        let square = |i: usize| (self.axle[i] - self.body[i]).powi(2);
        0.5 * (square(0) + square(1) + square(2))
    }

    #[inline(always)]
    pub(super) fn at(&self, x: f64, y: f64, heave: f64, turn: &Turn, roll: &Roll) -> PairState {
        let [bx, by, bz] = self.body;
        let [ax, ay, az] = self.axle;
        let (sin, cos) = (turn.sin_steer, turn.cos_steer);
        let wx = ax * turn.cos_pitch + az * turn.sin_pitch;
        let q = ax * turn.sin_pitch - az * turn.cos_pitch;
        let u = [
            x + wx - bx * cos,
            y + q * roll.sin + bx * sin,
            heave - q * roll.cos - bz,
        ];
        let v = [-by * sin, ay * roll.cos - by * cos, ay * roll.sin];
        // Across and along the axle's own vertical, where pitch and roll act.
        let u_pitch = roll.sin * u[1] - roll.cos * u[2];
        let u_roll = roll.cos * u[1] + roll.sin * u[2];
        let (bx_sin, bx_cos) = (bx * sin, bx * cos);
        PairState {
            f: 0.5 * (dot(&u, &u) + dot(&v, &v)),
            g: dot(&u, &v),
            f_by: [
                u[0],
                wx * u_pitch - q * u[0],
                u[1],
                bx_sin * u[0] + bx_cos * u[1] + ay * by * roll.cos * sin,
            ],
            g_by: [
                v[0],
                -q * v[0] - wx * by * cos * roll.sin,
                v[1],
                bx_sin * v[0] + bx_cos * v[1] + by * (sin * u[1] - cos * u[0]),
            ],
            f_by_heave: u[2],
            g_by_heave: v[2],
            f_by_roll: roll.angle_rate * (q * u_roll + ay * by * roll.sin * cos),
            g_by_roll: roll.angle_rate * (q * (ay - by * cos * roll.cos) - ay * u_pitch),
        }
    }
}

#[inline(always)]
fn dot(a: &[f64; 3], b: &[f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

#[inline(always)]
pub(super) fn dot4(a: &[f64; 4], b: &[f64; 4]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3]
}

/// Sine and cosine; a Taylor polynomial below 0.25 rad, where its next term is under 1e-17, as axle steer and pitch are.
#[inline(always)]
pub(super) fn sin_cos(angle: f64) -> (f64, f64) {
    if angle.abs() > 0.25 {
        return angle.sin_cos();
    }
    let x = angle * angle;
    let sin = 1.0 / 39916800.0;
    let sin = 1.0 / 362880.0 - x * sin;
    let sin = 1.0 / 5040.0 - x * sin;
    let sin = 1.0 / 120.0 - x * sin;
    let sin = 1.0 / 6.0 - x * sin;
    let cos = 1.0 / 479001600.0;
    let cos = 1.0 / 3628800.0 - x * cos;
    let cos = 1.0 / 40320.0 - x * cos;
    let cos = 1.0 / 720.0 - x * cos;
    let cos = 1.0 / 24.0 - x * cos;
    let cos = 0.5 - x * cos;
    (angle - angle * x * sin, 1.0 - x * cos)
}
