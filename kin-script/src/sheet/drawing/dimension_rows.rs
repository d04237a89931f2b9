//! Rows of dimension lines round a view: which share a row, and how many rows there are.

use super::model::{Dimension, DimensionPlace, Shape, View};
use super::projection::signs;
use crate::sheet::text::Type;

/// Height of a row of dimension lines (CSS pixels).
pub(super) const ROW: f64 = 22.0;
/// Letters of dimensions.
pub(super) const LETTERS: Type = Type::plain(12.0);
/// Length and half width of an arrowhead (CSS pixels).
pub(super) const HEAD: (f64, f64) = (8.0, 2.7);
/// Room round the text in its line (CSS pixels).
const AROUND: f64 = 5.0;

/// How many rows of dimension lines stand on each side of a view, and in which row each stands.
#[derive(Debug, Clone, Default)]
pub(super) struct Rows {
    pub(super) below: usize,
    pub(super) left: usize,
    pub(super) right: usize,
    /// Row of each dimension of the view, in order.
    pub(super) row_of: Vec<usize>,
}

/// The dimensions of a view in order.
pub(super) fn dimensions(view: &View) -> impl Iterator<Item = &Dimension> {
    view.layers
        .iter()
        .flat_map(|layer| &layer.shapes)
        .filter_map(|shape| match shape {
            Shape::Dimension(dimension) => Some(dimension),
            _ => None,
        })
}

impl Rows {
    /// Every dimension in a row of its own.
    pub(super) fn one_each(view: &View) -> Self {
        let mut rows = Self::default();
        for dimension in dimensions(view) {
            if let Some(count) = rows.count(dimension.place) {
                *count += 1;
            }
        }
        rows
    }

    /// Dimensions share a row where neither lines nor texts meet at the given scale; short ones stand nearest.
    pub(super) fn packed(view: &View, scale: f64) -> Self {
        let all: Vec<&Dimension> = dimensions(view).collect();
        let signs = signs(view);
        let mut order: Vec<usize> = (0..all.len()).collect();
        order.sort_by(|a, b| measured(all[*a]).total_cmp(&measured(all[*b])));
        let mut rows = Self {
            row_of: vec![0; all.len()],
            ..Self::default()
        };
        let mut placed: Vec<(DimensionPlace, usize, (f64, f64))> = Vec::new();
        for index in order {
            let place = all[index].place;
            if rows.count(place).is_none() {
                continue;
            }
            let span = span(all[index], signs, scale);
            let clashes = |row: usize| {
                let mut same = placed.iter().filter(|other| other.0 == place && other.1 == row);
                same.any(|other| span.0 < other.2.1 + AROUND && other.2.0 < span.1 + AROUND)
            };
            let row = (0..placed.len())
                .find(|row| !clashes(*row))
                .unwrap_or(placed.len());
            placed.push((place, row, span));
            rows.row_of[index] = row;
            if let Some(count) = rows.count(place) {
                *count = (*count).max(row + 1);
            }
        }
        rows
    }

    fn count(&mut self, place: DimensionPlace) -> Option<&mut usize> {
        match place {
            DimensionPlace::Below => Some(&mut self.below),
            DimensionPlace::Left => Some(&mut self.left),
            DimensionPlace::Right => Some(&mut self.right),
            DimensionPlace::Along => None,
        }
    }
}

/// The measured distance (mm).
fn measured(dimension: &Dimension) -> f64 {
    let (across, up) = (
        dimension.to.0 - dimension.from.0,
        dimension.to.1 - dimension.from.1,
    );
    match dimension.place {
        DimensionPlace::Below => across.abs(),
        DimensionPlace::Left | DimensionPlace::Right => up.abs(),
        DimensionPlace::Along => across.hypot(up),
    }
}

/// Where line and text begin and end along their row (pixels).
fn span(dimension: &Dimension, signs: (f64, f64), scale: f64) -> (f64, f64) {
    let (a, b) = match dimension.place {
        DimensionPlace::Below => (
            dimension.from.0 * signs.0 * scale,
            dimension.to.0 * signs.0 * scale,
        ),
        _ => (
            -dimension.from.1 * signs.1 * scale,
            -dimension.to.1 * signs.1 * scale,
        ),
    };
    let text = text_span(a.min(b), a.max(b), LETTERS.width(&dimension.text));
    (a.min(b).min(text.0), a.max(b).max(text.1))
}

/// Where the text goes along a line from `low` to `high`: in its middle if there is room, else before its low end.
pub(super) fn text_span(low: f64, high: f64, width: f64) -> (f64, f64) {
    if high - low >= width + 2.0 * (AROUND + HEAD.0) {
        let middle = (low + high) / 2.0;
        (middle - width / 2.0, middle + width / 2.0)
    } else {
        // Arrows stand outside a short line.
        let end = low - AROUND - if is_short(high - low) { 2.0 * HEAD.0 } else { 0.0 };
        (end - width, end)
    }
}

pub(super) fn is_short(length: f64) -> bool {
    length < 2.5 * HEAD.0
}
