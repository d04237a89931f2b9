//! Straight segments; a point is one without length.

use super::Closest;
use nalgebra::Vector3;

/// A straight segment between two points (mm).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Segment {
    /// One end.
    pub start: Vector3<f64>,
    /// The other end.
    pub end: Vector3<f64>,
}

impl Segment {
    /// A segment without length.
    #[must_use]
    pub fn point(at: Vector3<f64>) -> Self {
        Self { start: at, end: at }
    }

    /// The place along the segment, 0 at the start and 1 at the end, that is closest to a point.
    #[inline]
    #[must_use]
    pub fn share_at(&self, point: &Vector3<f64>) -> f64 {
        let along = self.end - self.start;
        share(along.dot(&(point - self.start)), along.norm_squared())
    }

    /// The point at a share of the length, 0 at the start and 1 at the end.
    #[inline]
    #[must_use]
    pub fn at(&self, share: f64) -> Vector3<f64> {
        self.start + (self.end - self.start) * share
    }

    /// The closest points of two segments.
    ///
    /// The foot of the common normal, clamped to one segment and then to the other. It is found with cross products:
    /// dot products would lose its place along segments that are nearly parallel.
    #[inline]
    #[must_use]
    pub fn closest_to_segment(&self, other: &Self) -> Closest {
        let (along, across) = (self.end - self.start, other.end - other.start);
        let apart = self.start - other.start;
        let normal = along.cross(&across);
        let (a, b, e) = (along.norm_squared(), along.dot(&across), across.norm_squared());
        let (c, f) = (along.dot(&apart), across.dot(&apart));
        let determinant = normal.norm_squared();
        let first = if determinant > 0.0 {
            (across.cross(&apart).dot(&normal) / determinant).clamp(0.0, 1.0)
        } else {
            share(-c, a)
        };
        let unclamped = if e > 0.0 { (b * first + f) / e } else { 0.0 };
        let second = unclamped.clamp(0.0, 1.0);
        let first = if second == unclamped && determinant > 0.0 {
            first
        } else {
            share(b * second - c, a)
        };
        Closest::between(self.at(first), other.at(second))
    }
}

/// `part / whole`, kept between 0 and 1; 0 where there is no length.
#[inline]
fn share(part: f64, whole: f64) -> f64 {
    if whole > 0.0 {
        (part / whole).clamp(0.0, 1.0)
    } else {
        0.0
    }
}
