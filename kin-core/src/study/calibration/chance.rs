//! Chances of the normal and the chi-square distribution.

use statrs::distribution::{ChiSquared, ContinuousCDF, Normal};

/// The chance that a chi-square number of this many degrees of freedom is as large as `value` or larger.
///
/// One where there are no degrees of freedom: nothing could disagree.
///
/// ```
/// use kin_core::study::calibration::at_least_chi_square;
/// // M. Abramowitz, I. Stegun, Handbook of Mathematical Functions, 1964, table 26.8 (from memory):
/// // with 7 degrees of freedom, 14.0671 is passed in 5 cases of 100.
/// assert!((at_least_chi_square(14.0671, 7) - 0.05).abs() < 1e-5);
/// ```
#[must_use]
pub fn at_least_chi_square(value: f64, degrees: usize) -> f64 {
    if value.is_nan() || value <= 0.0 {
        return 1.0;
    }
    ChiSquared::new(degrees as f64).map_or(1.0, |distribution| distribution.sf(value))
}

/// The chance that a standard normal number is below `value`.
///
/// ```
/// use kin_core::study::calibration::below_normal;
/// // The same handbook, table 26.1 (from memory).
/// assert!((below_normal(1.0) - 0.841_344_746).abs() < 1e-9);
/// assert_eq!(below_normal(0.0), 0.5);
/// ```
#[must_use]
pub fn below_normal(value: f64) -> f64 {
    Normal::standard().cdf(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tabulated_chances() {
        // Abramowitz and Stegun, Handbook of Mathematical Functions, tables 26.1 and 26.8 (from memory).
        for (value, degrees, chance) in [
            (3.841_459, 1, 0.05),
            (5.991_465, 2, 0.05),
            (23.209_25, 10, 0.01),
            (3.940_299, 10, 0.95),
            (43.772_97, 30, 0.05),
        ] {
            assert!(
                (at_least_chi_square(value, degrees) - chance).abs() < 1e-6,
                "{value}"
            );
        }
        for (value, chance) in [
            (-1.959_963_985, 0.025),
            (2.326_347_874, 0.99),
            (3.0, 0.998_650_101_968),
        ] {
            assert!((below_normal(value) - chance).abs() < 1e-10, "{value}");
        }
        // Two degrees of freedom have the closed form exp(-x / 2), on both sides of where the method changes.
        for value in [0.1, 1.0, 3.9, 4.1, 30.0] {
            assert!((at_least_chi_square(value, 2) / f64::exp(-value / 2.0) - 1.0).abs() < 1e-13);
        }
    }
}
