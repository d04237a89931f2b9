//! Numbers of a description in words for a person at a workbench.

use crate::units::Units;
use kin_core::Dimension;
use kin_core::pickups::Quantity;
use kin_core::study::Number;

/// Nearer to the centreline than this (mm) there is no inboard and outboard.
const CENTRE_MM: f64 = 1.0;

/// The part that a number belongs to: `tie rod inner end` for `tie_rod.inner.z`.
pub(super) fn part(name: &str) -> String {
    let mut keys: Vec<&str> = name.split('.').collect();
    if keys.last().is_some_and(|last| ["x", "y", "z"].contains(last)) {
        keys.pop();
    }
    let words: Vec<String> = match keys.as_slice() {
        ["tie_rod", end @ ("inner" | "outer")] => vec![format!("tie rod {end} end")],
        ["links", link, end @ ("body" | "axle")] => vec![(*link).to_owned(), format!("link {end} end")],
        ["wheels", side] => vec![format!("{side} wheel centre")],
        [parts @ ("coilovers" | "dampers" | "springs"), side, rest @ ..] => {
            let one = format!("{side} {}", parts.trim_end_matches('s'));
            std::iter::once(one)
                .chain(rest.iter().map(|key| (*key).to_owned()))
                .collect()
        }
        keys => keys.iter().map(|key| (*key).to_owned()).collect(),
    };
    words.join(" ").replace('_', " ")
}

/// A number with its axis: `tie rod inner end, up`.
pub(super) fn with_axis(name: &str) -> String {
    let axis = match name.rsplit('.').next() {
        Some("x") => ", forward",
        Some("y") => ", left",
        Some("z") => ", up",
        _ => "",
    };
    format!("{}{axis}", part(name))
}

/// The way a number is changed: `higher`, `farther inboard`, `larger`.
pub(super) fn way(number: &Number, change: f64) -> &'static str {
    let grows = change >= 0.0;
    let outboard = (number.value > 0.0) == grows;
    match number.name.rsplit('.').next() {
        Some("x") if grows => "farther forward",
        Some("x") => "farther rearward",
        Some("y") if number.value.abs() < CENTRE_MM => {
            if grows {
                "farther left"
            } else {
                "farther right"
            }
        }
        Some("y") if outboard => "farther outboard",
        Some("y") => "farther inboard",
        Some("z") if grows => "higher",
        Some("z") => "lower",
        _ if grows => "larger",
        _ => "smaller",
    }
}

/// How many core units one of the model's units of a number is, and that unit's symbol.
pub(super) fn unit(number: &Number, units: &Units) -> (f64, String) {
    let dimension = match number.quantity {
        Quantity::Length => Dimension::Length,
        Quantity::Rate => Dimension::Rate,
        Quantity::Force => Dimension::Force,
        Quantity::Mass => Dimension::Mass,
        Quantity::Torque | Quantity::TorsionalRate => Dimension::Torque,
        Quantity::Stress => Dimension::Stress,
        Quantity::Speed => Dimension::Speed,
        // Descriptions hold degrees, in the core as well.
        Quantity::Angle => return (1.0, "deg".to_owned()),
    };
    let symbol = units.symbol(crate::units::Measure {
        dimension,
        per_travel: false,
    });
    (units.core_units(dimension), symbol)
}

/// A size of a number with its unit, always without sign.
pub(super) fn size(number: &Number, value: f64, units: &Units) -> String {
    let (core, symbol) = unit(number, units);
    let decimals = if number.quantity == Quantity::Length {
        units.decimals(Dimension::Length)
    } else {
        2
    };
    format!("{} {symbol}", crate::table::fixed(value.abs() / core, decimals))
}

/// Decimals that show two digits of a number that count.
pub(super) fn decimals_of_two_digits(value: f64) -> usize {
    if !(value.is_finite() && value != 0.0) {
        return 2;
    }
    let first = value.abs().log10().floor() as i32;
    usize::try_from(1 - first).unwrap_or(0).min(8)
}

/// A share in percent: whole, with decimals near the ends where they matter, and never a rounded 100 or 0.
pub(super) fn percent(share: f64) -> String {
    let percent = 100.0 * share;
    let decimals = if percent >= 100.0 || percent <= 0.0 || (2.0..98.0).contains(&percent) {
        0
    } else if (0.1..99.9).contains(&percent) {
        1
    } else {
        2
    };
    let text = crate::table::fixed(percent, decimals);
    let text = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    };
    if percent < 100.0 && text.starts_with("100") {
        "more than 99.99 %".to_owned()
    } else if percent > 0.0 && text.chars().all(|digit| "0.".contains(digit)) {
        "less than 0.01 %".to_owned()
    } else {
        format!("{text} %")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn number(name: &str, value: f64) -> Number {
        Number {
            name: name.to_owned(),
            quantity: Quantity::Length,
            value,
        }
    }

    #[test]
    fn parts_are_named_as_a_person_calls_them() {
        assert_eq!(part("tie_rod.inner.z"), "tie rod inner end");
        assert_eq!(part("coilovers.left.upper_mount.z"), "left coilover upper mount");
        assert_eq!(part("links.upper_left.body.y"), "upper left link body end");
        assert_eq!(with_axis("coilover.upper_mount.z"), "coilover upper mount, up");
    }

    #[test]
    fn ways_are_seen_from_the_car() {
        assert_eq!(way(&number("a.y", 500.0), 1.0), "farther outboard");
        assert_eq!(way(&number("a.y", -500.0), 1.0), "farther inboard");
        assert_eq!(way(&number("a.y", -500.0), -1.0), "farther outboard");
        assert_eq!(way(&number("a.z", 500.0), -1.0), "lower");
        assert_eq!(way(&number("spring.rate", 50.0), -1.0), "smaller");
    }

    #[test]
    fn two_digits_are_shown() {
        for (value, decimals) in [(12.3, 0), (1.23, 1), (0.8, 2), (0.000_39, 5), (0.0, 2)] {
            assert_eq!(decimals_of_two_digits(value), decimals, "{value}");
        }
    }

    #[test]
    fn a_share_is_never_rounded_to_certainty() {
        assert_eq!(percent(0.923), "92 %");
        assert_eq!(percent(0.99), "99 %");
        assert_eq!(percent(0.993), "99.3 %");
        assert_eq!(percent(0.9995), "99.95 %");
        assert_eq!(percent(0.999_999), "more than 99.99 %");
        assert_eq!(percent(1.0), "100 %");
        assert_eq!(percent(0.000_001), "less than 0.01 %");
        assert_eq!(percent(0.0), "0 %");
    }
}
