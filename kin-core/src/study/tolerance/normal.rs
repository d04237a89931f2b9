//! The normal distribution, as far as tolerances need it.

use statrs::distribution::{ContinuousCDF, Normal};

/// Share of a standard normal distribution below a value.
pub(super) fn share_below(value: f64) -> f64 {
    Normal::standard().cdf(value)
}

/// Share of a normal distribution within limits.
///
/// Without spread the whole of it is where its mean is.
pub(super) fn share_within(mean: f64, deviation: f64, low: Option<f64>, high: Option<f64>) -> f64 {
    if deviation <= 0.0 {
        let inside = low.is_none_or(|low| mean >= low) && high.is_none_or(|high| mean <= high);
        return f64::from(u8::from(inside));
    }
    let below = low.map_or(0.0, |low| share_below((low - mean) / deviation));
    let above = high.map_or(0.0, |high| share_below((mean - high) / deviation));
    (1.0 - below - above).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_are_those_of_the_tables() {
        // Two-sided 95 % at 1.959964, and 99 % one-sided at 2.326348 (the usual tables of the normal distribution).
        assert!((share_below(1.959_964) - 0.975).abs() < 1e-7);
        assert!((share_below(2.326_348) - 0.99).abs() < 1e-7);
        assert!((share_within(0.0, 1.0, Some(-1.959_964), Some(1.959_964)) - 0.95).abs() < 1e-7);
        assert_eq!(share_within(3.0, 0.0, Some(2.0), None), 1.0);
        assert_eq!(share_within(1.0, 0.0, Some(2.0), None), 0.0);
    }
}
