//! Sweeps of a corner along travel and rack.

use super::corner::TRAVEL;
use super::order::outward;
use super::{Corner, CornerPosition};
use crate::pose::{PoseError, Solved, Track};

impl Corner {
    /// Positions at each of the given travels (mm), in the order given, with the rack displaced by `rack` (mm).
    ///
    /// # Errors
    /// [`PoseError`] when one of them is out of reach.
    pub fn sweep_travel(&self, travels: &[f64], rack: f64) -> Result<Vec<CornerPosition<'_>>, PoseError> {
        let mut positions = Vec::with_capacity(travels.len());
        let start = self.with_rack(rack)?;
        self.follow(&start, travels, &mut positions)?;
        Ok(positions)
    }

    /// Fills `positions` with one position for each travel; allocates only what the caller's vector lacks.
    fn follow<'a>(
        &'a self,
        start: &Solved,
        travels: &[f64],
        positions: &mut Vec<CornerPosition<'a>>,
    ) -> Result<(), PoseError> {
        positions.clear();
        positions.resize(travels.len(), self.position(*start));
        let (up, down) = outward(travels);
        for indices in [up, down] {
            let mut track = Track::new(&self.linkage, start, TRAVEL, "wheel travel")?;
            for index in indices {
                positions[index] = self.position(track.advance_to(travels[index])?);
            }
        }
        Ok(())
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
