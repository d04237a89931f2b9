//! A carrier in motion, in a number type that carries as many rates as a formula needs.

use super::{Motion, Pose, Solved, Twist};
use crate::linkage::Command;
use crate::numeric::real::{Moving, Real, fixed, moving, rate, value};
use crate::pickups::Point;
use nalgebra::{Matrix3, Vector3};
use num_dual::{Dual, Dual64};

/// Displacement and turn of a carrier, each with its rate along one motion of the command.
///
/// With `T = f64` the rates are first rates; with a dual `T` every value and every rate also carries its own rate
/// along a second motion, from which slopes such as that of the motion ratio follow.
#[derive(Debug, Clone, Copy)]
pub(crate) struct CarrierMotion<T: Real> {
    pub(crate) origin: Point,
    pub(crate) displacement: Vector3<Moving<T>>,
    /// Rotation minus identity.
    pub(crate) turn: Matrix3<Moving<T>>,
}

impl<T: Real> CarrierMotion<T> {
    /// Where a point of the carrier is, given where it was as measured; without motion exactly there.
    #[inline]
    pub(crate) fn carried(&self, as_measured: &Point) -> Vector3<Moving<T>> {
        let arm: Vector3<Moving<T>> = fixed(&(as_measured - self.origin));
        let place: Vector3<Moving<T>> = fixed(as_measured);
        place + self.displacement + self.turn * arm
    }

    /// A direction fixed to the carrier, `direction` as measured.
    #[inline]
    pub(crate) fn direction(&self, direction: &Vector3<f64>) -> Vector3<Moving<T>> {
        let as_measured: Vector3<Moving<T>> = fixed(direction);
        as_measured + self.turn * as_measured
    }

    /// Angular rate of the carrier: half the sum of each carried axis crossed with its rate.
    pub(crate) fn angular_rate(&self) -> Vector3<T> {
        let mut sum = Vector3::zeros();
        for axis in [Vector3::x(), Vector3::y(), Vector3::z()] {
            let carried = self.direction(&axis);
            sum += value(&carried).cross(&rate(&carried));
        }
        sum * T::from(0.5)
    }

    /// Rate of the carrier's material point that is now at `place`.
    pub(crate) fn rate_at(&self, place: &Vector3<T>) -> Vector3<T> {
        let origin = self.carried(&self.origin);
        rate(&origin) + self.angular_rate().cross(&(place - value(&origin)))
    }
}

/// The carrier with its first rates.
#[inline]
pub(crate) fn first_rates(origin: &Point, pose: &Pose, twist: &Twist) -> CarrierMotion<f64> {
    let spin = twist.angular.cross_matrix();
    let turning = spin + spin * pose.turn;
    CarrierMotion {
        origin: *origin,
        displacement: moving(&pose.displacement, &twist.linear),
        turn: pose.turn.zip_map(&turning, Dual::new),
    }
}

/// The carrier with its rates along `first`, and all of that with its rates along `second`.
///
/// The mixed second rate of two motions comes from the plain second rates along their sum and difference:
/// `f_ab = (f''(a + b) - f''(a - b)) / 4`, which is exact.
pub(crate) fn second_rates(
    origin: &Point,
    motion: &Motion<'_>,
    solved: &Solved,
    first: &Command,
    second: &Command,
) -> CarrierMotion<Dual64> {
    let pose = &solved.pose;
    let rotation = pose.rotation();
    let (along_first, along_second) = (motion.twist(first), motion.twist(second));
    let mut mixed_shift = Vector3::zeros();
    let mut mixed_turn = Matrix3::zeros();
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
        let spin = twist.angular.cross_matrix();
        mixed_shift += acceleration.linear * (0.25 * sign);
        mixed_turn += (acceleration.angular.cross_matrix() + spin * spin) * rotation * (0.25 * sign);
    }
    let turning_first = along_first.angular.cross_matrix() * rotation;
    let turning_second = along_second.angular.cross_matrix() * rotation;
    let mut displacement = Vector3::zeros();
    for place in 0..3 {
        displacement[place] = Dual::new(
            Dual64::new(pose.displacement[place], along_second.linear[place]),
            Dual64::new(along_first.linear[place], mixed_shift[place]),
        );
    }
    let mut turn = Matrix3::zeros();
    for place in 0..9 {
        turn[place] = Dual::new(
            Dual64::new(pose.turn[place], turning_second[place]),
            Dual64::new(turning_first[place], mixed_turn[place]),
        );
    }
    CarrierMotion {
        origin: *origin,
        displacement,
        turn,
    }
}
