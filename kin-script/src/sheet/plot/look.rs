//! Hue, dash and weight of curves.

use super::canvas::Stroke;
use super::model::Emphasis;
use crate::sheet::colour::{Colour, HUES};

/// Dash patterns in the order they are given out (CSS pixels, for a line two pixels wide).
const DASHES: [&[f64]; 6] = [
    &[],
    &[9.0, 4.5],
    &[2.2, 3.2],
    &[13.0, 4.0, 2.5, 4.0],
    &[17.0, 6.0],
    &[7.0, 3.0, 2.2, 3.0, 2.2, 3.0],
];

pub(super) fn hue(look: usize) -> Colour {
    HUES.get(look % HUES.len())
        .copied()
        .unwrap_or(crate::sheet::colour::INK)
}

/// After the last hue the dashes shift by one, so that the first 36 looks are all different.
pub(super) fn stroke(look: usize, emphasis: Emphasis) -> Stroke {
    let dash = DASHES
        .get((look + look / HUES.len()) % DASHES.len())
        .copied()
        .unwrap_or_default();
    let width = match emphasis {
        Emphasis::Strong => 2.8,
        Emphasis::Normal => 2.0,
        Emphasis::Quiet => 1.3,
    };
    Stroke {
        colour: hue(look),
        width,
        dash,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn looks_differ_without_colour_and_do_not_repeat_soon() {
        for first in 0..36 {
            for second in first + 1..36 {
                let (a, b) = (stroke(first, Emphasis::Normal), stroke(second, Emphasis::Normal));
                assert!(a.dash != b.dash || a.colour != b.colour, "{first} and {second}");
                if second < 6 {
                    assert_ne!(a.dash, b.dash, "{first} and {second}");
                }
            }
        }
    }
}
