//! The axis that keeps the worst angle of a joint least.

use nalgebra::Vector3;

/// How far from the axis at hand one search looks (the tangent of the angle); searches repeat from where they end.
const LOOK: f64 = 0.5;
/// Golden sections of a search: the axis is then good to 1e-8 of [`LOOK`].
const SECTIONS: usize = 40;
/// Searches from one start: each is exact but for the square of its own move.
const SEARCHES: usize = 12;

/// What is asked of an axis.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Wish {
    /// At right angles to every direction: a pin across a rod.
    Across,
    /// Close to every direction: a socket around a stud.
    Along,
}

impl Wish {
    /// The angle (rad) by which an axis misses a direction, both of unit length.
    pub(super) fn angle(self, axis: &Vector3<f64>, direction: &Vector3<f64>) -> f64 {
        let along = axis.dot(direction);
        match self {
            Self::Across => along.abs().atan2(axis.cross(direction).norm()),
            Self::Along => axis.cross(direction).norm().atan2(along),
        }
    }

    fn worst(self, axis: &Vector3<f64>, directions: &[Vector3<f64>]) -> f64 {
        directions
            .iter()
            .map(|direction| self.angle(axis, direction))
            .fold(0.0, f64::max)
    }
}

/// The axis with the least worst angle to all directions, near the axis given.
///
/// In the plane that touches the unit sphere at the axis, the worst angle is a function with one valley: for a socket
/// exactly so, for a pin to the square of the distance, so that the plane is laid anew until the axis rests.
pub(super) fn best(wish: Wish, given: &Vector3<f64>, directions: &[Vector3<f64>]) -> Vector3<f64> {
    let mut axis = *given;
    for _ in 0..SEARCHES {
        let next = search(wish, &axis, directions);
        if wish.worst(&next, directions) >= wish.worst(&axis, directions) {
            break;
        }
        axis = next;
    }
    axis
}

fn search(wish: Wish, axis: &Vector3<f64>, directions: &[Vector3<f64>]) -> Vector3<f64> {
    let aside = if axis.x.abs() < 0.8 {
        Vector3::x()
    } else {
        Vector3::y()
    };
    let first = axis.cross(&aside).normalize();
    let second = axis.cross(&first);
    let worst = |a: f64, b: f64| {
        let tilted = axis + first * a + second * b;
        match wish {
            // Left without the division by the length of the axis, this is a convex function of the tilt.
            Wish::Across => directions
                .iter()
                .map(|direction| tilted.dot(direction).abs())
                .fold(0.0, f64::max),
            // The chord grows with the angle.
            Wish::Along => {
                let axis = tilted.normalize();
                directions
                    .iter()
                    .map(|direction| (axis - direction).norm_squared())
                    .fold(0.0, f64::max)
            }
        }
    };
    let best_second = |a: f64| valley(&|b| worst(a, b));
    let a = valley(&|a| worst(a, best_second(a)));
    (axis + first * a + second * best_second(a)).normalize()
}

fn valley(function: &dyn Fn(f64) -> f64) -> f64 {
    let section = 0.5 * (5.0_f64.sqrt() - 1.0);
    let (mut low, mut high) = (-LOOK, LOOK);
    let (mut first, mut second) = (high - section * (high - low), low + section * (high - low));
    let (mut at_first, mut at_second) = (function(first), function(second));
    for _ in 0..SECTIONS {
        if at_first <= at_second {
            high = second;
            (second, at_second) = (first, at_first);
            first = high - section * (high - low);
            at_first = function(first);
        } else {
            low = first;
            (first, at_first) = (second, at_second);
            second = low + section * (high - low);
            at_second = function(second);
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn unit(x: f64, y: f64, z: f64) -> Vector3<f64> {
        Vector3::new(x, y, z).normalize()
    }

    #[test]
    fn a_pin_finds_the_plane_that_a_rod_swings_in() {
        let across = unit(1.0, 0.2, -0.1);
        let in_plane = across.cross(&Vector3::z()).normalize();
        let other = across.cross(&in_plane);
        let rods: Vec<_> = (0..20)
            .map(|step| {
                let turn = 0.05 * f64::from(step);
                in_plane * turn.cos() + other * turn.sin()
            })
            .collect();
        let found = best(Wish::Across, &Vector3::x(), &rods);
        assert!(Wish::Across.worst(&found, &rods) < 1e-8);
        assert!((found - across).norm() < 1e-6, "{found}");
    }

    #[test]
    fn a_socket_stands_half_way_between_the_ends() {
        let studs: Vec<_> = (0..=10)
            .map(|step| (0.04 * f64::from(step)).sin_cos())
            .map(|(s, c)| Vector3::new(s, 0.0, c))
            .collect();
        let found = best(Wish::Along, &Vector3::z(), &studs);
        assert!((Wish::Along.worst(&found, &studs) - 0.2).abs() < 1e-8);
    }
}
