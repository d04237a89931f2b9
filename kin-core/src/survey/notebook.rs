//! All readings of a survey, and what is known beside them.

use super::reading::{Axis, Kind, Reading};
use crate::pickups::{Point, Side};
use indexmap::{IndexMap, IndexSet};

/// Standard deviations of readings that state none.
///
/// The defaults are common practice of careful work with a steel tape, a rule on a level floor and plumb-bob marks, without a
/// source; repeated readings tell one's own, see [`Survey::repeats`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DefaultDeviations {
    /// A tape between two points (mm).
    pub tape: f64,
    /// A height (mm).
    pub height: f64,
    /// An offset from the centreline (mm).
    pub offset: f64,
    /// A station along the car (mm).
    pub station: f64,
    /// An angle to level (rad).
    pub angle: f64,
    /// How alike both sides of a car are (mm).
    pub same: f64,
    /// How well a rigid part keeps its length between two readings (mm).
    pub rigid: f64,
}

impl Default for DefaultDeviations {
    fn default() -> Self {
        Self {
            tape: 1.2,
            height: 1.5,
            offset: 2.0,
            station: 2.5,
            angle: 0.2_f64.to_radians(),
            same: 3.0,
            rigid: 0.5,
        }
    }
}

impl DefaultDeviations {
    /// That of a kind (mm or rad).
    #[must_use]
    pub const fn of(&self, kind: Kind) -> f64 {
        match kind {
            Kind::Tape => self.tape,
            Kind::Height => self.height,
            Kind::Offset => self.offset,
            Kind::Station => self.station,
            Kind::Angle => self.angle,
            Kind::Same => self.same,
            Kind::Rigid => self.rigid,
        }
    }

    /// Sets that of a kind (mm or rad).
    pub const fn set(&mut self, kind: Kind, standard_deviation: f64) {
        let place = match kind {
            Kind::Tape => &mut self.tape,
            Kind::Height => &mut self.height,
            Kind::Offset => &mut self.offset,
            Kind::Station => &mut self.station,
            Kind::Angle => &mut self.angle,
            Kind::Same => &mut self.same,
            Kind::Rigid => &mut self.rigid,
        };
        *place = standard_deviation;
    }
}

/// A coordinate that is stated, not measured: it carries the axes.
#[derive(Debug, Clone, PartialEq)]
pub struct FixedCoordinate {
    /// The point.
    pub point: String,
    /// The coordinate.
    pub axis: Axis,
    /// Its value (mm).
    pub value: f64,
    /// Where it was written.
    pub label: String,
}

/// A notebook of readings, in vehicle axes: X forward, Y left, Z up (mm).
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Survey {
    /// The readings.
    pub readings: Vec<Reading>,
    /// Coordinates that are stated.
    pub fixed: Vec<FixedCoordinate>,
    /// Rough places by eye, where known: they tell mirror images apart and never pull on the result.
    pub sketch: IndexMap<String, Point>,
    /// The side of the car that points are on, where known: it tells mirror images apart.
    pub sides: IndexMap<String, Side>,
    /// Standard deviations of readings that state none.
    pub deviations: DefaultDeviations,
}

impl Survey {
    /// States a coordinate of a point (mm).
    pub fn fix(&mut self, point: &str, axis: Axis, value: f64) {
        self.fixed.push(FixedCoordinate {
            point: point.to_owned(),
            axis,
            value,
            label: String::new(),
        });
    }

    /// The standard deviation that a reading counts with (mm or rad).
    #[must_use]
    pub fn deviation(&self, reading: &Reading) -> f64 {
        let own = reading.standard_deviation;
        own.unwrap_or_else(|| self.deviations.of(reading.observed.kind())) * reading.loosened
    }

    /// Every point that is named, in the order of first mention: stated coordinates first, then readings.
    #[must_use]
    pub fn points(&self) -> IndexSet<String> {
        let fixed = self.fixed.iter().map(|fixed| fixed.point.as_str());
        let read = self.readings.iter().flat_map(|reading| reading.observed.points());
        fixed.chain(read).map(str::to_owned).collect()
    }
}
