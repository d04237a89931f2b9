//! Everything on one side of a plane.

use super::{Closest, Core};
use nalgebra::{Unit, Vector3};

/// The half-space behind a plane: a floor, a firewall, the underside of a bed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HalfSpace {
    /// A point on the plane (mm).
    pub point: Vector3<f64>,
    /// Unit vector towards the free side.
    pub normal: Unit<Vector3<f64>>,
}

impl HalfSpace {
    /// The deepest point of a core, with its foot on the plane; none for another half-space.
    ///
    /// The distance is negative below the plane, to any depth.
    #[inline]
    #[must_use]
    pub fn closest_to(&self, core: &Core) -> Option<Closest> {
        let normal = self.normal.into_inner();
        let lowest = match core {
            Core::Segment(segment) => {
                let (start, end) = (normal.dot(&segment.start), normal.dot(&segment.end));
                if start < end { segment.start } else { segment.end }
            }
            Core::Cuboid(cuboid) => cuboid.farthest(&-normal),
            Core::Disc(disc) => disc.farthest(&-normal),
            Core::HalfSpace(_) => return None,
        };
        let height = normal.dot(&(lowest - self.point));
        Some(Closest {
            on_first: lowest - normal * height,
            on_second: lowest,
            distance: height,
            direction: -normal,
        })
    }
}
