//! Where several limits hold at once, also between the places of a grid.

use super::field::Field;
use crate::sheet::PictureError;
use crate::sheet::boxes::Spot;

/// Steps from one place to the next along which limits are looked at: where two of them cross, the line that both leave has
/// its corner within a sixteenth of a place.
const STEPS: usize = 16;

/// What is left to each limit over the same grid.
pub(super) struct Limits<'a> {
    pub(super) columns: usize,
    pub(super) rows: usize,
    pub(super) margins: &'a [Vec<Option<f64>>],
}

impl Limits<'_> {
    fn layers(&self) -> impl Iterator<Item = Field<'_>> {
        self.margins.iter().map(|values| Field {
            columns: self.columns,
            rows: self.rows,
            values,
        })
    }

    /// What is left to the limit that is kept worst, each taken between the places by itself; none where it is not known.
    pub(super) fn worst_at(&self, spot: Spot) -> Option<f64> {
        let mut worst = f64::INFINITY;
        for layer in self.layers() {
            worst = worst.min(layer.at(spot)?);
        }
        worst.is_finite().then_some(worst)
    }

    /// Whether a limit fails there, or is not known.
    pub(super) fn fails_at(&self, spot: Spot) -> bool {
        self.worst_at(spot).is_none_or(|worst| worst < 0.0)
    }

    /// Whether all limits hold at every place and between them, and whether one fails at all of them.
    pub(super) fn everywhere(&self) -> (bool, bool) {
        let worst = self.worst_between();
        let fails = |worst: &Option<f64>| worst.is_none_or(|worst| worst < 0.0);
        (!worst.iter().any(fails), worst.iter().all(fails))
    }

    /// What is left to the worst limit, in steps between the places.
    fn worst_between(&self) -> Vec<Option<f64>> {
        let step = |index: usize| index as f64 / STEPS as f64;
        (0..fine(self.rows))
            .flat_map(|row| (0..fine(self.columns)).map(move |column| (column, row)))
            .map(|(column, row)| self.worst_at((step(column), step(row))))
            .collect()
    }

    /// The lines along which all limits just hold, in places.
    pub(super) fn lines(&self) -> Result<Vec<Vec<Spot>>, PictureError> {
        let values = self.worst_between();
        let field = Field {
            columns: fine(self.columns),
            rows: fine(self.rows),
            values: &values,
        };
        let mut lines = field.lines(0.0)?;
        for (x, y) in lines.iter_mut().flatten() {
            *x /= STEPS as f64;
            *y /= STEPS as f64;
        }
        Ok(lines)
    }
}

/// How many steps and places there are between the first and the last of so many places.
const fn fine(places: usize) -> usize {
    (places - 1) * STEPS + 1
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two limits over 5 by 5 places: one holds left of 2.2, the other right of 1.1, so that both hold only in between.
    fn crossed() -> Vec<Vec<Option<f64>>> {
        let places = || (0..5).flat_map(|_| (0..5).map(f64::from));
        vec![
            places().map(|x| Some(2.2 - x)).collect(),
            places().map(|x| Some(10.0 * (x - 1.1))).collect(),
        ]
    }

    #[test]
    fn each_limit_ends_where_it_does_by_itself() {
        let margins = crossed();
        let limits = Limits {
            columns: 5,
            rows: 5,
            margins: &margins,
        };
        // The one place across at which both hold is 2; the worst limit alone would end the region at 1.09 and 2.2.
        for (x, fails) in [(1.05, true), (1.15, false), (2.15, false), (2.25, true)] {
            assert_eq!(limits.fails_at((x, 2.3)), fails, "{x}");
        }
        assert_eq!(limits.everywhere(), (false, false));
        let lines = limits.lines().expect("lines");
        assert_eq!(lines.len(), 2, "{lines:?}");
        for (x, _) in lines.iter().flatten() {
            assert!((x - 1.1).abs() < 1e-9 || (x - 2.2).abs() < 1e-9, "{x}");
        }
    }

    #[test]
    fn between_places_that_all_fail_something_may_hold() {
        let at = |left: f64, right: f64| vec![Some(left), Some(right), Some(left), Some(right)];
        let margins = [at(1.0, -1.0), at(-0.5, 1.0)];
        let limits = Limits {
            columns: 2,
            rows: 2,
            margins: &margins,
        };
        assert_eq!(limits.everywhere(), (false, false));
        assert!(!limits.fails_at((0.4, 0.5)) && limits.fails_at((0.6, 0.5)));
    }

    #[test]
    fn beside_a_place_that_is_not_known_nothing_holds() {
        let mut margins = crossed();
        margins[0][12] = None;
        let limits = Limits {
            columns: 5,
            rows: 5,
            margins: &margins,
        };
        assert!(limits.fails_at((1.9, 1.9)) && !limits.fails_at((1.9, 0.5)));
    }
}
