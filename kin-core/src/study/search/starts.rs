//! Where a search begins: the description as it is, and places drawn by a seed.

use super::SearchQuestion;
use rand_pcg::Pcg64;
use rand_pcg::rand_core::Rng;

/// The starts, each with one value for every move. Each has its own stream of the generator, so that the third start is the
/// same however many are asked.
pub(super) fn begins(question: &SearchQuestion) -> Vec<Vec<f64>> {
    let moves = &question.moves;
    let first = moves
        .iter()
        .map(|one| 0.0_f64.clamp(one.range.0, one.range.1))
        .collect();
    let others = if moves.is_empty() {
        0
    } else {
        question.starts.saturating_sub(1)
    };
    let mut all = vec![first];
    for index in 0..others {
        let mut generator = Pcg64::new(question.seed.into(), index as u128);
        let drawn = moves.iter().map(|one| {
            // The upper 53 bits make a number from 0 up to 1.
            let share = (generator.next_u64() >> 11) as f64 / (1_u64 << 53) as f64;
            one.range.0 + share * (one.range.1 - one.range.0)
        });
        all.push(drawn.collect());
    }
    all
}
