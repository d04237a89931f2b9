//! Exact rates at a known pose, in any direction of the command.

use super::solve::{balance_drive, balance_jacobian, split};
use super::{Solved, Twist};
use crate::linkage::{Command, Linkage, STATIONARY};
use crate::numeric::lu::Lu;
use nalgebra::{Matrix3, Vector3};
use num_dual::Dual2_64;

/// Factors of the constraints at one pose: each rate is one more solve with them.
pub(crate) struct Motion<'a> {
    linkage: &'a Linkage,
    solved: Solved,
    factors: Factors,
}

enum Factors {
    Held { factors: Box<Lu<6>>, per_rack: [f64; 6] },
    Balanced(Box<Lu<STATIONARY>>),
}

impl<'a> Motion<'a> {
    /// Factors the constraints; none where they are singular.
    pub(crate) fn new(linkage: &'a Linkage, solved: &Solved) -> Option<Self> {
        let factors = if linkage.held_too_much {
            Factors::Balanced(Box::new(Lu::new(balance_jacobian(
                linkage,
                &solved.pose,
                solved.forces,
            ))?))
        } else {
            let constraints = linkage.constraints(&solved.pose, &solved.command);
            Factors::Held {
                factors: Box::new(Lu::new(constraints.jacobian)?),
                per_rack: constraints.per_rack,
            }
        };
        Some(Self {
            linkage,
            solved: *solved,
            factors,
        })
    }

    /// The twist per mm along a direction of the command.
    pub(crate) fn twist(&self, direction: &Command) -> Twist {
        match &self.factors {
            Factors::Held { factors, per_rack } => {
                Twist::from_parts(&factors.solve(&self.linkage.drive(per_rack, direction)))
            }
            Factors::Balanced(factors) => split(&factors.solve(&balance_drive(direction))).0,
        }
    }

    /// The second rates (linear and angular) along a straight line of commands, given the twist along it.
    pub(crate) fn second(&self, direction: &Command, twist: &Twist) -> Twist {
        match &self.factors {
            Factors::Held { factors, .. } => {
                let side =
                    self.linkage
                        .curvature(&self.solved.pose, &self.solved.command, twist, direction[2]);
                Twist::from_parts(&factors.solve(&side))
            }
            Factors::Balanced(factors) => {
                let forces = split(&factors.solve(&balance_drive(direction))).1;
                let side = self.balance_curvature(twist, forces);
                split(&factors.solve(&side)).0
            }
        }
    }

    /// Minus the second derivative of the balance along a motion without acceleration.
    fn balance_curvature(&self, twist: &Twist, force_rates: [f64; 2]) -> [f64; STATIONARY] {
        let pose = &self.solved.pose;
        let mut displacement = Vector3::<Dual2_64>::zeros();
        for ((entry, value), rate) in displacement.iter_mut().zip(&pose.displacement).zip(&twist.linear) {
            *entry = Dual2_64::new(*value, *rate, 0.0);
        }
        let rotation = pose.rotation();
        let spin = twist.angular.cross_matrix();
        let (first, second) = (spin * rotation, spin * spin * rotation);
        let mut turned = Matrix3::<Dual2_64>::zeros();
        for (place, entry) in turned.iter_mut().enumerate() {
            *entry = Dual2_64::new(rotation[place], first[place], second[place]);
        }
        let [left, right] = self.solved.forces;
        let forces = [
            Dual2_64::new(left, force_rates[0], 0.0),
            Dual2_64::new(right, force_rates[1], 0.0),
        ];
        let zero = Dual2_64::from_re(0.0);
        let balance = self
            .linkage
            .stationarity(&displacement, &turned, forces, [zero; 2]);
        balance.map(|value| -value.v2)
    }
}
