//! Chances of the normal and the chi-square distribution.

/// Terms of the series and of the continued fraction stop below this share of the sum.
const EXACT: f64 = 1e-15;
/// Both converge within some tens of terms where they are used; this many are never reached with finite numbers below 1e5.
const MOST_TERMS: usize = 10_000;

/// The chance that a chi-square number of this many degrees of freedom is as large as `value` or larger.
///
/// Regularised incomplete gamma function Q(degrees / 2, value / 2). Source: M. Abramowitz and I. Stegun, Handbook of Mathematical
/// Functions, 1964, 26.4.1 and 26.4.19 (from memory).
///
/// ```
/// use kin_core::study::calibration::at_least_chi_square;
/// // The same handbook, table 26.8: with 7 degrees of freedom, 14.0671 is passed in 5 cases of 100.
/// assert!((at_least_chi_square(14.0671, 7) - 0.05).abs() < 1e-5);
/// ```
#[must_use]
pub fn at_least_chi_square(value: f64, degrees: usize) -> f64 {
    if degrees == 0 || value.is_nan() || value <= 0.0 {
        return 1.0;
    }
    let shape = degrees as f64 / 2.0;
    let half = value / 2.0;
    if half < shape + 1.0 {
        1.0 - lower_gamma(shape, half)
    } else {
        upper_gamma(shape, half)
    }
}

/// The chance that a standard normal number is below `value`.
///
/// ```
/// use kin_core::study::calibration::below_normal;
/// // Abramowitz and Stegun, table 26.1.
/// assert!((below_normal(1.0) - 0.841_344_746_068_543).abs() < 1e-14);
/// assert_eq!(below_normal(0.0), 0.5);
/// ```
#[must_use]
pub fn below_normal(value: f64) -> f64 {
    // The square of a standard normal number is chi-square with one degree of freedom.
    let outside = at_least_chi_square(value * value, 1);
    if value < 0.0 {
        0.5 * outside
    } else {
        1.0 - 0.5 * outside
    }
}

/// Regularised lower incomplete gamma function, by its series (6.5.29 of the handbook).
fn lower_gamma(shape: f64, half: f64) -> f64 {
    let mut term = 1.0 / shape;
    let mut sum = term;
    for index in 1..MOST_TERMS {
        term *= half / (shape + index as f64);
        sum += term;
        if term < EXACT * sum {
            break;
        }
    }
    (sum * front(shape, half)).clamp(0.0, 1.0)
}

/// Regularised upper incomplete gamma function, by its continued fraction (6.5.31 of the handbook, in its even part), evaluated by
/// Lentz's rule.
fn upper_gamma(shape: f64, half: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let mut denominator = half + 1.0 - shape;
    let mut ratio = 1.0 / TINY;
    let mut inverse = 1.0 / denominator;
    let mut fraction = inverse;
    for index in 1..MOST_TERMS {
        let index = index as f64;
        let numerator = -index * (index - shape);
        denominator += 2.0;
        inverse = 1.0 / (numerator * inverse + denominator);
        ratio = denominator + numerator / ratio;
        let step = inverse * ratio;
        fraction *= step;
        if (step - 1.0).abs() < EXACT {
            break;
        }
    }
    (front(shape, half) * fraction).clamp(0.0, 1.0)
}

/// `x^a e^-x / Gamma(a)` for a whole or half number a.
fn front(shape: f64, half: f64) -> f64 {
    (shape * half.ln() - half - ln_gamma(shape)).exp()
}

/// Logarithm of the gamma function of a whole or half number, from `Gamma(a + 1) = a Gamma(a)`.
fn ln_gamma(shape: f64) -> f64 {
    let whole = shape.fract() == 0.0;
    let mut at = if whole { 1.0 } else { 0.5 };
    let mut sum = if whole {
        0.0
    } else {
        0.5 * std::f64::consts::PI.ln()
    };
    while at < shape {
        sum += f64::ln(at);
        at += 1.0;
    }
    sum
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
