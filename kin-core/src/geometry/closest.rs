//! Two cores and the points where they are closest.

use super::{Cuboid, Disc, HalfSpace, Segment, TOUCHING_MM};
use nalgebra::Vector3;

/// The closest points of two bodies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Closest {
    /// The point on the first body (mm).
    pub on_first: Vector3<f64>,
    /// The point on the second body (mm).
    pub on_second: Vector3<f64>,
    /// Their distance (mm); zero where the bodies meet, and negative only inside a half-space.
    pub distance: f64,
    /// Unit vector from the second body to the first; zero where they meet.
    pub direction: Vector3<f64>,
}

impl Closest {
    /// From two points that were found closest.
    #[inline]
    pub(crate) fn between(on_first: Vector3<f64>, on_second: Vector3<f64>) -> Self {
        let span = on_first - on_second;
        let distance = span.norm();
        if distance < TOUCHING_MM {
            return Self {
                on_first,
                on_second,
                distance: 0.0,
                direction: Vector3::zeros(),
            };
        }
        Self {
            on_first,
            on_second,
            distance,
            direction: span / distance,
        }
    }

    /// Both bodies meet at a point.
    pub(crate) fn meeting(at: Vector3<f64>) -> Self {
        Self::between(at, at)
    }

    /// The same with first and second exchanged.
    #[inline]
    #[must_use]
    pub fn swapped(&self) -> Self {
        Self {
            on_first: self.on_second,
            on_second: self.on_first,
            distance: self.distance,
            direction: -self.direction,
        }
    }

    /// Whether the two bodies meet, so that no direction leads out.
    #[inline]
    #[must_use]
    pub fn touches(&self) -> bool {
        self.direction == Vector3::zeros()
    }

    /// The nearer of two.
    #[inline]
    pub(crate) fn nearer(self, other: Self) -> Self {
        if other.distance < self.distance {
            other
        } else {
            self
        }
    }
}

/// The core of a solid: what is left when its rounding is taken off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Core {
    /// Of a capsule or, without length, of a sphere.
    Segment(Segment),
    /// A box in any orientation.
    Cuboid(Cuboid),
    /// Of a rounded disc.
    Disc(Disc),
    /// Everything on one side of a plane.
    HalfSpace(HalfSpace),
}

/// The closest points of two cores.
///
/// None for two half-spaces, and for a disc with another disc, which no question here needs.
#[inline]
#[must_use]
pub fn closest(first: &Core, second: &Core) -> Option<Closest> {
    Some(match (first, second) {
        (Core::Segment(one), Core::Segment(other)) => one.closest_to_segment(other),
        (Core::Cuboid(one), Core::Segment(other)) => one.closest_to_segment(other),
        (Core::Segment(one), Core::Cuboid(other)) => other.closest_to_segment(one).swapped(),
        (Core::Cuboid(one), Core::Cuboid(other)) => one.closest_to_cuboid(other),
        (Core::Disc(one), Core::Segment(other)) => one.closest_to_segment(other),
        (Core::Segment(one), Core::Disc(other)) => other.closest_to_segment(one).swapped(),
        (Core::Disc(one), Core::Cuboid(other)) => one.closest_to_cuboid(other),
        (Core::Cuboid(one), Core::Disc(other)) => other.closest_to_cuboid(one).swapped(),
        (one, Core::HalfSpace(other)) => other.closest_to(one)?.swapped(),
        (Core::HalfSpace(one), other) => one.closest_to(other)?,
        (Core::Disc(_), Core::Disc(_)) => return None,
    })
}
