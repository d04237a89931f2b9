//! Sweeps of a live axle in heave, in roll, and over a grid of both.

use super::{Axle, AxlePosition, AxleTravel};
use crate::pose::{Beside, Outward, PoseError};

impl Axle {
    /// Positions with both wheels at each of the given travels (mm), in the order given.
    ///
    /// # Errors
    /// [`PoseError`] when one of them is out of reach.
    pub fn sweep_heave(&self, travels: &[f64]) -> Result<Vec<AxlePosition<'_>>, PoseError> {
        let mut positions = vec![self.as_measured(); travels.len()];
        self.follow_heave(travels, |index, position| positions[index] = *position)?;
        Ok(positions)
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
        self.roll(&self.heaved(heave)?, half_differences)
    }

    fn roll<'a>(
        &'a self,
        start: &AxlePosition<'a>,
        half_differences: &[f64],
    ) -> Result<Vec<AxlePosition<'a>>, PoseError> {
        let mut positions = vec![*start; half_differences.len()];
        self.rolled_from(&start.solved)
            .follow(half_differences, *start, |index, position| {
                positions[index] = *position
            })?;
        Ok(positions)
    }

    /// Positions for every pair of heave and half difference (mm), heave by heave.
    ///
    /// # Errors
    /// [`PoseError`] when one of them is out of reach.
    pub fn grid(&self, heaves: &[f64], half_differences: &[f64]) -> Result<Vec<AxlePosition<'_>>, PoseError> {
        let starts = self.sweep_heave(heaves)?;
        let rows = crate::parallel::map(&starts, |start| self.roll(start, half_differences));
        let mut positions = Vec::with_capacity(heaves.len() * half_differences.len());
        for row in rows {
            positions.extend(row?);
        }
        Ok(positions)
    }

    /// Visits the position with both wheels at each of the given travels (mm) without storing any: outward from travel
    /// 0, first in bump and then in droop. With each position comes the place of its travel in `travels`.
    ///
    /// # Errors
    /// [`PoseError`] when one of them is out of reach; positions before it have been visited.
    pub fn follow_heave<'a>(
        &'a self,
        travels: &[f64],
        visit: impl FnMut(usize, &AxlePosition<'a>),
    ) -> Result<(), PoseError> {
        self.in_heave().follow(travels, self.as_measured(), visit)
    }

    /// Visits the position for every pair of heave and half difference (mm) without storing any. With each position
    /// comes its place in a table of all pairs, heave by heave.
    ///
    /// # Errors
    /// [`PoseError`] when one of them is out of reach; positions before it have been visited.
    pub fn follow_grid<'a>(
        &'a self,
        heaves: &[f64],
        half_differences: &[f64],
        mut visit: impl FnMut(usize, &AxlePosition<'a>),
    ) -> Result<(), PoseError> {
        let order = Outward::of(half_differences);
        let mut beside = Beside::new();
        let mut outcome = Ok(());
        self.in_heave().follow(heaves, self.as_measured(), |row, start| {
            let first = row * half_differences.len();
            if outcome.is_ok() {
                let row = self.rolled_from(&start.solved);
                outcome = row.follow_beside(
                    half_differences,
                    &order,
                    &mut beside,
                    *start,
                    |place, position| visit(first + place, position),
                );
            }
        })?;
        outcome
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
