//! A carrier in motion, in a number type that carries as many rates as a formula needs.

use super::{Motion, Pose, Solved, Twist};
use crate::linkage::Command;
use crate::numeric::real::{Moving, Over, Real, moving};
use crate::pickups::Point;
use nalgebra::{Matrix3, Vector3};
use num_dual::Dual64;

/// Where a carrier is and how it moves along one motion of the command.
///
/// With `T = f64` points of it carry first rates; with a dual `T` every value and every rate also carries its own rate
/// along a second motion, from which slopes such as that of the motion ratio follow. `F` is the number type of the geometry: plain, or one whose numbers vary.
#[derive(Debug, Clone, Copy)]
pub(crate) struct CarrierMotion<T: Real, F = f64> {
    pub(crate) origin: Vector3<F>,
    pub(crate) displacement: Vector3<T>,
    /// Rotation minus identity.
    pub(crate) turn: Matrix3<T>,
    /// Rate of the origin.
    pub(crate) linear: Vector3<T>,
    /// Angular rate.
    pub(crate) angular: Vector3<T>,
}

impl<T: Over<F>, F: Real> CarrierMotion<T, F> {
    /// Where a point of the carrier is, given where it was as measured; without motion exactly there.
    #[inline(always)]
    pub(crate) fn carried(&self, as_measured: &Vector3<F>) -> Vector3<Moving<T>> {
        let arm = as_measured - self.origin;
        let turned = self.turned(&arm);
        let place = plus(&(self.displacement + turned), as_measured);
        moving(&place, &(self.linear + self.angular.cross(&plus(&turned, &arm))))
    }

    /// A direction fixed to the carrier, `direction` as measured.
    #[inline(always)]
    pub(crate) fn direction(&self, direction: &Vector3<F>) -> Vector3<Moving<T>> {
        let direction = plus(&self.turned(direction), direction);
        moving(&direction, &self.angular.cross(&direction))
    }

    /// Rotation since the pickups were measured.
    #[inline(always)]
    pub(crate) fn rotation(&self) -> Matrix3<Moving<T>> {
        let (zero, one) = (F::from(0.0), F::from(1.0));
        let axes = [
            Vector3::new(one, zero, zero),
            Vector3::new(zero, one, zero),
            Vector3::new(zero, zero, one),
        ];
        Matrix3::from_columns(&axes.map(|axis| self.direction(&axis)))
    }

    /// Rate of the carrier's material point that is now at `place`.
    #[inline(always)]
    pub(crate) fn rate_at(&self, place: &Vector3<T>) -> Vector3<T> {
        let origin = plus(&self.displacement, &self.origin);
        self.linear + self.angular.cross(&(place - origin))
    }

    /// How much the turn has changed a vector of the carrier.
    #[inline(always)]
    fn turned(&self, vector: &Vector3<F>) -> Vector3<T> {
        let turn = &self.turn;
        let row = |row| {
            turn[(row, 0)].times(vector.x) + turn[(row, 1)].times(vector.y) + turn[(row, 2)].times(vector.z)
        };
        Vector3::new(row(0), row(1), row(2))
    }
}

/// A sum with numbers of the geometry.
#[inline(always)]
fn plus<T: Over<F>, F: Real>(a: &Vector3<T>, b: &Vector3<F>) -> Vector3<T> {
    Vector3::new(a.x.plus(b.x), a.y.plus(b.y), a.z.plus(b.z))
}

/// The carrier with its first rates.
#[inline(always)]
pub(crate) fn first_rates(origin: &Point, pose: &Pose, twist: &Twist) -> CarrierMotion<f64> {
    CarrierMotion {
        origin: *origin,
        displacement: pose.displacement,
        turn: pose.turn,
        linear: twist.linear,
        angular: twist.angular,
    }
}

/// The carrier with its rates along `first`, and all of that with its rates along `second`.
///
/// The mixed second rate of two motions comes from the plain second rates along their sum and difference,
/// `f_ab = (f''(a + b) - f''(a - b)) / 4`, which is exact. For rotations that gives a part that does not ask which
/// motion came first; the rate of the first angular rate w_a along the second motion adds `w_b cross w_a / 2`.
pub(crate) fn second_rates(
    origin: &Point,
    motion: &Motion<'_>,
    solved: &Solved,
    first: &Command,
    second: &Command,
) -> CarrierMotion<Dual64> {
    let pose = &solved.pose;
    let (along_first, along_second) = (motion.twist(first), motion.twist(second));
    // Starting from zero keeps mirrored motions mirrored to the last bit.
    let mut mixed = Twist::zero();
    for sign in [1.0, -1.0] {
        let mut direction = *first;
        for (value, other) in direction.iter_mut().zip(second) {
            *value += sign * other;
        }
        let twist = Twist {
            linear: along_first.linear + along_second.linear * sign,
            angular: along_first.angular + along_second.angular * sign,
        };
        let acceleration = motion.second(&direction, &twist);
        mixed.linear += acceleration.linear * (0.25 * sign);
        mixed.angular += acceleration.angular * (0.25 * sign);
    }
    mixed.angular += 0.5 * along_second.angular.cross(&along_first.angular);
    let turning = along_second.angular.cross_matrix() * pose.rotation();
    CarrierMotion {
        origin: *origin,
        displacement: pose.displacement.zip_map(&along_second.linear, Dual64::new),
        turn: pose.turn.zip_map(&turning, Dual64::new),
        linear: along_first.linear.zip_map(&mixed.linear, Dual64::new),
        angular: along_first.angular.zip_map(&mixed.angular, Dual64::new),
    }
}
