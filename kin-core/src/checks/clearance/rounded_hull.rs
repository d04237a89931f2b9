//! Solids in place, for pictures: convex hulls of a few points, with a radius around them.

use super::anchor::Instant;
use super::measure::{Fitted, Lowest};
use super::motions::Motions;
use super::report::is_right;
use crate::geometry::{Core, Cuboid, Disc};
use crate::pickups::{Point, mirrored};
use crate::pose::Twist;
use nalgebra::Vector3;
use std::f64::consts::TAU;

/// Points on the edge of a disc: the hull is then within a thousandth of its radius.
const RIM_POINTS: u32 = 72;

/// All points within a radius of the convex hull of some points (mm).
#[derive(Debug, Clone, PartialEq)]
pub struct RoundedHull {
    /// The points: two of a rod, the corners of a box, points round the edge of a disc.
    pub points: Vec<Point>,
    /// The radius around them.
    pub radius: f64,
}

/// The two solids of a pair where their gap is least.
pub(super) fn hulls(motions: &Motions<'_>, bodies: [&Fitted; 2], lowest: &Lowest) -> [Vec<RoundedHull>; 2] {
    // Only places are asked for: no rates.
    let instant = Instant::new(
        &motions.mover.linkage().origin,
        &lowest.solved,
        &Twist::zero(),
        0.0,
    );
    let on_side = |point: Point| {
        if is_right(motions) {
            mirrored(&point)
        } else {
            point
        }
    };
    bodies.map(|fitted| {
        let pieces = fitted.body.pieces.iter();
        pieces
            .filter_map(|piece| {
                let points = core_points(&piece.place(&instant).core)?;
                Some(RoundedHull {
                    points: points.into_iter().map(on_side).collect(),
                    radius: piece.radius,
                })
            })
            .collect()
    })
}

/// Points whose hull is the core; none for a plane, which has no end.
fn core_points(core: &Core) -> Option<Vec<Point>> {
    match core {
        Core::Segment(segment) => Some(vec![segment.start, segment.end]),
        Core::Cuboid(cuboid) => Some(corners(cuboid)),
        Core::Disc(disc) => Some(rim(disc)),
        Core::HalfSpace(_) => None,
    }
}

fn corners(cuboid: &Cuboid) -> Vec<Point> {
    let signs = [-1.0, 1.0];
    let all = signs.into_iter().flat_map(|x| signs.map(|y| (x, y)));
    all.flat_map(|(x, y)| signs.map(|z| Vector3::new(x, y, z)))
        .map(|sign| cuboid.centre + cuboid.axes * cuboid.half.component_mul(&sign))
        .collect()
}

fn rim(disc: &Disc) -> Vec<Point> {
    let axis = disc.axis.into_inner();
    // Any direction that is not the axis will do to start from.
    let other = if axis.x.abs() < 0.7 {
        Vector3::x()
    } else {
        Vector3::y()
    };
    let across = axis.cross(&other).normalize();
    let along = axis.cross(&across);
    (0..RIM_POINTS)
        .map(|step| f64::from(step) * TAU / f64::from(RIM_POINTS))
        .map(|turn| disc.centre + (across * turn.cos() + along * turn.sin()) * disc.radius)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::{Matrix3, Unit};

    #[test]
    fn a_box_has_its_eight_corners() {
        let cuboid = Cuboid {
            centre: Vector3::new(1.0, 2.0, 3.0),
            axes: Matrix3::identity(),
            half: Vector3::new(10.0, 20.0, 30.0),
        };
        let found = corners(&cuboid);
        assert_eq!(found.len(), 8);
        assert!(found.contains(&Vector3::new(11.0, -18.0, 33.0)));
        assert!(found.contains(&Vector3::new(-9.0, 22.0, -27.0)));
    }

    #[test]
    fn a_rim_lies_in_the_plane_of_its_disc() {
        for axis in [Vector3::x(), Vector3::new(0.1, 1.0, -0.2)] {
            let disc = Disc {
                centre: Vector3::new(5.0, 700.0, 300.0),
                axis: Unit::new_normalize(axis),
                radius: 330.0,
            };
            for point in rim(&disc) {
                let out = point - disc.centre;
                assert!((out.norm() - 330.0).abs() < 1e-9 && out.dot(&disc.axis).abs() < 1e-9);
            }
        }
    }
}
