//! Random numbers for worksheets: the same for the same seed, on every machine.

use rand::RngExt;
use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::SeedableRng;

/// A source of random numbers that begins at a seed.
#[derive(Debug, Clone)]
pub(crate) struct Chance(Pcg64Mcg);

impl Chance {
    /// The source that this seed begins.
    pub(crate) fn new(seed: u64) -> Self {
        Self(Pcg64Mcg::seed_from_u64(seed))
    }

    /// A place in a list of this many, each as likely; none in an empty list.
    pub(crate) fn place(&mut self, count: usize) -> Option<usize> {
        // Drawn as 64 bits whatever the machine's word, so that a seed means the same everywhere.
        let count = u64::try_from(count).ok().filter(|count| *count > 0)?;
        usize::try_from(self.0.random_range(0..count)).ok()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seed_gives_its_own_numbers_again() {
        let drawn = |seed: u64| -> Vec<usize> {
            let mut chance = Chance::new(seed);
            (0..20).filter_map(|_| chance.place(1000)).collect()
        };
        assert_eq!(drawn(7), drawn(7));
        assert_ne!(drawn(7), drawn(8));
    }

    #[test]
    fn every_place_is_drawn_and_about_as_often() {
        let mut chance = Chance::new(1);
        let mut counts = [0_u32; 6];
        for _ in 0..6000 {
            counts[chance.place(6).unwrap()] += 1;
        }
        // 1000 each, standard deviation 29: five of them.
        assert!(
            counts.iter().all(|count| count.abs_diff(1000) < 145),
            "{counts:?}"
        );
        assert_eq!(chance.place(0), None);
        assert_eq!(chance.place(1), Some(0));
    }
}
