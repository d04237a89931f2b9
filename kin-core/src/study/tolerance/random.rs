//! Random errors of a description, one generator for each variant.

use crate::study::Uncertainty;
use nalgebra::{DMatrix, DVector};
use rand_distr::{Distribution, StandardNormal};
use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::SeedableRng;

/// Draws the errors of a variant from its number alone, so that it does not matter which thread builds it.
#[derive(Debug)]
pub(super) struct RandomErrors {
    seed: u64,
    places: Vec<usize>,
    spread: Spread,
}

/// How independent standard normal numbers become errors.
#[derive(Debug)]
enum Spread {
    /// Independent errors by their standard deviations.
    Independent(Vec<f64>),
    /// Errors that belong together.
    Tied(DMatrix<f64>),
}

impl RandomErrors {
    pub(super) fn new(seed: u64, uncertainty: &Uncertainty) -> Self {
        let factor = uncertainty.factor();
        let off_diagonal = |(place, entry): (usize, &f64)| place % (factor.nrows() + 1) != 0 && *entry != 0.0;
        let spread = if factor.iter().enumerate().any(off_diagonal) {
            Spread::Tied(factor)
        } else {
            Spread::Independent(factor.diagonal().iter().copied().collect())
        };
        Self {
            seed,
            places: uncertainty.places().to_vec(),
            spread,
        }
    }

    /// The errors of a variant, in the order of the uncertain places.
    pub(super) fn of(&self, variant: usize) -> DVector<f64> {
        let mut generator = Pcg64Mcg::seed_from_u64(mixed(self.seed, variant as u64));
        let mut normal = || -> f64 { StandardNormal.sample(&mut generator) };
        match &self.spread {
            Spread::Independent(deviations) => {
                DVector::from_iterator(deviations.len(), deviations.iter().map(|own| own * normal()))
            }
            Spread::Tied(factor) => {
                let normals = DVector::from_fn(factor.ncols(), |_, _| normal());
                factor * normals
            }
        }
    }

    /// The errors by place in the description.
    pub(super) fn spread_out(&self, errors: &DVector<f64>) -> Vec<f64> {
        let size = self.places.iter().max().map_or(0, |last| last + 1);
        let mut changes = vec![0.0; size];
        for (place, error) in self.places.iter().zip(errors.iter()) {
            changes[*place] += error;
        }
        changes
    }
}

/// The output of the generator SplitMix64 at a place in its sequence.
///
/// Source: G. L. Steele, D. Lea, C. H. Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014 (from memory).
fn mixed(seed: u64, place: u64) -> u64 {
    const STEP: u64 = 0x9E37_79B9_7F4A_7C15;
    let mut state = seed.wrapping_add(STEP.wrapping_mul(place.wrapping_add(1)));
    state = (state ^ (state >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    state = (state ^ (state >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    state ^ (state >> 31)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples;
    use crate::study::Subject;

    #[test]
    fn errors_have_the_covariance_they_are_drawn_from() {
        let subject = Subject::from(samples::wagon_front());
        let names = ["tie_rod.outer.y", "tie_rod.outer.z"];
        let covariance = DMatrix::from_row_slice(2, 2, &[2.25, 1.2, 1.2, 1.0]);
        let known = Uncertainty::from_covariance(&subject, &names, covariance.clone()).expect("a covariance");
        let errors = RandomErrors::new(11, &known);
        let samples = 40_000;
        let mut found = DMatrix::zeros(2, 2);
        for variant in 0..samples {
            let drawn = errors.of(variant);
            found += &drawn * drawn.transpose() / samples as f64;
        }
        // A sampled variance is off by its value times the root of two over the number of samples, one sigma; five of them.
        assert!(
            (found - covariance).amax() < 5.0 * 2.25 * (2.0 / samples as f64).sqrt(),
            "the sampled covariance"
        );
    }

    #[test]
    fn neighbouring_variants_and_seeds_are_unrelated() {
        let subject = Subject::from(samples::wagon_front());
        let known = Uncertainty::of_every_coordinate(&subject, 1.0).expect("a deviation");
        let (one, other) = (RandomErrors::new(1, &known), RandomErrors::new(2, &known));
        assert_eq!(one.of(5), one.of(5));
        assert_ne!(one.of(5), one.of(6));
        assert_ne!(one.of(5), other.of(5));
        let samples = 4_000;
        let product: f64 = (0..samples)
            .map(|variant| one.of(variant).dot(&one.of(variant + 1)))
            .sum();
        let numbers = (samples * known.places().len()) as f64;
        // The mean of products of independent standard normal numbers has the standard deviation 1/sqrt(n); five of them.
        assert!((product / numbers).abs() < 5.0 / numbers.sqrt());
    }
}
