//! Ink, paper and hues. Hues keep 3:1 against white and differ in lightness between neighbours, so that curves
//! stay apart in greyscale print; text is always one of the two inks, above 7:1.

/// A colour by its red, green and blue parts (sRGB).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Colour(pub(crate) u8, pub(crate) u8, pub(crate) u8);

pub(crate) const PAPER: Colour = Colour(255, 255, 255);
pub(crate) const INK: Colour = Colour(0x1d, 0x24, 0x2c);
pub(crate) const SOFT_INK: Colour = Colour(0x48, 0x52, 0x5d);
pub(crate) const AXIS: Colour = Colour(0x6b, 0x76, 0x81);
pub(crate) const ZERO_LINE: Colour = Colour(0xb4, 0xbc, 0xc5);
pub(crate) const GRID: Colour = Colour(0xe6, 0xe9, 0xed);

pub(crate) const BLUE: Colour = Colour(0x1f, 0x54, 0x94);
pub(crate) const RUST: Colour = Colour(0xcc, 0x6a, 0x22);
pub(crate) const PLUM: Colour = Colour(0x5c, 0x1f, 0x52);
pub(crate) const GREEN: Colour = Colour(0x2f, 0x94, 0x7c);
pub(crate) const BRICK: Colour = Colour(0x8e, 0x2a, 0x22);
pub(crate) const SLATE: Colour = Colour(0x71, 0x7d, 0x8a);

/// Hues of the curves, in the order they are given out.
pub(crate) const HUES: [Colour; 6] = [BLUE, RUST, PLUM, GREEN, BRICK, SLATE];

impl Colour {
    /// Hexadecimal form for an SVG attribute.
    pub(crate) fn hex(self) -> String {
        format!("#{:02x}{:02x}{:02x}", self.0, self.1, self.2)
    }

    /// This colour thinned with white; `share` of colour left, 0 to 1.
    pub(crate) fn tint(self, share: f64) -> Self {
        let mix = |part: u8| (255.0 - (255.0 - f64::from(part)) * share.clamp(0.0, 1.0)).round() as u8;
        Self(mix(self.0), mix(self.1), mix(self.2))
    }
}

#[cfg(test)]
impl Colour {
    pub(crate) fn from_hex(text: &str) -> Option<Self> {
        let part = |at: usize| {
            text.get(at..at + 2)
                .and_then(|two| u8::from_str_radix(two, 16).ok())
        };
        if text.len() == 7 && text.starts_with('#') {
            Some(Self(part(1)?, part(3)?, part(5)?))
        } else {
            None
        }
    }

    /// Relative luminance as defined by the Web Content Accessibility Guidelines (WCAG) 2.2, from memory.
    pub(crate) fn luminance(self) -> f64 {
        let linear = |part: u8| {
            let share = f64::from(part) / 255.0;
            if share <= 0.04045 {
                share / 12.92
            } else {
                ((share + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * linear(self.0) + 0.7152 * linear(self.1) + 0.0722 * linear(self.2)
    }

    /// Contrast ratio against white paper, WCAG 2.2, from memory.
    pub(crate) fn contrast_on_white(self) -> f64 {
        1.05 / (self.luminance() + 0.05)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn black_and_mid_grey_have_the_contrast_the_guidelines_give() {
        // #767676 is the lightest grey that passes 4.5:1 on white (WCAG techniques, from memory).
        assert!((Colour(0, 0, 0).contrast_on_white() - 21.0).abs() < 1e-12);
        assert!(Colour(0x76, 0x76, 0x76).contrast_on_white() >= 4.5);
        assert!(Colour(0x77, 0x77, 0x77).contrast_on_white() < 4.5);
    }

    #[test]
    fn text_inks_are_readable_and_hues_stand_out() {
        assert!(INK.contrast_on_white() >= 7.0 && SOFT_INK.contrast_on_white() >= 7.0);
        for hue in HUES {
            // WCAG 2.2, 1.4.11: graphical objects at least 3:1 (from memory).
            assert!(
                hue.contrast_on_white() >= 3.0,
                "{hue:?}: {}",
                hue.contrast_on_white()
            );
        }
    }

    #[test]
    fn neighbouring_hues_differ_in_greyscale() {
        let lightness = |hue: Colour| 116.0 * hue.luminance().cbrt() - 16.0;
        for pair in HUES.windows(2) {
            let gap = (lightness(pair[0]) - lightness(pair[1])).abs();
            assert!(gap >= 15.0, "{pair:?} differ by {gap} in lightness");
        }
    }
}
