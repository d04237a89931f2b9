//! Wheel outlines.

use super::bars::ghost_stroke;
use super::model::{Pose, Wheel};
use super::pen::{Pen, Stroke, short};
use super::projection::Projection;
use crate::sheet::boxes::Spot;
use crate::sheet::colour::{INK, SLATE};

/// Draws the outline of a wheel, filled in the main pose.
pub(super) fn draw(pen: &mut Pen, wheel: &Wheel, projection: &Projection, pose: Pose) {
    let (fill, stroke) = match pose {
        Pose::Main => (Some((SLATE, 0.13)), Stroke::solid(INK, 1.6)),
        _ => (None, ghost_stroke(pose, 1.2)),
    };
    let centre = projection.at(wheel.centre());
    match wheel {
        Wheel::Round { radius, .. } => pen.circle(centre, radius * projection.scale, fill, stroke),
        Wheel::Edge {
            radius, width, plane, ..
        } => {
            let length = plane.0.hypot(plane.1);
            let along = (
                plane.0 / length * projection.signs.0,
                -plane.1 / length * projection.signs.1,
            );
            let half = (radius * projection.scale, width / 2.0 * projection.scale);
            pen.path(rounded(centre, along, half), fill, stroke);
        }
    }
}

/// Outline of a rectangle with rounded corners, `half.0` long to each side along a direction and `half.1` across.
fn rounded(centre: Spot, along: Spot, half: (f64, f64)) -> String {
    let corner = (half.1 * 0.35).min(half.0);
    let at = |lengthwise: f64, across: f64| {
        let x = centre.0 + along.0 * lengthwise - along.1 * across;
        let y = centre.1 + along.1 * lengthwise + along.0 * across;
        format!("{} {}", short(x), short(y))
    };
    let mut data = format!("M{}", at(half.0, half.1 - corner));
    for (lengthwise, across) in [(1.0, -1.0), (-1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)] {
        let (outer, inner) = (
            (half.0 * lengthwise, half.1 * across),
            (half.0 - corner, half.1 - corner),
        );
        let (on_end, on_side) = (at(outer.0, inner.1 * across), at(inner.0 * lengthwise, outer.1));
        // Round the outline the corners are met from the end and from the side in turn.
        let (first, second) = if lengthwise * across < 0.0 {
            (on_end, on_side)
        } else {
            (on_side, on_end)
        };
        data += &format!("L{first}Q{} {second}", at(outer.0, outer.1));
    }
    data.push('Z');
    data
}
