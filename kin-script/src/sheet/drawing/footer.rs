//! Below the views: the scale bar and the key of poses.

use super::arrange::EDGE;
use super::model::{Drawing, Pose};
use super::pen::{Pen, Stroke};
use super::view::draw_sample;
use crate::sheet::colour::{INK, SOFT_INK};
use crate::sheet::text::{Type, clean, fit, number};

const LETTERS: Type = Type::plain(12.0);
const ROW: f64 = 24.0;
const SAMPLE: f64 = 34.0;
const GAP: f64 = 26.0;
/// Longest scale bar (CSS pixels).
const BAR: f64 = 130.0;

/// Draws the foot of the sheet below `top`; returns the height of the picture.
pub(super) fn draw(pen: &mut Pen, drawing: &Drawing, scale: f64, top: f64, width: f64) -> f64 {
    let mut middle = top + ROW / 2.0 + 8.0;
    let mut x = EDGE + draw_scale_bar(pen, drawing, scale, middle, width) + GAP;
    for (pose, name) in key(drawing) {
        let words = fit(&name, LETTERS, (width - 2.0 * EDGE) * 0.6, 1);
        let needs = SAMPLE
            + 8.0
            + words
                .lines
                .iter()
                .map(|line| LETTERS.width(line))
                .fold(0.0, f64::max);
        if x + needs > width - EDGE {
            x = EDGE;
            middle += ROW;
        }
        draw_sample(pen, (x, middle), (x + SAMPLE, middle), pose);
        pen.text(&words, (x + SAMPLE + 8.0, middle), LETTERS, SOFT_INK, "start");
        x += needs + GAP;
    }
    (middle + ROW / 2.0 + EDGE - 4.0).round()
}

/// Poses by name, each once, the main one first; nothing where there is only one.
fn key(drawing: &Drawing) -> Vec<(Pose, String)> {
    let mut key: Vec<(Pose, String)> = Vec::new();
    for layer in drawing.views.iter().flat_map(|view| &view.layers) {
        let entry = (layer.pose, clean(&layer.name));
        if !entry.1.is_empty() && !key.contains(&entry) {
            key.push(entry);
        }
    }
    key.sort_by_key(|entry| entry.0);
    if key.len() > 1 { key } else { Vec::new() }
}

/// A bar of a round length; returns the width it takes with its words.
fn draw_scale_bar(pen: &mut Pen, drawing: &Drawing, scale: f64, middle: f64, width: f64) -> f64 {
    let unit = scale * drawing.scale_unit.millimetres;
    let (count, decimals) = round_length(BAR.min(width / 3.0) / unit);
    let length = count * unit;
    let (left, right) = (EDGE, EDGE + length);
    let stroke = Stroke::solid(INK, 1.4);
    pen.line((left, middle), (right, middle), stroke);
    for (share, reach) in [(0.0, 4.5), (0.5, 3.0), (1.0, 4.5)] {
        let x = left + share * length;
        pen.line((x, middle - reach), (x, middle + reach), stroke);
    }
    let text = format!("{} {}", number(count, decimals), clean(&drawing.scale_unit.name));
    let words = fit(&text, LETTERS, width / 3.0, 1);
    pen.text(&words, (right + 9.0, middle), LETTERS, INK, "start");
    length
        + 9.0
        + words
            .lines
            .iter()
            .map(|line| LETTERS.width(line))
            .fold(0.0, f64::max)
}

/// The greatest of 1, 2, 5 times a power of ten not above `most`, and its decimals.
fn round_length(most: f64) -> (f64, usize) {
    let exponent = most.log10().floor() as i32;
    let power = 10_f64.powi(exponent);
    let digit = [5.0, 2.0]
        .into_iter()
        .find(|digit| digit * power <= most)
        .unwrap_or(1.0);
    (digit * power, usize::try_from(-exponent).unwrap_or(0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_scale_bar_has_a_round_length() {
        assert_eq!(round_length(260.0), (200.0, 0));
        assert_eq!(round_length(9.9), (5.0, 0));
        assert_eq!(round_length(1.0), (1.0, 0));
        let (length, decimals) = round_length(0.043);
        assert!((length - 0.02).abs() < 1e-15 && decimals == 2);
    }
}
