//! What is remembered along a path: the last poses to go on from, and the first ones for the way back.

use super::predict::Predictor;
use super::{Guess, Pose, Twist};
use crate::numeric::hermite::MOST_POINTS;

/// The poses that a path has visited so far, as far as they serve to predict the next one.
#[derive(Clone)]
pub(crate) struct Trail {
    place: f64,
    last_poses: Predictor,
    first_poses: Predictor,
    first_place: f64,
}

impl Trail {
    /// Has visited nothing.
    pub(crate) fn new() -> Self {
        Self {
            place: 0.0,
            last_poses: Predictor::new(),
            first_poses: Predictor::new(),
            first_place: 0.0,
        }
    }

    /// Where along the path it stands.
    #[inline]
    pub(crate) fn place(&self) -> f64 {
        self.place
    }

    /// Whether it has visited nothing.
    pub(crate) fn is_empty(&self) -> bool {
        self.last_poses.is_empty()
    }

    /// Whether it knows as many poses as it can use.
    #[inline]
    pub(crate) fn is_full(&self) -> bool {
        self.last_poses.is_full()
    }

    /// The pose expected at another place, from one pose or more.
    #[inline]
    pub(crate) fn predict(&mut self, place: f64) -> Guess {
        self.last_poses.predict(place - self.place)
    }

    /// Goes on to a place where the pose is known with its rates.
    #[inline]
    pub(crate) fn remember(&mut self, place: f64, pose: &Pose, twist: &Twist) {
        self.place = place;
        self.last_poses.remember(place, pose, twist);
        if !self.first_poses.is_full() {
            self.remember_first();
        }
    }

    #[inline(never)]
    fn remember_first(&mut self) {
        if self.first_poses.is_empty() {
            self.first_place = self.place;
        }
        self.first_poses = self.last_poses.clone();
    }

    /// Goes back to the first place, to walk the other way.
    pub(crate) fn turn_round(&mut self) {
        self.place = self.first_place;
        self.last_poses = self.first_poses.turned_round();
    }

    /// Turns round if `place` lies on the other side of the first place than the last one.
    fn turn_towards(&mut self, place: f64) {
        if (place - self.first_place) * (self.place - self.first_place) < 0.0 {
            self.turn_round();
        }
    }
}

/// Trails across walks that lie side by side and visit the same places, such as the rows of a grid: when a walk starts,
/// it knows little about its own way, but the walks before it have been there.
///
/// "Across" is where a walk lies among the others: the command that is the same all along it.
pub(crate) struct Beside {
    trails: [Trail; MOST_POINTS],
}

impl Beside {
    pub(crate) fn new() -> Self {
        Self {
            trails: std::array::from_fn(|_| Trail::new()),
        }
    }

    /// The pose expected at one of the first visits of a walk; none where the walks before it say nothing.
    pub(super) fn predict(&mut self, visit: usize, across: f64) -> Option<Guess> {
        let trail = self.trails.get_mut(visit)?;
        trail.turn_towards(across);
        (!trail.is_empty() && trail.place() != across).then(|| trail.predict(across))
    }

    /// Remembers what one of the visits of a walk found, for the walks after it.
    pub(super) fn remember(&mut self, visit: usize, across: f64, pose: &Pose, twist: &Twist) {
        if let Some(trail) = self.trails.get_mut(visit)
            && (trail.is_empty() || trail.place() != across)
        {
            trail.remember(across, pose, twist);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::Vector3;

    /// A pose that moves along X with the cube of the place, and its rates.
    fn cube(place: f64) -> (Pose, Twist) {
        let pose = Pose::new(Vector3::x() * place.powi(3), Vector3::zeros());
        let mut twist = Twist::zero();
        twist.linear.x = 3.0 * place * place;
        (pose, twist)
    }

    fn expected(beside: &mut Beside, across: f64) -> Option<f64> {
        beside.predict(1, across).map(|guess| guess.displacement.x)
    }

    #[test]
    fn walks_are_predicted_from_the_ones_before_them_on_either_side_of_the_first() {
        let mut beside = Beside::new();
        assert_eq!(expected(&mut beside, 10.0), None);
        for across in [10.0, 12.0, 14.0] {
            let (pose, twist) = cube(across);
            beside.remember(1, across, &pose, &twist);
        }
        assert_eq!(expected(&mut beside, 14.0), None, "it stands there");
        assert!((expected(&mut beside, 16.0).expect("known") - 4096.0).abs() < 1e-9);
        assert!((expected(&mut beside, 8.0).expect("known") - 512.0).abs() < 1e-9);
        assert_eq!(beside.predict(0, 8.0), None, "no walk has told of that visit");
        assert_eq!(beside.predict(MOST_POINTS, 8.0), None);
    }
}
