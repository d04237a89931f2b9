//! Flat round discs: the core of a tyre.

use super::{Closest, Cuboid, Segment};
use nalgebra::{Unit, Vector3};

/// Halvings of a bracket along an edge: more than enough to reach neighbouring doubles.
const MOST_HALVINGS: usize = 64;

/// A flat disc, filled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Disc {
    /// Its centre (mm).
    pub centre: Vector3<f64>,
    /// Its axis.
    pub axis: Unit<Vector3<f64>>,
    /// Its radius (mm).
    pub radius: f64,
}

impl Disc {
    /// The point of the disc nearest to a point.
    #[inline]
    fn nearest(&self, point: &Vector3<f64>) -> Vector3<f64> {
        let from_centre = point - self.centre;
        let in_plane = from_centre - self.axis.into_inner() * self.axis.dot(&from_centre);
        let reach = in_plane.norm();
        if reach <= self.radius {
            self.centre + in_plane
        } else {
            self.centre + in_plane * (self.radius / reach)
        }
    }

    /// The point of the disc farthest along a direction.
    #[must_use]
    pub fn farthest(&self, direction: &Vector3<f64>) -> Vector3<f64> {
        let in_plane = direction - self.axis.into_inner() * self.axis.dot(direction);
        let length = in_plane.norm();
        if length > 0.0 {
            self.centre + in_plane * (self.radius / length)
        } else {
            self.centre
        }
    }

    /// The closest points of the disc and a segment; the disc comes first.
    ///
    /// The distance to a disc is convex along a segment, and its slope there is known, so its least lies at an end
    /// or at the root of the slope, which a bracket closes in on (at most 64 halvings, to neighbouring doubles).
    #[must_use]
    pub fn closest_to_segment(&self, segment: &Segment) -> Closest {
        if let Some(meeting) = self.pierced_by(segment) {
            return Closest::meeting(meeting);
        }
        let along = segment.end - segment.start;
        let slope = |share: f64| {
            let point = segment.at(share);
            (point - self.nearest(&point)).dot(&along)
        };
        let (mut low, mut high) = (0.0, 1.0);
        let (mut at_low, mut at_high) = (slope(low), slope(high));
        let share = if at_low >= 0.0 {
            0.0
        } else if at_high <= 0.0 {
            1.0
        } else {
            for turn in 0..MOST_HALVINGS {
                // Every other step a chord, which is exact where the slope is straight.
                let chord = low + (high - low) * (at_low / (at_low - at_high));
                let next = if turn % 2 == 0 && chord > low && chord < high {
                    chord
                } else {
                    0.5 * (low + high)
                };
                let here = slope(next);
                if here == 0.0 || next <= low || next >= high {
                    low = next;
                    break;
                }
                if here < 0.0 {
                    (low, at_low) = (next, here);
                } else {
                    (high, at_high) = (next, here);
                }
            }
            low
        };
        let point = segment.at(share);
        Closest::between(self.nearest(&point), point)
    }

    /// Where a segment goes through the disc.
    fn pierced_by(&self, segment: &Segment) -> Option<Vector3<f64>> {
        let height = |point: &Vector3<f64>| self.axis.dot(&(point - self.centre));
        let (start, end) = (height(&segment.start), height(&segment.end));
        if start * end > 0.0 || start == end {
            return None;
        }
        let point = segment.at(start / (start - end));
        ((point - self.centre).norm() <= self.radius).then_some(point)
    }

    /// The closest points of the disc and a box; the disc comes first.
    ///
    /// Apart, they are closest at an edge of the box, or where the rim stands over a face.
    #[must_use]
    pub fn closest_to_cuboid(&self, cuboid: &Cuboid) -> Closest {
        if let Some(meeting) = self.meets(cuboid) {
            return Closest::meeting(meeting);
        }
        let at_edges = cuboid.edges().map(|edge| self.closest_to_segment(&edge));
        let rims = (0..3).flat_map(|axis| [1.0, -1.0].map(|sign| cuboid.axes.column(axis) * sign));
        let over_faces = rims.map(|outward| {
            let rim = self.farthest(&-outward);
            cuboid.closest_to_segment(&Segment::point(rim)).swapped()
        });
        at_edges
            .into_iter()
            .chain(over_faces)
            .reduce(Closest::nearer)
            .unwrap_or_else(|| Closest::meeting(self.centre))
    }

    /// A point that disc and box share: the box is cut by the plane of the disc, and what is left of the plane is
    /// a convex polygon, whose point nearest to the disc's centre decides.
    fn meets(&self, cuboid: &Cuboid) -> Option<Vector3<f64>> {
        let (across, along) = in_plane_axes(&self.axis);
        let from_centre = self.centre - cuboid.centre;
        let far = from_centre.norm() + 2.0 * cuboid.half.norm() + self.radius;
        let mut polygon = vec![(far, far), (-far, far), (-far, -far), (far, -far)];
        for axis in 0..3 {
            for sign in [1.0, -1.0] {
                let normal = cuboid.axes.column(axis) * sign;
                let room = cuboid.half[axis] - normal.dot(&from_centre);
                polygon = cut(&polygon, (normal.dot(&across), normal.dot(&along)), room);
            }
        }
        let nearest = nearest_to_origin(&polygon)?;
        (nearest.0.hypot(nearest.1) <= self.radius)
            .then(|| self.centre + across * nearest.0 + along * nearest.1)
    }
}

/// Two unit vectors square to an axis and to each other.
fn in_plane_axes(axis: &Unit<Vector3<f64>>) -> (Vector3<f64>, Vector3<f64>) {
    let helper = if axis.x.abs() < 0.6 {
        Vector3::x()
    } else {
        Vector3::y()
    };
    let across = axis.cross(&helper).normalize();
    (across, axis.cross(&across))
}

/// What is left of a convex polygon where `normal . point <= room`.
fn cut(polygon: &[(f64, f64)], normal: (f64, f64), room: f64) -> Vec<(f64, f64)> {
    let excess = |point: &(f64, f64)| normal.0 * point.0 + normal.1 * point.1 - room;
    let mut left = Vec::with_capacity(polygon.len() + 1);
    for (place, point) in polygon.iter().enumerate() {
        let next = &polygon[(place + 1) % polygon.len()];
        let (here, there) = (excess(point), excess(next));
        if here <= 0.0 {
            left.push(*point);
        }
        if here * there < 0.0 {
            let share = here / (here - there);
            left.push((
                point.0 + (next.0 - point.0) * share,
                point.1 + (next.1 - point.1) * share,
            ));
        }
    }
    left
}

/// The point of a convex polygon that is nearest to the origin.
fn nearest_to_origin(polygon: &[(f64, f64)]) -> Option<(f64, f64)> {
    let flat = |point: (f64, f64)| Vector3::new(point.0, point.1, 0.0);
    let edges = || {
        polygon.iter().enumerate().map(|(place, point)| Segment {
            start: flat(*point),
            end: flat(polygon[(place + 1) % polygon.len()]),
        })
    };
    let turns = edges().map(|edge| edge.start.x * edge.end.y - edge.start.y * edge.end.x);
    let (mut left, mut right) = (false, false);
    for turn in turns {
        left |= turn > 0.0;
        right |= turn < 0.0;
    }
    if polygon.len() > 2 && left != right {
        return Some((0.0, 0.0));
    }
    edges()
        .map(|edge| edge.at(edge.share_at(&Vector3::zeros())))
        .min_by(|a, b| a.norm_squared().total_cmp(&b.norm_squared()))
        .map(|point| (point.x, point.y))
}
