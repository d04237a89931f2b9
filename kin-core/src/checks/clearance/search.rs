//! The least gap of two pieces along a line of motion, between the looks as well.
//!
//! Looks a few millimetres apart give the gap with its exact rate. An interval between two looks is left alone when
//! the speed of the parts, or else the bound of [`super::bound`], proves that nothing there lies below the least
//! gap found so far. Where the rate changes sign the turning point is found; elsewhere the interval is halved. As soon
//! as the cubics through both ends hold to a fraction of a micron the search goes on along them, and only what it ends
//! on is looked at in the solved position. So the least gap is right to [`SURE_MM`], and exact where it is.

use super::bound::stays_above;
use super::cubic::Cubics;
use super::line::Stop;
use super::meeting::{Course, Known, Look, Meeting};
use super::turn::{chord, cubic_turn};
use crate::pose::PoseError;

/// What may be left unfound below the least gap (mm).
pub(super) const SURE_MM: f64 = 5e-7;
/// Intervals narrower than this (mm) are not divided again: nothing moves that far within them.
const NARROWEST_MM: f64 = 1e-6;
/// After so many positions on one line only intervals wider than [`NARROW_MM`] are divided again, so that no input
/// can keep the search busy without end.
const MANY_POSITIONS: usize = 5_000;
const NARROW_MM: f64 = 0.05;
/// Turning points are found to this place (mm).
const TURN_MM: f64 = 1e-6;
/// Speeds between two looks may be above those at the looks by this share.
const SPEED_ALLOWANCE: f64 = 1.05;

impl Meeting<'_> {
    /// The least gap on the line if it lies below `best` (mm), with the stop there, else nothing.
    pub(super) fn least(&self, best: Option<f64>) -> Result<Option<(Look, Stop)>, PoseError> {
        let mut search = Search::new(self, best);
        let last = self.stops.len().saturating_sub(1);
        if let (Some(first), Some(end)) = (self.look_at(0), self.look_at(last)) {
            search.offer_at(0, &first);
            search.offer_at(last, &end);
            search.stops((0, &first), (last, &end))?;
        }
        Ok(search.least)
    }
}

/// The state of one search.
pub(super) struct Search<'a> {
    pub(super) meeting: &'a Meeting<'a>,
    /// Gaps at or above this are of no interest (mm).
    below: f64,
    least: Option<(Look, Stop)>,
    /// What the search goes along instead of solved positions, where it does.
    cubics: Option<Cubics>,
    /// The lowest look on the cubics.
    guess: Option<Look>,
    positions: usize,
}

impl<'a> Search<'a> {
    /// * `below`: what the gap must lie below to be of interest (mm)
    pub(super) fn new(meeting: &'a Meeting<'a>, below: Option<f64>) -> Self {
        Self {
            meeting,
            below: below.unwrap_or(f64::INFINITY),
            least: None,
            cubics: None,
            guess: None,
            positions: 0,
        }
    }

    fn offer(&mut self, look: &Look, stop: &Stop) {
        if look.gap < self.below {
            self.below = look.gap;
            if self.cubics.is_some() {
                self.guess = Some(*look);
            } else {
                self.least = Some((*look, *stop));
            }
        }
    }

    fn offer_at(&mut self, stop: usize, look: &Look) {
        if let Some(there) = self.meeting.stops.get(stop) {
            self.offer(look, there);
        }
    }

    /// Searches between two stops, the side with the lower gap first, so that the other is soon ruled out.
    fn stops(&mut self, left: (usize, &Look), right: (usize, &Look)) -> Result<(), PoseError> {
        if right.0 <= left.0 + 1 {
            return self.window(left, right);
        }
        let width = right.1.place - left.1.place;
        let [first, second] = self.meeting.courses.map(Course::fastest);
        let moved = SPEED_ALLOWANCE * (first + second) * width;
        if 0.5 * (left.1.gap + right.1.gap - moved) >= self.below {
            return Ok(());
        }
        let middle = left.0 + (right.0 - left.0) / 2;
        let Some(look) = self.meeting.look_at(middle) else {
            return Ok(());
        };
        self.offer_at(middle, &look);
        if left.1.gap <= right.1.gap {
            self.stops(left, (middle, &look))?;
            self.stops((middle, &look), right)
        } else {
            self.stops((middle, &look), right)?;
            self.stops(left, (middle, &look))
        }
    }

    /// Searches between two neighbouring stops.
    fn window(&mut self, left: (usize, &Look), right: (usize, &Look)) -> Result<(), PoseError> {
        let width = right.1.place - left.1.place;
        let fastest = |course: &Course| course.speed(left.0).max(course.speed(right.0));
        let [first, second] = self.meeting.courses.map(fastest);
        let moved = SPEED_ALLOWANCE * (first + second) * width;
        if 0.5 * (left.1.gap + right.1.gap - moved) >= self.below {
            return Ok(());
        }
        let ends = (
            self.meeting.end(left.0, left.1),
            self.meeting.end(right.0, right.1),
        );
        if let (Some(start), Some(end)) = ends
            && stays_above(self.below - SURE_MM + self.meeting.radii(), &start, &end, width)
        {
            return Ok(());
        }
        let ends = (
            self.meeting.known(left.0, left.1),
            self.meeting.known(right.0, right.1),
        );
        let (Some(left), Some(right)) = ends else {
            return Ok(());
        };
        self.between(&left, &right)
    }

    fn narrowest(&self) -> f64 {
        if self.positions < MANY_POSITIONS {
            NARROWEST_MM
        } else {
            NARROW_MM
        }
    }

    /// Whether the interval is narrow, or surely holds nothing below `gap` less what may be left unfound.
    pub(super) fn settled(&self, left: &Known, right: &Known, gap: f64) -> bool {
        let width = right.look.place - left.look.place;
        let distance = gap - SURE_MM + self.meeting.radii();
        width <= self.narrowest() || stays_above(distance, &left.end(), &right.end(), width)
    }

    /// Searches between two looks whose gaps have been offered.
    fn between(&mut self, left: &Known, right: &Known) -> Result<(), PoseError> {
        // Once the cores have met there is no lower gap to find.
        let lowest = self.guess.or(self.least.map(|(least, _)| least));
        if lowest.is_some_and(|lowest| lowest.met()) || self.settled(left, right, self.below) {
            return Ok(());
        }
        if self.cubics.is_none()
            && let Some(cubics) = Cubics::through(left, right)
        {
            return self.along(cubics, left, right);
        }
        let turns = left.look.rate < 0.0 && right.look.rate > 0.0;
        let middle = if turns {
            self.turning_point(left, right)?
        } else {
            self.visit(0.5 * (left.look.place + right.look.place), left)?
        };
        let Some(middle) = middle else {
            return Ok(());
        };
        self.offer(&middle.look, &middle.stop);
        if middle.look.place <= left.look.place || middle.look.place >= right.look.place {
            return Ok(());
        }
        self.between(left, &middle)?;
        self.between(&middle, right)
    }

    /// Searches along cubics, and looks at what it ends on in the solved position.
    fn along(&mut self, cubics: Cubics, left: &Known, right: &Known) -> Result<(), PoseError> {
        let below = self.below;
        self.cubics = Some(cubics);
        let searched = self.between(left, right);
        self.cubics = None;
        self.below = below;
        let guess = self.guess.take();
        searched?;
        let Some(guess) = guess else {
            return Ok(());
        };
        let nearer = if guess.place - left.look.place < right.look.place - guess.place {
            left
        } else {
            right
        };
        let Some(mut found) = self.visit(guess.place, nearer)? else {
            return Ok(());
        };
        self.offer(&found.look, &found.stop);
        // The solved position turns a little aside of the cubic: one step by the cubic's curvature leads there.
        if guess.rate == 0.0
            && let Some(bend) = self.meeting.bend(&cubics, guess.place)
        {
            let place = guess.place - found.look.rate / bend;
            let inside = place > left.look.place && place < right.look.place;
            if inside && (place - guess.place).abs() > TURN_MM {
                let Some(turned) = self.visit(place, &found)? else {
                    return Ok(());
                };
                found = turned;
                self.offer(&found.look, &found.stop);
            }
        }
        Ok(())
    }

    /// The place between where the rate goes through zero, upward.
    pub(super) fn turning_point(&mut self, left: &Known, right: &Known) -> Result<Option<Known>, PoseError> {
        let (mut low, mut high) = (*left, *right);
        let (mut at_low, mut at_high) = (left.look.rate, right.look.rate);
        let (mut moved_low, mut moved_high) = (false, false);
        let mut place = cubic_turn(&left.look, &right.look);
        for _ in 0..80 {
            let near = if place - low.look.place < high.look.place - place {
                low
            } else {
                high
            };
            let Some(here) = self.visit(place, &near)? else {
                return Ok(None);
            };
            let (before, after) = (place - low.look.place, high.look.place - place);
            let rate = here.look.rate;
            if rate == 0.0 || before.min(after) <= TURN_MM {
                return Ok(Some(here.turned()));
            }
            // An end that stays twice counts half, or the chord would creep up from one side.
            if rate < 0.0 {
                (low, at_low) = (here, rate);
                at_high *= if moved_low { 0.5 } else { 1.0 };
            } else {
                (high, at_high) = (here, rate);
                at_low *= if moved_high { 0.5 } else { 1.0 };
            }
            (moved_low, moved_high) = (rate < 0.0, rate > 0.0);
            let next = chord(low.look.place, high.look.place, [at_low, at_high]);
            let last_step = (next - place).abs();
            place = next;
            if last_step <= TURN_MM {
                return Ok(Some(here.turned()));
            }
        }
        let lower = if low.look.gap < high.look.gap { low } else { high };
        Ok(Some(lower.turned()))
    }

    pub(super) fn visit(&mut self, place: f64, near: &Known) -> Result<Option<Known>, PoseError> {
        self.positions += 1;
        match &self.cubics {
            Some(cubics) => Ok(self.meeting.on_cubics(cubics, place, near)),
            None => self.meeting.visit(place, near),
        }
    }
}
