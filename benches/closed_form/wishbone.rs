//! One left double wishbone with a tie rod and a coilover on the lower arm, in closed form but for one unknown.
//!
//! # Derivation
//!
//! **Lower arm.** Turned by the angle q about its pivots, the lower ball joint is `L = c + e₁ cos q + e₂ sin q`, with
//! `c` the foot of the static ball joint on the pivot axis, `e₁` from there to the ball joint and `e₂ = a × e₁` for
//! the unit axis `a`. The damper mount runs on a circle of the same kind. The unknown is `t = tan(q/2)`, so that
//! `cos q = g - 1`, `sin q = g t`, `dq/dt = g` with `g = 2/(1 + t²)`: one division instead of a sine and a cosine.
//!
//! **Upper ball joint** (sphere about L, circle of the upper arm): `U = c_u + f₁ cos p + f₂ sin p`, `|U - L| = ℓ`.
//! With `w = L - c_u`, `A = w·f₁`, `B = w·f₂`, `C = (w² + f₁² - ℓ²)/2` this is `A cos p + B sin p = C`, so
//! `cos p = (A C - σ B D)/(A² + B²)`, `sin p = (B C + σ A D)/(A² + B²)`, `D = √(A² + B² - C²)`. The sign σ is that
//! of the static position; D = 0 is the dead centre between the two assemblies.
//!
//! **Tie-rod outer** (spheres about L, U and the inner joint I): with `k = U - L` it lies on a circle of radius ρ
//! about `m = L + α k`. With `w = I - m` and its part `w⊥` across k, `T - m = r = β w⊥ + γ k × w`,
//! `β = C/w⊥²`, `C = (ρ² + w² - |T - I|²)/2`, `γ = σ √(ρ² w⊥² - C²)/(ℓ w⊥²)`.
//!
//! **Upright.** Wheel centre and spin axis have constant components along `k`, `r`, `n = k × r`.
//!
//! **Exact rates** by q (written with a dot): `k·k̇ = 0` gives `ṗ = k·L̇/(σ D)`. The upright turns with
//! `ω = k × k̇/ℓ² + λ k`, and the rod `(T - I)·Ṫ = 0` gives λ; its divisor `(T - I)·n` is `σ ℓ √(ρ² w⊥² - C²)`.
//! Every other rate is `ω × v` or `L̇ + ω × v`; division by the rate of the wheel-centre height makes it per travel.
//!
//! **Newton** on the wheel-centre height is one-dimensional with that same rate. From the three-point predictor the
//! miss is far below [`FIRST_ORDER_LIMIT`], so one evaluation a position is enough: it yields the correction and the rates.

use super::predictor::{self, Sample};
use super::{FIRST_ORDER_LIMIT, MOST_ITERATIONS, OutOfReach};
use nalgebra::Vector3;

type Vector = Vector3<f64>;

/// Pickups of the corner as measured (mm, vehicle axes: forward, left, up) and the spacing of the sweep.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Wishbone {
    /// Upper arm, front pivot.
    pub(crate) upper_front: Vector,
    /// Upper arm, rear pivot.
    pub(crate) upper_rear: Vector,
    /// Upper ball joint.
    pub(crate) upper_ball: Vector,
    /// Lower arm, front pivot.
    pub(crate) lower_front: Vector,
    /// Lower arm, rear pivot.
    pub(crate) lower_rear: Vector,
    /// Lower ball joint.
    pub(crate) lower_ball: Vector,
    /// Tie rod, inner joint, on the body.
    pub(crate) tie_inner: Vector,
    /// Tie rod, outer joint, on the upright.
    pub(crate) tie_outer: Vector,
    /// Wheel centre.
    pub(crate) wheel_centre: Vector,
    /// Static camber (rad), positive when the top leans outboard.
    pub(crate) camber: f64,
    /// Static toe (rad), positive toe-in.
    pub(crate) toe: f64,
    /// Damper mount on the body.
    pub(crate) damper_body: Vector,
    /// Damper mount on the lower arm.
    pub(crate) damper_mount: Vector,
    /// Distance between two positions of the sweep (mm of travel).
    pub(crate) travel_step: f64,
}

/// Everything asked of one position (mm, rad, and per mm of travel).
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Position {
    /// Travel of the wheel centre (mm), bump positive.
    pub(crate) travel: f64,
    /// Upper ball joint.
    pub(crate) upper_ball: Vector,
    /// Lower ball joint.
    pub(crate) lower_ball: Vector,
    /// Tie-rod outer joint.
    pub(crate) tie_outer: Vector,
    /// Damper mount on the lower arm.
    pub(crate) damper_mount: Vector,
    /// Wheel centre.
    pub(crate) wheel_centre: Vector,
    /// Camber (rad), positive when the top leans outboard.
    pub(crate) camber: f64,
    /// Toe (rad), positive toe-in.
    pub(crate) toe: f64,
    /// Caster (rad), positive when the top of the steering axis leans rearward.
    pub(crate) caster: f64,
    /// Damper length between its mounts (mm).
    pub(crate) damper_length: f64,
    /// Damper travel over wheel travel, positive when bump compresses.
    pub(crate) motion_ratio: f64,
    /// Rate of camber (rad/mm).
    pub(crate) camber_rate: f64,
    /// Rate of toe (rad/mm).
    pub(crate) toe_rate: f64,
    /// Rate of caster (rad/mm).
    pub(crate) caster_rate: f64,
}

/// A point that turns about a fixed axis: `centre + across cos q + along sin q`.
#[derive(Debug, Clone, Copy)]
struct Circle {
    centre: Vector,
    across: Vector,
    along: Vector,
}

impl Circle {
    fn of(point: &Vector, pivot: &Vector, axis: &Vector) -> Self {
        let centre = pivot + axis * (point - pivot).dot(axis);
        let across = point - centre;
        Self {
            centre,
            across,
            along: axis.cross(&across),
        }
    }

    #[inline(always)]
    fn point(&self, cos: f64, sin: f64) -> Vector {
        self.centre + self.across * cos + self.along * sin
    }

    #[inline(always)]
    fn rate(&self, cos: f64, sin: f64) -> Vector {
        self.along * cos - self.across * sin
    }
}

/// The constants of one corner: what does not change along the sweep.
#[derive(Debug, Clone, Copy)]
struct Corner {
    lower: Circle,
    damper: Circle,
    upper: Circle,
    damper_body: Vector,
    tie_inner: Vector,
    /// (f₁² - ℓ²)/2.
    upper_offset: f64,
    upper_sign: f64,
    /// 1/ℓ².
    upright_inverse_squared: f64,
    /// α, where the foot of the tie-rod outer lies between the ball joints.
    tie_foot: f64,
    /// ρ².
    tie_arm_squared: f64,
    /// (ρ² - |T - I|²)/2.
    tie_offset: f64,
    /// σ ℓ of the tie-rod root.
    tie_signed_upright: f64,
    /// σ/ℓ of the tie-rod root.
    tie_signed_inverse: f64,
    /// Components of wheel centre minus lower ball joint along k, r, n.
    wheel_in_upright: Vector,
    /// Components of the spin axis along k, r, n.
    spin_in_upright: Vector,
    static_height: f64,
}

/// One evaluated lower-arm angle: points, and velocities by that angle.
#[derive(Debug, Clone, Copy)]
struct Evaluated {
    lower_ball: Vector,
    lower_rate: Vector,
    upper_ball: Vector,
    upper_rate: Vector,
    tie_outer: Vector,
    tie_rate: Vector,
    wheel_centre: Vector,
    wheel_rate: Vector,
    damper_mount: Vector,
    damper_rate: Vector,
    steering_axis: Vector,
    steering_rate: Vector,
    spin: Vector,
    spin_rate: Vector,
    /// dq/dt of the half-angle tangent.
    angle_by_tangent: f64,
}

impl Corner {
    fn new(pickups: &Wishbone) -> Self {
        let lower_axis = (pickups.lower_front - pickups.lower_rear).normalize();
        let upper_axis = (pickups.upper_front - pickups.upper_rear).normalize();
        let upper = Circle::of(&pickups.upper_ball, &pickups.upper_rear, &upper_axis);
        let k = pickups.upper_ball - pickups.lower_ball;
        let upright_squared = k.norm_squared();
        let to_tie = pickups.tie_outer - pickups.lower_ball;
        let tie_foot = to_tie.dot(&k) / upright_squared;
        let r = to_tie - k * tie_foot;
        let n = k.cross(&r);
        let in_upright = |v: Vector| {
            Vector::new(
                v.dot(&k) / upright_squared,
                v.dot(&r) / r.norm_squared(),
                v.dot(&n) / n.norm_squared(),
            )
        };
        let rod = pickups.tie_outer - pickups.tie_inner;
        let tie_sign = rod.dot(&n).signum() * upright_squared.sqrt();
        let (sin_camber, cos_camber) = pickups.camber.sin_cos();
        let (sin_toe, cos_toe) = pickups.toe.sin_cos();
        Self {
            lower: Circle::of(&pickups.lower_ball, &pickups.lower_rear, &lower_axis),
            damper: Circle::of(&pickups.damper_mount, &pickups.lower_rear, &lower_axis),
            upper,
            damper_body: pickups.damper_body,
            tie_inner: pickups.tie_inner,
            upper_offset: 0.5 * (upper.across.norm_squared() - upright_squared),
            upper_sign: k.dot(&upper.along).signum(),
            upright_inverse_squared: 1.0 / upright_squared,
            tie_foot,
            tie_arm_squared: r.norm_squared(),
            tie_offset: 0.5 * (r.norm_squared() - rod.norm_squared()),
            tie_signed_upright: tie_sign,
            tie_signed_inverse: 1.0 / tie_sign,
            wheel_in_upright: in_upright(pickups.wheel_centre - pickups.lower_ball),
            spin_in_upright: in_upright(Vector::new(
                cos_camber * sin_toe,
                cos_camber * cos_toe,
                -sin_camber,
            )),
            static_height: pickups.wheel_centre.z,
        }
    }

    /// All points and their velocities by the arm angle; none at a half-angle tangent where the rods do not meet.
    #[inline(always)]
    fn evaluate(&self, tangent: f64) -> Option<Evaluated> {
        let g = 2.0 / (1.0 + tangent * tangent);
        let (cos, sin) = (g - 1.0, g * tangent);
        let lower_ball = self.lower.point(cos, sin);
        let lower_rate = self.lower.rate(cos, sin);

        // Sphere about the lower ball joint, circle of the upper arm.
        let w = lower_ball - self.upper.centre;
        let (a, b) = (w.dot(&self.upper.across), w.dot(&self.upper.along));
        let c = 0.5 * w.norm_squared() + self.upper_offset;
        let square = a * a + b * b;
        let beneath = square - c * c;
        if beneath <= 0.0 {
            return None;
        }
        let root = self.upper_sign * beneath.sqrt();
        let scale = 1.0 / square;
        let (upper_cos, upper_sin) = ((a * c - b * root) * scale, (b * c + a * root) * scale);
        let upper_ball = self.upper.point(upper_cos, upper_sin);
        let k = upper_ball - lower_ball;
        let upper_rate = self.upper.rate(upper_cos, upper_sin) * (k.dot(&lower_rate) / root);

        // Spheres about both ball joints and the tie-rod inner joint.
        let w = self.tie_inner - lower_ball - k * self.tie_foot;
        let along_k = w.dot(&k) * self.upright_inverse_squared;
        let across = w - k * along_k;
        let across_squared = across.norm_squared();
        let c = self.tie_offset + 0.5 * w.norm_squared();
        let beneath = self.tie_arm_squared * across_squared - c * c;
        if beneath <= 0.0 {
            return None;
        }
        let root = beneath.sqrt();
        let scale = 1.0 / across_squared;
        let r = across * (c * scale) + k.cross(&across) * (self.tie_signed_inverse * root * scale);
        let to_tie = k * self.tie_foot + r;

        // Angular velocity of the upright.
        let steering_rate = upper_rate - lower_rate;
        let tilt = k.cross(&steering_rate) * self.upright_inverse_squared;
        let rod = r - w;
        let spin_speed = -rod.dot(&(lower_rate + tilt.cross(&to_tie))) / (self.tie_signed_upright * root);
        let omega = tilt + k * spin_speed;

        let n = k.cross(&r);
        let to_wheel =
            k * self.wheel_in_upright.x + r * self.wheel_in_upright.y + n * self.wheel_in_upright.z;
        let spin = k * self.spin_in_upright.x + r * self.spin_in_upright.y + n * self.spin_in_upright.z;
        Some(Evaluated {
            lower_ball,
            lower_rate,
            upper_ball,
            upper_rate,
            tie_outer: lower_ball + to_tie,
            tie_rate: lower_rate + omega.cross(&to_tie),
            wheel_centre: lower_ball + to_wheel,
            wheel_rate: lower_rate + omega.cross(&to_wheel),
            damper_mount: self.damper.point(cos, sin),
            damper_rate: self.damper.rate(cos, sin),
            steering_axis: k,
            steering_rate,
            spin,
            spin_rate: omega.cross(&spin),
            angle_by_tangent: g,
        })
    }

    /// Newton from the predicted half-angle tangent; writes the position and returns the sample for the predictor.
    #[inline(always)]
    fn solve(&self, travel: f64, predicted: f64, position: &mut Position) -> Option<Sample> {
        let height = self.static_height + travel;
        let mut tangent = predicted;
        for _ in 0..MOST_ITERATIONS {
            let at = self.evaluate(tangent)?;
            // The axis points forward, so the arm rises with q; past the limit of reach the wheel comes down again.
            if at.wheel_rate.z <= 0.0 {
                return None;
            }
            // dq/dz
            let angle_by_travel = 1.0 / at.wheel_rate.z;
            let miss = height - at.wheel_centre.z;
            let tangent_by_travel = angle_by_travel / at.angle_by_tangent;
            tangent += miss * tangent_by_travel;
            if miss.abs() <= FIRST_ORDER_LIMIT {
                self.write(&at, travel, miss, angle_by_travel, position);
                return Some(Sample {
                    value: tangent,
                    slope: tangent_by_travel,
                });
            }
        }
        None
    }

    /// Carries the evaluated pose over the last `miss` (mm of travel) to first order and reads the curves from it.
    #[inline(always)]
    fn write(&self, at: &Evaluated, travel: f64, miss: f64, angle_by_travel: f64, position: &mut Position) {
        let turn = miss * angle_by_travel;
        position.travel = travel;
        position.lower_ball = at.lower_ball + at.lower_rate * turn;
        position.upper_ball = at.upper_ball + at.upper_rate * turn;
        position.tie_outer = at.tie_outer + at.tie_rate * turn;
        position.wheel_centre = at.wheel_centre + at.wheel_rate * turn;
        let mount = at.damper_mount + at.damper_rate * turn;
        position.damper_mount = mount;

        let damper = mount - self.damper_body;
        let length = damper.norm();
        position.damper_length = length;
        position.motion_ratio = -damper.dot(&at.damper_rate) * angle_by_travel / length;

        let s = at.spin + at.spin_rate * turn;
        let s_rate = at.spin_rate * angle_by_travel;
        let level_squared = s.x * s.x + s.y * s.y;
        let level = level_squared.sqrt();
        position.camber = (-s.z).atan2(level);
        position.camber_rate = -s_rate.z / level;
        position.toe = s.x.atan2(s.y);
        position.toe_rate = (s_rate.x * s.y - s.x * s_rate.y) / level_squared;

        let k = at.steering_axis + at.steering_rate * turn;
        let k_rate = at.steering_rate * angle_by_travel;
        position.caster = (-k.x).atan2(k.z);
        position.caster_rate = (k.x * k_rate.z - k_rate.x * k.z) / (k.x * k.x + k.z * k.z);
    }
}

/// Solves the sweep into `positions`: an odd number, five or more, static in the middle, `travel_step` apart.
///
/// It goes outward from the static position, so that every position continues the assembly as measured.
///
/// # Errors
/// [`OutOfReach`] where the rods do not meet or Newton does not settle.
pub(crate) fn sweep(pickups: &Wishbone, positions: &mut [Position]) -> Result<(), OutOfReach> {
    let corner = Corner::new(pickups);
    let middle = positions.len() / 2;
    let (droop, bump) = positions.split_at_mut(middle);
    // The three positions the predictor looks back on for the first one in droop: travel 0 and the two after it.
    let mut start = [Sample::default(); 3];
    let mut history = [Sample::default(); 3];
    for (index, position) in bump.iter_mut().enumerate() {
        let travel = index as f64 * pickups.travel_step;
        let predicted = match index {
            0 => 0.0,
            1 => predictor::from_one(pickups.travel_step, history[0]),
            2 => predictor::from_two(pickups.travel_step, history[0], history[1]),
            _ => predictor::from_three(pickups.travel_step, history[0], history[1], history[2]),
        };
        let solved = corner.solve(travel, predicted, position).ok_or(OutOfReach {
            travel,
            half_roll: 0.0,
        })?;
        history = [solved, history[0], history[1]];
        if index < 3 {
            start[index] = solved;
        }
    }
    let mut history = start;
    for (index, position) in droop.iter_mut().rev().enumerate() {
        let travel = -((index + 1) as f64) * pickups.travel_step;
        let predicted = predictor::from_three(-pickups.travel_step, history[0], history[1], history[2]);
        let solved = corner.solve(travel, predicted, position).ok_or(OutOfReach {
            travel,
            half_roll: 0.0,
        })?;
        history = [solved, history[0], history[1]];
    }
    Ok(())
}
