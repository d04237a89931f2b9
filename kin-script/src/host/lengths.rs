//! Inches as the workshop writes them: `14 5/8`, `5' 2 1/2"`, and the nearest sixteenth.

use super::ScriptError;

const READABLE: &str = "write it like \"14 5/8\", \"14.625\", \"5/8\" or \"5' 2 1/2\\\"\"";

/// Reads a length in inches from a text such as `14 5/8`, `14-5/8`, `14.625 in`, `5/8"` or `5' 2 1/2"`.
///
/// A leading minus applies to the whole length.
///
/// # Errors
/// A text that cannot be read as a length, a fraction over zero, and a mixed number whose fraction is not less
/// than one.
pub fn inches(text: &str) -> Result<f64, ScriptError> {
    let unreadable = || ScriptError::new(format!("{text:?} cannot be read as inches")).with_help(READABLE);
    let normal = text
        .trim()
        .replace('\u{2212}', "-")
        .replace(['\u{2032}', '\u{2019}'], "'")
        .replace(['\u{2033}', '\u{201D}'], "\"");
    let (sign, rest) = match normal.strip_prefix('-') {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, normal.as_str()),
    };
    let length = match split_feet(rest) {
        Some((feet, "")) => mixed(feet).map(|feet| feet * 12.0),
        Some((feet, rest)) => mixed(feet)
            .zip(mixed(strip_inch_mark(rest)))
            .map(|(feet, inches)| feet * 12.0 + inches),
        None => mixed(strip_inch_mark(rest)),
    };
    let total = sign * length.ok_or_else(unreadable)?;
    if total.is_finite() {
        Ok(total)
    } else {
        Err(unreadable())
    }
}

/// The feet and what follows them, where the text has feet.
fn split_feet(text: &str) -> Option<(&str, &str)> {
    ["feet", "foot", "ft", "'"].iter().find_map(|mark| {
        let (feet, rest) = text.split_once(mark)?;
        Some((feet.trim(), rest.trim().trim_start_matches('-').trim_start()))
    })
}

fn strip_inch_mark(text: &str) -> &str {
    ["inches", "inch", "in", "\""]
        .iter()
        .find_map(|mark| text.strip_suffix(mark))
        .unwrap_or(text)
        .trim()
}

/// Reads `14`, `14.5`, `5/8`, `14 5/8` or `14-5/8`, all without sign.
fn mixed(text: &str) -> Option<f64> {
    match text.split_once([' ', '-']) {
        Some((whole, part)) => {
            let part = fraction(part.trim())?;
            if part >= 1.0 || !digits(whole) {
                return None;
            }
            Some(whole.parse::<f64>().ok()? + part)
        }
        None if text.contains('/') => fraction(text),
        None => decimal(text),
    }
}

fn fraction(text: &str) -> Option<f64> {
    let (above, below) = text.split_once('/')?;
    let (above, below) = (above.trim(), below.trim());
    if !digits(above) || !digits(below) {
        return None;
    }
    let below = below.parse::<f64>().ok()?;
    (below > 0.0).then_some(above.parse::<f64>().ok()? / below)
}

fn decimal(text: &str) -> Option<f64> {
    let plain = text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    if plain { text.parse().ok() } else { None }
}

fn digits(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

/// Writes a length in inches to the nearest sixteenth, such as `14 5/8`, `5/16`, `-2 1/2` or `0`.
///
/// # Errors
/// Lengths that are not finite or of a million inches or more.
pub fn nearest_sixteenth(inches: f64) -> Result<String, ScriptError> {
    if !inches.is_finite() || inches.abs() >= 1e6 {
        return Err(ScriptError::new(format!(
            "{inches} inches cannot be written in sixteenths"
        )));
    }
    let sixteenths = (inches.abs() * 16.0).round() as u64;
    let (whole, mut above, mut below) = (sixteenths / 16, sixteenths % 16, 16);
    while above > 0 && above % 2 == 0 {
        above /= 2;
        below /= 2;
    }
    let sign = if inches < 0.0 && sixteenths > 0 { "-" } else { "" };
    Ok(match (whole, above) {
        (whole, 0) => format!("{sign}{whole}"),
        (0, above) => format!("{sign}{above}/{below}"),
        (whole, above) => format!("{sign}{whole} {above}/{below}"),
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn the_ways_a_workshop_writes_inches_are_read() {
        for (text, expected) in [
            ("14 5/8", 14.625),
            ("14-5/8", 14.625),
            ("  14 5/8\" ", 14.625),
            ("14.625 in", 14.625),
            ("14 inches", 14.0),
            ("5/8", 0.625),
            ("9/8", 1.125),
            ("-2 1/2", -2.5),
            ("\u{2212}2 1/2", -2.5),
            ("5' 2 1/2\"", 62.5),
            ("5'-2\"", 62.0),
            ("5 ft 2 in", 62.0),
            ("1 foot", 12.0),
            ("5\u{2032} 2\u{2033}", 62.0),
            ("0", 0.0),
            ("0'", 0.0),
            (".5", 0.5),
        ] {
            assert_eq!(inches(text), Ok(expected), "{text}");
        }
    }

    #[test]
    fn what_cannot_be_read_is_refused_with_examples() {
        for text in [
            "14 5/7x",
            "",
            "inch",
            "14 9/8",
            "14 5/0",
            "5/0",
            "1e400",
            "NaN",
            "inf",
            "14 5",
            "14.5 5/8",
            "--2",
            "1/2/3",
            "five",
            "14,5",
            "5' 2' 3\"",
            "'",
            "2 - 1/2 - 1/4",
            "370 mm",
        ] {
            let error = inches(text).unwrap_err();
            assert_eq!(error.what, format!("{text:?} cannot be read as inches"));
            assert_eq!(error.help.as_deref(), Some(READABLE));
        }
    }

    #[test]
    fn sixteenths_are_reduced_and_rounded() {
        for (value, expected) in [
            (14.625, "14 5/8"),
            (0.3125, "5/16"),
            (-2.5, "-2 1/2"),
            (0.0, "0"),
            (-0.01, "0"),
            (0.97, "1"),
            (11.99, "12"),
            (6.0, "6"),
        ] {
            assert_eq!(nearest_sixteenth(value).unwrap(), expected, "{value}");
        }
        assert!(nearest_sixteenth(f64::NAN).is_err());
        assert!(nearest_sixteenth(1e6).is_err());
    }

    proptest! {
        #[test]
        fn a_written_sixteenth_reads_back_within_half_of_one(value in -1000.0..1000.0f64) {
            let read = inches(&nearest_sixteenth(value).unwrap()).unwrap();
            prop_assert!((read - value).abs() <= 1.0 / 32.0 + 1e-12);
        }

        #[test]
        fn no_text_makes_the_reader_fail_other_than_by_an_error(text in "\\PC{0,20}") {
            prop_assert!(inches(&text).map_or(true, f64::is_finite));
        }
    }
}
