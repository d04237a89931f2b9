//! From where to where on a line two pieces overlap.

use super::meeting::{Known, Meeting};
use super::search::Search;
use crate::pose::PoseError;

/// Overlaps shorter than this (mm) may go unseen where the gap is near zero and does not turn.
const SHORTEST_MM: f64 = 0.05;

impl Meeting<'_> {
    /// Every stretch of the line on which the gap is below zero, with its ends (mm along the line).
    pub(super) fn overlaps(&self) -> Result<Vec<(f64, f64)>, PoseError> {
        let mut search = Search::new(self, Some(0.0));
        let mut visited: Vec<Known> = Vec::with_capacity(self.stops.len());
        for place in 0..self.stops.len() {
            let known = self.look_at(place).and_then(|look| self.known(place, &look));
            let Some(known) = known else {
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
}

impl Search<'_> {
    /// Adds the looks between two others that show every stretch below zero.
    fn crossings(&mut self, left: &Known, right: &Known, visited: &mut Vec<Known>) -> Result<(), PoseError> {
        let (here, there) = (left.look.gap, right.look.gap);
        let width = right.look.place - left.look.place;
        // Between two looks that overlap, a moment of freedom is not looked for.
        if (here < 0.0) != (there < 0.0) || here < 0.0 || self.settled(left, right, 0.0) {
            return Ok(());
        }
        if width <= SHORTEST_MM {
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
