//! How a number is rounded when it is written down.

/// Numbers from here on are written with an exponent: their digits say nothing, and three hundred of them hide the rest.
const LARGE: f64 = 1e9;
/// A number this far (in units of its last shown digit) beyond a shown one counts as that one: searches end this near.
const AS_GOOD_AS: f64 = 1e-7;
/// Decimals beyond the usual that are ever added for a narrow room.
const MOST_MORE: usize = 6;

/// How a number is rounded when it is written down.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Rounding {
    /// To the nearest.
    Nearest,
    /// As somebody gave it: with the decimals that it has, three at most.
    AsGiven,
    /// Up, for the least that is enough: whoever does exactly what is written has done enough.
    Up {
        /// How much may be added before it is too much (core units); infinite when nothing is.
        room: f64,
    },
    /// Down, for the most that is allowed.
    Down {
        /// How much may be taken away before it is too little (core units); infinite when nothing is.
        room: f64,
    },
}

impl Rounding {
    /// A number as text.
    ///
    /// * `value`: in the unit it is written in
    /// * `unit`: how many core units that unit is
    /// * `decimals`: as usual for that unit; more are added where the room is narrower than the last of them
    #[must_use]
    pub fn text(self, value: f64, unit: f64, decimals: usize) -> String {
        if !value.is_finite() {
            return value.to_string();
        }
        if value.abs() >= LARGE {
            return format!("{value:.3e}");
        }
        match self {
            Self::Nearest => fixed(value, decimals),
            Self::AsGiven => {
                let text = fixed(value, 3);
                let short = text.trim_end_matches('0').trim_end_matches('.');
                // A number too small for three decimals is no zero.
                if short == "0" && value != 0.0 {
                    format!("{value:.3e}")
                } else {
                    short.to_owned()
                }
            }
            Self::Up { room } => {
                let decimals = fine_enough(decimals, room / unit);
                let scale = power_of_ten(decimals);
                fixed((value * scale - AS_GOOD_AS).ceil() / scale, decimals)
            }
            Self::Down { room } => {
                let decimals = fine_enough(decimals, room / unit);
                let scale = power_of_ten(decimals);
                fixed((value * scale + AS_GOOD_AS).floor() / scale, decimals)
            }
        }
    }
}

/// The decimals whose last digit is no larger than the room.
fn fine_enough(decimals: usize, room: f64) -> usize {
    let most = decimals + MOST_MORE;
    (decimals..most)
        .find(|decimals| 1.0 <= room * power_of_ten(*decimals))
        .unwrap_or(most)
}

fn power_of_ten(decimals: usize) -> f64 {
    10.0_f64.powi(i32::try_from(decimals).unwrap_or(0))
}

/// A number with so many decimals, no "-0".
fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    if text.starts_with('-') && text.chars().all(|digit| "-0.".contains(digit)) {
        text.trim_start_matches('-').to_owned()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bounds_are_rounded_to_the_safe_side() {
        let wide = f64::INFINITY;
        assert_eq!(Rounding::Up { room: wide }.text(34.21, 1.0, 1), "34.3");
        assert_eq!(Rounding::Down { room: wide }.text(41.99, 1.0, 1), "41.9");
        // What a search ends at is not rounded up for its last bits.
        assert_eq!(Rounding::Up { room: wide }.text(10.0 + 1e-9, 1.0, 1), "10.0");
        assert_eq!(Rounding::Down { room: wide }.text(10.0 - 1e-9, 1.0, 1), "10.0");
    }

    #[test]
    fn narrow_rooms_get_more_decimals() {
        assert_eq!(Rounding::Up { room: 0.05 }.text(34.21, 1.0, 1), "34.21");
        assert_eq!(Rounding::Up { room: 0.05 }.text(34.213, 1.0, 1), "34.22");
        // 0.05 mm is 0.002 in: three decimals.
        assert_eq!(Rounding::Up { room: 0.05 }.text(1.341_4, 25.4, 2), "1.342");
        assert_eq!(Rounding::Down { room: 0.0 }.text(1.5, 1.0, 1), "1.5000000");
    }

    #[test]
    fn numbers_are_short() {
        assert_eq!(Rounding::Nearest.text(1e300, 1.0, 1), "1.000e300");
        assert_eq!(Rounding::Nearest.text(-0.04, 1.0, 1), "0.0");
        assert_eq!(Rounding::AsGiven.text(349.25, 1.0, 1), "349.25");
        assert_eq!(Rounding::AsGiven.text(-250.0, 1.0, 1), "-250");
        assert_eq!(Rounding::AsGiven.text(0.0, 1.0, 1), "0");
        assert_eq!(Rounding::AsGiven.text(1e-7, 1.0, 1), "1.000e-7");
    }
}
