//! What repeated readings say of one's own tape.

use super::notebook::Survey;
use super::quality::deviation_range;
use super::reading::{Kind, Observed};
use crate::{Dimension, Sentence};
use std::collections::BTreeMap;

/// The error of readings of one kind, from those that were taken more than once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RepeatEstimate {
    /// The kind.
    pub kind: Kind,
    /// How many things were read more than once.
    pub repeated: usize,
    /// How many readings that makes beyond one each.
    pub degrees: usize,
    /// Standard deviation of one reading (mm or rad), pooled.
    pub standard_deviation: f64,
    /// The range that holds the true one with a chance of 95 % (mm or rad).
    pub range: [f64; 2],
    /// The default that readings of this kind count with in this survey (mm or rad).
    pub stated: f64,
}

impl RepeatEstimate {
    /// It in words.
    #[must_use]
    pub fn sentence(&self) -> Sentence {
        let dimension = if self.kind == Kind::Angle {
            Dimension::FineAngle
        } else {
            Dimension::FineLength
        };
        let verdict = if self.stated < self.range[0] {
            ": state more"
        } else if self.stated > self.range[1] {
            ": stated with care, it could be less"
        } else {
            ": the stated one agrees"
        };
        Sentence::new(format!(
            "{} readings of kind {} that repeat others have a standard deviation of ",
            self.degrees,
            self.kind.word()
        ))
        .quantity(self.standard_deviation, dimension)
        .words(" (")
        .quantity(self.range[0], dimension)
        .words(" to ")
        .quantity(self.range[1], dimension)
        .words(" with 95 % certainty); stated is ")
        .quantity(self.stated, dimension)
        .words(verdict)
    }
}

impl Survey {
    /// What repeated readings say, for each kind with repeats.
    ///
    /// Readings of the same thing scatter about their own mean: the pooled standard deviation is
    /// `sqrt(sum of squares about the means / (readings - things))`, its range from the chi-square distribution.
    #[must_use]
    pub fn repeats(&self) -> Vec<RepeatEstimate> {
        let mut groups: BTreeMap<(Kind, Vec<&str>), Vec<f64>> = BTreeMap::new();
        for reading in &self.readings {
            let kind = reading.observed.kind();
            let mut points = reading.observed.points();
            match reading.observed {
                // A tape is the same from either end.
                Observed::Distance { .. } => points.sort_unstable(),
                Observed::Coordinate { .. } | Observed::Angle { .. } => {}
                Observed::Mirror { .. } | Observed::Rigid { .. } => continue,
            }
            let values = groups.entry((kind, points)).or_default();
            values.push(reading.value + reading.offset);
        }
        let mut estimates = Vec::new();
        for kind in Kind::ALL {
            let repeated: Vec<&Vec<f64>> = groups
                .iter()
                .filter(|((of, _), values)| *of == kind && values.len() > 1)
                .map(|(_, values)| values)
                .collect();
            let degrees: usize = repeated.iter().map(|values| values.len() - 1).sum();
            if degrees == 0 {
                continue;
            }
            let squares: f64 = repeated.iter().map(|values| about_mean(values)).sum();
            let standard_deviation = (squares / degrees as f64).sqrt();
            if let Some(range) = deviation_range(standard_deviation, degrees) {
                estimates.push(RepeatEstimate {
                    kind,
                    repeated: repeated.len(),
                    degrees,
                    standard_deviation,
                    range,
                    stated: self.deviations.of(kind),
                });
            }
        }
        estimates
    }
}

fn about_mean(values: &[f64]) -> f64 {
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    values.iter().map(|value| (value - mean).powi(2)).sum()
}
