//! Newton from a predicted pose to the pose asked for.

use super::{Guess, Pose, Twist};
use crate::linkage::{Command, Drive, LEVER_MM, Linkage, STATIONARY};
use crate::numeric::lu::Lu;
use crate::numeric::real::fixed;
use crate::{Dimension, Rounding, Sentence};
use nalgebra::{Matrix3, Vector3};
use num_dual::Dual64;
use std::fmt;

/// How finely a limit of reach is told (mm).
const LIMIT_SHOWN_MM: f64 = 1e-3;
/// A last correction below this share of the carrier's size leaves an error of its square: nothing a double can hold. The
/// twists found with it belong to a pose that far away, which changes a rate by about 1e-11 of itself. Close to the limit
/// of reach rates change faster, with the square of the pace: there the bound is smaller by as much.
const CONVERGED_SHARE: f64 = 1e-11;
/// Close to the limit of reach round-off keeps corrections above [`CONVERGED_SHARE`]; below this (mm) they are taken
/// for round-off as soon as they stop shrinking.
const ROUND_OFF_MM: f64 = 1e-6;
/// A Newton that needs more is not converging to the pose next to the prediction.
const MOST_ITERATIONS: u32 = 12;

/// The wheel cannot be where it was asked to be, or the pose there is not to be trusted.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum PoseError {
    /// The linkage ends before the position asked for.
    OutOfReach {
        /// What was asked to move, in words.
        asked: &'static str,
        /// The value asked for (mm).
        asked_mm: f64,
        /// The greatest value that can be reached in that direction (mm).
        limit_mm: f64,
    },
    /// The number asked for is not finite or absurdly large.
    NotANumber {
        /// What was asked to move, in words.
        asked: &'static str,
        /// The value asked for (mm).
        asked_mm: f64,
        /// The greatest value accepted (mm).
        most_mm: f64,
    },
    /// No trustworthy pose was found although no limit of reach was met.
    NotConverged {
        /// What was asked to move, in words.
        asked: &'static str,
        /// The value asked for (mm).
        asked_mm: f64,
        /// The last value with a good pose (mm).
        good_mm: f64,
    },
}

impl PoseError {
    /// What cannot be and what to do, with numbers that take the reader's units.
    #[must_use]
    pub fn sentence(&self) -> Sentence {
        match self {
            Self::OutOfReach {
                asked,
                asked_mm,
                limit_mm,
            } => inward(
                Sentence::new(format!("{asked} is out of reach: the linkage itself ends at ")),
                *limit_mm,
            )
            .words(" (asked: ")
            .given_length(*asked_mm)
            .words("). Ask for less, or look for a pickup that is measured wrong"),
            Self::NotANumber {
                asked,
                asked_mm,
                most_mm,
            } => Sentence::new(format!("{asked} of "))
                .given_length(*asked_mm)
                .words(" cannot be asked for: give a finite number within ")
                .given_length(*most_mm),
            Self::NotConverged {
                asked,
                asked_mm,
                good_mm,
            } => Sentence::new(format!("no trustworthy position of the linkage at {asked} "))
                .given_length(*asked_mm)
                .words(" (the last good one is at ")
                .given_length(*good_mm)
                .words("): the pickups leave it nearly free to move there"),
        }
    }
}

/// A limit (mm), rounded to the side that can be reached.
fn inward(sentence: Sentence, limit: f64) -> Sentence {
    let room = LIMIT_SHOWN_MM;
    let rounding = if limit < 0.0 {
        Rounding::Up { room }
    } else {
        Rounding::Down { room }
    };
    sentence.rounded(limit, Dimension::Length, rounding)
}

impl fmt::Display for PoseError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.sentence().fmt(formatter)
    }
}

impl std::error::Error for PoseError {}

/// A converged pose with its exact rates.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Solved {
    pub(crate) command: Command,
    pub(crate) pose: Pose,
    /// Forces of the drives on a carrier that is held too much; zero otherwise.
    pub(crate) forces: [f64; 2],
    /// Twists per mm of heave and of half difference of an axle; the first alone, along the drive of the walk that came
    /// here, of a corner.
    pub(crate) twists: [Twist; 2],
    /// How often the constraints were factored to come here from the pose before.
    pub(crate) factorisations: u32,
}

impl Solved {
    /// The pose as measured, without rates.
    pub(crate) fn at_rest() -> Self {
        Self {
            command: [0.0; 3],
            pose: Pose::as_measured(),
            forces: [0.0; 2],
            twists: [Twist::zero(); 2],
            factorisations: 0,
        }
    }

    /// The same pose of a corner with its twist along another drive, for a walk along it.
    pub(crate) fn along(
        self,
        linkage: &Linkage,
        drive: Drive,
        moved: &'static str,
    ) -> Result<Self, PoseError> {
        let place = self.command[drive as usize];
        let mut turned = self;
        linkage
            .respond(&self.pose, &self.command, drive, &mut turned.twists)
            .ok_or(PoseError::NotConverged {
                asked: moved,
                asked_mm: place,
                good_mm: place,
            })?;
        Ok(turned)
    }

    /// The same pose with its twists found anew at the very pose, and not one last correction before it.
    pub(crate) fn with_exact_twists(mut self, linkage: &Linkage) -> Self {
        let mut twists = self.twists;
        let found = if linkage.held_too_much {
            balance_twists(linkage, &self, &mut twists).is_some()
        } else {
            linkage
                .respond(&self.pose, &self.command, Drive::Heave, &mut twists)
                .is_some()
        };
        // At the very limit of reach the constraints are singular; the twists that led there are all there is.
        if found {
            self.twists = twists;
        }
        self
    }

    /// The twist per mm of the drive of a walk.
    #[inline]
    pub(crate) fn twist(&self, drive: Drive) -> &Twist {
        match drive {
            Drive::Heave | Drive::Rack => &self.twists[0],
            Drive::HalfDifference => &self.twists[1],
        }
    }
}

/// Why a prediction did not lead to a pose.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Missed;

/// Corrects a predicted pose until only round-off is left, and writes it to `solved`, which holds the pose before. When
/// it misses, only the twists and the count there have been spoilt.
///
/// `bound` limits the first correction: a larger one means that the prediction was no guide, and that another
/// assembly might be found. Every later correction must be less than half of the one before.
#[inline]
pub(crate) fn correct(
    linkage: &Linkage,
    predicted: &Guess,
    command: Command,
    drive: Drive,
    bound: Shrinking,
    solved: &mut Solved,
) -> Result<(), Missed> {
    if linkage.held_too_much {
        *solved = correct_balance(linkage, predicted.as_pose(), solved.forces, command, bound)?;
        return Ok(());
    }
    let pose = predicted.at_height(command[0]);
    let mut bound = bound;
    let step = newton(linkage, &pose, &command, drive, &mut solved.twists)?;
    if bound.done(step.size())? {
        solved.factorisations = 1;
        solved.pose = pose.stepped(&step);
    } else {
        correct_further(linkage, pose.stepped(&step), &command, drive, bound, solved)?;
    }
    solved.command = command;
    Ok(())
}

/// Corrects on where one correction was not enough. Kept apart from the usual case, in which the compiler would
/// otherwise prepare a loop.
#[inline(never)]
fn correct_further(
    linkage: &Linkage,
    mut pose: Pose,
    command: &Command,
    drive: Drive,
    mut bound: Shrinking,
    solved: &mut Solved,
) -> Result<(), Missed> {
    for factorisations in 2..=MOST_ITERATIONS {
        let step = newton(linkage, &pose, command, drive, &mut solved.twists)?;
        pose = pose.stepped(&step);
        if bound.done(step.size())? {
            solved.factorisations = factorisations;
            solved.pose = pose;
            return Ok(());
        }
    }
    Err(Missed)
}

/// One correction, if it belongs to the assembly as measured.
#[inline(always)]
fn newton(
    linkage: &Linkage,
    pose: &Pose,
    command: &Command,
    drive: Drive,
    twists: &mut [Twist; 2],
) -> Result<Twist, Missed> {
    let response = linkage.respond(pose, command, drive, twists).ok_or(Missed)?;
    if response.positive == linkage.positive {
        Ok(response.step)
    } else {
        Err(Missed)
    }
}

/// The rule by which corrections must shrink.
#[derive(Clone, Copy)]
pub(crate) struct Shrinking {
    allowed_mm: f64,
    last_mm: f64,
    converged_mm: f64,
    pace_squared: f64,
}

impl Shrinking {
    /// * `allowed_mm`: the greatest first correction
    /// * `pace`: how far the carrier moves per mm of the command
    /// * `size_mm`: the size of the carrier
    #[inline]
    pub(crate) fn new(allowed_mm: f64, pace: f64, size_mm: f64) -> Self {
        Self {
            allowed_mm,
            last_mm: f64::INFINITY,
            converged_mm: CONVERGED_SHARE * size_mm,
            pace_squared: pace * pace,
        }
    }

    #[inline]
    fn done(&mut self, size_mm: f64) -> Result<bool, Missed> {
        if size_mm * self.pace_squared < self.converged_mm {
            return Ok(true);
        }
        if size_mm <= self.allowed_mm {
            self.last_mm = size_mm;
            self.allowed_mm = 0.5 * size_mm;
            return Ok(false);
        }
        if self.last_mm < ROUND_OFF_MM && size_mm < ROUND_OFF_MM {
            Ok(true)
        } else {
            Err(Missed)
        }
    }
}

fn correct_balance(
    linkage: &Linkage,
    predicted: Pose,
    mut forces: [f64; 2],
    command: Command,
    mut bound: Shrinking,
) -> Result<Solved, Missed> {
    let mut pose = predicted;
    for factorisations in 1..=MOST_ITERATIONS {
        let commanded = [command[0], command[1]];
        let balance = linkage.stationarity::<f64>(&pose.displacement, &pose.rotation(), forces, commanded);
        let factors = Lu::new(balance_jacobian(linkage, &pose, forces)).ok_or(Missed)?;
        if factors.determinant_is_positive() != linkage.positive {
            return Err(Missed);
        }
        let step = factors.solve(&balance.map(|miss| -miss));
        let (motion, change) = split(&step);
        pose = pose.stepped(&motion);
        forces = [forces[0] + change[0], forces[1] + change[1]];
        if bound.done(motion.size())? {
            let mut solved = Solved {
                command,
                pose,
                forces,
                twists: [Twist::zero(); 2],
                factorisations,
            };
            // The forces may have changed although the pose hardly did, and the twists depend on them.
            balance_twists(linkage, &solved.clone(), &mut solved.twists).ok_or(Missed)?;
            return Ok(solved);
        }
    }
    Err(Missed)
}

/// Finds the twists of both drives of an axle that is held too much, and whether the determinant is positive; none where
/// the balance is singular.
pub(crate) fn balance_twists(linkage: &Linkage, at: &Solved, twists: &mut [Twist; 2]) -> Option<bool> {
    let factors = Lu::new(balance_jacobian(linkage, &at.pose, at.forces))?;
    *twists = twists_from(&factors);
    Some(factors.determinant_is_positive())
}

fn twists_from(factors: &Lu<STATIONARY>) -> [Twist; 2] {
    [Drive::Heave, Drive::HalfDifference]
        .map(|drive| split(&factors.solve(&balance_drive(&drive.direction()))).0)
}

/// Right-hand side of the rates of the balance.
pub(crate) fn balance_drive(direction: &Command) -> [f64; STATIONARY] {
    let mut side = [0.0; STATIONARY];
    side[6] = direction[0];
    side[7] = direction[1];
    side
}

/// The twist (rotation unscaled) and the force changes in a solution of the balance.
pub(crate) fn split(solution: &[f64; STATIONARY]) -> (Twist, [f64; 2]) {
    let mut twist = Twist::from_parts(solution);
    twist.angular /= LEVER_MM;
    (twist, [solution[6], solution[7]])
}

/// The exact Jacobian of the balance, by dual numbers: one column for each unknown.
pub(crate) fn balance_jacobian(
    linkage: &Linkage,
    pose: &Pose,
    forces: [f64; 2],
) -> [[f64; STATIONARY]; STATIONARY] {
    let rotation = pose.rotation();
    let mut jacobian = [[0.0; STATIONARY]; STATIONARY];
    for column in 0..STATIONARY {
        let mut displacement: Vector3<Dual64> = fixed(&pose.displacement);
        let mut turned: Matrix3<Dual64> = rotation.map(Dual64::from_re);
        let mut pushed = forces.map(Dual64::from_re);
        match column {
            0..3 => displacement[column].eps = 1.0,
            3..6 => {
                let mut angular = Vector3::zeros();
                angular[column - 3] = 1.0 / LEVER_MM;
                let rate = angular.cross_matrix() * rotation;
                for (entry, change) in turned.iter_mut().zip(rate.iter()) {
                    entry.eps = *change;
                }
            }
            _ => pushed[column - 6].eps = 1.0,
        }
        let zero = Dual64::from_re(0.0);
        let balance = linkage.stationarity(&displacement, &turned, pushed, [zero; 2]);
        for (row, value) in jacobian.iter_mut().zip(balance) {
            row[column] = value.eps;
        }
    }
    jacobian
}
