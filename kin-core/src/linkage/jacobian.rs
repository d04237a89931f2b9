//! The constraint Jacobian of an exactly held carrier, and the right-hand sides for its rates.

use super::{Command, Linkage};
use crate::pose::{Pose, Twist};
use nalgebra::Vector3;

/// The 6 x 6 constraint Jacobian by rows, columns (v, w), and the residual of each row.
pub(crate) struct Constraints {
    pub(crate) jacobian: [[f64; 6]; 6],
    pub(crate) residual: [f64; 6],
    /// The change of each residual per mm of rack displacement.
    pub(crate) per_rack: [f64; 6],
}

impl Linkage {
    /// Residuals and Jacobian at a pose.
    #[inline]
    pub(crate) fn constraints(&self, pose: &Pose, command: &Command) -> Constraints {
        let mut jacobian = [[0.0; 6]; 6];
        let mut residual = [0.0; 6];
        let mut per_rack = [0.0; 6];
        // The drives come first: their rows are nearly empty, which spares the factorisation work.
        jacobian[0] = [0.0, 0.0, 1.0, 0.0, 0.0, 0.0];
        residual[0] = pose.displacement.z - command[0];
        let mut next = 1;
        if let Some(half_axle) = &self.half_axle {
            let turned = pose.turn * half_axle;
            let arm = half_axle + turned;
            jacobian[1] = [0.0, 0.0, 0.0, arm.y, -arm.x, 0.0];
            residual[1] = turned.z - command[1];
            next = 2;
        }
        for (row, rod) in (next..6).zip(&self.rods) {
            let placed = rod.place(pose, command[2]);
            let moment = placed.arm.cross(&placed.span);
            let span = placed.span;
            jacobian[row] = [span.x, span.y, span.z, moment.x, moment.y, moment.z];
            residual[row] = placed.residual;
            per_rack[row] = -rod.rack * span.y;
        }
        Constraints {
            jacobian,
            residual,
            per_rack,
        }
    }

    /// Right-hand side of the rates for a motion of the command: what the rows must change by (mm or mm^2).
    #[inline]
    pub(crate) fn drive(&self, per_rack: &[f64; 6], direction: &Command) -> [f64; 6] {
        let mut side = per_rack.map(|change| -change * direction[2]);
        side[0] = direction[0];
        if self.half_axle.is_some() {
            side[1] = direction[1];
        }
        side
    }

    /// Right-hand side of the second rates along a straight line in the command.
    ///
    /// With `x' = v + w cross r` and `b'` the motion of the body joint, a rod's second derivative is
    /// `(x' - b')^2 + d . x'' = 0`, and `x'' = a + alpha cross r + w cross (w cross r)`.
    pub(crate) fn curvature(
        &self,
        pose: &Pose,
        command: &Command,
        twist: &Twist,
        rack_rate: f64,
    ) -> [f64; 6] {
        let mut side = [0.0; 6];
        let mut next = 1;
        if let Some(half_axle) = &self.half_axle {
            let arm = half_axle + pose.turn * half_axle;
            side[1] = -twist.centripetal(&arm).z;
            next = 2;
        }
        for (value, rod) in side.iter_mut().skip(next).zip(&self.rods) {
            let placed = rod.place(pose, command[2]);
            let speed = twist.at(&placed.arm) - Vector3::new(0.0, rod.rack * rack_rate, 0.0);
            *value = -(speed.norm_squared() + placed.span.dot(&twist.centripetal(&placed.arm)));
        }
        side
    }
}
