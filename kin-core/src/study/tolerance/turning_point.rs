//! Which error in a single number makes a requirement fail, all else as measured.

use super::question::Requirement;
use super::result::LinearResult;
use crate::Error;
use crate::study::{Subject, Uncertainty};

/// Errors beyond this many standard deviations are not looked for.
const LIKELY: f64 = 6.0;
/// How much farther than the linear answer a change of verdict is looked for, by factors.
const FARTHER: [f64; 4] = [1.1, 1.3, 1.6, 2.0];
/// The place is found to this (core units): no tape shows less.
const TOLERANCE: f64 = 1e-4;

/// The error of one number at which a requirement begins to fail, or to hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TurningPoint {
    /// The number's place in the description.
    pub place: usize,
    /// The error: what the number really is, less what was measured (the number's unit).
    pub change: f64,
    /// How many standard deviations of that number it is.
    pub deviations: f64,
}

/// Looks for the turning point in the number that matters most, and verifies it by building variants.
///
/// None where that number would have to be wrong by more than six standard deviations, or where a variant on the way
/// cannot be built.
pub(super) fn find(
    requirement: &Requirement,
    linear: &LinearResult,
    subject: &Subject,
    uncertainty: &Uncertainty,
) -> Option<TurningPoint> {
    if !requirement.has_limit() {
        return None;
    }
    let deviations = uncertainty.deviations();
    let weight = |place: &usize| (linear.gradient[*place] * deviations[*place]).abs();
    let most =
        (0..deviations.len().min(linear.gradient.len())).max_by(|a, b| weight(a).total_cmp(&weight(b)));
    let most = most.filter(|most| weight(most) > 0.0)?;
    let (rate, deviation, place) = (
        linear.gradient[most],
        deviations[most],
        uncertainty.places()[most],
    );
    let margin = |change: f64| -> Result<f64, Error> {
        let built = subject.changed(&[(place, change)]).build()?;
        Ok(requirement.margin(requirement.outcome.value(&built)?))
    };
    let holds_now = requirement.margin(linear.value) >= 0.0;
    // The limits in the order of how near they are.
    let mut guesses: Vec<f64> = [requirement.at_least, requirement.at_most]
        .into_iter()
        .flatten()
        .map(|limit| (limit - linear.value) / rate)
        .filter(|change| change.is_finite() && change.abs() <= LIKELY * deviation)
        .collect();
    guesses.sort_by(|a, b| a.abs().total_cmp(&b.abs()));
    for guess in guesses {
        for farther in FARTHER {
            let Ok(there) = margin(guess * farther) else { break };
            if (there >= 0.0) == holds_now {
                continue;
            }
            let (mut same, mut other) = (0.0, guess * farther);
            while (other - same).abs() > TOLERANCE {
                let middle = 0.5 * (same + other);
                let Ok(there) = margin(middle) else { return None };
                if (there >= 0.0) == holds_now {
                    same = middle;
                } else {
                    other = middle;
                }
            }
            let change = other;
            return Some(TurningPoint {
                place,
                change,
                deviations: change.abs() / deviation,
            });
        }
    }
    None
}
