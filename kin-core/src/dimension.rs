//! What a number is.

use crate::Rounding;

/// Physical dimension of a number, with its unit inside the core.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Dimension {
    /// mm
    Length,
    /// mm, where hundredths count: clearances and shims
    FineLength,
    /// rad
    Angle,
    /// rad, where hundredths of a degree count: toe
    FineAngle,
    /// A ratio of two like numbers.
    Ratio,
    /// N/mm
    Rate,
    /// N
    Force,
    /// N mm
    Torque,
    /// N/mm^2, which is MPa
    Stress,
    /// Hz
    Frequency,
    /// kg
    Mass,
    /// mm/s
    Speed,
}

impl Dimension {
    /// A number in core units as text with a unit that people read: degrees for angles, N m for torques.
    #[must_use]
    pub fn text(self, value: f64) -> String {
        self.rounded(value, Rounding::Nearest)
    }

    /// The same, rounded to the side that matters.
    #[must_use]
    pub fn rounded(self, value: f64, rounding: Rounding) -> String {
        let (core, symbol, decimals) = match self {
            Self::Length => (1.0, "mm", 1),
            Self::FineLength => (1.0, "mm", 2),
            Self::FineAngle => (1.0_f64.to_radians(), "deg", 2),
            Self::Angle => (1.0_f64.to_radians(), "deg", 1),
            Self::Ratio => (1.0, "", 3),
            Self::Rate => (1.0, "N/mm", 2),
            Self::Force => (1.0, "N", 0),
            Self::Torque => (1_000.0, "N m", 1),
            Self::Stress => (1.0, "MPa", 0),
            Self::Frequency => (1.0, "Hz", 2),
            Self::Mass => (1.0, "kg", 1),
            Self::Speed => (1.0, "mm/s", 0),
        };
        let number = rounding.text(value / core, core, decimals);
        if symbol.is_empty() {
            number
        } else {
            format!("{number} {symbol}")
        }
    }
}
