//! The distance between two segments.

use crate::pickups::Point;
use nalgebra::Vector3;

/// A straight line between two points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Line {
    pub(super) start: Point,
    pub(super) end: Point,
}

impl Line {
    fn along(&self) -> Vector3<f64> {
        self.end - self.start
    }

    /// Distance of a point (mm).
    fn to_point(self, point: &Point) -> f64 {
        let along = self.along();
        let size = along.norm_squared();
        let share = if size > 0.0 {
            (along.dot(&(point - self.start)) / size).clamp(0.0, 1.0)
        } else {
            0.0
        };
        (self.start + along * share - point).norm()
    }

    /// Distance of another segment (mm): inside both, where the square to both lines meets them, or at an end of one.
    pub(super) fn to_line(self, other: &Self) -> f64 {
        let ends = [
            self.to_point(&other.start),
            self.to_point(&other.end),
            other.to_point(&self.start),
            other.to_point(&self.end),
        ];
        let at_ends = ends.into_iter().fold(f64::INFINITY, f64::min);
        let (first, second) = (self.along(), other.along());
        let square = first.cross(&second);
        let size = square.norm_squared();
        // Parallel lines are nearest at an end as well.
        if size <= 1e-24 * first.norm_squared() * second.norm_squared() {
            return at_ends;
        }
        let between = other.start - self.start;
        let on_first = between.cross(&second).dot(&square) / size;
        let on_second = between.cross(&first).dot(&square) / size;
        let inside = 0.0..=1.0;
        if inside.contains(&on_first) && inside.contains(&on_second) {
            at_ends.min(between.dot(&square).abs() / size.sqrt())
        } else {
            at_ends
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(start: [f64; 3], end: [f64; 3]) -> Line {
        Line {
            start: Point::from(start),
            end: Point::from(end),
        }
    }

    #[test]
    fn crossing_parallel_and_distant_lines() {
        let along_x = line([0.0, 0.0, 0.0], [10.0, 0.0, 0.0]);
        for (other, expected) in [
            (line([5.0, -3.0, 4.0], [5.0, 3.0, 4.0]), 4.0),
            (line([2.0, 3.0, 0.0], [30.0, 3.0, 0.0]), 3.0),
            (line([13.0, 4.0, 0.0], [20.0, 4.0, 0.0]), 5.0),
            (line([5.0, 2.0, 1.0], [5.0, 8.0, 1.0]), 5.0_f64.sqrt()),
            (line([5.0, 0.0, 0.0], [5.0, 0.0, 9.0]), 0.0),
            (line([-3.0, 4.0, 0.0], [-3.0, 4.0, 0.0]), 5.0),
        ] {
            assert!((along_x.to_line(&other) - expected).abs() < 1e-12, "{other:?}");
            assert!((other.to_line(&along_x) - expected).abs() < 1e-12, "{other:?}");
        }
    }

    /// Against points tried one by one along both lines: never farther than the nearest pair, and never nearer than that
    /// less the spacing.
    #[test]
    fn no_pair_of_points_is_nearer() {
        let mut state = 1_u32;
        let mut next = || {
            // Numerical Recipes' linear congruential generator: enough for scattered points.
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(state >> 8) / f64::from(1 << 24) * 20.0 - 10.0
        };
        for _ in 0..50 {
            let mut point = || Point::new(next(), next(), next());
            let (first, second) = (
                Line {
                    start: point(),
                    end: point(),
                },
                Line {
                    start: point(),
                    end: point(),
                },
            );
            let found = first.to_line(&second);
            let mut nearest = f64::INFINITY;
            for step in 0..=2_000 {
                let on_first = first.start + first.along() * (f64::from(step) / 2_000.0);
                nearest = nearest.min(second.to_point(&on_first));
            }
            assert!(found <= nearest + 1e-12, "{found} is above {nearest}");
            assert!(found >= nearest - 0.02, "{found} is below {nearest}");
        }
    }
}
