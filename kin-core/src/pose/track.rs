//! Following a linkage along a straight line of commands, on the assembly it started in.

use super::predict::Predictor;
use super::solve::correct;
use super::{Missed, PoseError, Solved, limit, motion};
use crate::linkage::{Command, Linkage};

/// Longest step that is taken without a pose in between (mm of travel or rack).
const LONGEST_STEP_MM: f64 = 10.0;
/// A step that fails at this length (mm) has met the end of the linkage or a place where it is nearly free.
const SHORTEST_STEP_MM: f64 = 1e-3;
/// The first correction may be this share of the step: a prediction that is farther off is no guide.
const TRUSTED_SHARE: f64 = 0.1;
/// Commands beyond this (mm) are refused: no wheel travels that far.
pub(crate) const MOST_MM: f64 = 2_000.0;

/// A walk along `start + place * direction`, place in mm.
pub(crate) struct Track<'a> {
    linkage: &'a Linkage,
    origin: Command,
    direction: Command,
    place: f64,
    solved: Solved,
    predictor: Predictor,
    /// What is moved, for messages.
    moved: &'static str,
}

impl<'a> Track<'a> {
    /// Starts where a pose is known.
    pub(crate) fn new(
        linkage: &'a Linkage,
        start: &Solved,
        direction: Command,
        moved: &'static str,
    ) -> Result<Self, PoseError> {
        let not_converged = PoseError::NotConverged {
            asked: moved,
            asked_mm: start.command[0],
            good_mm: start.command[0],
        };
        let twist = motion::Motion::new(linkage, start)
            .ok_or(not_converged)?
            .twist(&direction);
        let solved = Solved { twist, ..*start };
        let mut predictor = Predictor::new();
        predictor.remember(0.0, &solved);
        Ok(Self {
            linkage,
            origin: start.command,
            direction,
            place: 0.0,
            solved,
            predictor,
            moved,
        })
    }

    /// The pose as measured, as a start.
    pub(crate) fn as_measured() -> Solved {
        Solved {
            command: [0.0; 3],
            pose: super::Pose::as_measured(),
            forces: [0.0; 2],
            twist: super::Twist::zero(),
        }
    }

    /// The pose `place` mm along the line.
    #[inline]
    pub(crate) fn advance_to(&mut self, place: f64) -> Result<Solved, PoseError> {
        if place.is_nan() || place.abs() > MOST_MM {
            return Err(PoseError::NotANumber {
                asked: self.moved,
                asked_mm: place,
                most_mm: MOST_MM,
            });
        }
        let mut longest = LONGEST_STEP_MM;
        let mut limit_checked = false;
        while self.place != place {
            let rest = place - self.place;
            let last = rest.abs() <= longest;
            let next = if last {
                place
            } else {
                self.place + longest.copysign(rest)
            };
            match self.attempt(next) {
                Ok(solved) => {
                    self.place = next;
                    self.solved = solved;
                    self.predictor.remember(next, &solved);
                    longest = (2.0 * longest).min(LONGEST_STEP_MM);
                }
                Err(Missed) => {
                    longest = 0.5 * rest.abs().min(longest);
                    if longest < SHORTEST_STEP_MM && !limit_checked {
                        self.within_reach(place)?;
                        limit_checked = true;
                    }
                    // Below a billionth of a millimetre a step no longer changes the pose.
                    if longest < 1e-9 {
                        return Err(self.not_converged(place));
                    }
                }
            }
        }
        Ok(self.solved)
    }

    #[inline]
    fn attempt(&mut self, next: f64) -> Result<Solved, Missed> {
        let step = next - self.place;
        let predicted = self.predictor.predict(&self.solved.pose, step);
        let mut command = self.origin;
        for (value, rate) in command.iter_mut().zip(self.direction) {
            *value += next * rate;
        }
        let allowed = TRUSTED_SHARE * step.abs();
        correct(
            self.linkage,
            predicted,
            self.solved.forces,
            command,
            &self.direction,
            allowed,
        )
    }

    /// Where the linkage ends along the line, if it ends before `place`.
    fn within_reach(&self, place: f64) -> Result<(), PoseError> {
        let Some(limit) = limit::limit_along(self.linkage, &self.solved, &self.direction, place - self.place)
        else {
            return Ok(());
        };
        let limit = self.place + limit;
        if (place - self.place).abs() <= (limit - self.place).abs() {
            return Ok(());
        }
        let (asked_mm, limit_mm) = (self.asked(place), self.asked(limit));
        Err(PoseError::OutOfReach {
            asked: self.moved,
            asked_mm,
            limit_mm,
        })
    }

    fn not_converged(&self, place: f64) -> PoseError {
        let (asked_mm, good_mm) = (self.asked(place), self.asked(self.place));
        PoseError::NotConverged {
            asked: self.moved,
            asked_mm,
            good_mm,
        }
    }

    /// The command value that a person asked for, at a place along the line.
    fn asked(&self, place: f64) -> f64 {
        self.origin
            .iter()
            .zip(self.direction)
            .find(|(_, rate)| *rate != 0.0)
            .map_or(place, |(start, rate)| start + place * rate)
    }
}
