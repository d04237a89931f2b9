//! The next pose of a sweep, from the exact rates of the last ones.

use super::{Pose, Solved, spin};
use crate::numeric::adams::{MOST_SLOPES, Weights};

/// Rates of the last poses along one path.
#[derive(Clone)]
pub(crate) struct Predictor {
    places: [f64; MOST_SLOPES],
    slopes: [[f64; 7]; MOST_SLOPES],
    count: usize,
    weights: Weights,
}

impl Predictor {
    pub(crate) fn new() -> Self {
        Self {
            places: [0.0; MOST_SLOPES],
            slopes: [[0.0; 7]; MOST_SLOPES],
            count: 0,
            weights: Weights::new(),
        }
    }

    /// Remembers the rates of a pose at this place along the path.
    #[inline]
    pub(crate) fn remember(&mut self, place: f64, solved: &Solved) {
        self.places.copy_within(0..MOST_SLOPES - 1, 1);
        self.slopes.copy_within(0..MOST_SLOPES - 1, 1);
        let linear = solved.twist.linear;
        let [w, x, y, z] = spin(&(0.5 * solved.twist.angular), &solved.pose.quaternion);
        self.places[0] = place;
        self.slopes[0] = [linear.x, linear.y, linear.z, w, x, y, z];
        self.count = (self.count + 1).min(MOST_SLOPES);
    }

    /// The pose expected `step` further along the path.
    #[inline]
    pub(crate) fn predict(&mut self, from: &Pose, step: f64) -> Pose {
        let weights = self.weights.for_step(&self.places[..self.count], step);
        let mut change = [0.0; 7];
        for (weight, slope) in weights.iter().zip(&self.slopes) {
            for (sum, value) in change.iter_mut().zip(slope) {
                *sum += weight * value;
            }
        }
        let mut displacement = from.displacement;
        for (coordinate, rate) in displacement.iter_mut().zip(change) {
            *coordinate += step * rate;
        }
        let mut quaternion = from.quaternion;
        for (part, rate) in quaternion.iter_mut().zip(change.iter().skip(3)) {
            *part += step * rate;
        }
        Pose::new(displacement, quaternion)
    }
}
