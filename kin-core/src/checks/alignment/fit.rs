//! The amounts of all adjusters that bring the angles to what is wanted.

use super::settled::{Angles, Bench, Settled};
use crate::Error;
use nalgebra::{DMatrix, DVector};

/// Angles are met when what is left is below this share of their tolerance.
const MET: f64 = 1e-9;
/// Amounts that change by less than this (mm) no longer change an angle.
const RESTED_MM: f64 = 1e-10;
const MOST_ITERATIONS: usize = 40;
/// A direction in which the adjusters do less than this share of their best counts as none.
const NO_EFFECT: f64 = 1e-6;
/// Most adjusters in whole shims whose roundings are all tried; beyond, each is rounded by itself.
const MOST_ROUNDED: usize = 6;

/// What is wanted of each angle: its value and tolerance (rad), if anything.
pub(super) type Goal = [Option<(f64, f64)>; 3];

/// Amounts with what they bring.
pub(super) struct Fit {
    pub(super) amounts: Vec<f64>,
    pub(super) settled: Settled,
}

impl Fit {
    /// The largest miss as a share of its tolerance.
    pub(super) fn miss(&self, goal: &Goal) -> f64 {
        worst_miss(&self.settled.angles, goal)
    }
}

pub(super) fn worst_miss(angles: &Angles, goal: &Goal) -> f64 {
    let misses = angles.iter().zip(goal);
    misses
        .filter_map(|(angle, goal)| goal.map(|(wanted, tolerance)| (angle - wanted).abs() / tolerance))
        .fold(0.0, f64::max)
}

/// The amounts within their ranges that come closest: exactly, where the adjusters can.
///
/// Newton on the angles with their exact rates; with more adjusters than angles the smallest amounts are taken, with
/// fewer the least squares of what is left. An amount that would leave its range is held at the end of it.
pub(super) fn fit(bench: &Bench, ranges: &[(f64, f64)], goal: &Goal) -> Result<Fit, Error> {
    let held = vec![None; ranges.len()];
    fit_with(bench, ranges, goal, held)
}

fn fit_with(
    bench: &Bench,
    ranges: &[(f64, f64)],
    goal: &Goal,
    mut held: Vec<Option<f64>>,
) -> Result<Fit, Error> {
    loop {
        let found = newton(bench, goal, &held)?;
        let beyond = |place: usize| {
            let (amount, (least, most)) = (found.amounts[place], ranges[place]);
            (least - amount).max(amount - most)
        };
        let worst = (0..ranges.len())
            .filter(|&place| held[place].is_none() && beyond(place) > 1e-9)
            .max_by(|a, b| beyond(*a).total_cmp(&beyond(*b)));
        match worst {
            Some(place) => held[place] = Some(found.amounts[place].clamp(ranges[place].0, ranges[place].1)),
            None => return Ok(found),
        }
    }
}

fn newton(bench: &Bench, goal: &Goal, held: &[Option<f64>]) -> Result<Fit, Error> {
    // Where not everything can be met, what is left is shared out by the tolerances.
    let wanted: Vec<(usize, f64, f64)> = goal
        .iter()
        .enumerate()
        .filter_map(|(place, goal)| goal.map(|(wanted, tolerance)| (place, wanted, tolerance)))
        .collect();
    let free: Vec<usize> = (0..held.len()).filter(|&place| held[place].is_none()).collect();
    let mut amounts: Vec<f64> = held.iter().map(|amount| amount.unwrap_or(0.0)).collect();
    let mut settled = bench.settle(&amounts)?;
    for _ in 0..MOST_ITERATIONS {
        let miss = DVector::from_iterator(
            wanted.len(),
            wanted
                .iter()
                .map(|(angle, wanted, tolerance)| (settled.angles[*angle] - wanted) / tolerance),
        );
        if miss.amax() < MET || free.is_empty() {
            break;
        }
        let rates = DMatrix::from_fn(wanted.len(), free.len(), |row, column| {
            let (angle, _, tolerance) = wanted[row];
            settled.rates[free[column]][angle] / tolerance
        });
        let decomposed = rates.svd(true, true);
        let small = NO_EFFECT * decomposed.singular_values.max();
        let Ok(step) = decomposed.solve(&miss, small) else {
            break;
        };
        for (place, change) in free.iter().zip(step.iter()) {
            amounts[*place] -= change;
        }
        settled = bench.settle(&amounts)?;
        if step.amax() < RESTED_MM {
            break;
        }
    }
    Ok(Fit { amounts, settled })
}

/// The best whole shims near exact amounts, with everything that is not shimmed set anew.
pub(super) fn in_whole_shims(
    bench: &Bench,
    ranges: &[(f64, f64)],
    goal: &Goal,
    shims: &[Option<f64>],
    exact: &Fit,
) -> Result<Fit, Error> {
    let shimmed: Vec<usize> = (0..shims.len()).filter(|&place| shims[place].is_some()).collect();
    let choices = if shimmed.len() > MOST_ROUNDED {
        1
    } else {
        1_usize << shimmed.len()
    };
    let mut best: Option<(f64, f64, Fit)> = None;
    for choice in 0..choices {
        let mut held = vec![None; shims.len()];
        for (bit, &place) in shimmed.iter().enumerate() {
            let thickness = shims[place].unwrap_or(1.0);
            let count = exact.amounts[place] / thickness;
            let count = match (choices, choice >> bit & 1) {
                (1, _) => count.round(),
                (_, 0) => count.floor(),
                _ => count.ceil(),
            };
            // Only whole shims that the range allows.
            let (least, most) = (
                (ranges[place].0 / thickness).ceil(),
                (ranges[place].1 / thickness).floor(),
            );
            held[place] = Some(count.min(most).max(least) * thickness);
        }
        let Ok(found) = fit_with(bench, ranges, goal, held) else {
            continue;
        };
        let miss = found.miss(goal);
        let moved = shimmed
            .iter()
            .map(|&place| found.amounts[place].abs())
            .sum::<f64>();
        // Of equal misses the one with less to shim.
        let better = best
            .as_ref()
            .is_none_or(|(least, moves, _)| miss.total_cmp(least).then(moved.total_cmp(moves)).is_lt());
        if better {
            best = Some((miss, moved, found));
        }
    }
    match best {
        Some((_, _, fit)) => Ok(fit),
        None => fit(bench, ranges, goal),
    }
}
