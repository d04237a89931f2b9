//! A bump stop's table of force against compression.

use crate::pickups::{Measured, PickupError, Quantity, finite, incomplete};
use crate::{Dimension, Rounding, Sentence};
use serde::{Deserialize, Serialize};

/// One line of a bump stop's table.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StopPoint {
    /// Compression from its free length (mm).
    pub compression: f64,
    /// Force (N).
    pub force: f64,
}

impl Measured for StopPoint {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        visitor(&mut self.compression, Quantity::Length);
        visitor(&mut self.force, Quantity::Force);
    }
}

/// A progressive bump stop on the damper's shaft; its free length is the damper's `bump_stop`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BumpStopQuestion {
    /// Force against compression, in rising order; no force at no compression goes without saying. Between two lines the
    /// force runs straight. The last line is the stop pressed as flat as it goes.
    pub table: Vec<StopPoint>,
    /// How many times the sprung weight spring and stop together shall carry before the travel ends.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load_factor: Option<f64>,
}

impl Measured for BumpStopQuestion {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        self.table.visit(visitor);
    }
}

/// The table with its silent first line, if it can be a bump stop's.
pub(super) fn checked(table: &[StopPoint]) -> Result<Vec<StopPoint>, PickupError> {
    let mut whole = vec![StopPoint {
        compression: 0.0,
        force: 0.0,
    }];
    for (place, point) in table.iter().enumerate() {
        finite(point.compression, &format!("table[{place}].compression"))?;
        finite(point.force, &format!("table[{place}].force"))?;
        if place == 0 && *point == whole[0] {
            continue;
        }
        let before = whole.last().copied().unwrap_or(*point);
        if point.compression <= before.compression || point.force < before.force {
            let line = |sentence: Sentence, point: &StopPoint| {
                sentence
                    .words("(")
                    .given_length(point.compression)
                    .words(", ")
                    .rounded(point.force, Dimension::Force, Rounding::AsGiven)
                    .words(")")
            };
            let start = Sentence::new(format!("line {place} of the bump stop's table "));
            let problem = line(start, point).words(" does not rise from the line before ");
            return Err(PickupError::Misplaced {
                field: format!("table[{place}]"),
                problem: line(problem, &before),
                advice: "give compressions from the free length in rising order, with forces that do not fall",
            });
        }
        whole.push(*point);
    }
    match whole.last() {
        Some(last) if last.force > 0.0 && last.compression > 0.0 => Ok(whole),
        _ => Err(incomplete(
            "table",
            "give the force of the stop at one compression at least, up to its free length",
        )),
    }
}

/// Force (N) and rate (N/mm) of the stop at a compression; beyond the table it goes on as steeply.
pub(super) fn force_of(table: &[StopPoint], compression: f64) -> (f64, f64) {
    if compression < 0.0 {
        return (0.0, 0.0);
    }
    let mut found = (0.0, 0.0);
    for pair in table.windows(2) {
        let [low, high] = *pair else { continue };
        let rate = (high.force - low.force) / (high.compression - low.compression);
        if compression >= low.compression {
            found = (low.force + rate * (compression - low.compression), rate);
        }
    }
    found
}
