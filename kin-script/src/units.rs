//! The reader's units: millimetres or inches, newtons per millimetre or pounds per inch, degrees.
//!
//! This is the only place where inches and pounds exist; everything inside is millimetres and newtons.

use crate::host::nearest_sixteenth;
use crate::table::fixed;
use kin_core::{Dimension, Rounding};
use serde::{Deserialize, Serialize};

/// Exact by definition (international yard and pound agreement, 1959).
const MILLIMETRES_PER_INCH: f64 = 25.4;
/// Exact: 0.45359237 kg times the standard gravity 9.80665 m/s^2 (ISO 80000-4).
const NEWTONS_PER_POUND: f64 = 4.448_221_615_260_5;
/// Exact by definition (international yard and pound agreement, 1959).
const KILOGRAMS_PER_POUND: f64 = 0.453_592_37;

/// A sixteenth this near to a bound (in sixteenths) keeps to it.
const AS_GOOD_AS: f64 = 1e-7;

/// The unit of a dimension: core units in it, its symbol, and the decimals it is read with.
struct Scale {
    core: f64,
    symbol: &'static str,
    decimals: usize,
}

/// The unit of coordinates and lengths.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum LengthUnit {
    /// Millimetres.
    #[default]
    #[serde(rename = "mm", alias = "millimetre", alias = "millimetres")]
    Millimetre,
    /// Inches.
    #[serde(rename = "inch", alias = "inches", alias = "in")]
    Inch,
}

/// The unit of spring and wheel rates.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum RateUnit {
    /// Newtons per millimetre.
    #[serde(rename = "N/mm")]
    NewtonPerMillimetre,
    /// Pounds-force per inch.
    #[serde(rename = "lb/in")]
    PoundPerInch,
}

/// The units of one description.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Units {
    /// Of lengths.
    pub length: LengthUnit,
    /// Of rates.
    pub rate: RateUnit,
}

impl Default for Units {
    fn default() -> Self {
        Self::new(LengthUnit::Millimetre, None)
    }
}

/// What a number in a result is: a dimension, or that dimension per wheel travel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Measure {
    /// The dimension of the quantity.
    pub dimension: Dimension,
    /// Whether the number is its rate per length of travel.
    pub per_travel: bool,
}

impl Measure {
    /// A length.
    pub const LENGTH: Self = Self {
        dimension: Dimension::Length,
        per_travel: false,
    };
}

impl LengthUnit {
    /// How many millimetres the unit is long.
    #[must_use]
    pub const fn millimetres(self) -> f64 {
        match self {
            Self::Millimetre => 1.0,
            Self::Inch => MILLIMETRES_PER_INCH,
        }
    }

    /// Its symbol.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Inch => "in",
        }
    }

    /// Its name as the value of the key `unit`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Inch => "inch",
        }
    }

    /// A length in millimetres, as text in this unit: one decimal of a millimetre, or two of an inch.
    #[must_use]
    pub fn text(self, millimetres: f64) -> String {
        Units::new(self, None).text(millimetres, Dimension::Length)
    }

    /// A length that a catalogue or a person gave, with as many decimals as it needs, three at most.
    #[must_use]
    pub fn given_text(self, millimetres: f64) -> String {
        let number = fixed(millimetres / self.millimetres(), 3);
        let number = number.trim_end_matches('0').trim_end_matches('.');
        format!("{number} {}", self.symbol())
    }
}

impl Units {
    /// Units of a description; without a stated rate unit, N/mm goes with millimetres and lb/in with inches.
    #[must_use]
    pub fn new(length: LengthUnit, rate: Option<RateUnit>) -> Self {
        let usual = match length {
            LengthUnit::Millimetre => RateUnit::NewtonPerMillimetre,
            LengthUnit::Inch => RateUnit::PoundPerInch,
        };
        Self {
            length,
            rate: rate.unwrap_or(usual),
        }
    }

    /// How many core units one unit of this dimension is.
    #[must_use]
    pub fn core_units(&self, dimension: Dimension) -> f64 {
        self.scale(dimension).core
    }

    /// The decimals that a workshop reads of this dimension.
    #[must_use]
    pub fn decimals(&self, dimension: Dimension) -> usize {
        self.scale(dimension).decimals
    }

    /// The decimals of a number that may be counted per travel: a rate per millimetre is small.
    #[must_use]
    pub fn decimals_of(&self, measure: Measure) -> usize {
        let own = self.decimals(measure.dimension);
        match (measure.per_travel, self.length) {
            (false, _) => own,
            (true, LengthUnit::Millimetre) => own + 2,
            (true, LengthUnit::Inch) => own + 1,
        }
    }

    /// The unit this dimension is shown in.
    fn scale(&self, dimension: Dimension) -> Scale {
        let inch = self.length == LengthUnit::Inch;
        let (core, symbol, decimals) = match dimension {
            Dimension::Length if inch => (MILLIMETRES_PER_INCH, "in", 2),
            Dimension::Length => (1.0, "mm", 1),
            Dimension::FineLength if inch => (MILLIMETRES_PER_INCH, "in", 3),
            Dimension::FineLength => (1.0, "mm", 2),
            Dimension::Angle => (1.0_f64.to_radians(), "deg", 1),
            Dimension::FineAngle => (1.0_f64.to_radians(), "deg", 2),
            Dimension::Ratio => (1.0, "", 3),
            Dimension::Rate if self.rate == RateUnit::PoundPerInch => {
                (NEWTONS_PER_POUND / MILLIMETRES_PER_INCH, "lb/in", 0)
            }
            Dimension::Rate => (1.0, "N/mm", 2),
            Dimension::Force if inch => (NEWTONS_PER_POUND, "lb", 0),
            Dimension::Force => (1.0, "N", 0),
            Dimension::Torque if inch => (NEWTONS_PER_POUND * 12.0 * MILLIMETRES_PER_INCH, "lb-ft", 0),
            Dimension::Torque => (1_000.0, "N m", 0),
            Dimension::Stress if inch => (
                1_000.0 * NEWTONS_PER_POUND / (MILLIMETRES_PER_INCH * MILLIMETRES_PER_INCH),
                "ksi",
                1,
            ),
            Dimension::Stress => (1.0, "MPa", 0),
            Dimension::Frequency => (1.0, "Hz", 2),
            Dimension::Mass if inch => (KILOGRAMS_PER_POUND, "lb", 0),
            Dimension::Mass => (1.0, "kg", 1),
            Dimension::Damping if inch => (NEWTONS_PER_POUND / MILLIMETRES_PER_INCH, "lb s/in", 2),
            Dimension::Damping => (1.0, "N s/mm", 3),
            Dimension::Speed if inch => (MILLIMETRES_PER_INCH, "in/s", 1),
            Dimension::Speed => (1.0, "mm/s", 0),
            // A dimension that this program does not know yet stays in core units.
            _ => (1.0, "", 3),
        };
        Scale {
            core,
            symbol,
            decimals,
        }
    }

    /// A core number as text with its unit, in the decimals that a workshop reads.
    #[must_use]
    pub fn text(&self, value: f64, dimension: Dimension) -> String {
        self.rounded(value, dimension, Rounding::Nearest)
    }

    /// Writes the numbers of sentences.
    pub(crate) fn shown(&self) -> impl Fn(f64, Dimension, Rounding) -> String + Copy {
        |value, dimension, rounding| self.rounded(value, dimension, rounding)
    }

    /// The same, rounded to the side that matters. A bound in inches comes with the sixteenth that keeps to it as well, where
    /// there is one.
    #[must_use]
    pub fn rounded(&self, value: f64, dimension: Dimension, rounding: Rounding) -> String {
        let scale = self.scale(dimension);
        let number = rounding.text(value / scale.core, scale.core, scale.decimals);
        if scale.symbol.is_empty() {
            return number;
        }
        let sixteenth = match dimension {
            Dimension::Length if self.length == LengthUnit::Inch => {
                sixteenth_within(value / scale.core, rounding)
            }
            _ => None,
        };
        match sixteenth {
            Some(sixteenth) => format!("{number} {} ({sixteenth} in)", scale.symbol),
            None => format!("{number} {}", scale.symbol),
        }
    }

    /// A core number (mm, rad, N/mm, each per mm where it is a rate) in the reader's units.
    #[must_use]
    pub fn from_core(&self, value: f64, measure: Measure) -> f64 {
        // Degrees through the library, so that round angles come out round.
        let own = match measure.dimension {
            Dimension::Angle | Dimension::FineAngle => value.to_degrees(),
            dimension => value / self.core_units(dimension),
        };
        let shown = if measure.per_travel {
            own * self.length.millimetres()
        } else {
            own
        };
        // A zero with a minus sign is a zero.
        shown + 0.0
    }

    /// Symbol for axes and headings; empty for a plain ratio.
    #[must_use]
    pub fn symbol(&self, measure: Measure) -> String {
        let length = self.length.symbol();
        match (measure.per_travel, self.scale(measure.dimension).symbol) {
            (false, own) => own.to_owned(),
            (true, "") => format!("1/{length}"),
            (true, own) => format!("{own}/{length}"),
        }
    }

    /// The end of a column name that states the unit, such as `_deg_per_in`; empty for a plain ratio.
    #[must_use]
    pub fn suffix(&self, measure: Measure) -> String {
        let symbol = self
            .symbol(measure)
            .to_lowercase()
            .replace("1/", "per_")
            .replace('/', "_per_")
            .replace([' ', '-'], "_");
        if symbol.is_empty() {
            symbol
        } else {
            format!("_{symbol}")
        }
    }
}

/// The sixteenth of an inch on the safe side of a bound, where the room beyond it holds one.
fn sixteenth_within(inches: f64, rounding: Rounding) -> Option<String> {
    let (room, sixteenths) = match rounding {
        Rounding::Up { room } => (room, (inches * 16.0 - AS_GOOD_AS).ceil()),
        Rounding::Down { room } => (room, (inches * 16.0 + AS_GOOD_AS).floor()),
        _ => return None,
    };
    if room < MILLIMETRES_PER_INCH / 16.0 {
        return None;
    }
    nearest_sixteenth(sixteenths / 16.0).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_spring_rate_converts_exactly() {
        // 350 lbf/in = 350 * 4.4482216152605 / 25.4 N/mm
        let units = Units::new(LengthUnit::Inch, None);
        let core = 350.0 * units.core_units(Dimension::Rate);
        assert!((core - 61.294_392_336_660_83).abs() < 1e-9);
    }

    #[test]
    fn columns_name_their_units() {
        let inch = Units::new(LengthUnit::Inch, None);
        let gain = Measure {
            dimension: Dimension::Angle,
            per_travel: true,
        };
        assert_eq!(inch.suffix(gain), "_deg_per_in");
        assert_eq!(Units::default().suffix(Measure::LENGTH), "_mm");
        let slope = Measure {
            dimension: Dimension::Ratio,
            per_travel: true,
        };
        assert_eq!(Units::default().suffix(slope), "_per_mm");
        let ratio = Measure {
            dimension: Dimension::Ratio,
            per_travel: false,
        };
        assert_eq!(inch.suffix(ratio), "");
    }

    #[test]
    fn given_lengths_keep_their_decimals() {
        assert_eq!(LengthUnit::Millimetre.given_text(349.25), "349.25 mm");
        assert_eq!(LengthUnit::Millimetre.given_text(250.0), "250 mm");
        assert_eq!(LengthUnit::Inch.given_text(14.6 * 25.4), "14.6 in");
        assert_eq!(LengthUnit::Millimetre.given_text(0.0), "0 mm");
    }

    #[test]
    fn bounds_in_inches_come_with_a_sixteenth_on_the_safe_side() {
        let inch = Units::new(LengthUnit::Inch, None);
        let written = |millimetres, rounding| inch.rounded(millimetres, Dimension::Length, rounding);
        // 34.2 mm is 1.3465 in, between 1 5/16 (1.3125) and 1 3/8 (1.375).
        assert_eq!(written(34.2, Rounding::Up { room: 7.8 }), "1.35 in (1 3/8 in)");
        assert_eq!(written(34.2, Rounding::Down { room: 7.8 }), "1.34 in (1 5/16 in)");
        // Less than a sixteenth of room holds none for sure.
        assert_eq!(written(34.2, Rounding::Up { room: 1.0 }), "1.35 in");
        assert_eq!(written(34.2, Rounding::Nearest), "1.35 in");
        assert_eq!(written(1e300, Rounding::Nearest), "3.937e298 in");
    }

    #[test]
    fn no_number_is_a_negative_zero() {
        let zero = Units::default().from_core(-0.0, Measure::LENGTH);
        assert!(zero.is_sign_positive());
    }

    #[test]
    fn rounded_zeros_carry_no_sign() {
        assert_eq!(LengthUnit::Millimetre.text(-0.04), "0.0 mm");
        assert_eq!(LengthUnit::Inch.text(-25.4), "-1.00 in");
    }
}
