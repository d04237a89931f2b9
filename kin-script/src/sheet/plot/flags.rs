//! Labels above the panels, for lines and zones that run through all of them.

use super::check::ordered;
use super::layout::{EDGE, FLAG_ROW, Scale};
use super::margin::LABEL;
use super::model::Figure;
use crate::sheet::text::{Fitted, clean, fit};

/// A label above the panels.
#[derive(Debug, Clone)]
pub(super) struct Flag {
    pub(super) words: Fitted,
    /// Left and right end of the words (pixels).
    pub(super) from: f64,
    pub(super) to: f64,
    /// Row, counted upwards from the panel.
    pub(super) row: usize,
    /// Where its line comes up, for lines.
    pub(super) line: Option<f64>,
}

impl Flag {
    /// Middle of the words above a panel whose top is given.
    pub(super) fn middle(&self, top: f64) -> (f64, f64) {
        (
            (self.from + self.to) / 2.0,
            top - FLAG_ROW * (self.row as f64 + 0.5) - 1.0,
        )
    }
}

/// Least room between two labels of a row.
const APART: f64 = 8.0;

/// Places the labels, from the right to the left, each in the lowest row where it covers neither a label nor the line
/// that rises to a label above it.
pub(super) fn place(figure: &Figure, x: &Scale, left: f64, right: f64) -> Vec<Flag> {
    // Not over the numbers of the axis: the topmost may stand as high as the first row.
    let bounds = (left - 2.0, figure.width - EDGE);
    let wanted = wanted(figure, x, left, right);
    let mut flags: Vec<Flag> = Vec::new();
    for (at, words, line) in &wanted {
        let spans = spans(*at, words, bounds);
        // Lines still to come, from the left, must find their way up: keep off them where that can be.
        let hides = |from: f64| {
            let lines = wanted.iter().filter_map(|other| other.2);
            lines.into_iter().any(|x| x < at - 1.0 && from - 3.0 < x)
        };
        let places = || (0..=flags.len()).flat_map(|row| spans.iter().map(move |span| (row, *span)));
        let fits =
            |(row, span): &(usize, (f64, f64))| flags.iter().all(|flag| goes_with(flag, *row, *span, *line));
        let found = places()
            .find(|place| fits(place) && !hides(place.1.0))
            .or_else(|| places().find(fits));
        let (row, (from, to)) = found.unwrap_or((rows(&flags), spans[0]));
        flags.push(Flag {
            words: words.clone(),
            from,
            to,
            row,
            line: *line,
        });
    }
    flags
}

/// Where each label belongs, its words, and where its line comes up, from the right to the left; those without a line last.
fn wanted(figure: &Figure, x: &Scale, left: f64, right: f64) -> Vec<(f64, Fitted, Option<f64>)> {
    let widest = ((right - left) * 0.6).min(320.0);
    let mut wanted = Vec::new();
    for limit in figure
        .limits
        .iter()
        .filter(|limit| !clean(&limit.label).is_empty())
    {
        let (at, text, line) = if x.holds(limit.at) {
            (x.at(limit.at), limit.label.clone(), Some(x.at(limit.at)))
        } else if x.is_above(limit.at) {
            (right, format!("{} →", limit.label), None)
        } else {
            (left, format!("← {}", limit.label), None)
        };
        wanted.push((at, fit(&text, LABEL, widest, 1), line));
    }
    for band in figure.bands.iter().filter(|band| !clean(&band.label).is_empty()) {
        let (from, to) = ordered(band);
        let middle = (x.at(from).clamp(left, right) + x.at(to).clamp(left, right)) / 2.0;
        wanted.push((middle, fit(&band.label, LABEL, widest, 1), None));
    }
    // Those without a line can stand in any row above: they come last.
    wanted.sort_by(|a, b| a.2.is_none().cmp(&b.2.is_none()).then(b.0.total_cmp(&a.0)));
    wanted
}

/// Places for words along their row: over the middle of what they name, to the right of it, to the left of it.
fn spans(at: f64, words: &Fitted, bounds: (f64, f64)) -> [(f64, f64); 3] {
    let width = words
        .lines
        .iter()
        .map(|line| LABEL.width(line))
        .fold(0.0, f64::max);
    [at - width / 2.0, at - 3.0, at - width + 3.0].map(|start| {
        let start = start.clamp(bounds.0, (bounds.1 - width).max(bounds.0));
        (start, start + width)
    })
}

fn goes_with(placed: &Flag, row: usize, (from, to): (f64, f64), line: Option<f64>) -> bool {
    let covers =
        |span: (f64, f64), line: Option<f64>| line.is_some_and(|x| span.0 - 3.0 < x && x < span.1 + 3.0);
    match placed.row.cmp(&row) {
        std::cmp::Ordering::Equal => placed.to + APART <= from || to + APART <= placed.from,
        std::cmp::Ordering::Greater => !covers((from, to), placed.line),
        std::cmp::Ordering::Less => !covers((placed.from, placed.to), line),
    }
}

/// Rows the labels take.
pub(super) fn rows(flags: &[Flag]) -> usize {
    flags.iter().map(|flag| flag.row + 1).max().unwrap_or(0)
}
