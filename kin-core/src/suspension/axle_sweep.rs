//! Sweeps of a live axle in heave, in roll, and over a grid of both.

use super::axle::HEAVE;
use super::order::outward;
use super::{Axle, AxlePosition, AxleTravel};
use crate::pose::{PoseError, Solved, Track};

impl Axle {
    /// Positions with both wheels at each of the given travels (mm), in the order given.
    ///
    /// # Errors
    /// [`PoseError`] when one of them is out of reach.
    pub fn sweep_heave(&self, travels: &[f64]) -> Result<Vec<AxlePosition<'_>>, PoseError> {
        Ok(self
            .heave(travels)?
            .into_iter()
            .map(|solved| self.position(solved))
            .collect())
    }

    fn heave(&self, travels: &[f64]) -> Result<Vec<Solved>, PoseError> {
        let start = Track::as_measured();
        let mut solved = vec![start; travels.len()];
        let (up, down) = outward(travels);
        for indices in [up, down] {
            let mut track = Track::new(&self.linkage, &start, HEAVE, "travel of both wheels")?;
            for index in indices {
                solved[index] = track.advance_to(travels[index])?;
            }
        }
        Ok(solved)
    }

    /// Positions at each of the given half differences of wheel travel (mm, left wheel up positive), in the order
    /// given, about one travel of both wheels (mm).
    ///
    /// # Errors
    /// [`PoseError`] when one of them is out of reach.
    pub fn sweep_roll(
        &self,
        half_differences: &[f64],
        heave: f64,
    ) -> Result<Vec<AxlePosition<'_>>, PoseError> {
        let start = Track::new(
            &self.linkage,
            &Track::as_measured(),
            HEAVE,
            "travel of both wheels",
        )?
        .advance_to(heave)?;
        self.roll(&start, half_differences)
    }

    fn roll(&self, start: &Solved, half_differences: &[f64]) -> Result<Vec<AxlePosition<'_>>, PoseError> {
        let mut positions = vec![self.position(*start); half_differences.len()];
        let (up, down) = outward(half_differences);
        for indices in [up, down] {
            let mut track = self.rolled_from(start)?;
            for index in indices {
                positions[index] = self.position(track.advance_to(half_differences[index])?);
            }
        }
        Ok(positions)
    }

    /// Positions for every pair of heave and half difference (mm), heave by heave.
    ///
    /// # Errors
    /// [`PoseError`] when one of them is out of reach.
    pub fn grid(&self, heaves: &[f64], half_differences: &[f64]) -> Result<Vec<AxlePosition<'_>>, PoseError> {
        let starts = self.heave(heaves)?;
        let rows = crate::parallel::map(&starts, |start| self.roll(start, half_differences));
        let mut positions = Vec::with_capacity(heaves.len() * half_differences.len());
        for row in rows {
            positions.extend(row?);
        }
        Ok(positions)
    }

    /// Positions at any travels of the two wheels, in the order given: one wheel on a block, or a path of one's own.
    ///
    /// # Errors
    /// [`PoseError`] when one of them is out of reach.
    pub fn sweep(&self, travels: &[AxleTravel]) -> Result<Vec<AxlePosition<'_>>, PoseError> {
        crate::parallel::map(travels, |&travel| self.at(travel))
            .into_iter()
            .collect()
    }
}
