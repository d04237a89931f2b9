//! An upright on five rods of given lengths, with its wheel centre held at its height.

use crate::numeric::lu::Lu;
use crate::pickups::Point;
use crate::pose::{Pose, Twist};
use nalgebra::Vector3;

/// A last correction below this (mm) leaves an error of its square.
const CONVERGED_MM: f64 = 1e-9;
const MOST_ITERATIONS: usize = 20;

/// A rod with its body joint where it is now.
pub(crate) struct Rod {
    pub(crate) body: Point,
    /// Joint on the upright, seen from the wheel centre.
    pub(crate) joint: Vector3<f64>,
    pub(crate) half_length_squared: f64,
}

/// The upright and what it hangs on.
pub(crate) struct Assembly {
    /// Wheel centre in the pose that poses are counted from (mm).
    pub(crate) origin: Point,
    /// Upper front, upper rear, lower front, lower rear, tie rod.
    pub(crate) rods: [Rod; 5],
}

impl Assembly {
    /// Jacobian by rows, wheel height first, and the residual of each row.
    pub(crate) fn constraints(&self, pose: &Pose) -> ([[f64; 6]; 6], [f64; 6]) {
        let origin = self.origin + pose.displacement();
        let rotation = pose.rotation();
        let mut jacobian = [[0.0; 6]; 6];
        let mut residual = [0.0; 6];
        jacobian[0] = [0.0, 0.0, 1.0, 0.0, 0.0, 0.0];
        residual[0] = pose.displacement().z;
        for (row, rod) in (1..6).zip(&self.rods) {
            let arm = rotation * rod.joint;
            let span = origin + arm - rod.body;
            let moment = arm.cross(&span);
            jacobian[row] = [span.x, span.y, span.z, moment.x, moment.y, moment.z];
            residual[row] = 0.5 * span.norm_squared() - rod.half_length_squared;
        }
        (jacobian, residual)
    }

    /// Which of the assemblies a pose belongs to; none at a dead point.
    pub(crate) fn is_positive(&self, pose: &Pose) -> Option<bool> {
        Lu::new(self.constraints(pose).0).map(|factors| factors.determinant_is_positive())
    }

    /// The pose next to a start; none where there is none, or only one of the other assembly.
    ///
    /// * `positive`: which assembly it must belong to
    /// * `allowed`: longest first step (mm)
    pub(crate) fn newton(&self, start: Pose, positive: bool, mut allowed: f64) -> Option<Pose> {
        let mut pose = start;
        for _ in 0..MOST_ITERATIONS {
            let (jacobian, residual) = self.constraints(&pose);
            let factors = Lu::new(jacobian)?;
            // On the other side of a dead point lies another assembly.
            if factors.determinant_is_positive() != positive {
                return None;
            }
            let step = Twist::from_parts(&factors.solve(&residual.map(|miss| -miss)));
            if step.size().is_nan() || step.size() > allowed {
                return None;
            }
            pose = pose.stepped(&step);
            if step.size() < CONVERGED_MM {
                return Some(pose);
            }
            allowed = (0.5 * step.size()).max(CONVERGED_MM);
        }
        None
    }
}
