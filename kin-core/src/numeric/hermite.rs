//! Extrapolation along a path from the last values and their exact slopes.
//!
//! The polynomial that takes the values and the slopes of the last points (Hermite interpolation) is carried one
//! step beyond them. With the Lagrange polynomials `l_i` of the points `x_i`, the value at x is the sum of
//! `(1 - 2 (x - x_i) l_i'(x_i)) l_i(x)^2 y_i + (x - x_i) l_i(x)^2 y_i'`. Source: any text on interpolation (from
//! memory); the tests below check what it must do.

/// How many past points are used at most.
///
/// Three miss by `h^6 / 20` times the sixth derivative: 1e-12 mm for steps of 1 mm on links of a few hundred
/// millimetres, so that one factorisation a position is enough.
pub(crate) const MOST_POINTS: usize = 3;

/// Points are left out where a weight would be greater than this: round-off in the values grows by as much.
const GREATEST_WEIGHT: f64 = 1e3;

/// Weights for one more step, remembered along even steps.
#[derive(Clone)]
pub(crate) struct Weights {
    /// The step that they are for.
    step: f64,
    /// Whether all points lie this step apart, so that the weights hold for the next such step as well.
    even: bool,
    of_values: [f64; MOST_POINTS],
    of_slopes: [f64; MOST_POINTS],
}

impl Weights {
    pub(crate) fn new() -> Self {
        Self {
            step: 0.0,
            even: false,
            of_values: [0.0; MOST_POINTS],
            of_slopes: [0.0; MOST_POINTS],
        }
    }

    /// Weights of values and of slopes for a step `step` ahead of the newest point.
    ///
    /// * `places`: where the points lie, newest first; the first `count` (one or more) are all distinct. Each call
    ///   finds the point that the last one stepped to in front
    #[inline]
    pub(crate) fn for_step(
        &mut self,
        places: &[f64; MOST_POINTS],
        count: usize,
        step: f64,
    ) -> (&[f64; MOST_POINTS], &[f64; MOST_POINTS]) {
        if !(self.even && is_even(step, self.step)) {
            self.renew(&places[..count], step);
        }
        (&self.of_values, &self.of_slopes)
    }

    #[cold]
    #[inline(never)]
    fn renew(&mut self, places: &[f64], step: f64) {
        let mut nodes = [0.0; MOST_POINTS];
        for (node, place) in nodes.iter_mut().zip(places) {
            *node = (place - places[0]) / step;
        }
        self.step = step;
        self.even =
            places.len() == MOST_POINTS && places.windows(2).all(|pair| is_even(pair[0] - pair[1], step));
        for used in (1..=places.len()).rev() {
            (self.of_values, self.of_slopes) = one_step_ahead(&nodes[..used]);
            if self.of_values.iter().all(|weight| weight.abs() < GREATEST_WEIGHT) {
                break;
            }
        }
        self.of_slopes = self.of_slopes.map(|weight| weight * step);
    }
}

/// Whether two steps are equal but for the round-off of the places.
#[inline]
fn is_even(step: f64, other: f64) -> bool {
    (step - other).abs() < 1e-9 * step.abs()
}

/// Weights of values and slopes at 1, the newest node being 0.
fn one_step_ahead(nodes: &[f64]) -> ([f64; MOST_POINTS], [f64; MOST_POINTS]) {
    let mut of_values = [0.0; MOST_POINTS];
    let mut of_slopes = [0.0; MOST_POINTS];
    for (own, &node) in nodes.iter().enumerate() {
        // l(1) and l'(node) of the node's Lagrange polynomial
        let (mut lagrange, mut slope) = (1.0, 0.0);
        for (_, other) in nodes.iter().enumerate().filter(|(place, _)| *place != own) {
            lagrange *= (1.0 - other) / (node - other);
            slope += 1.0 / (node - other);
        }
        of_values[own] = (1.0 - 2.0 * (1.0 - node) * slope) * lagrange * lagrange;
        of_slopes[own] = (1.0 - node) * lagrange * lagrange;
    }
    (of_values, of_slopes)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Hand-made for even steps, from exactness on the powers 1 to x^5: y = -18 y0 + 9 y1 + 10 y2
    /// + h (9 y0' + 18 y1' + 3 y2').
    #[test]
    fn even_steps_give_the_hand_made_weights() {
        let mut weights = Weights::new();
        let (of_values, of_slopes) = weights.for_step(&[6.0, 4.0, 2.0], 3, 2.0);
        for (found, expected) in of_values.iter().zip([-18.0, 9.0, 10.0]) {
            assert!((found - expected).abs() < 1e-12);
        }
        for (found, expected) in of_slopes.iter().zip([9.0, 18.0, 3.0]) {
            assert!((found - 2.0 * expected).abs() < 1e-12);
        }
    }

    #[test]
    fn uneven_steps_continue_a_quintic_exactly() {
        let places = [3.0, 1.5, 1.0];
        let height = |x: f64| x.powi(5) - 0.5 * x * x + 2.0 * x;
        let slope = |x: f64| 5.0 * x.powi(4) - x + 2.0;
        let mut weights = Weights::new();
        let (of_values, of_slopes) = weights.for_step(&places, 3, 0.7);
        let mut sum = 0.0;
        for (place, (value, rate)) in places.iter().zip(of_values.iter().zip(of_slopes)) {
            sum += value * height(*place) + rate * slope(*place);
        }
        assert!((sum - height(3.7)).abs() < 1e-9);
    }

    #[test]
    fn weights_follow_a_change_of_the_step() {
        let mut weights = Weights::new();
        let first = *weights.for_step(&[2.0, 1.0, 0.0], 3, 1.0).0;
        assert_eq!(*weights.for_step(&[3.0, 2.0, 1.0], 3, 1.0).0, first);
        let half = *weights.for_step(&[4.0, 3.0, 2.0], 3, 0.5).0;
        assert_ne!(half, first);
        // The points are uneven now, although the step stays.
        assert_ne!(*weights.for_step(&[4.5, 4.0, 3.0], 3, 0.5).0, half);
    }

    #[test]
    fn points_too_close_together_for_a_long_step_are_left_out() {
        let mut weights = Weights::new();
        let (of_values, of_slopes) = weights.for_step(&[0.002, 0.001, 0.0], 3, 10.0);
        assert_eq!(*of_values, [1.0, 0.0, 0.0]);
        assert_eq!(*of_slopes, [10.0, 0.0, 0.0]);
    }
}
