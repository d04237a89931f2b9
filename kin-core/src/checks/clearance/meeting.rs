//! Two pieces on one line of motion, and what a look at them says.

use super::bound::End;
use super::line::{Line, Stop};
use super::piece::{Piece, Placed};
use crate::geometry::{Closest, closest};
use crate::pose::PoseError;

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
    /// The greatest speed of any of its points at each of them.
    speeds: Vec<f64>,
    /// The greatest of these.
    fastest: f64,
}

impl Course {
    pub(super) fn of(piece: &Piece, line: &Line<'_>, stops: &[Stop]) -> Self {
        let needed = if piece.stands() {
            &stops[..stops.len().min(1)]
        } else {
            stops
        };
        let placed: Vec<Placed> = needed
            .iter()
            .map(|stop| piece.place(&line.instant(stop)))
            .collect();
        let speeds: Vec<f64> = placed.iter().map(Placed::speed).collect();
        let fastest = speeds.iter().copied().fold(0.0, f64::max);
        Self {
            placed,
            speeds,
            fastest,
        }
    }

    #[inline]
    pub(super) fn at(&self, stop: usize) -> Option<&Placed> {
        self.placed.get(stop).or(self.placed.first())
    }

    pub(super) fn fastest(&self) -> f64 {
        self.fastest
    }

    #[inline]
    pub(super) fn speed(&self, stop: usize) -> f64 {
        self.speeds.get(stop).copied().unwrap_or(0.0)
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
pub(super) struct Known {
    /// The suspension there, or near there for a look on a cubic.
    pub(super) stop: Stop,
    pub(super) bodies: [Placed; 2],
    pub(super) look: Look,
}

impl Known {
    /// A turning point: what is left of its rate is round-off, and must not make it turn again.
    pub(super) fn turned(mut self) -> Self {
        self.look.rate = 0.0;
        self
    }

    pub(super) fn end(&self) -> End<'_> {
        End {
            bodies: [&self.bodies[0], &self.bodies[1]],
            closest: &self.look.closest,
        }
    }
}

impl Meeting<'_> {
    pub(super) fn radii(&self) -> f64 {
        self.pieces[0].radius + self.pieces[1].radius
    }

    pub(super) fn look(&self, place: f64, bodies: [&Placed; 2]) -> Option<Look> {
        let closest = closest(&bodies[0].core, &bodies[1].core)?;
        let apart = bodies[0].rate_at(&closest.on_first) - bodies[1].rate_at(&closest.on_second);
        Some(Look {
            place,
            gap: closest.distance - self.radii(),
            rate: closest.direction.dot(&apart),
            closest,
        })
    }

    /// The gap at one of the stops; none for two pieces that are never compared.
    pub(super) fn look_at(&self, stop: usize) -> Option<Look> {
        let bodies = [self.courses[0].at(stop)?, self.courses[1].at(stop)?];
        self.look(self.stops.get(stop)?.place, bodies)
    }

    pub(super) fn end<'c>(&'c self, place: usize, look: &'c Look) -> Option<End<'c>> {
        Some(End {
            bodies: [self.courses[0].at(place)?, self.courses[1].at(place)?],
            closest: &look.closest,
        })
    }

    pub(super) fn known(&self, place: usize, look: &Look) -> Option<Known> {
        Some(Known {
            stop: *self.stops.get(place)?,
            bodies: [*self.courses[0].at(place)?, *self.courses[1].at(place)?],
            look: *look,
        })
    }

    /// The pieces at a place of the line, reached from another one near it.
    pub(super) fn visit(&self, place: f64, near: &Known) -> Result<Option<Known>, PoseError> {
        let stop = self.line.stop_at(place, &near.stop)?;
        let instant = self.line.instant(&stop);
        let bodies = self.pieces.map(|piece| piece.place(&instant));
        let look = self.look(place, [&bodies[0], &bodies[1]]);
        Ok(look.map(|look| Known { stop, bodies, look }))
    }
}
