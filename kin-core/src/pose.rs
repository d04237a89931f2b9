//! Where the carrier is at one command, and how it moves from there.

mod along;
mod limit;
mod motion;
mod moving;
mod order;
mod predict;
mod solve;
mod track;
mod trail;
mod varied;

pub(crate) use along::Along;
pub use limit::Reach;
pub(crate) use limit::reach;
pub(crate) use motion::Motion;
pub(crate) use moving::{CarrierMotion, first_rates, second_rates};
pub(crate) use order::Outward;
pub use solve::PoseError;
pub(crate) use solve::{Missed, Solved, balance_twists};
pub(crate) use track::Track;
pub(crate) use trail::Beside;
pub(crate) use varied::{CarrierNumbers, varied};

use nalgebra::{Matrix3, Vector3};

/// Where a carrier is: the displacement of its origin and its rotation, both relative to the pickups as measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pose {
    /// Displacement of the origin (mm).
    pub(crate) displacement: Vector3<f64>,
    /// Rodrigues parameters of the rotation: the tangent of half the angle, along the axis. They need no scaling back to
    /// unit length, and only half a turn, which no carrier makes, is beyond them.
    pub(crate) parameters: Vector3<f64>,
    /// Rotation matrix minus identity: small turns keep all their digits.
    pub(crate) turn: Matrix3<f64>,
}

impl Pose {
    /// The pose in which the pickups were measured.
    pub(crate) fn as_measured() -> Self {
        Self {
            displacement: Vector3::zeros(),
            parameters: Vector3::zeros(),
            turn: Matrix3::zeros(),
        }
    }

    /// A pose from a displacement and the Rodrigues parameters g of its rotation.
    ///
    /// `R - I = 2 / (1 + g^2) ([g] + [g]^2)` with the cross-product matrix [g]. Source: A. Cayley's formula (from memory).
    #[inline]
    pub(crate) fn new(displacement: Vector3<f64>, parameters: Vector3<f64>) -> Self {
        let (x, y, z) = (parameters.x, parameters.y, parameters.z);
        let scale = 2.0 / (1.0 + parameters.norm_squared());
        let (sx, sy, sz) = (scale * x, scale * y, scale * z);
        let (xx, yy, zz) = (sx * x, sy * y, sz * z);
        let (xy, yz, zx) = (sx * y, sy * z, sz * x);
        let turn = Matrix3::new(
            -(yy + zz),
            xy - sz,
            zx + sy,
            xy + sz,
            -(zz + xx),
            yz - sx,
            zx - sy,
            yz + sx,
            -(xx + yy),
        );
        Self {
            displacement,
            parameters,
            turn,
        }
    }

    /// How the Rodrigues parameters g change when the carrier turns at the rate w: `(w + w cross g + (w . g) g) / 2`.
    #[inline]
    pub(crate) fn parameter_rates(&self, angular: &Vector3<f64>) -> Vector3<f64> {
        let g = &self.parameters;
        0.5 * (angular + angular.cross(g) + g * angular.dot(g))
    }

    /// The pose after a small step: linear `v` (mm) and angular `w` (rad).
    #[inline]
    pub(crate) fn stepped(&self, step: &Twist) -> Self {
        Self::new(
            self.displacement + step.linear,
            self.parameters + self.parameter_rates(&step.angular),
        )
    }

    /// Displacement of the origin since the pickups were measured (mm).
    #[must_use]
    pub fn displacement(&self) -> Vector3<f64> {
        self.displacement
    }

    /// Rotation since the pickups were measured: a matrix that turns directions of the carrier.
    #[must_use]
    pub fn rotation(&self) -> Matrix3<f64> {
        Matrix3::identity() + self.turn
    }
}

/// A pose that is only expected, before anything is made of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Guess {
    pub(crate) displacement: Vector3<f64>,
    pub(crate) parameters: Vector3<f64>,
}

impl Guess {
    /// The pose itself.
    pub(crate) fn as_pose(&self) -> Pose {
        Pose::new(self.displacement, self.parameters)
    }

    /// The pose with its origin at a height (mm of displacement) that is known.
    #[inline]
    pub(crate) fn at_height(&self, height: f64) -> Pose {
        let displacement = Vector3::new(self.displacement.x, self.displacement.y, height);
        Pose::new(displacement, self.parameters)
    }

    /// One number for how far two guesses lie apart (mm), as [`Twist::size`] for a small step.
    pub(crate) fn distance(&self, other: &Self) -> f64 {
        let apart = Twist {
            linear: self.displacement - other.displacement,
            angular: 2.0 * (self.parameters - other.parameters),
        };
        apart.size()
    }
}

/// How a carrier moves: linear rate of its origin and angular rate, per mm of the command.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Twist {
    pub(crate) linear: Vector3<f64>,
    pub(crate) angular: Vector3<f64>,
}

impl Twist {
    pub(crate) fn zero() -> Self {
        Self {
            linear: Vector3::zeros(),
            angular: Vector3::zeros(),
        }
    }

    #[inline]
    pub(crate) fn from_parts(parts: &[f64]) -> Self {
        let part = |place: usize| parts.get(place).copied().unwrap_or(0.0);
        Self {
            linear: Vector3::new(part(0), part(1), part(2)),
            angular: Vector3::new(part(3), part(4), part(5)),
        }
    }

    /// Rate of the carrier point that lies at `arm` from the origin.
    #[inline]
    pub(crate) fn at(&self, arm: &Vector3<f64>) -> Vector3<f64> {
        self.linear + self.angular.cross(arm)
    }

    /// The part of a point's second rate that comes from turning alone.
    #[inline]
    pub(crate) fn centripetal(&self, arm: &Vector3<f64>) -> Vector3<f64> {
        self.angular.cross(&self.angular.cross(arm))
    }

    /// One number for the size of a step (mm), rotation counted at a lever.
    #[inline]
    pub(crate) fn size(&self) -> f64 {
        const LEVER_SQUARED: f64 = crate::linkage::LEVER_MM * crate::linkage::LEVER_MM;
        (self.linear.norm_squared() + LEVER_SQUARED * self.angular.norm_squared()).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::Rotation3;

    #[test]
    fn a_pose_turns_as_far_as_its_parameters_say() {
        let turn: Vector3<f64> = Vector3::new(0.3, -0.5, 0.2);
        let parameters = turn.normalize() * (0.5 * turn.norm()).tan();
        let pose = Pose::new(Vector3::zeros(), parameters);
        assert!((pose.rotation() - Rotation3::new(turn).matrix()).amax() < 1e-15);
    }

    #[test]
    fn a_small_step_turns_in_vehicle_axes() {
        let pose = Pose::new(Vector3::zeros(), Vector3::new(0.2, -0.1, 0.3));
        let angular = Vector3::new(1e-5, 2e-5, -3e-5);
        let stepped = pose.stepped(&Twist {
            linear: Vector3::zeros(),
            angular,
        });
        let expected = Rotation3::new(angular).matrix() * pose.rotation();
        assert!((stepped.rotation() - expected).amax() < 1e-9);
    }
}
