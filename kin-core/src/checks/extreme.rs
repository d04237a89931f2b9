//! The greatest value of a smooth function over a rectangle, between the samples too.

/// A place in the rectangle.
pub(crate) type Place = [f64; 2];

/// A greatest value and where it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Extreme {
    pub(crate) value: f64,
    pub(crate) place: Place,
}

/// How many of the best samples are searched around: a function of a linkage has few humps.
const HUMPS: usize = 4;
/// Places are found to this share of a step between samples; a flat top's value is then good to its square.
const SHARE: f64 = 1e-6;
/// Most rounds of the search along both axes and along the last move.
const ROUNDS: usize = 40;

/// Evenly spaced samples of a rectangle.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Lattice {
    low: Place,
    high: Place,
    counts: [usize; 2],
}

impl Lattice {
    /// Samples at most `step` apart, both ends included; an axis without extent has one.
    pub(crate) fn new(low: Place, high: Place, step: f64) -> Self {
        let count = |axis: usize| ((high[axis] - low[axis]) / step).ceil().max(0.0) as usize + 1;
        Self {
            low,
            high,
            counts: [count(0), count(1)],
        }
    }

    fn step(&self, axis: usize) -> f64 {
        (self.high[axis] - self.low[axis]) / (self.counts[axis].max(2) - 1) as f64
    }

    /// All samples, the second axis running fastest.
    pub(crate) fn places(&self) -> Vec<Place> {
        let along = |axis: usize, index: usize| {
            if index + 1 == self.counts[axis] && index > 0 {
                self.high[axis]
            } else {
                self.low[axis] + self.step(axis) * index as f64
            }
        };
        (0..self.counts[0])
            .flat_map(|first| (0..self.counts[1]).map(move |second| [along(0, first), along(1, second)]))
            .collect()
    }

    /// Samples that no neighbour exceeds, the greatest first.
    fn humps(&self, values: &[f64]) -> Vec<usize> {
        let [rows, columns] = self.counts;
        let value = |row: usize, column: usize| values.get(row * columns + column).copied();
        let is_hump = |&place: &usize| {
            let (row, column) = (place / columns, place % columns);
            let own = values.get(place).copied().unwrap_or(f64::NEG_INFINITY);
            let near_rows = row.saturating_sub(1)..(row + 2).min(rows);
            near_rows
                .flat_map(|near| {
                    (column.saturating_sub(1)..(column + 2).min(columns))
                        .filter_map(move |other| value(near, other))
                })
                .all(|other| other <= own)
        };
        let mut found: Vec<usize> = (0..rows * columns).filter(is_hump).collect();
        found.sort_by(|a, b| values[*b].total_cmp(&values[*a]));
        found.truncate(HUMPS);
        found
    }

    /// The greatest value over the whole rectangle, given the values at [`places`](Self::places).
    ///
    /// Around every hump of the samples the function is climbed along both axes and along the last move, so that a
    /// hump wider than the step between samples is found wherever its top lies.
    pub(crate) fn greatest<E>(
        &self,
        values: &[f64],
        mut function: impl FnMut(Place) -> Result<f64, E>,
    ) -> Result<Option<Extreme>, E> {
        let places = self.places();
        let mut best: Option<Extreme> = None;
        for hump in self.humps(values) {
            let start = Extreme {
                value: values[hump],
                place: places[hump],
            };
            let top = self.climb(start, &mut function)?;
            if best.is_none_or(|best| top.value > best.value) {
                best = Some(top);
            }
        }
        Ok(best)
    }

    fn climb<E>(
        &self,
        start: Extreme,
        function: &mut impl FnMut(Place) -> Result<f64, E>,
    ) -> Result<Extreme, E> {
        let mut here = start;
        for _ in 0..ROUNDS {
            let before = here;
            for axis in 0..2 {
                let mut direction = [0.0; 2];
                direction[axis] = self.step(axis);
                here = self.along(here, direction, function)?;
            }
            let moved = [here.place[0] - before.place[0], here.place[1] - before.place[1]];
            if moved[0] != 0.0 && moved[1] != 0.0 {
                here = self.along(here, moved, function)?;
            }
            if here.value - before.value <= 1e-14 * here.value.abs() {
                break;
            }
        }
        Ok(here)
    }

    /// The greatest value on the line through `here`, within one `direction` either way and inside the rectangle.
    fn along<E>(
        &self,
        here: Extreme,
        direction: Place,
        function: &mut impl FnMut(Place) -> Result<f64, E>,
    ) -> Result<Extreme, E> {
        let (mut low, mut high) = (-1.0_f64, 1.0_f64);
        for (axis, (rate, from)) in direction.into_iter().zip(here.place).enumerate() {
            if rate != 0.0 {
                let ends = [(self.low[axis] - from) / rate, (self.high[axis] - from) / rate];
                low = low.max(ends[0].min(ends[1]));
                high = high.min(ends[0].max(ends[1]));
            }
        }
        if direction == [0.0; 2] || high <= low {
            return Ok(here);
        }
        let place = |share: f64| {
            let mut place = here.place;
            for axis in 0..2 {
                place[axis] = (place[axis] + share * direction[axis]).clamp(self.low[axis], self.high[axis]);
            }
            place
        };
        // At an end of the rectangle, a function that falls away from it has its top there.
        let inward = if low > -SHARE {
            Some(1e-4 * high)
        } else if high < SHARE {
            Some(1e-4 * low)
        } else {
            None
        };
        if let Some(share) = inward
            && function(place(share))? <= here.value
        {
            return Ok(here);
        }
        let mut at = |share: f64| function(place(share));
        let share = golden(low.min(0.0), high.max(0.0), &mut at)?;
        let mut best = here;
        for share in [share, low, high] {
            let value = function(place(share))?;
            if value > best.value {
                best = Extreme {
                    value,
                    place: place(share),
                };
            }
        }
        Ok(best)
    }
}

/// Where a function of one hump is greatest, by golden sections.
pub(crate) fn golden<E>(
    mut low: f64,
    mut high: f64,
    function: &mut impl FnMut(f64) -> Result<f64, E>,
) -> Result<f64, E> {
    let section = 0.5 * (5.0_f64.sqrt() - 1.0);
    let stop = SHARE * (high - low);
    let mut first = high - section * (high - low);
    let mut second = low + section * (high - low);
    let (mut at_first, mut at_second) = (function(first)?, function(second)?);
    while high - low > stop {
        if at_first >= at_second {
            high = second;
            (second, at_second) = (first, at_first);
            first = high - section * (high - low);
            at_first = function(first)?;
        } else {
            low = first;
            (first, at_first) = (second, at_second);
            second = low + section * (high - low);
            at_second = function(second)?;
        }
    }
    Ok(0.5 * (low + high))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::convert::Infallible;

    fn greatest(low: Place, high: Place, function: impl Fn(Place) -> f64) -> Extreme {
        let lattice = Lattice::new(low, high, 10.0);
        let values: Vec<f64> = lattice.places().into_iter().map(&function).collect();
        lattice
            .greatest(&values, |place| Ok::<_, Infallible>(function(place)))
            .expect("no error is possible")
            .expect("a lattice has samples")
    }

    #[test]
    fn a_top_between_samples_is_found() {
        let hill = |[x, y]: Place| 5.0 - 1e-3 * (x - 13.7).powi(2) - 2e-3 * (y + 4.2).powi(2) + 1e-3 * x * y;
        // The gradient vanishes where 2x - y = 27.4 and 4y - x = -16.8.
        let (x, y) = ((4.0 * 27.4 - 16.8) / 7.0, (27.4 - 2.0 * 16.8) / 7.0);
        let top = greatest([-60.0, -30.0], [75.0, 30.0], hill);
        assert!((top.value - hill([x, y])).abs() < 1e-12, "{top:?}");
        assert!((top.place[0] - x).abs() < 1e-3 && (top.place[1] - y).abs() < 1e-3);
    }

    #[test]
    fn a_top_at_a_corner_or_on_an_edge_is_found() {
        let top = greatest([-50.0, 0.0], [75.0, 0.0], |[x, _]| x * x);
        assert_eq!(top.place, [75.0, 0.0]);
        let top = greatest([-50.0, -20.0], [75.0, 20.0], |[x, y]| x - (y - 3.3).powi(2));
        assert!(top.place[0] == 75.0 && (top.value - 75.0).abs() < 1e-9);
    }
}
