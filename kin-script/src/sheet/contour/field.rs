//! Numbers over a grid: between its places, and along lines of equal value.

use crate::sheet::PictureError;
use crate::sheet::boxes::Spot;
use contour::ContourBuilder;

/// Numbers at the places of a grid, counted in places from the lower left.
pub(super) struct Field<'a> {
    pub(super) columns: usize,
    pub(super) rows: usize,
    pub(super) values: &'a [Option<f64>],
}

/// Places of a vertex that lie outside the grid by less than this are on its edge.
const ON_EDGE: f64 = 1e-9;

impl Field<'_> {
    fn node(&self, column: usize, row: usize) -> Option<f64> {
        let value = *self.values.get(row * self.columns + column)?;
        value.filter(|value| value.is_finite())
    }

    /// The number at a place between the nodes, by bilinear interpolation; none beside a node without one.
    pub(super) fn at(&self, (x, y): Spot) -> Option<f64> {
        let cell = |place: f64, count: usize| {
            let low = place.floor().clamp(0.0, count.saturating_sub(2) as f64);
            (low as usize, (place - low).clamp(0.0, 1.0))
        };
        let ((column, across), (row, up)) = (cell(x, self.columns), cell(y, self.rows));
        let low = self.node(column, row)? * (1.0 - across) + self.node(column + 1, row)? * across;
        let high = self.node(column, row + 1)? * (1.0 - across) + self.node(column + 1, row + 1)? * across;
        Some(low * (1.0 - up) + high * up)
    }

    /// Lines along which the number has a value, in places; those beside nodes without a number are left out.
    pub(super) fn lines(&self, threshold: f64) -> Result<Vec<Vec<Spot>>, PictureError> {
        let known: Vec<f64> = self
            .values
            .iter()
            .flatten()
            .copied()
            .filter(|value| value.is_finite())
            .collect();
        // What is missing must be some number; its cells are cut out below.
        let middle = known.iter().sum::<f64>() / known.len().max(1) as f64;
        let filled: Vec<f64> = self
            .values
            .iter()
            .map(|value| value.filter(|value| value.is_finite()).unwrap_or(middle))
            .collect();
        let found = ContourBuilder::new(self.columns, self.rows, true)
            .lines(&filled, &[threshold])
            .map_err(|error| PictureError::Writer(error.to_string()))?;
        let mut lines = Vec::new();
        for line in found.iter().flat_map(|line| &line.geometry().0) {
            // The crate counts from the corner of a node's own square, half a place before the node, and closes lines
            // around the outside of the grid.
            let spots = line.0.iter().map(|spot| (spot.x - 0.5, spot.y - 0.5));
            self.keep_inside(spots, &mut lines);
        }
        Ok(lines)
    }

    /// The stretches of a line that lie inside the grid and beside known numbers.
    fn keep_inside(&self, spots: impl Iterator<Item = Spot>, lines: &mut Vec<Vec<Spot>>) {
        let (right, top) = ((self.columns - 1) as f64, (self.rows - 1) as f64);
        let inside = |(x, y): Spot| {
            let within = |place: f64, most: f64| (-ON_EDGE..=most + ON_EDGE).contains(&place);
            within(x, right) && within(y, top) && self.at((x, y)).is_some()
        };
        let first = lines.len();
        let mut run: Vec<Spot> = Vec::new();
        let mut starts_inside = false;
        for (place, spot) in spots.enumerate() {
            if inside(spot) {
                starts_inside |= place == 0;
                run.push(spot);
            } else if !run.is_empty() {
                lines.push(std::mem::take(&mut run));
            }
        }
        if !run.is_empty() {
            // A ring that was cut elsewhere goes on where it began.
            match lines.get_mut(first).filter(|_| starts_inside) {
                Some(begun) if begun.first() == run.last() => {
                    run.extend(begun.iter().skip(1).copied());
                    *begun = run;
                }
                _ => lines.push(run),
            }
        }
        let mut place = 0;
        lines.retain(|line| {
            place += 1;
            place <= first || line.len() > 1
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_of_a_plane_lies_where_the_plane_has_the_value() {
        let values: Vec<Option<f64>> = (0..4)
            .flat_map(|row| (0..5).map(move |column| (column, row)))
            .map(|(column, row)| Some(2.0 * f64::from(column) + f64::from(row)))
            .collect();
        let field = Field {
            columns: 5,
            rows: 4,
            values: &values,
        };
        let lines = field.lines(4.5).expect("lines");
        assert_eq!(lines.len(), 1, "{lines:?}");
        for (x, y) in &lines[0] {
            assert!((2.0 * x + y - 4.5).abs() < 1e-9, "{x} {y}");
        }
        assert_eq!(field.at((1.5, 2.5)), Some(5.5));
        let ends = [lines[0].first(), lines[0].last()].map(|end| end.map_or(f64::NAN, |end| end.1));
        assert_eq!(ends.iter().copied().fold(f64::MAX, f64::min), 0.0);
        assert_eq!(ends.iter().copied().fold(f64::MIN, f64::max), 3.0);
    }
}
