//! The limit of reach: where the linkage itself ends.
//!
//! Along a line of commands the carrier is followed by the length of its own motion instead of by the command.
//! Where the command stops growing, the linkage folds: the Jacobian is singular there, and two assemblies meet.

use super::track::Track;
use super::{Pose, Solved, Twist};
use crate::linkage::{Command, LEVER_MM, Linkage};
use crate::numeric::lu::Lu;

/// The limits of reach on both sides of the pickups (mm of the command); none where no end was met.
///
/// Of an axle that is held too much they are about the last travels at which its bushings balance.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Reach {
    /// The greatest command that can be reached.
    pub highest: Option<f64>,
    /// The least command that can be reached.
    pub lowest: Option<f64>,
}

/// Longest step of the carrier (mm, rotation counted at the lever).
const LONGEST_STEP: f64 = 8.0;
/// Step (mm of the command) in which a carrier that is held too much is followed to its last trusted pose.
const TRUST_STEP: f64 = 2.0;
/// As far as that (mm of the command) it is followed.
const TRUST_LOOKED_AT: f64 = 600.0;
/// Room (mm of the command) kept from where its balance is singular: on the way there other steps are taken.
const CLEAR_OF_SINGULAR: f64 = 1.0;
/// A step this short (mm) that still fails has met a place where the path branches.
const SHORTEST_STEP: f64 = 1e-7;
/// No wheel moves farther than this (mm) before it meets something.
const LONGEST_PATH: f64 = 1_500.0;
/// Share of the command in the direction of motion at which the end is taken as found: the command is then
/// within the square of this, times some hundred millimetres, of its greatest value.
const TURNED: f64 = 1e-8;

/// Where the carrier is along its path: pose, how far the command has gone, and the unit tangent.
#[derive(Clone, Copy)]
struct Place {
    pose: Pose,
    gone: f64,
    tangent: [f64; 7],
}

/// Both limits of reach along a direction of the command, from a known pose.
pub(crate) fn reach(linkage: &Linkage, start: &Solved, direction: &Command) -> Reach {
    let limit = |towards| {
        if !linkage.held_too_much {
            return limit_along(linkage, start, direction, towards);
        }
        let Some(single) = linkage.without_doubles() else {
            return last_trusted(linkage, start, direction, towards);
        };
        // The bushings of doubled links balance only short of where single ones fold.
        limit_along(&single, &single.as_measured, direction, towards)
            .map(|end| (end.abs() - CLEAR_OF_SINGULAR).max(0.0) * towards)
    };
    Reach {
        highest: limit(1.0),
        lowest: limit(-1.0),
    }
}

/// How far a carrier that is held too much can be followed, less a millimetre; none if it can be as far as is looked.
///
fn last_trusted(linkage: &Linkage, start: &Solved, direction: &Command, towards: f64) -> Option<f64> {
    let mut track = Track::new(linkage, start, *direction, "travel");
    let mut solved = *start;
    let mut good = 0.0;
    while good < TRUST_LOOKED_AT {
        let next = good + TRUST_STEP;
        if track.advance_to(next * towards, &mut solved).is_err() {
            return Some((good - CLEAR_OF_SINGULAR).max(0.0) * towards);
        }
        good = next;
    }
    None
}

/// How far the command can go from a known pose, in the direction of `towards`; none if no end is met.
///
/// A carrier that is held too much is not asked: its bushings give, and [`reach`] follows it instead.
pub(crate) fn limit_along(
    linkage: &Linkage,
    start: &Solved,
    direction: &Command,
    towards: f64,
) -> Option<f64> {
    if linkage.held_too_much {
        return None;
    }
    let mut here = begin(linkage, start, direction, towards)?;
    let mut step = 1.0;
    let mut path = 0.0;
    while path < LONGEST_PATH {
        let Some(next) = advance(linkage, start, direction, &here, step) else {
            step *= 0.5;
            if step < SHORTEST_STEP {
                return None;
            }
            continue;
        };
        if next.tangent[6] * towards <= 0.0 {
            return turning_point(linkage, start, direction, &here, step, &next);
        }
        path += step;
        here = next;
        step = (1.5 * step).min(LONGEST_STEP);
    }
    None
}

fn begin(linkage: &Linkage, start: &Solved, direction: &Command, towards: f64) -> Option<Place> {
    let guess = Place {
        pose: start.pose,
        gone: 0.0,
        tangent: [0.0, 0.0, 0.0, 0.0, 0.0, 0.0, towards.signum()],
    };
    let tangent = tangent(linkage, start, direction, &guess)?;
    Some(Place { tangent, ..guess })
}

/// The seven equations at a place: the constraints, with the command as seventh unknown, and a given last row.
fn bordered(
    linkage: &Linkage,
    start: &Solved,
    direction: &Command,
    place: &Place,
    last_row: &[f64; 7],
) -> ([[f64; 7]; 7], [f64; 7]) {
    let mut command = start.command;
    for (value, rate) in command.iter_mut().zip(direction) {
        *value += place.gone * rate;
    }
    let constraints = linkage.constraints(&place.pose, &command);
    let drive = linkage.drive(&constraints.per_rack, direction);
    let mut rows = [[0.0; 7]; 7];
    let mut residual = [0.0; 7];
    for (place, row) in rows.iter_mut().take(6).enumerate() {
        for (column, value) in constraints.jacobian[place].iter().enumerate() {
            row[column] = if column < 3 { *value } else { value / LEVER_MM };
        }
        row[6] = -drive[place];
        residual[place] = constraints.residual[place];
    }
    rows[6] = *last_row;
    (rows, residual)
}

/// The unit tangent of the path, on the side of the tangent already known.
fn tangent(linkage: &Linkage, start: &Solved, direction: &Command, place: &Place) -> Option<[f64; 7]> {
    let (rows, _) = bordered(linkage, start, direction, place, &place.tangent);
    let solution = Lu::new(rows)?.solve(&[0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0]);
    let norm = solution.iter().map(|part| part * part).sum::<f64>().sqrt();
    norm.is_finite().then(|| solution.map(|part| part / norm))
}

fn moved(place: &Place, change: &[f64; 7]) -> Place {
    let mut step = Twist::from_parts(change);
    step.angular /= LEVER_MM;
    Place {
        pose: place.pose.stepped(&step),
        gone: place.gone + change[6],
        tangent: place.tangent,
    }
}

/// One step along the path; none when it does not converge close by, or turns too sharply to be trusted.
fn advance(linkage: &Linkage, start: &Solved, direction: &Command, from: &Place, step: f64) -> Option<Place> {
    let mut place = moved(from, &from.tangent.map(|part| part * step));
    let mut allowed = 0.2 * step.abs();
    for _ in 0..20 {
        let (rows, residual) = bordered(linkage, start, direction, &place, &from.tangent);
        let change = Lu::new(rows)?.solve(&residual.map(|miss| -miss));
        let size = change.iter().fold(0.0_f64, |most, part| most.max(part.abs()));
        if size.is_nan() || size > allowed.max(1e-9) {
            return None;
        }
        place = moved(&place, &change);
        if size < 1e-10 {
            let tangent = tangent(linkage, start, direction, &place)?;
            let along: f64 = tangent.iter().zip(&from.tangent).map(|(a, b)| a * b).sum();
            return (along > 0.95).then_some(Place { tangent, ..place });
        }
        allowed = 0.5 * size;
    }
    None
}

/// The greatest command between two places on either side of the fold, by false position on the tangent.
fn turning_point(
    linkage: &Linkage,
    start: &Solved,
    direction: &Command,
    from: &Place,
    step: f64,
    beyond: &Place,
) -> Option<f64> {
    let (mut low, mut low_value) = (0.0, from.tangent[6]);
    let (mut high, mut high_value) = (step, beyond.tangent[6]);
    let mut best = beyond.gone;
    for _ in 0..100 {
        let middle = low + (high - low) * low_value / (low_value - high_value);
        let place = advance(linkage, start, direction, from, middle)?;
        best = place.gone;
        let value = place.tangent[6];
        if value.abs() < TURNED || high - low < SHORTEST_STEP {
            return Some(best);
        }
        // The end kept twice counts half (Illinois rule), or false position would creep.
        if (value > 0.0) == (low_value > 0.0) {
            (low, low_value) = (middle, value);
            high_value *= 0.5;
        } else {
            (high, high_value) = (middle, value);
            low_value *= 0.5;
        }
    }
    Some(best)
}
