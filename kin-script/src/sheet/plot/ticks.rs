//! Round numbers along an axis, and the range an axis shows.

use crate::sheet::text::number;

/// Round numbers along an axis, written out.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Ticks {
    pub(crate) values: Vec<f64>,
    pub(crate) labels: Vec<String>,
    /// Decimals of the labels.
    pub(in crate::sheet) decimals: usize,
    /// The labels show the values over ten to this power; a multiple of three, zero for everyday numbers.
    pub(in crate::sheet) power: i32,
}

/// Beyond this size, with steps of thousands, labels are shortened by a power of ten.
const LARGE: f64 = 1e5;
/// Below this size labels are shortened by a power of ten.
const SMALL: f64 = 1e-3;
/// A span below this share of the numbers themselves is rounding noise.
const NOISE: f64 = 1e-9;
/// Room left above and below the curves, as a share of their span.
const PADDING: f64 = 0.06;

/// Round numbers for an axis in a unit: with inches, halves and quarters as a tape shows them instead of fifths.
pub(in crate::sheet) fn ticks_in(unit: &str, low: f64, high: f64, wanted: usize) -> Ticks {
    let raw = (high - low) / wanted.max(1) as f64;
    let step = match unit {
        "in" => QUARTERS
            .into_iter()
            .find(|(step, from)| *from < raw && raw <= step * (1.0 + NOISE)),
        _ => None,
    };
    match step {
        // 25 times a power of ten: two digits, so the last decimal is one further.
        Some((step, _)) => spaced(low, high, (step * 100.0, -2)),
        None => ticks(low, high, wanted),
    }
}

/// Steps of inches between a fifth and two, with the steps they take the place of from where on (inches).
const QUARTERS: [(f64, f64); 1] = [(0.25, 0.1)];

/// Multiples of 1, 2 or 5 times a power of ten from `low` to `high`, about `wanted` of them or fewer.
pub(crate) fn ticks(low: f64, high: f64, wanted: usize) -> Ticks {
    spaced(low, high, round_step((high - low) / wanted.max(1) as f64))
}

/// Multiples of a whole number times a power of ten from `low` to `high`.
fn spaced(low: f64, high: f64, (digit, exponent): (f64, i32)) -> Ticks {
    // A negative power of ten is not a binary fraction: divide by the whole number instead.
    let value = |index: f64| {
        if exponent < 0 {
            index * digit / 10_f64.powi(-exponent)
        } else {
            index * digit * 10_f64.powi(exponent)
        }
    };
    let step = value(1.0);
    let first = (low / step - NOISE).ceil();
    let count = (((high / step + NOISE).floor() - first).max(0.0) as usize).min(200);
    let values: Vec<f64> = (0..=count).map(|index| value(first + index as f64)).collect();
    let power = label_power(low.abs().max(high.abs()), step);
    let decimals = usize::try_from(power - exponent).unwrap_or(0);
    let labels = values
        .iter()
        .map(|value| number(scaled(*value, power), decimals))
        .collect();
    Ticks {
        values,
        labels,
        decimals,
        power,
    }
}

/// A value over ten to a power.
pub(in crate::sheet) fn scaled(value: f64, power: i32) -> f64 {
    if power < 0 {
        value * 10_f64.powi(-power)
    } else {
        value / 10_f64.powi(power)
    }
}

/// The smallest of 1, 2, 5, 10 times a power of ten that is not below `raw`.
fn round_step(raw: f64) -> (f64, i32) {
    let exponent = raw.log10().floor() as i32;
    let share = raw / 10_f64.powi(exponent);
    for digit in [1.0, 2.0, 5.0] {
        if share <= digit * (1.0 + NOISE) {
            return (digit, exponent);
        }
    }
    (1.0, exponent + 1)
}

fn label_power(largest: f64, step: f64) -> i32 {
    if (largest >= LARGE && step >= 1000.0) || largest < SMALL {
        3 * ((largest.log10() / 3.0).floor() as i32)
    } else {
        0
    }
}

/// The range to show for numbers from `low` to `high`: padded, never empty, and at least `least_span` wide.
pub(in crate::sheet) fn padded_range(low: f64, high: f64, least_span: f64) -> (f64, f64) {
    let span = high - low;
    let largest = low.abs().max(high.abs());
    let middle = low + span / 2.0;
    if span < least_span {
        return (middle - least_span / 2.0, middle + least_span / 2.0);
    }
    if span <= NOISE * largest || span < f64::MIN_POSITIVE * 1e12 {
        let half = if largest < f64::MIN_POSITIVE * 1e12 {
            1.0
        } else {
            largest * 0.1
        };
        return (middle - half, middle + half);
    }
    (low - PADDING * span, high + PADDING * span)
}

/// The range of the shared axis: as given, widened only when it is empty.
pub(in crate::sheet) fn tight_range(low: f64, high: f64, least_span: f64) -> (f64, f64) {
    let (wide_low, wide_high) = padded_range(low, high, least_span);
    let unchanged = (wide_low - (low - PADDING * (high - low))).abs() <= f64::EPSILON * wide_low.abs();
    if unchanged {
        (low, high)
    } else {
        (wide_low, wide_high)
    }
}

/// `10⁶` in letters, for the axis text.
pub(in crate::sheet) fn power_text(power: i32) -> String {
    const RAISED: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
    let mut text = String::from("10");
    if power < 0 {
        text.push('⁻');
    }
    for digit in power.unsigned_abs().to_string().bytes() {
        text.extend(RAISED.get(usize::from(digit - b'0')));
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    fn labels(low: f64, high: f64, wanted: usize) -> Vec<String> {
        ticks(low, high, wanted).labels
    }

    #[test]
    fn steps_are_one_two_or_five() {
        assert_eq!(
            labels(-80.0, 80.0, 8),
            ["−80", "−60", "−40", "−20", "0", "20", "40", "60", "80"]
        );
        assert_eq!(labels(-2.7, 0.9, 6), ["−2", "−1", "0"]);
        assert_eq!(labels(0.561, 0.651, 5), ["0.58", "0.60", "0.62", "0.64"]);
        assert_eq!(
            labels(-3.0, 3.5, 14),
            [
                "−3.0", "−2.5", "−2.0", "−1.5", "−1.0", "−0.5", "0.0", "0.5", "1.0", "1.5", "2.0", "2.5",
                "3.0", "3.5"
            ]
        );
    }

    #[test]
    fn inches_are_divided_as_a_tape_is() {
        let labels = |low, high, wanted| ticks_in("in", low, high, wanted).labels;
        // Wheel travel of two inches, of half an inch, and the length of a damper.
        assert_eq!(
            labels(-2.0, 2.0, 10),
            ["−2.0", "−1.5", "−1.0", "−0.5", "0.0", "0.5", "1.0", "1.5", "2.0"]
        );
        assert_eq!(labels(-0.5, 0.5, 5), ["−0.50", "−0.25", "0.00", "0.25", "0.50"]);
        assert_eq!(labels(-1.0, 1.0, 9).len(), 9);
        assert_eq!(labels(10.0, 14.0, 5), ["10", "11", "12", "13", "14"]);
        assert_eq!(labels(12.1, 12.9, 4), ["12.25", "12.50", "12.75"]);
        assert_eq!(labels(0.0, 0.08, 4), ["0.00", "0.02", "0.04", "0.06", "0.08"]);
        assert_eq!(labels(0.0, 0.4, 5), ["0.0", "0.1", "0.2", "0.3", "0.4"]);
        assert_eq!(labels(0.0, 60.0, 6), ["0", "10", "20", "30", "40", "50", "60"]);
        // Other units have fifths.
        assert_eq!(ticks_in("mm", -0.5, 0.5, 5).labels.len(), 5);
        assert_eq!(
            ticks_in("mm", 0.0, 1.0, 5).labels,
            ["0.0", "0.2", "0.4", "0.6", "0.8", "1.0"]
        );
    }

    #[test]
    fn steps_of_any_range_are_natural_in_its_unit() {
        // Millimetres: 1, 2, 5 times a power of ten. Inches: the same, but quarters for fifths.
        for unit in ["mm", "in"] {
            for step in 1..4000 {
                let span = f64::from(step) * 0.013;
                let found = ticks_in(unit, -0.4 * span, 0.6 * span, 8).values;
                let step = found[1] - found[0];
                let digits = step / 10_f64.powi((step * (1.0 + 1e-9)).log10().floor() as i32);
                let round = |allowed: &[f64]| allowed.iter().any(|digit| (digits - digit).abs() < 1e-6);
                let natural = match unit {
                    "in" if (0.1..1.0).contains(&(step + 1e-9)) => round(&[1.0, 2.5, 5.0]),
                    _ => round(&[1.0, 2.0, 5.0]),
                };
                assert!(natural, "{unit}: {step} for a span of {span}");
                assert!((3..=12).contains(&found.len()), "{unit}: {found:?}");
            }
        }
    }

    #[test]
    fn values_are_the_numbers_their_labels_say() {
        for tick in ticks(0.0, 1.0, 10).values.iter().zip(0..) {
            assert_eq!(*tick.0, f64::from(tick.1) / 10.0);
        }
    }

    #[test]
    fn huge_and_tiny_ranges_stay_readable() {
        let huge = ticks(-2.0e8, 3.0e8, 5);
        assert_eq!(
            (huge.power, huge.labels.last().map(String::as_str)),
            (6, Some("300"))
        );
        let tiny = ticks(0.0, 4.0e-7, 4);
        assert_eq!(
            (tiny.power, tiny.labels.join(" ").as_str()),
            (-9, "0 100 200 300 400")
        );
        for exponent in (-140..140).step_by(7) {
            let found = ticks(-10_f64.powi(exponent), 10_f64.powi(exponent), 6);
            assert!(found.labels.len() >= 3, "{exponent}: {found:?}");
            assert!(
                found.labels.iter().all(|label| label.chars().count() <= 8),
                "{exponent}: {found:?}"
            );
        }
        assert_eq!(power_text(-12), "10⁻¹²");
    }

    #[test]
    fn a_constant_gets_a_range_around_it() {
        assert_eq!(padded_range(0.0, 0.0, 0.0), (-1.0, 1.0));
        let (low, high) = padded_range(-2.0, -2.0, 0.0);
        assert!((low + 2.2).abs() < 1e-12 && (high + 1.8).abs() < 1e-12);
        // Rounding noise around zero, under a least span of a tenth.
        let (low, high) = padded_range(-3e-15, 2e-15, 0.1);
        assert!((high - low - 0.1).abs() < 1e-12);
        assert_eq!(tight_range(-80.0, 90.0, 0.0), (-80.0, 90.0));
        assert_eq!(tight_range(5.0, 5.0, 0.0), (4.5, 5.5));
    }
}
