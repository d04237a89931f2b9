//! Boxes in any orientation.

use super::{Closest, Segment};
use nalgebra::{Matrix3, Vector3};

/// A solid box.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cuboid {
    /// Its centre (mm).
    pub centre: Vector3<f64>,
    /// Its three edges' directions: orthonormal columns.
    pub axes: Matrix3<f64>,
    /// Half of its size along each of them (mm).
    pub half: Vector3<f64>,
}

impl Cuboid {
    #[inline]
    fn inside(&self, point: &Vector3<f64>) -> Vector3<f64> {
        self.axes.tr_mul(&(point - self.centre))
    }

    #[inline]
    fn outside(&self, local: &Vector3<f64>) -> Vector3<f64> {
        self.centre + self.axes * local
    }

    /// The corner farthest along a direction.
    #[must_use]
    pub fn farthest(&self, direction: &Vector3<f64>) -> Vector3<f64> {
        let along = self.axes.tr_mul(direction);
        self.outside(&self.half.zip_map(&along, |half, along| half.copysign(along)))
    }

    /// The eight corners.
    #[must_use]
    pub fn corners(&self) -> [Vector3<f64>; 8] {
        std::array::from_fn(|place| {
            let sign = |bit: usize| if place >> bit & 1 == 0 { 1.0 } else { -1.0 };
            self.outside(&self.half.component_mul(&Vector3::new(sign(0), sign(1), sign(2))))
        })
    }

    /// The twelve edges.
    #[must_use]
    pub fn edges(&self) -> [Segment; 12] {
        let corners = self.corners();
        std::array::from_fn(|place| {
            // Four edges along each axis, between corners that differ in that axis' bit only.
            let (axis, which) = (place / 4, place % 4);
            let low = which & ((1 << axis) - 1);
            let from = ((which >> axis) << (axis + 1)) | low;
            Segment {
                start: corners[from],
                end: corners[from | 1 << axis],
            }
        })
    }

    /// The closest points of the box and a segment; the box comes first.
    ///
    /// Along the segment half the squared distance to the box is convex and has a slope that is linear between at
    /// most six places where a face's plane is crossed. Those places shrink the bracket of the root of the slope
    /// until it is linear inside; there the root is exact.
    #[inline]
    #[must_use]
    pub fn closest_to_segment(&self, segment: &Segment) -> Closest {
        let start = self.inside(&segment.start);
        let along = self.inside(&segment.end) - start;
        let share = self.share_of_least(&start, &along);
        let on_segment = start + along * share;
        let on_box = on_segment.zip_map(&self.half, |place, half| place.clamp(-half, half));
        let span = on_segment - on_box;
        if span == Vector3::zeros() {
            return Closest::meeting(segment.at(share));
        }
        Closest::between(self.outside(&on_box), segment.at(share))
    }

    /// Where along `start + share * along` (seen from the box) the distance is least.
    #[inline]
    fn share_of_least(&self, start: &Vector3<f64>, along: &Vector3<f64>) -> f64 {
        let slope = |share: f64| {
            let mut sum = 0.0;
            for axis in 0..3 {
                let place = start[axis] + along[axis] * share;
                sum += (place - place.clamp(-self.half[axis], self.half[axis])) * along[axis];
            }
            sum
        };
        if slope(0.0) >= 0.0 {
            return 0.0;
        }
        if slope(1.0) <= 0.0 {
            return 1.0;
        }
        let (mut low, mut high) = (0.0, 1.0);
        for axis in 0..3 {
            for face in [-self.half[axis], self.half[axis]] {
                let crossing = (face - start[axis]) / along[axis];
                if crossing > low && crossing < high {
                    if slope(crossing) < 0.0 {
                        low = crossing;
                    } else {
                        high = crossing;
                    }
                }
            }
        }
        // Between two crossings the same faces are the nearest throughout.
        let middle = 0.5 * (low + high);
        let (mut moment, mut stiffness) = (0.0, 0.0);
        for axis in 0..3 {
            let place = start[axis] + along[axis] * middle;
            let face = place.clamp(-self.half[axis], self.half[axis]);
            if face != place {
                moment += (face - start[axis]) * along[axis];
                stiffness += along[axis] * along[axis];
            }
        }
        if stiffness > 0.0 {
            (moment / stiffness).clamp(low, high)
        } else {
            middle
        }
    }

    /// The closest points of two boxes; this one comes first.
    ///
    /// Two boxes apart are closest either at two edges or at a corner and a face, so that an edge of one or of the
    /// other is always involved.
    #[must_use]
    pub fn closest_to_cuboid(&self, other: &Self) -> Closest {
        let ours = self.edges().map(|edge| other.closest_to_segment(&edge).swapped());
        let theirs = other.edges().map(|edge| self.closest_to_segment(&edge));
        ours.into_iter()
            .chain(theirs)
            .reduce(Closest::nearer)
            .unwrap_or_else(|| Closest::meeting(self.centre))
    }
}
