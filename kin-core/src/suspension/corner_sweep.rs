//! Sweeps of a corner along travel and rack.

use super::{Corner, CornerPosition};
use crate::pose::PoseError;

impl Corner {
    /// Positions at each of the given travels (mm), in the order given, with the rack displaced by `rack` (mm).
    ///
    /// # Errors
    /// [`PoseError`] when one of them is out of reach.
    pub fn sweep_travel(&self, travels: &[f64], rack: f64) -> Result<Vec<CornerPosition<'_>>, PoseError> {
        let start = self.steered(rack)?;
        let mut positions = vec![start; travels.len()];
        self.in_travel(&start)
            .follow(travels, start, |index, position| positions[index] = *position)?;
        Ok(positions)
    }

    /// Visits the position at each of the given travels (mm) without storing any: outward from travel 0, first in
    /// bump and then in droop. With each position comes the place of its travel in `travels`.
    ///
    /// # Errors
    /// [`PoseError`] when one of them is out of reach; positions before it have been visited.
    ///
    /// ```
    /// use kin_core::{samples, Corner};
    ///
    /// # fn main() -> Result<(), kin_core::Error> {
    /// let corner = Corner::new(&samples::wagon_front())?;
    /// let travels = [-40.0, -20.0, 0.0, 20.0, 40.0];
    /// let mut lengths = [f64::NAN; 5];
    /// corner.follow_travel(&travels, 0.0, |index, position| {
    ///     lengths[index] = position.readings().damper_length.map_or(f64::NAN, |length| length.value);
    /// })?;
    /// assert!(lengths.windows(2).all(|pair| pair[0] > pair[1]));
    /// # Ok(())
    /// # }
    /// ```
    pub fn follow_travel<'a>(
        &'a self,
        travels: &[f64],
        rack: f64,
        visit: impl FnMut(usize, &CornerPosition<'a>),
    ) -> Result<(), PoseError> {
        let start = self.steered(rack)?;
        self.in_travel(&start).follow(travels, start, visit)
    }

    /// Positions at each of the given rack displacements (mm), in the order given, at one travel (mm).
    ///
    /// # Errors
    /// [`PoseError`] when one of them is out of reach.
    pub fn sweep_rack(&self, racks: &[f64], travel: f64) -> Result<Vec<CornerPosition<'_>>, PoseError> {
        racks.iter().map(|&rack| self.at(travel, rack)).collect()
    }

    /// Positions for every pair of travel and rack displacement (mm), rack by rack.
    ///
    /// # Errors
    /// [`PoseError`] when one of them is out of reach.
    pub fn grid(&self, travels: &[f64], racks: &[f64]) -> Result<Vec<CornerPosition<'_>>, PoseError> {
        let rows = crate::parallel::map(racks, |&rack| self.sweep_travel(travels, rack));
        let mut positions = Vec::with_capacity(travels.len() * racks.len());
        for row in rows {
            positions.extend(row?);
        }
        Ok(positions)
    }
}
