//! Where the numbers of the lines go.

use crate::sheet::boxes::{Rect, Spot, distance};
use crate::sheet::text::Type;

pub(super) const NUMBER: Type = Type::bold(12.0);
/// Lines shorter than this carry no number (CSS pixels).
const SHORTEST: f64 = 26.0;
/// Shares of a line's length that are tried in turn.
const TRIED: [f64; 9] = [0.5, 0.35, 0.65, 0.2, 0.8, 0.42, 0.58, 0.1, 0.9];

/// Numbers already placed.
pub(super) struct Labels {
    taken: Vec<Rect>,
    bounds: Rect,
}

impl Labels {
    pub(super) fn new(bounds: Rect) -> Self {
        Self {
            taken: Vec::new(),
            bounds,
        }
    }

    /// A free place for a number on a line, if there is one.
    pub(super) fn on_line(&mut self, line: &[Spot], text: &str) -> Option<Spot> {
        let length: f64 = line.windows(2).map(|pair| distance(pair[0], pair[1])).sum();
        if length < SHORTEST {
            return None;
        }
        TRIED.iter().find_map(|share| {
            let spot = along(line, share * length)?;
            let area = Rect::around(spot, NUMBER.width(text) + 6.0, NUMBER.size + 4.0);
            let free = self.bounds.holds(&area) && !self.taken.iter().any(|other| other.overlaps(&area));
            free.then(|| {
                self.taken.push(area);
                spot
            })
        })
    }
}

/// The spot at a length along a line.
fn along(line: &[Spot], mut left: f64) -> Option<Spot> {
    for pair in line.windows(2) {
        let step = distance(pair[0], pair[1]);
        if left <= step && step > 0.0 {
            let share = left / step;
            let between = |from: f64, to: f64| from + share * (to - from);
            return Some((between(pair[0].0, pair[1].0), between(pair[0].1, pair[1].1)));
        }
        left -= step;
    }
    line.last().copied()
}
