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
/// Gauss-Newton on the angles with their exact rates; with more adjusters than angles the smallest amounts are taken, with
/// fewer the least squares of what is left, shared out by the tolerances. No step leaves a range, and an amount at its end
/// stays there while what is left pushes it outwards. Steps after which the linkage would not go together are halved.
pub(super) fn fit(bench: &Bench, ranges: &[(f64, f64)], goal: &Goal) -> Result<Fit, Error> {
    let held = vec![None; ranges.len()];
    fit_with(bench, ranges, goal, &held)
}

fn fit_with(bench: &Bench, ranges: &[(f64, f64)], goal: &Goal, held: &[Option<f64>]) -> Result<Fit, Error> {
    let start = held.iter().zip(ranges);
    let amounts: Vec<f64> = start
        .map(|(held, (least, most))| held.unwrap_or_else(|| 0.0_f64.max(*least).min(*most)))
        .collect();
    let settled = bench.settle(&amounts)?;
    let mut best = Fit { amounts, settled };
    for _ in 0..MOST_ITERATIONS {
        let misses = Misses::of(&best.settled, goal);
        if misses.value.amax() < MET {
            break;
        }
        let Some(step) = step_within(&best, &misses, ranges, held) else {
            break;
        };
        let Some((next, moved)) = shortened(bench, &best, &step, goal, misses.value.norm_squared()) else {
            break;
        };
        best = next;
        if moved < RESTED_MM {
            break;
        }
    }
    Ok(best)
}

/// What is left of the angles, as shares of their tolerances, and how it changes per mm of every adjuster.
struct Misses {
    value: DVector<f64>,
    rates: DMatrix<f64>,
}

impl Misses {
    fn of(settled: &Settled, goal: &Goal) -> Self {
        let wanted: Vec<(usize, f64, f64)> = goal
            .iter()
            .enumerate()
            .filter_map(|(place, goal)| goal.map(|(wanted, tolerance)| (place, wanted, tolerance)))
            .collect();
        let misses = wanted
            .iter()
            .map(|(angle, wanted, tolerance)| (settled.angles[*angle] - wanted) / tolerance);
        Self {
            value: DVector::from_iterator(wanted.len(), misses),
            rates: DMatrix::from_fn(wanted.len(), settled.rates.len(), |row, column| {
                let (angle, _, tolerance) = wanted[row];
                settled.rates[column][angle] / tolerance
            }),
        }
    }
}

/// The change of all amounts that would meet the angles if they were straight lines, as far as the ranges allow it; none
/// where no amount is free to move.
fn step_within(at: &Fit, misses: &Misses, ranges: &[(f64, f64)], held: &[Option<f64>]) -> Option<Vec<f64>> {
    let uphill = misses.rates.transpose() * &misses.value;
    let room = |place: usize, change: f64| {
        let (least, most) = ranges[place];
        if change < 0.0 {
            at.amounts[place] - least
        } else {
            most - at.amounts[place]
        }
    };
    let mut free: Vec<usize> = (0..held.len())
        .filter(|&place| held[place].is_none() && room(place, -uphill[place]) > RESTED_MM)
        .collect();
    loop {
        if free.is_empty() {
            return None;
        }
        let decomposed = misses.rates.select_columns(&free).svd(true, true);
        let small = NO_EFFECT * decomposed.singular_values.max();
        let solved = decomposed.solve(&misses.value, small).ok()?;
        if !solved.iter().all(|change| change.is_finite()) || solved.amax() == 0.0 {
            return None;
        }
        let changes: Vec<(usize, f64)> = free
            .iter()
            .copied()
            .zip(solved.iter().map(|change| -change))
            .collect();
        // One at its end that the others would push out of its range stays there.
        let pushed_out = |&(place, change): &(usize, f64)| change != 0.0 && room(place, change) <= RESTED_MM;
        if let Some((stays, _)) = changes.iter().find(|change| pushed_out(change)) {
            free.retain(|place| place != stays);
            continue;
        }
        let share = changes
            .iter()
            .filter(|(_, change)| *change != 0.0)
            .map(|&(place, change)| room(place, change) / change.abs())
            .fold(1.0, f64::min);
        let mut step = vec![0.0; held.len()];
        for (place, change) in changes {
            step[place] = share * change;
        }
        return Some(step);
    }
}

/// The longest of the step, its half, its quarter and so on that comes closer, and how far it moved (mm).
fn shortened(bench: &Bench, from: &Fit, step: &[f64], goal: &Goal, left: f64) -> Option<(Fit, f64)> {
    let longest = step.iter().fold(0.0_f64, |most, change| most.max(change.abs()));
    let mut share = 1.0;
    while share * longest > 0.5 * RESTED_MM {
        let amounts: Vec<f64> = from
            .amounts
            .iter()
            .zip(step)
            .map(|(amount, change)| amount + share * change)
            .collect();
        if let Ok(settled) = bench.settle(&amounts)
            && Misses::of(&settled, goal).value.norm_squared() < left
        {
            return Some((Fit { amounts, settled }, share * longest));
        }
        share *= 0.5;
    }
    None
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
        let Ok(found) = fit_with(bench, ranges, goal, &held) else {
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
