//! How an exactly held carrier answers: the Newton step and the twists along its drives, from one factorisation.
//!
//! A drive's row of the constraint Jacobian is nearly empty: a height says `v_z` at once, and the line through both
//! wheel centres of an axle says `w_x` in terms of `w_y`. With these put into the rods' rows, one equation for each rod
//! is left: five for a corner, four for an axle.

use super::rod::Placed;
use super::{Command, Drive, Linkage, Rod};
use crate::numeric::elimination::eliminate;
use crate::pose::{Pose, Twist};
use nalgebra::Vector3;

/// What one factorisation at a pose gives.
pub(crate) struct Response {
    /// The Newton step.
    pub(crate) step: Twist,
    /// See [`Solved::twists`](crate::pose::Solved::twists).
    pub(crate) twists: [Twist; 2],
    /// Whether the determinant is positive: it tells the assembly.
    pub(crate) positive: bool,
}

impl Linkage {
    /// Step and twists at a pose whose origin is at the commanded height; none where the constraints are singular.
    ///
    /// * `drive`: the drive that a corner's twist is asked for; an axle answers to both of its drives
    #[inline]
    pub(crate) fn respond(&self, pose: &Pose, command: &Command, drive: Drive) -> Option<Response> {
        match (&self.half_axle, drive) {
            (Some(half_axle), _) => self.axle_response(half_axle, pose, command[1]),
            (None, Drive::Rack) => self.corner_response(pose, command[2], 0.0, |rod, span| rod.rack * span.y),
            (None, _) => self.corner_response(pose, command[2], 1.0, |_, span| -span.z),
        }
    }

    /// Unknowns `v_x, v_y, w_y, w_z, w_x`; answers to the misses, and to a drive that raises the carrier by `height` and
    /// takes `relief` from each rod.
    #[inline]
    fn corner_response(
        &self,
        pose: &Pose,
        rack: f64,
        height: f64,
        relief: impl Fn(&Rod, &Vector3<f64>) -> f64,
    ) -> Option<Response> {
        let (rows, positive) = self.solve_rods::<5, 7>(pose, rack, |rod, placed, span, moment| {
            [
                span.x,
                span.y,
                moment.y,
                moment.z,
                moment.x,
                -placed.residual,
                relief(rod, span),
            ]
        })?;
        let twist = |side: usize, height: f64| Twist {
            linear: Vector3::new(rows[0][side], rows[1][side], height),
            angular: Vector3::new(rows[4][side], rows[2][side], rows[3][side]),
        };
        Some(Response {
            step: twist(5, 0.0),
            twists: [twist(6, height), Twist::zero()],
            positive,
        })
    }

    /// Unknowns `v_x, v_y, w_y, w_z`; answers to the misses, to heave and to roll.
    #[inline]
    fn axle_response(&self, half_axle: &Vector3<f64>, pose: &Pose, half_difference: f64) -> Option<Response> {
        let turned = pose.turn * half_axle;
        let arm = half_axle + turned;
        // The left wheel rises over the middle at the rate w_x y - w_y x.
        let per_rise = 1.0 / arm.y;
        let slope = arm.x * per_rise;
        let tilt = (half_difference - turned.z) * per_rise;
        let (rows, positive) = self.solve_rods::<4, 7>(pose, 0.0, |_, placed, span, moment| {
            [
                span.x,
                span.y,
                moment.y + moment.x * slope,
                moment.z,
                -placed.residual - moment.x * tilt,
                -span.z,
                -moment.x * per_rise,
            ]
        })?;
        let twist = |side: usize, height: f64, tilt: f64| Twist {
            linear: Vector3::new(rows[0][side], rows[1][side], height),
            angular: Vector3::new(tilt + rows[2][side] * slope, rows[2][side], rows[3][side]),
        };
        Some(Response {
            step: twist(4, 0.0, tilt),
            twists: [twist(5, 1.0, 0.0), twist(6, 0.0, per_rise)],
            positive,
        })
    }

    /// Places N rods and solves their equations, each written by `equation` from the rod, its place, its span and the
    /// moment of the span about the origin.
    #[inline]
    fn solve_rods<const N: usize, const WIDTH: usize>(
        &self,
        pose: &Pose,
        rack: f64,
        equation: impl Fn(&Rod, &Placed, &Vector3<f64>, &Vector3<f64>) -> [f64; WIDTH],
    ) -> Option<([[f64; WIDTH]; N], bool)> {
        // A fixed number of rods lets the compiler unroll every loop.
        let rods: &[Rod; N] = self.rods.as_slice().try_into().ok()?;
        let mut rows = [[0.0; WIDTH]; N];
        for (row, rod) in rows.iter_mut().zip(rods) {
            let placed = rod.place(pose, rack);
            let moment = placed.arm.cross(&placed.span);
            *row = equation(rod, &placed, &placed.span, &moment);
        }
        let determinant = eliminate(&mut rows)?;
        Some((rows, determinant > 0.0))
    }
}
