//! The reading that does not belong.

use super::adjust::Rejected;
use super::adjustment::Adjustment;
use super::reading::{Kind, Reading};
use super::words::listed;
use crate::{Dimension, Sentence};

/// One inch (mm), exact by definition: readings slip by whole ones.
const INCH: f64 = 25.4;
/// Readings whose normalised residuals are this near (relative) to the largest cannot be told apart from it.
const AS_LARGE: f64 = 1e-3;

/// A reading that disagrees with the others.
#[derive(Debug, Clone, PartialEq)]
pub struct Suspect {
    /// Its number among the survey's readings.
    pub index: usize,
    /// Its normalised residual.
    pub normalised: f64,
    /// How much too large it was read, by estimate (mm or rad).
    pub mistake: f64,
    /// Standard deviation of that estimate, a priori (mm or rad).
    pub mistake_deviation: f64,
    /// How many other readings there are.
    pub others: usize,
    /// Other readings with as large a residual: the mistake may be in any of them.
    pub or: Vec<usize>,
}

impl Adjustment {
    /// The reading with the largest normalised residual, where that is beyond `limit`.
    #[must_use]
    pub fn suspect(&self, limit: f64) -> Option<Suspect> {
        let size = |normalised: Option<f64>| normalised.map_or(0.0, f64::abs);
        let mut worst = self.judged.first()?;
        for judged in &self.judged {
            if size(judged.normalised) > size(worst.normalised) {
                worst = judged;
            }
        }
        let (normalised, mistake) = (worst.normalised?, worst.mistake?);
        if normalised.abs() <= limit {
            return None;
        }
        let as_large = self.judged.iter().filter(|other| {
            other.index != worst.index && size(other.normalised) >= (1.0 - AS_LARGE) * normalised.abs()
        });
        Some(Suspect {
            index: worst.index,
            normalised,
            mistake,
            mistake_deviation: worst.deviation / worst.redundancy.sqrt(),
            others: self.judged.len() - 1,
            or: as_large.map(|other| other.index).collect(),
        })
    }

    /// A suspect in words: what was read, by how much it disagrees, and what to do.
    #[must_use]
    pub fn suspect_sentence(&self, suspect: &Suspect) -> Sentence {
        let Some(reading) = self.reading(suspect.index) else {
            return Sentence::default();
        };
        let said = disagreement(reading, suspect.mistake, suspect.others);
        let said = match slip(reading, suspect.mistake, suspect.mistake_deviation) {
            Some(slip) => said.words(slip),
            None => said,
        };
        let or: Vec<String> = suspect
            .or
            .iter()
            .filter_map(|index| self.reading(*index))
            .map(Reading::words)
            .collect();
        if or.is_empty() {
            said.words(": read it again")
        } else {
            said.words(format!(
                ": read it again, and {} as well, since the readings cannot tell which of them is mistaken",
                listed(&or)
            ))
        }
    }

    /// A rejected reading in words.
    #[must_use]
    pub fn rejected_sentence(&self, rejected: &Rejected) -> Sentence {
        let Some(reading) = self.reading(rejected.index) else {
            return Sentence::default();
        };
        let deviation = rejected.mistake.abs() / rejected.normalised.abs().max(f64::MIN_POSITIVE);
        let said = disagreement(reading, rejected.mistake, rejected.others);
        let said = match slip(reading, rejected.mistake, deviation) {
            Some(slip) => said.words(slip),
            None => said,
        };
        said.words(": read it again. It was left out")
    }
}

fn disagreement(reading: &Reading, mistake: f64, others: usize) -> Sentence {
    let dimension = if reading.observed.kind() == Kind::Angle {
        Dimension::Angle
    } else {
        Dimension::Length
    };
    let said = Sentence::new(format!(
        "{} disagrees with the other {others} readings by ",
        reading.words()
    ))
    .quantity(mistake.abs(), dimension);
    let side = match reading.observed.kind() {
        Kind::Same | Kind::Rigid => return said,
        Kind::Tape if mistake > 0.0 => " too long",
        Kind::Tape => " too short",
        _ if mistake > 0.0 => " too much",
        _ => " too little",
    };
    said.words(side)
        .words(" (by them it reads ")
        .quantity(reading.value - mistake, dimension)
        .words(")")
}

/// A mistake near a whole number of inches is likely a slip on the tape.
fn slip(reading: &Reading, mistake: f64, deviation: f64) -> Option<String> {
    if matches!(reading.observed.kind(), Kind::Angle | Kind::Same | Kind::Rigid) || deviation > INCH / 5.0 {
        return None;
    }
    let inches = (mistake.abs() / INCH).round();
    let near = (mistake.abs() - inches * INCH).abs() <= 1.5 * deviation;
    if !(near && (1.0..=12.0).contains(&inches)) {
        return None;
    }
    let inches = if inches > 1.0 {
        format!("{inches} whole inches")
    } else {
        "a whole inch".to_owned()
    };
    Some(format!(", about {inches}"))
}
