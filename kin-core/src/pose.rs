//! Where the carrier is at one command, and how it moves from there.

mod limit;
mod motion;
mod moving;
mod order;
mod predict;
mod solve;
mod track;

pub use limit::Reach;
pub(crate) use limit::reach;
pub(crate) use motion::Motion;
pub(crate) use moving::{CarrierMotion, first_rates, second_rates};
pub use solve::PoseError;
pub(crate) use solve::{Missed, Solved, balance_twists};
pub(crate) use track::Track;

use nalgebra::{Matrix3, Vector3};

/// Where a carrier is: the displacement of its origin and its rotation, both relative to the pickups as measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pose {
    /// Displacement of the origin (mm).
    pub(crate) displacement: Vector3<f64>,
    /// Unit quaternion of the rotation, (w, x, y, z).
    pub(crate) quaternion: [f64; 4],
    /// Rotation matrix minus identity: small turns keep all their digits.
    pub(crate) turn: Matrix3<f64>,
}

impl Pose {
    /// The pose in which the pickups were measured.
    pub(crate) fn as_measured() -> Self {
        Self {
            displacement: Vector3::zeros(),
            quaternion: [1.0, 0.0, 0.0, 0.0],
            turn: Matrix3::zeros(),
        }
    }

    /// A pose from a displacement and a quaternion of any length.
    #[inline]
    pub(crate) fn new(displacement: Vector3<f64>, quaternion: [f64; 4]) -> Self {
        let [w, x, y, z] = quaternion;
        let scale = 1.0 / (w * w + x * x + y * y + z * z).sqrt();
        let [w, x, y, z] = quaternion.map(|part| part * scale);
        let (xx, yy, zz) = (2.0 * x * x, 2.0 * y * y, 2.0 * z * z);
        let (xy, yz, zx) = (2.0 * x * y, 2.0 * y * z, 2.0 * z * x);
        let (wx, wy, wz) = (2.0 * w * x, 2.0 * w * y, 2.0 * w * z);
        let turn = Matrix3::new(
            -yy - zz,
            xy - wz,
            zx + wy,
            xy + wz,
            -zz - xx,
            yz - wx,
            zx - wy,
            yz + wx,
            -xx - yy,
        );
        Self {
            displacement,
            quaternion: [w, x, y, z],
            turn,
        }
    }

    /// The pose after a small step: linear `v` (mm) and angular `w` (rad).
    #[inline]
    pub(crate) fn stepped(&self, step: &Twist) -> Self {
        let change = spin(&(0.5 * step.angular), &self.quaternion);
        let mut quaternion = self.quaternion;
        for (part, change) in quaternion.iter_mut().zip(change) {
            *part += change;
        }
        Self::new(self.displacement + step.linear, quaternion)
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

/// Quaternion product of a pure vector with a quaternion.
#[inline]
pub(crate) fn spin(vector: &Vector3<f64>, quaternion: &[f64; 4]) -> [f64; 4] {
    let [w, x, y, z] = *quaternion;
    [
        -vector.x * x - vector.y * y - vector.z * z,
        vector.x * w + vector.y * z - vector.z * y,
        vector.y * w + vector.z * x - vector.x * z,
        vector.z * w + vector.x * y - vector.y * x,
    ]
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
