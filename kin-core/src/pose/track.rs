//! Following a linkage along a straight line of commands, on the assembly it started in.

use super::along::Along;
use super::order::Outward;
use super::solve::{Shrinking, correct};
use super::trail::{Beside, Trail};
use super::{Guess, Missed, PoseError, Solved, limit};
use crate::linkage::{Command, Drive, Linkage};

/// Longest step that is taken without a pose in between (mm of travel or rack).
const LONGEST_STEP_MM: f64 = 10.0;
/// A step that fails at this length (mm) has met the end of the linkage or a place where it is nearly free.
const SHORTEST_STEP_MM: f64 = 1e-3;
/// The first correction may be this share of the carrier's step: a prediction that is farther off is no guide.
const TRUSTED_SHARE: f64 = 0.1;
/// Commands beyond this (mm) are refused: no wheel travels that far.
pub(crate) const MOST_MM: f64 = 2_000.0;

/// A walk along one drive or several together, the other ones at rest; places are mm along them from the start.
pub(crate) struct Track<'a, A = Drive> {
    linkage: &'a Linkage,
    start: Command,
    along: A,
    trail: Trail,
    /// What is moved, for messages.
    moved: &'static str,
}

impl<'a, A: Along> Track<'a, A> {
    /// Starts where a pose is known.
    #[inline]
    pub(crate) fn new(linkage: &'a Linkage, start: &Solved, along: A, moved: &'static str) -> Self {
        let mut trail = Trail::new();
        trail.remember(0.0, &start.pose, &along.twist(start));
        Self {
            linkage,
            start: start.command,
            along,
            trail,
            moved,
        }
    }

    /// Visits every place, outward from the start, first the ones at or above zero; says which place it is.
    ///
    /// Nothing is stored but, where the places are not in rising order, the order of the visits.
    ///
    /// * `position`: holds the pose at the start, and the pose of each place when it is visited
    #[inline]
    pub(crate) fn follow<P: AsMut<Solved>>(
        mut self,
        places: &[f64],
        mut position: P,
        mut visit: impl FnMut(usize, &P),
    ) -> Result<(), PoseError> {
        let start = *position.as_mut();
        let order = Outward::of(places);
        for index in order.up() {
            self.advance_to(places[index], position.as_mut())?;
            visit(index, &position);
        }
        self.trail.turn_round();
        *position.as_mut() = start;
        for index in order.down() {
            self.advance_to(places[index], position.as_mut())?;
            visit(index, &position);
        }
        Ok(())
    }

    /// Moves `solved`, the pose where the walk stands, to `place` mm from the start.
    #[inline]
    pub(crate) fn advance_to(&mut self, place: f64, solved: &mut Solved) -> Result<(), PoseError> {
        if place.is_nan() || place.abs() > MOST_MM {
            return Err(PoseError::NotANumber {
                asked: self.moved,
                asked_mm: place,
                most_mm: MOST_MM,
            });
        }
        // The usual step of a sweep; the rest would burden it.
        let near = (place - self.trail.place()).abs() <= LONGEST_STEP_MM;
        if place == self.trail.place() || near && self.attempt(place, 1.0, solved).is_ok() {
            return Ok(());
        }
        self.approach(place, solved)
    }

    /// Goes to a place in as many steps as it takes.
    #[inline(never)]
    fn approach(&mut self, place: f64, solved: &mut Solved) -> Result<(), PoseError> {
        let mut longest = LONGEST_STEP_MM;
        let mut factorisations = 0;
        let mut limit_checked = false;
        // Close to the limit of reach the carrier moves much farther than the command.
        let mut pace = self.along.twist(&solved.with_exact_twists(self.linkage)).size();
        while self.trail.place() != place {
            let rest = place - self.trail.place();
            let last = rest.abs() <= longest;
            let next = if last {
                place
            } else {
                self.trail.place() + longest.copysign(rest)
            };
            match self.attempt(next, pace, solved) {
                Ok(()) => {
                    pace = self.along.twist(solved).size();
                    factorisations += solved.factorisations;
                    solved.factorisations = factorisations;
                    longest = (2.0 * longest).min(LONGEST_STEP_MM);
                }
                Err(Missed) => {
                    longest = 0.5 * rest.abs().min(longest);
                    if longest < SHORTEST_STEP_MM && !limit_checked {
                        self.within_reach(place, solved)?;
                        limit_checked = true;
                    }
                    // Below a billionth of a millimetre a step no longer changes the pose.
                    if longest < 1e-9 {
                        return Err(self.not_converged(place));
                    }
                }
            }
        }
        Ok(())
    }

    /// One step; nothing but the twists has changed when it misses.
    #[inline(always)]
    fn attempt(&mut self, next: f64, pace: f64, solved: &mut Solved) -> Result<(), Missed> {
        let predicted = self.trail.predict(next);
        let allowed_mm = TRUSTED_SHARE * (next - self.trail.place()).abs() * pace;
        self.settle(predicted, next, allowed_mm, pace, solved)
    }

    /// One step from a better guess than the walk's own.
    ///
    /// The walk still goes no farther from its own prediction than it would without the guess, so that it stays on its
    /// own assembly: what lies between the two is taken off the correction.
    fn attempt_from(&mut self, guess: Guess, next: f64, solved: &mut Solved) -> Result<(), Missed> {
        let step = (next - self.trail.place()).abs();
        let allowed_mm = TRUSTED_SHARE * step - self.trail.predict(next).distance(&guess);
        if !(step <= LONGEST_STEP_MM && allowed_mm > 0.0) {
            return Err(Missed);
        }
        self.settle(guess, next, allowed_mm, 1.0, solved)
    }

    /// Corrects a prediction and goes there.
    #[inline(always)]
    fn settle(
        &mut self,
        predicted: Guess,
        next: f64,
        allowed_mm: f64,
        pace: f64,
        solved: &mut Solved,
    ) -> Result<(), Missed> {
        let direction = self.along.direction();
        let command = std::array::from_fn(|drive| self.start[drive] + direction[drive] * next);
        let bound = Shrinking::new(allowed_mm, pace, self.linkage.size);
        correct(
            self.linkage,
            &predicted,
            command,
            self.along.drive(),
            bound,
            solved,
        )?;
        self.trail.remember(next, &solved.pose, &self.along.twist(solved));
        Ok(())
    }

    /// Where the linkage ends along the line, if it ends before `place`.
    fn within_reach(&self, place: f64, solved: &Solved) -> Result<(), PoseError> {
        let direction = self.along.direction();
        let Some(limit) = limit::limit_along(self.linkage, solved, &direction, place - self.trail.place())
        else {
            return Ok(());
        };
        let limit = self.trail.place() + limit;
        if (place - self.trail.place()).abs() <= (limit - self.trail.place()).abs() {
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
        let (asked_mm, good_mm) = (self.asked(place), self.asked(self.trail.place()));
        PoseError::NotConverged {
            asked: self.moved,
            asked_mm,
            good_mm,
        }
    }

    /// The command value that a person asked for, at a place along the line.
    fn asked(&self, place: f64) -> f64 {
        self.along.place_of(&self.start) + place
    }
}

impl Track<'_, Drive> {
    /// The same as [`Track::follow`] for one of several walks of an axle that visit the same places in the same order, all
    /// along one drive and lying side by side along the other one.
    #[inline]
    pub(crate) fn follow_beside<P: AsMut<Solved>>(
        mut self,
        places: &[f64],
        order: &Outward,
        beside: &mut Beside,
        mut position: P,
        mut visit: impl FnMut(usize, &P),
    ) -> Result<(), PoseError> {
        let start = *position.as_mut();
        for (visits, index) in order.up().enumerate() {
            self.advance_beside(places[index], visits, beside, position.as_mut())?;
            visit(index, &position);
        }
        self.trail.turn_round();
        *position.as_mut() = start;
        for (visits, index) in order.down().enumerate() {
            self.advance_beside(
                places[index],
                order.up().len() + visits,
                beside,
                position.as_mut(),
            )?;
            visit(index, &position);
        }
        Ok(())
    }

    /// Moves to a place that is the `visit`-th of this walk, and of the ones beside it.
    #[inline]
    fn advance_beside(
        &mut self,
        place: f64,
        visit: usize,
        beside: &mut Beside,
        solved: &mut Solved,
    ) -> Result<(), PoseError> {
        if self.trail.is_full() {
            return self.advance_to(place, solved);
        }
        let across = match self.along {
            Drive::HalfDifference => Drive::Heave,
            Drive::Heave | Drive::Rack => Drive::HalfDifference,
        };
        let lies = self.start[across as usize];
        let moves = place != self.trail.place();
        let guided = moves
            && beside
                .predict(visit, lies)
                .is_some_and(|guess| self.attempt_from(guess, place, solved).is_ok());
        if !guided {
            self.advance_to(place, solved)?;
        }
        if moves {
            beside.remember(visit, lies, &solved.pose, solved.twist(across));
        }
        Ok(())
    }
}
