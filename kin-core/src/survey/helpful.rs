//! Which one extra reading would help most.

use super::adjustment::Adjustment;
use super::network::Row;
use super::reading::{Axis, Kind, Observed, Reading};
use super::words::point_words;
use crate::Sentence;
use nalgebra::DVector;
use std::collections::BTreeSet;

/// A gain below this share is none.
const NO_GAIN: f64 = 0.01;

/// The reading that would help most.
#[derive(Debug, Clone, PartialEq)]
pub struct Helpful {
    /// What to read.
    pub observed: Observed,
    /// The standard deviation it was taken to have (mm).
    pub deviation: f64,
    /// The point whose coordinate is known worst now.
    pub worst_point: String,
    /// That coordinate.
    pub worst_axis: Axis,
    /// Its standard deviation now, a priori (mm).
    pub worst_before: f64,
    /// The worst standard deviation of any coordinate with the extra reading, a priori (mm).
    pub worst_after: f64,
}

impl Helpful {
    /// It in words.
    #[must_use]
    pub fn sentence(&self) -> Sentence {
        Sentence::new(format!(
            "The one more reading that would help most is {}: the worst standard deviation of all points, a priori, goes down from ",
            self.observed.words()
        ))
        .fine_length(self.worst_before)
        .words(format!(
            " ({} of {}) to ",
            self.worst_axis.word(),
            point_words(&self.worst_point)
        ))
        .fine_length(self.worst_after)
    }
}

impl Adjustment {
    /// The one extra reading that would make the worst standard deviation smallest; none where no single one helps by a hundredth.
    ///
    /// Heights, offsets and stations of every point and tapes between every two are tried, those not read yet first. With the
    /// covariance Q and a reading's derivatives a and standard deviation s, the covariance after it is
    /// `Q - Q a a' Q / (s^2 + a' Q a)`: nothing is adjusted again.
    #[must_use]
    pub fn most_helpful(&self) -> Option<Helpful> {
        let (worst_place, worst_axis, worst_before) = self.worst(&DVector::zeros(self.network.unknowns))?;
        let read: BTreeSet<Vec<usize>> = self
            .network
            .rows
            .iter()
            .filter_map(|(row, ..)| tape(*row))
            .collect();
        let mut best: Option<(f64, f64, Row)> = None;
        for row in self.possible(&read) {
            let slope = self.network.gradient(row, &self.places);
            let carried = &self.covariance * &slope;
            let deviation = self.survey.deviations.of(kind(row));
            let less = carried.map(|part| part * part) / (deviation * deviation + slope.dot(&carried));
            let after = self.worst(&less).map_or(0.0, |(_, _, worst)| worst);
            let total = less.sum();
            let better = best.as_ref().is_none_or(|(worst, gained, _)| {
                after < worst - 1e-9 || (after <= worst + 1e-9 && total > gained + 1e-9)
            });
            if better {
                best = Some((after, total, row));
            }
        }
        let (worst_after, _, row) = best?;
        if worst_after > worst_before * (1.0 - NO_GAIN) {
            return None;
        }
        let name = |point: usize| self.network.points.get_index(point).cloned().unwrap_or_default();
        let observed = match row {
            Row::Coordinate(of, axis, _) => Reading::coordinate(&name(of), axis, 0.0).observed,
            Row::Distance(from, to) => Reading::tape(&name(from), &name(to), 0.0).observed,
            _ => return None,
        };
        Some(Helpful {
            observed,
            deviation: self.survey.deviations.of(kind(row)),
            worst_point: name(worst_place),
            worst_axis,
            worst_before,
            worst_after,
        })
    }

    /// The coordinate with the largest standard deviation once variances are `less`.
    fn worst(&self, less: &DVector<f64>) -> Option<(usize, Axis, f64)> {
        let mut worst: Option<(usize, Axis, f64)> = None;
        for (point, columns) in self.network.columns.iter().enumerate() {
            for axis in Axis::ALL {
                let Some(column) = columns[axis.index()] else {
                    continue;
                };
                let deviation = (self.covariance[(column, column)] - less[column]).max(0.0).sqrt();
                if worst.is_none_or(|(.., known)| deviation > known) {
                    worst = Some((point, axis, deviation));
                }
            }
        }
        worst
    }

    /// Readings that could be taken.
    fn possible(&self, read: &BTreeSet<Vec<usize>>) -> Vec<Row> {
        let points = self.network.points.len();
        // Where the axes are chosen, nothing can be read from floor or strings.
        let absolute = !matches!(self.datum, super::Datum::Inner { .. });
        let mut rows = Vec::new();
        for point in 0..points {
            if absolute {
                let open = Axis::ALL
                    .into_iter()
                    .filter(|axis| self.network.columns[point][axis.index()].is_some());
                rows.extend(open.map(|axis| Row::Coordinate(point, axis, None)));
            }
            let untaped = (point + 1..points).filter(|other| !read.contains(&vec![point, *other]));
            rows.extend(untaped.map(|other| Row::Distance(point, other)));
        }
        rows
    }
}

fn tape(row: Row) -> Option<Vec<usize>> {
    match row {
        Row::Distance(from, to) => Some(vec![from.min(to), from.max(to)]),
        _ => None,
    }
}

fn kind(row: Row) -> Kind {
    match row {
        Row::Coordinate(_, Axis::X, _) => Kind::Station,
        Row::Coordinate(_, Axis::Y, _) => Kind::Offset,
        Row::Coordinate(_, Axis::Z, _) => Kind::Height,
        _ => Kind::Tape,
    }
}
