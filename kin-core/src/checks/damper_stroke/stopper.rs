//! Who stops the suspension first.

use std::fmt;

/// What ends the wheel's travel.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Stopper {
    /// The damper, metal to metal or topped out.
    Damper,
    /// The stop of the arm or axle that the user gave.
    OwnStop,
    /// A limiting strap or hose, by name.
    Strap(String),
    /// The linkage itself, at the limit of its reach.
    Linkage,
    /// Nothing within 400 mm.
    Nothing,
}

impl fmt::Display for Stopper {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Damper => formatter.write_str("the damper"),
            Self::OwnStop => formatter.write_str("the suspension's own stop"),
            Self::Strap(name) => write!(formatter, "the strap `{name}`"),
            Self::Linkage => formatter.write_str("the linkage itself"),
            Self::Nothing => formatter.write_str("nothing"),
        }
    }
}

/// The candidate that is met first, with its travel; travels are positive in the direction of motion.
pub(super) fn first(candidates: impl IntoIterator<Item = (Stopper, Option<f64>)>) -> (Stopper, Option<f64>) {
    candidates
        .into_iter()
        .filter_map(|(stopper, travel)| travel.map(|travel| (stopper, travel)))
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map_or((Stopper::Nothing, None), |(stopper, travel)| {
            (stopper, Some(travel))
        })
}
