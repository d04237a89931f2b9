//! Clearance holes.

use super::BoltSize;
use serde::{Deserialize, Serialize};

const INCH: f64 = 25.4;

/// How much room a bolt has in its hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HoleClass {
    /// Close fit.
    #[serde(alias = "fine")]
    Close,
    /// Normal fit, also called medium.
    #[default]
    #[serde(alias = "medium")]
    Normal,
    /// Loose fit, also called free.
    #[serde(alias = "free")]
    Loose,
}

impl HoleClass {
    /// The word for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Close => "close",
            Self::Normal => "normal",
            Self::Loose => "loose",
        }
    }
}

/// Diameter of an inch bolt; close, normal and loose hole, and the largest loose one (in).
///
/// Loose holes: ASME B18.2.8-1999 (R2017) as in Machinery's Handbook, 31st edition, pages 1741 to 1743, seen. Close and
/// normal ones: the same standard, from memory.
const INCH_HOLES: [[f64; 5]; 7] = [
    [0.25, 0.266, 0.281, 0.297, 0.311],
    [0.3125, 0.328, 0.344, 0.359, 0.373],
    [0.375, 0.391, 0.406, 0.422, 0.438],
    [0.4375, 0.453, 0.469, 0.484, 0.5],
    [0.5, 0.531, 0.562, 0.609, 0.625],
    [0.625, 0.656, 0.688, 0.734, 0.754],
    [0.75, 0.781, 0.812, 0.906, 0.926],
];

/// Diameter of a metric bolt; close, medium and free hole (mm).
///
/// BS 4186:1967, seen. ISO 273 differs for some of them (M12 medium 13.5): the two must not be mixed.
const METRIC_HOLES: [[f64; 4]; 5] = [
    [8.0, 8.4, 9.0, 10.0],
    [10.0, 10.5, 11.0, 12.0],
    [12.0, 13.0, 14.0, 15.0],
    [14.0, 15.0, 16.0, 17.0],
    [16.0, 17.0, 18.0, 19.0],
];

impl BoltSize {
    /// Diameter of the hole that a bolt of this size is drilled for (mm); none where the tables have no such size.
    #[must_use]
    pub fn clearance_hole(&self, class: HoleClass) -> Option<f64> {
        let column = match class {
            HoleClass::Close => 1,
            HoleClass::Normal => 2,
            HoleClass::Loose => 3,
        };
        self.hole(column)
    }

    /// The largest hole that still counts as a loose fit (mm); none where the tables have no such size.
    #[must_use]
    pub fn largest_hole(&self) -> Option<f64> {
        // The metric table gives no limits: the free hole is the largest it knows.
        self.hole(if self.is_inch() { 4 } else { 3 })
    }

    fn hole(&self, column: usize) -> Option<f64> {
        let same = |diameter: f64| (diameter - self.diameter).abs() < 1e-6;
        if self.is_inch() {
            let row = INCH_HOLES.iter().find(|row| same(row[0] * INCH))?;
            row.get(column).map(|hole| hole * INCH)
        } else {
            let row = METRIC_HOLES.iter().find(|row| same(row[0]))?;
            row.get(column).copied()
        }
    }
}
