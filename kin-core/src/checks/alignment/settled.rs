//! Where the upright comes to rest after pickups were moved, and how its angles change with every move.
//!
//! All rods keep the lengths they were built with, but for a tie rod that was made longer and a ball joint that was moved
//! on its arm. The constraint Jacobian at the pose gives both the Newton step and, with one more right-hand side for each
//! adjuster, the exact change of the pose per mm of it.

use super::adjuster::{Moves, Setting};
use super::assembly::{Assembly, Rod};
use super::rebased::{self, BuiltArm};
use crate::Error;
use crate::curves::{camber, caster, toe};
use crate::numeric::lu::Lu;
use crate::numeric::real::{WithRate, value};
use crate::pickups::{Arm, DoubleWishbone};
use crate::pose::{Pose, PoseError, Twist, first_rates};
use crate::suspension::{Corner, CornerState};
use nalgebra::Vector3;

/// Pickups are moved by no more than this (mm) at a time, so that the pose next to the last one is found.
const LONGEST_STEP_MM: f64 = 2.0;

/// Camber, caster and toe (rad), in this order.
pub(super) type Angles = [f64; 3];

/// A corner at ride height whose pickups are moved.
pub(super) struct Bench {
    corner: Corner,
    settings: Vec<Setting>,
}

/// The upright at rest with the adjusters at some amounts.
pub(super) struct Settled {
    pose: Pose,
    pub(super) angles: Angles,
    /// Change of the angles per mm of each adjuster (rad/mm).
    pub(super) rates: Vec<Angles>,
}

impl Bench {
    /// * `at_ride`: pickups as measured at ride height
    pub(super) fn new(at_ride: &DoubleWishbone, settings: Vec<Setting>) -> Result<Self, Error> {
        Ok(Self {
            corner: Corner::new(at_ride)?,
            settings,
        })
    }

    /// The pose and the angles with the adjusters at these amounts (mm).
    pub(super) fn settle(&self, amounts: &[f64]) -> Result<Settled, Error> {
        let farthest = amounts
            .iter()
            .fold(0.0_f64, |most, amount| most.max(amount.abs()));
        let steps = (farthest / LONGEST_STEP_MM).ceil().max(1.0);
        let mut pose = Pose::as_measured();
        for step in 1..=steps as usize {
            let share = step as f64 / steps;
            let partly: Vec<f64> = amounts.iter().map(|amount| amount * share).collect();
            pose = self.newton(pose, &partly).ok_or(PoseError::NotConverged {
                asked: "pickups moved by",
                asked_mm: farthest,
                good_mm: farthest * (step - 1) as f64 / steps,
            })?;
        }
        let (rates, angles) = self.rates(&pose, amounts).ok_or(PoseError::NotConverged {
            asked: "pickups moved by",
            asked_mm: farthest,
            good_mm: 0.0,
        })?;
        Ok(Settled { pose, angles, rates })
    }

    /// The description of the corner as it then stands, for a full solve with it.
    pub(super) fn described(&self, settled: &Settled, amounts: &[f64]) -> DoubleWishbone {
        let arms = [0, 1].map(|arm| self.arm(arm, amounts));
        let inner = self.corner.pickups().tie_rod.inner;
        rebased::with_pose(&self.corner, &settled.pose, arms, inner)
    }

    fn original(&self, arm: usize) -> Arm {
        let pickups = self.corner.pickups();
        if arm == 0 {
            pickups.upper_arm
        } else {
            pickups.lower_arm
        }
    }

    fn arm(&self, which: usize, amounts: &[f64]) -> BuiltArm {
        let mut arm = BuiltArm::from(self.original(which));
        for (setting, amount) in self.settings.iter().zip(amounts) {
            match setting.moves {
                Moves::Pivots {
                    arm: moved,
                    front,
                    rear,
                    way,
                } if moved == which => {
                    arm.front_pivot += way * if front { *amount } else { 0.0 };
                    arm.rear_pivot += way * if rear { *amount } else { 0.0 };
                }
                Moves::BallJoint { arm: moved, way } if moved == which => {
                    arm.built.ball_joint += way * *amount
                }
                _ => {}
            }
        }
        arm
    }

    /// The five rods: upper front, upper rear, lower front, lower rear, tie rod.
    fn rods(&self, amounts: &[f64]) -> [Rod; 5] {
        let pickups = self.corner.pickups();
        let origin = pickups.wheel.centre;
        let leg = |which: usize, front: bool| {
            let arm = self.arm(which, amounts);
            let (now, built) = if front {
                (arm.front_pivot, arm.built.front_pivot)
            } else {
                (arm.rear_pivot, arm.built.rear_pivot)
            };
            Rod {
                body: now,
                joint: self.original(which).ball_joint - origin,
                half_length_squared: 0.5 * (arm.built.ball_joint - built).norm_squared(),
            }
        };
        let longer: f64 = self
            .settings
            .iter()
            .zip(amounts)
            .filter(|(setting, _)| setting.moves == Moves::TieRod)
            .map(|(_, amount)| amount)
            .sum();
        let tie_rod = pickups.tie_rod;
        let length = (tie_rod.outer - tie_rod.inner).norm() + longer;
        let tie_rod = Rod {
            body: tie_rod.inner,
            joint: tie_rod.outer - origin,
            half_length_squared: 0.5 * length * length,
        };
        [leg(0, true), leg(0, false), leg(1, true), leg(1, false), tie_rod]
    }

    fn assembly(&self, amounts: &[f64]) -> Assembly {
        Assembly {
            origin: self.corner.pickups().wheel.centre,
            rods: self.rods(amounts),
        }
    }

    fn newton(&self, start: Pose, amounts: &[f64]) -> Option<Pose> {
        self.assembly(amounts)
            .newton(start, self.is_positive()?, 20.0 * LONGEST_STEP_MM)
    }

    fn is_positive(&self) -> Option<bool> {
        let none = vec![0.0; self.settings.len()];
        self.assembly(&none).is_positive(&Pose::as_measured())
    }

    /// Angles, and their exact rates per mm of every adjuster: one more solve each with the same factors.
    fn rates(&self, pose: &Pose, amounts: &[f64]) -> Option<(Vec<Angles>, Angles)> {
        let (jacobian, _) = self.assembly(amounts).constraints(pose);
        let factors = Lu::new(jacobian)?;
        let span = |row: usize| Vector3::new(jacobian[row][0], jacobian[row][1], jacobian[row][2]);
        let rates = self.settings.iter().map(|setting| {
            let mut side = [0.0; 6];
            match setting.moves {
                Moves::Pivots {
                    arm,
                    front,
                    rear,
                    way,
                } => {
                    let rows = [(1 + 2 * arm, front), (2 + 2 * arm, rear)];
                    for (row, _) in rows.into_iter().filter(|(_, moved)| *moved) {
                        side[row] = span(row).dot(&way);
                    }
                }
                Moves::BallJoint { arm, way } => {
                    let built = self.arm(arm, amounts).built;
                    side[1 + 2 * arm] = (built.ball_joint - built.front_pivot).dot(&way);
                    side[2 + 2 * arm] = (built.ball_joint - built.rear_pivot).dot(&way);
                }
                Moves::TieRod => side[5] = self.tie_rod_length(amounts),
            }
            self.angles_along(pose, &Twist::from_parts(&factors.solve(&side)))
                .map(|angle| angle.eps)
        });
        let rates = rates.collect();
        let angles = self.angles_along(pose, &Twist::zero()).map(|angle| angle.re);
        Some((rates, angles))
    }

    fn tie_rod_length(&self, amounts: &[f64]) -> f64 {
        (2.0 * self.rods(amounts)[4].half_length_squared).sqrt()
    }

    fn angles_along(&self, pose: &Pose, twist: &Twist) -> [WithRate; 3] {
        let state = CornerState {
            geometry: &self.corner.geometry,
            carrier: first_rates(&self.corner.linkage.origin, pose, twist),
        };
        let spin_axis = state.spin_axis();
        [
            camber(&spin_axis),
            caster(&state.lower_ball_joint(), &state.upper_ball_joint()),
            toe(&spin_axis),
        ]
    }
}

/// Camber, caster and toe by the full solver, from a description alone.
pub(super) fn angles_of(pickups: &DoubleWishbone) -> Result<Angles, Error> {
    let corner = Corner::new(pickups)?;
    let state = corner.at(0.0, 0.0)?.state();
    let spin_axis = value(&state.spin_axis());
    let (lower, upper) = (value(&state.lower_ball_joint()), value(&state.upper_ball_joint()));
    Ok([camber(&spin_axis), caster(&lower, &upper), toe(&spin_axis)])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pickups::Point;
    use crate::samples;

    #[test]
    fn rods_and_what_rides_on_arms_keep_their_lengths() {
        let before = samples::wagon_front();
        let way = Vector3::new(0.1, -0.9, 0.2);
        let setting = |moves| Setting {
            moves,
            shim: None,
            range: (-20.0, 20.0),
        };
        let pivots = |arm, front, rear| {
            setting(Moves::Pivots {
                arm,
                front,
                rear,
                way,
            })
        };
        let settings = vec![
            pivots(0, true, false),
            pivots(1, true, true),
            setting(Moves::TieRod),
        ];
        let bench = Bench::new(&before, settings).expect("a corner");
        let amounts = [7.0, -5.0, 3.0];
        let settled = bench.settle(&amounts).expect("a pose");
        let after = bench.described(&settled, &amounts);
        let distances = |pickups: &DoubleWishbone, longer: f64| {
            let mount = pickups
                .coilover
                .as_ref()
                .map_or(Point::zeros(), |damper| damper.lower_mount);
            [
                (pickups.upper_arm.ball_joint - pickups.upper_arm.front_pivot).norm(),
                (pickups.upper_arm.ball_joint - pickups.upper_arm.rear_pivot).norm(),
                (pickups.lower_arm.ball_joint - pickups.lower_arm.front_pivot).norm(),
                (pickups.lower_arm.ball_joint - pickups.lower_arm.rear_pivot).norm(),
                (pickups.upper_arm.ball_joint - pickups.lower_arm.ball_joint).norm(),
                (pickups.tie_rod.outer - pickups.upper_arm.ball_joint).norm(),
                (pickups.tie_rod.outer - pickups.tie_rod.inner).norm() - longer,
                (pickups.wheel.centre - pickups.lower_arm.ball_joint).norm(),
                (mount - pickups.lower_arm.rear_pivot).norm(),
                (mount - pickups.lower_arm.front_pivot).norm(),
                (mount - pickups.lower_arm.ball_joint).norm(),
            ]
        };
        let (old, new) = (distances(&before, 0.0), distances(&after, 3.0));
        for (old, new) in old.into_iter().zip(new) {
            assert!((old - new).abs() < 1e-10, "{old} {new}");
        }
        assert!((after.wheel.centre.z - before.wheel.centre.z).abs() < 1e-12);
        let full = angles_of(&after).expect("a corner");
        for (full, settled) in full.into_iter().zip(settled.angles) {
            assert!((full - settled).abs() < 1e-13);
        }
    }
}
