//! Which numbers the readings moved.

use super::Calibrated;
use crate::study::changes::{core_factor, symbol_of};
use crate::units::Units;

/// A number that moved: name, change, standard deviations before and after, shown units; and the change in deviations.
pub(super) struct Moved {
    pub(super) name: String,
    pub(super) symbol: String,
    pub(super) change: f64,
    pub(super) before: f64,
    pub(super) after: f64,
    pub(super) share: f64,
}

pub(super) fn moved(calibrated: &Calibrated, units: &Units) -> Vec<Moved> {
    let numbers = calibrated.surveyed.numbers();
    let before = calibrated.prior().deviations();
    let after = calibrated.found.posterior.deviations();
    let places = calibrated.prior().places().iter().zip(&calibrated.found.changes);
    let all = places
        .zip(before.iter().zip(&after))
        .filter_map(|((place, change), (before, after))| {
            let number = numbers.get(*place)?;
            let factor = core_factor(number.quantity, units);
            (*before > 0.0).then(|| Moved {
                name: number.name.clone(),
                symbol: symbol_of(number.quantity, units),
                change: change / factor,
                before: before / factor,
                after: after / factor,
                share: change / before,
            })
        });
    let mut all: Vec<Moved> = all.collect();
    all.sort_by(|one, other| other.share.abs().total_cmp(&one.share.abs()));
    all
}
