//! Numbers as a tape shows them and a phone writes them down.

use crate::host::{ScriptError, inches};
use crate::units::LengthUnit;

const MILLIMETRES: &str = "write it like \"371.5\" or \"371.5 mm\"; in inches like \"14 5/8 in\", \"14.625 in\" or \"5 ft 2 1/2 in\"";

/// A length with or without its unit (mm): `371.5`, `14 5/8 in`, `2 ft 3 1/2 in`, `37.2 cm`.
///
/// * `unit`: what a number without one is in
pub(super) fn length(text: &str, unit: LengthUnit) -> Result<f64, ScriptError> {
    let text = text.trim().replace('\u{2212}', "-");
    let bare = text.strip_prefix('+').unwrap_or(&text);
    let lower = bare.to_ascii_lowercase();
    let metric = [("mm", 1.0), ("cm", 10.0), ("m", 1_000.0)];
    if let Some((number, factor)) = metric
        .iter()
        .find_map(|(symbol, factor)| lower.strip_suffix(symbol).map(|number| (number, factor)))
    {
        return decimal(number)
            .map(|number| number * factor)
            .ok_or_else(|| unreadable(&text, "as a length"));
    }
    let marked = [
        "in", "ft", "foot", "feet", "\"", "'", "\u{2032}", "\u{2033}", "\u{2019}", "\u{201D}",
    ];
    if unit == LengthUnit::Inch || marked.iter().any(|mark| lower.contains(mark)) {
        return inches(&lower).map(|inches| inches * LengthUnit::Inch.millimetres());
    }
    if lower.contains('/') {
        return Err(
            ScriptError::new(format!("{text:?} is a fraction, and the unit here is mm")).with_help(
                "fractions are inches: write \"14 5/8 in\", or state the unit with a row `unit,,,inch`",
            ),
        );
    }
    decimal(&lower).ok_or_else(|| unreadable(&text, "as millimetres"))
}

/// An angle (rad) from degrees, with or without `deg`.
pub(super) fn angle(text: &str) -> Result<f64, ScriptError> {
    let lower = text.trim().replace('\u{2212}', "-").to_ascii_lowercase();
    let number = ["degrees", "degree", "deg", "\u{b0}"]
        .iter()
        .find_map(|symbol| lower.strip_suffix(symbol))
        .unwrap_or(&lower);
    decimal(number).map(f64::to_radians).ok_or_else(|| {
        ScriptError::new(format!("{text:?} cannot be read as an angle in degrees"))
            .with_help("write it like \"2.5\" or \"-2.5 deg\"")
    })
}

/// Three lengths of a rough place (mm), apart by blanks, commas or semicolons.
pub(super) fn place(text: &str, unit: LengthUnit) -> Result<[f64; 3], ScriptError> {
    let parts: Vec<&str> = text
        .split([' ', ',', ';', '[', ']'])
        .filter(|part| !part.is_empty())
        .collect();
    let [x, y, z] = parts.as_slice() else {
        return Err(ScriptError::new(format!("{text:?} is no place"))
            .with_help("a sketched place is three numbers, forward, left and up, such as \"150 400 450\""));
    };
    Ok([length(x, unit)?, length(y, unit)?, length(z, unit)?])
}

fn unreadable(text: &str, what: &str) -> ScriptError {
    ScriptError::new(format!("{text:?} cannot be read {what}")).with_help(MILLIMETRES)
}

/// A plain number with a point or a comma before its decimals.
fn decimal(text: &str) -> Option<f64> {
    let text = text.trim().replace(',', ".");
    let digits = text.strip_prefix('-').unwrap_or(&text);
    let plain = digits.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    let number: f64 = if plain { text.parse().ok()? } else { return None };
    number.is_finite().then_some(number)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn lengths_are_read_as_workshops_write_them() {
        for (text, unit, expected) in [
            ("371.5", LengthUnit::Millimetre, 371.5),
            (" 371,5 mm", LengthUnit::Millimetre, 371.5),
            ("-163", LengthUnit::Millimetre, -163.0),
            ("37.15 cm", LengthUnit::Inch, 371.5),
            ("1.2 m", LengthUnit::Inch, 1_200.0),
            ("14 5/8", LengthUnit::Inch, 371.475),
            ("14 5/8 in", LengthUnit::Millimetre, 371.475),
            ("14-5/8\"", LengthUnit::Millimetre, 371.475),
            ("-11/16 in", LengthUnit::Millimetre, -17.4625),
            ("2 ft 3 1/2 in", LengthUnit::Millimetre, 698.5),
            ("2' 3 1/2\"", LengthUnit::Millimetre, 698.5),
            ("+5", LengthUnit::Millimetre, 5.0),
            ("30 MM", LengthUnit::Inch, 30.0),
        ] {
            let found = length(text, unit).unwrap();
            assert!((found - expected).abs() < 1e-9, "{text}: {found}");
        }
    }

    #[test]
    fn what_cannot_be_read_says_so() {
        for (text, unit, expected) in [
            (
                "14 5/7x",
                LengthUnit::Inch,
                "\"14 5/7x\" cannot be read as inches",
            ),
            (
                "14 5/8",
                LengthUnit::Millimetre,
                "\"14 5/8\" is a fraction, and the unit here is mm",
            ),
            (
                "abc",
                LengthUnit::Millimetre,
                "\"abc\" cannot be read as millimetres",
            ),
            ("", LengthUnit::Millimetre, "\"\" cannot be read as millimetres"),
            (
                "1e5",
                LengthUnit::Millimetre,
                "\"1e5\" cannot be read as millimetres",
            ),
            (
                "x mm",
                LengthUnit::Millimetre,
                "\"x mm\" cannot be read as a length",
            ),
        ] {
            assert_eq!(length(text, unit).unwrap_err().what, expected);
        }
        assert!(place("1 2", LengthUnit::Millimetre).is_err());
        assert_eq!(
            place("[150, 400.5, 449]", LengthUnit::Millimetre).unwrap(),
            [150.0, 400.5, 449.0]
        );
        assert!((angle("-90 deg").unwrap() + std::f64::consts::FRAC_PI_2).abs() < 1e-12);
        assert!(angle("steep").is_err());
    }

    proptest! {
        #[test]
        fn no_text_makes_the_reader_fail_other_than_by_an_error(text in "\\PC{0,20}") {
            prop_assert!(length(&text, LengthUnit::Inch).map_or(true, f64::is_finite));
            prop_assert!(length(&text, LengthUnit::Millimetre).map_or(true, f64::is_finite));
            let _ = (angle(&text), place(&text, LengthUnit::Inch));
        }
    }
}
