//! The least gap of two pieces along a line of motion, between the looks as well.
//!
//! Looks a few millimetres apart give the gap with its exact rate. An interval between two looks is left alone when
//! the speed of the parts, or else the bound of [`super::bound`], proves that nothing there lies below the least
//! gap found so far. Where the rate changes sign the turning point is found to round-off; elsewhere the interval is
//! halved. So the least gap is right to [`SURE_MM`].

use super::bound::{End, stays_above};
use super::line::{Line, Stop};
use super::piece::{Piece, Placed};
use super::turn::{chord, cubic_turn};
use crate::geometry::{Closest, closest};
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
const TURN_MM: f64 = 1e-8;
/// Speeds between two looks may be above those at the looks by this share.
const SPEED_ALLOWANCE: f64 = 1.05;
/// Cores that come nearer than this (mm) between two looks have met.
const MET_MM: f64 = 1e-4;

/// Two pieces at one place of a line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Look {
    /// Along the line (mm).
    pub(super) place: f64,
    pub(super) closest: Closest,
    /// Distance of the cores less both radii (mm).
    pub(super) gap: f64,
    /// Its rate per mm along the line.
    pub(super) rate: f64,
}

impl Look {
    /// Whether the cores meet, so that the parts overlap by more than the gap says.
    pub(super) fn met(&self) -> bool {
        self.closest.touches() || (self.closest.distance >= 0.0 && self.closest.distance < MET_MM)
    }
}

/// A piece along a line: where it is at every stop, or once for all if it stands still.
#[derive(Debug, Clone)]
pub(super) struct Course {
    placed: Vec<Placed>,
}

impl Course {
    pub(super) fn of(piece: &Piece, line: &Line<'_>, stops: &[Stop]) -> Self {
        let needed = if piece.stands() {
            &stops[..stops.len().min(1)]
        } else {
            stops
        };
        Self {
            placed: needed
                .iter()
                .map(|stop| piece.place(&line.instant(stop)))
                .collect(),
        }
    }

    #[inline]
    fn at(&self, stop: usize) -> Option<&Placed> {
        self.placed.get(stop).or(self.placed.first())
    }
}

/// Two pieces on one line of motion.
pub(super) struct Meeting<'a> {
    pub(super) line: &'a Line<'a>,
    pub(super) stops: &'a [Stop],
    pub(super) pieces: [&'a Piece; 2],
    pub(super) courses: [&'a Course; 2],
}

/// A look with all that a further search from it needs.
#[derive(Debug, Clone, Copy)]
struct Known {
    stop: Stop,
    bodies: [Placed; 2],
    look: Look,
}

impl Known {
    /// A turning point: what is left of its rate is round-off, and must not make it turn again.
    fn turned(mut self) -> Self {
        self.look.rate = 0.0;
        self
    }

    fn end(&self) -> End<'_> {
        End {
            bodies: [&self.bodies[0], &self.bodies[1]],
            closest: &self.look.closest,
        }
    }
}

impl Meeting<'_> {
    fn radii(&self) -> f64 {
        self.pieces[0].radius + self.pieces[1].radius
    }

    fn look(&self, place: f64, bodies: [&Placed; 2]) -> Option<Look> {
        let closest = closest(&bodies[0].core, &bodies[1].core)?;
        let apart = bodies[0].rate_at(&closest.on_first) - bodies[1].rate_at(&closest.on_second);
        Some(Look {
            place,
            gap: closest.distance - self.radii(),
            rate: closest.direction.dot(&apart),
            closest,
        })
    }

    /// The gap at every stop; none for two pieces that are never compared.
    pub(super) fn looks(&self) -> Option<Vec<Look>> {
        let at = |(place, stop): (usize, &Stop)| {
            self.look(
                stop.place,
                [self.courses[0].at(place)?, self.courses[1].at(place)?],
            )
        };
        self.stops.iter().enumerate().map(at).collect()
    }

    fn known(&self, place: usize, look: &Look) -> Option<Known> {
        Some(Known {
            stop: *self.stops.get(place)?,
            bodies: [*self.courses[0].at(place)?, *self.courses[1].at(place)?],
            look: *look,
        })
    }

    /// The least gap on the line if it lies below `best` (mm), else nothing.
    pub(super) fn least(&self, looks: &[Look], best: Option<f64>) -> Result<Option<Look>, PoseError> {
        let lowest = looks
            .iter()
            .enumerate()
            .min_by(|a, b| a.1.gap.total_cmp(&b.1.gap));
        let Some((lowest, first)) = lowest else {
            return Ok(None);
        };
        let mut search = Search {
            meeting: self,
            below: best.unwrap_or(f64::INFINITY),
            least: None,
            positions: 0,
        };
        search.offer(first);
        // From the lowest look outward, so that most of the line is ruled out at once.
        let mut windows: Vec<usize> = (0..looks.len().saturating_sub(1)).collect();
        windows.sort_by_key(|window| window.abs_diff(lowest).min((window + 1).abs_diff(lowest)));
        for window in windows {
            search.window(looks, window)?;
        }
        Ok(search.least)
    }

    /// Every stretch of the line on which the gap is below zero, with its ends (mm along the line).
    pub(super) fn overlaps(&self, looks: &[Look]) -> Result<Vec<(f64, f64)>, PoseError> {
        let mut search = Search {
            meeting: self,
            below: 0.0,
            least: None,
            positions: 0,
        };
        let mut visited: Vec<Known> = Vec::with_capacity(looks.len());
        for (place, look) in looks.iter().enumerate() {
            let Some(known) = self.known(place, look) else {
                return Ok(Vec::new());
            };
            if let Some(last) = visited.last().copied() {
                search.crossings(&last, &known, &mut visited)?;
            }
            visited.push(known);
        }
        let mut stretches: Vec<(f64, f64)> = Vec::new();
        for (place, here) in visited.iter().enumerate() {
            if here.look.gap >= 0.0 {
                continue;
            }
            let edge = |other: Option<&Known>| match other {
                Some(other) if other.look.gap >= 0.0 => search.zero(here, other),
                _ => Ok(here.look.place),
            };
            let from = edge(place.checked_sub(1).and_then(|before| visited.get(before)))?;
            let to = edge(visited.get(place + 1))?;
            match stretches.last_mut() {
                Some(last) if place > 0 && visited[place - 1].look.gap < 0.0 => last.1 = to,
                _ => stretches.push((from, to)),
            }
        }
        Ok(stretches)
    }

    fn visit(&self, place: f64, near: &Known) -> Result<Option<Known>, PoseError> {
        let stop = self.line.stop_at(place, &near.stop)?;
        let instant = self.line.instant(&stop);
        let bodies = self.pieces.map(|piece| piece.place(&instant));
        let look = self.look(place, [&bodies[0], &bodies[1]]);
        Ok(look.map(|look| Known { stop, bodies, look }))
    }
}

/// The state of one search.
struct Search<'a> {
    meeting: &'a Meeting<'a>,
    /// Gaps at or above this are of no interest (mm).
    below: f64,
    least: Option<Look>,
    positions: usize,
}

impl Search<'_> {
    fn offer(&mut self, look: &Look) {
        if look.gap < self.below {
            self.below = look.gap;
            self.least = Some(*look);
        }
    }

    fn window(&mut self, looks: &[Look], window: usize) -> Result<(), PoseError> {
        let (Some(left), Some(right)) = (looks.get(window), looks.get(window + 1)) else {
            return Ok(());
        };
        let width = right.place - left.place;
        let speed: f64 = self
            .meeting
            .courses
            .iter()
            .map(|course| {
                let speed = |place| course.at(place).map_or(0.0, Placed::speed);
                speed(window).max(speed(window + 1))
            })
            .sum();
        if 0.5 * (left.gap + right.gap - SPEED_ALLOWANCE * speed * width) >= self.below {
            return Ok(());
        }
        let ends = (
            self.meeting.known(window, left),
            self.meeting.known(window + 1, right),
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
    fn settled(&self, left: &Known, right: &Known, gap: f64) -> bool {
        let width = right.look.place - left.look.place;
        let distance = gap - SURE_MM + self.meeting.radii();
        width <= self.narrowest() || stays_above(distance, &left.end(), &right.end(), width)
    }

    /// Searches between two looks whose gaps have been offered.
    fn between(&mut self, left: &Known, right: &Known) -> Result<(), PoseError> {
        // Once the cores have met there is no lower gap to find.
        if self.least.is_some_and(|least| least.met()) || self.settled(left, right, self.below) {
            return Ok(());
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
        self.offer(&middle.look);
        if middle.look.place <= left.look.place || middle.look.place >= right.look.place {
            return Ok(());
        }
        self.between(left, &middle)?;
        self.between(&middle, right)
    }

    /// The place between where the rate goes through zero, upward.
    fn turning_point(&mut self, left: &Known, right: &Known) -> Result<Option<Known>, PoseError> {
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

    fn visit(&mut self, place: f64, near: &Known) -> Result<Option<Known>, PoseError> {
        self.positions += 1;
        self.meeting.visit(place, near)
    }

    /// Adds the looks between two others that show every stretch below zero.
    fn crossings(&mut self, left: &Known, right: &Known, visited: &mut Vec<Known>) -> Result<(), PoseError> {
        let (here, there) = (left.look.gap, right.look.gap);
        let width = right.look.place - left.look.place;
        // Between two looks that overlap, a moment of freedom is not looked for.
        if (here < 0.0) != (there < 0.0) || here < 0.0 || self.settled(left, right, 0.0) {
            return Ok(());
        }
        if width <= NARROW_MM {
            return Ok(());
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
        if middle.look.place <= left.look.place || middle.look.place >= right.look.place {
            return Ok(());
        }
        self.crossings(left, &middle, visited)?;
        visited.push(middle);
        self.crossings(&middle, right, visited)
    }

    /// Where the gap is zero between two looks of opposite sign.
    fn zero(&self, inside: &Known, outside: &Known) -> Result<f64, PoseError> {
        let (low, high) = if inside.look.place < outside.look.place {
            (inside, outside)
        } else {
            (outside, inside)
        };
        let gap = |place: f64| {
            let found = self.meeting.visit(place, low)?;
            Ok(found.map_or((f64::NAN, f64::NAN), |known| (known.look.gap, known.look.rate)))
        };
        let end = |known: &Known| (known.look.place, known.look.gap);
        crate::numeric::bracketed_root::find(gap, end(low), end(high), 1e-10)
    }
}
