//! The next pose of a sweep, from the last ones and their exact rates.

use super::{Guess, Pose, Twist};
use crate::numeric::hermite::{MOST_POINTS, Weights};
use nalgebra::Vector3;

/// A pose as numbers that change smoothly: the displacement and the Rodrigues parameters.
type Numbers = [f64; 6];

/// The last poses along one path with their rates, newest first.
#[derive(Clone)]
pub(crate) struct Predictor {
    places: [f64; MOST_POINTS],
    values: [Numbers; MOST_POINTS],
    slopes: [Numbers; MOST_POINTS],
    count: usize,
    weights: Weights,
}

impl Predictor {
    pub(crate) fn new() -> Self {
        Self {
            places: [0.0; MOST_POINTS],
            values: [[0.0; 6]; MOST_POINTS],
            slopes: [[0.0; 6]; MOST_POINTS],
            count: 0,
            weights: Weights::new(),
        }
    }

    /// Whether it knows no pose.
    pub(crate) fn is_empty(&self) -> bool {
        self.count == 0
    }

    /// Whether it knows as many poses as it can use.
    pub(crate) fn is_full(&self) -> bool {
        self.count == MOST_POINTS
    }

    /// The same poses for a walk the other way, which starts at the oldest.
    pub(crate) fn turned_round(&self) -> Self {
        let mut turned = self.clone();
        turned.places[..self.count].reverse();
        turned.values[..self.count].reverse();
        turned.slopes[..self.count].reverse();
        turned
    }

    /// Remembers a pose at this place along the path with its rates there.
    #[inline]
    pub(crate) fn remember(&mut self, place: f64, pose: &Pose, twist: &Twist) {
        for older in (1..MOST_POINTS).rev() {
            self.places[older] = self.places[older - 1];
            self.values[older] = self.values[older - 1];
            self.slopes[older] = self.slopes[older - 1];
        }
        let numbers = |a: &Vector3<f64>, b: &Vector3<f64>| [a.x, a.y, a.z, b.x, b.y, b.z];
        self.places[0] = place;
        self.values[0] = numbers(&pose.displacement, &pose.parameters);
        self.slopes[0] = numbers(&twist.linear, &pose.parameter_rates(&twist.angular));
        self.count = (self.count + 1).min(MOST_POINTS);
    }

    /// The pose expected `step` further along the path.
    #[inline]
    pub(crate) fn predict(&mut self, step: f64) -> Guess {
        let [dx, dy, dz, x, y, z] = self.extrapolate(step);
        Guess {
            displacement: Vector3::new(dx, dy, dz),
            parameters: Vector3::new(x, y, z),
        }
    }

    #[inline(always)]
    fn extrapolate(&mut self, step: f64) -> Numbers {
        let (of_values, of_slopes) = self.weights.for_step(&self.places, self.count, step);
        let mut sum = [0.0; 6];
        // The newest, which is known last, comes last.
        for point in (0..MOST_POINTS).rev() {
            let (value, slope) = (&self.values[point], &self.slopes[point]);
            for number in 0..6 {
                sum[number] += of_values[point] * value[number] + of_slopes[point] * slope[number];
            }
        }
        sum
    }
}
