//! Why variants failed, counted.

use crate::{Piece, Sentence};

/// Reasons that are told apart; more would not be read.
const MOST_REASONS: usize = 20;

/// Variants that could not be built or read for one reason.
#[derive(Debug, Clone, PartialEq)]
pub struct FailedVariants {
    /// What could not be had: the variant itself, or one of its numbers.
    pub what: String,
    /// How many.
    pub count: usize,
    /// The number of the first of them.
    pub first: usize,
    /// What was wrong with the first.
    pub reason: Sentence,
}

/// Failures by reason, in the order in which they first came.
#[derive(Debug, Default)]
pub(super) struct Reasons {
    found: Vec<(String, FailedVariants)>,
}

impl Reasons {
    pub(super) fn add(&mut self, variant: usize, what: &str, reason: Sentence) {
        let key = kind(&reason);
        let place = self
            .found
            .iter()
            .position(|(known, failed)| *known == key && failed.what == what)
            .or((self.found.len() >= MOST_REASONS).then_some(MOST_REASONS - 1));
        match place.and_then(|place| self.found.get_mut(place)) {
            Some((_, failed)) => failed.count += 1,
            None => self.found.push((
                key,
                FailedVariants {
                    what: what.to_owned(),
                    count: 1,
                    first: variant,
                    reason,
                },
            )),
        }
    }

    pub(super) fn into_list(self) -> Vec<FailedVariants> {
        self.found.into_iter().map(|(_, failed)| failed).collect()
    }
}

/// The words of a reason without its numbers: alike for variants that fail alike.
fn kind(reason: &Sentence) -> String {
    let words = reason.pieces().iter().filter_map(|piece| match piece {
        Piece::Words(words) => Some(words.as_ref()),
        Piece::Quantity(..) => None,
    });
    let letters = words.flat_map(str::chars);
    letters
        .filter(|letter| !letter.is_ascii_digit() && !".-".contains(*letter))
        .collect()
}
