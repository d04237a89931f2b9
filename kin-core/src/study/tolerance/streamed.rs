//! Statistics of numbers that are not kept.

/// Bins on either side of the expected value.
const BINS_A_SIDE: usize = 800;
/// Bins to a standard deviation: a quantile is known to a hundredth of it, and to much less where bins hold many numbers.
const BINS_PER_DEVIATION: f64 = 100.0;

/// Mean, standard deviation and quantiles of numbers that come one after the other.
///
/// Quantiles come from bins laid by what is expected: eight standard deviations on either side. What lies outside is
/// counted, with the extremes.
#[derive(Debug, Clone)]
pub(super) struct Streamed {
    expected: f64,
    width: f64,
    bins: Vec<u32>,
    below: u64,
    above: u64,
    count: u64,
    /// Sums of differences from the expected value, and of their squares.
    sum: f64,
    squares: f64,
    least: f64,
    greatest: f64,
}

impl Streamed {
    /// * `expected`, `deviation`: where the numbers will lie
    pub(super) fn new(expected: f64, deviation: f64) -> Self {
        let narrowest = f64::EPSILON * expected.abs().max(1.0) * 1e4;
        Self {
            expected,
            width: deviation.max(narrowest) / BINS_PER_DEVIATION,
            bins: vec![0; 2 * BINS_A_SIDE],
            below: 0,
            above: 0,
            count: 0,
            sum: 0.0,
            squares: 0.0,
            least: f64::INFINITY,
            greatest: f64::NEG_INFINITY,
        }
    }

    pub(super) fn add(&mut self, value: f64) {
        let off = value - self.expected;
        self.count += 1;
        self.sum += off;
        self.squares += off * off;
        self.least = self.least.min(value);
        self.greatest = self.greatest.max(value);
        let bin = (off / self.width).floor() + BINS_A_SIDE as f64;
        if bin < 0.0 {
            self.below += 1;
        } else if let Some(count) = self.bins.get_mut(bin as usize) {
            *count += 1;
        } else {
            self.above += 1;
        }
    }

    pub(super) fn count(&self) -> u64 {
        self.count
    }

    pub(super) fn mean(&self) -> Option<f64> {
        (self.count > 0).then(|| self.expected + self.sum / self.count as f64)
    }

    /// Standard deviation, of two numbers or more.
    pub(super) fn deviation(&self) -> Option<f64> {
        let count = self.count as f64;
        (self.count > 1).then(|| {
            let about_mean = self.squares - self.sum * self.sum / count;
            (about_mean.max(0.0) / (count - 1.0)).sqrt()
        })
    }

    /// The value that a share of the numbers lies below.
    pub(super) fn quantile(&self, share: f64) -> Option<f64> {
        if self.count == 0 {
            return None;
        }
        let wanted = share * self.count as f64;
        let edge = |bin: usize| self.expected + (bin as f64 - BINS_A_SIDE as f64) * self.width;
        let ends = [
            (self.below, self.least, edge(0)),
            (self.above, edge(self.bins.len()), self.greatest),
        ];
        let inside = self.bins.iter().enumerate();
        let inside = inside.map(|(bin, count)| (u64::from(*count), edge(bin), edge(bin + 1)));
        let [low, high] = ends;
        let mut passed = 0.0;
        for (count, from, to) in std::iter::once(low).chain(inside).chain([high]) {
            let count = count as f64;
            if count > 0.0 && passed + count >= wanted {
                let value = from + (to - from) * ((wanted - passed) / count).clamp(0.0, 1.0);
                return Some(value.clamp(self.least, self.greatest));
            }
            passed += count;
        }
        Some(self.greatest)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_of_evenly_spread_numbers() {
        let mut streamed = Streamed::new(0.0, 0.3);
        for step in 0..=1000 {
            streamed.add(f64::from(step) / 1000.0);
        }
        // One bin is 0.003 wide.
        for share in [0.05, 0.5, 0.95] {
            assert!(
                (streamed.quantile(share).expect("numbers") - share).abs() < 0.004,
                "{share}"
            );
        }
        assert!((streamed.mean().expect("numbers") - 0.5).abs() < 1e-12);
        // The squares of 0, 1, .. n about their mean add up to n (n + 1) (n + 2) / 12; over n^2, and over n for the variance of
        // a sample: (n + 1) (n + 2) / (12 n^2), here with n = 1000.
        let variance = 1001.0 * 1002.0 / 12e6;
        assert!((streamed.deviation().expect("numbers").powi(2) - variance).abs() < 1e-12);
    }

    #[test]
    fn numbers_far_out_are_counted_and_bounded() {
        let mut streamed = Streamed::new(10.0, 0.0);
        for value in [10.0, 10.0, 10.0, 14.0, 3.0] {
            streamed.add(value);
        }
        assert_eq!(streamed.count(), 5);
        assert!((streamed.quantile(0.5).expect("numbers") - 10.0).abs() < 1e-9);
        assert_eq!(streamed.quantile(1.0), Some(14.0));
        assert_eq!(streamed.quantile(0.0), Some(3.0));
        assert_eq!(Streamed::new(0.0, 1.0).quantile(0.5), None);
    }
}
