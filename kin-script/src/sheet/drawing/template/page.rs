//! Sizes of paper.

use serde::Deserialize;

/// A sheet of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum Page {
    /// 210 by 297 mm (ISO 216).
    A4,
    /// 8.5 by 11 in (ANSI/ASME Y14.1, size A).
    Letter,
    /// 297 by 420 mm (ISO 216).
    A3,
    /// 11 by 17 in (ANSI/ASME Y14.1, size B).
    Tabloid,
    /// 420 by 594 mm (ISO 216).
    A2,
}

impl Page {
    /// All of them, the smaller ones first.
    pub const ALL: [Self; 5] = [Self::A4, Self::Letter, Self::A3, Self::Tabloid, Self::A2];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "Letter",
            Self::A3 => "A3",
            Self::Tabloid => "Tabloid",
            Self::A2 => "A2",
        }
    }

    /// Its size in words, as the trade says it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::A4 => "210 x 297 mm",
            Self::Letter => "8.5 x 11 in",
            Self::A3 => "297 x 420 mm",
            Self::Tabloid => "11 x 17 in",
            Self::A2 => "420 x 594 mm",
        }
    }

    /// Width and height, upright (mm).
    #[must_use]
    pub const fn size(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
            Self::A3 => (297.0, 420.0),
            Self::Tabloid => (279.4, 431.8),
            Self::A2 => (420.0, 594.0),
        }
    }
}
