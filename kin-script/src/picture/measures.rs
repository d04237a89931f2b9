//! Dimension lines of what is left: of the damper's stroke, and of the wheel's travel.

use super::linkage::{DRAWN_BODY, DrawnView, project};
use super::skeleton::Skeleton;
use crate::sheet::drawing::{Dimension, DimensionPlace, Joint, Pose, Shape};
use crate::units::LengthUnit;
use kin_core::checks::DamperStroke;
use kin_core::pickups::{Damper, Point};

/// Less than this (mm) has no line that could be seen.
const LEAST_MM: f64 = 0.5;

/// The dimensions of a view.
pub(super) fn measures(
    view: DrawnView,
    poses: &[(Pose, String, Skeleton)],
    strokes: &[DamperStroke],
    unit: LengthUnit,
) -> Vec<Shape> {
    let at = |pose: Pose| {
        poses
            .iter()
            .find(|(own, ..)| *own == pose)
            .map(|(.., skeleton)| skeleton)
    };
    let (Some(stroke), Some(ride)) = (strokes.first(), at(Pose::Main)) else {
        return Vec::new();
    };
    match view {
        DrawnView::Front => ride
            .dampers
            .first()
            .and_then(|ends| stroke_left(stroke, *ends, unit))
            .into_iter()
            .collect(),
        DrawnView::Side => [(Pose::Low, "droop"), (Pose::High, "bump")]
            .into_iter()
            .filter_map(|(pose, word)| travel(word, wheel(ride)?, wheel(at(pose)?)?, unit))
            .collect(),
        DrawnView::Top => Vec::new(),
    }
}

fn wheel(skeleton: &Skeleton) -> Option<Point> {
    skeleton.wheels.first().map(|wheel| wheel.centre)
}

/// What is left of the stroke in bump: from the end of the body along the rod. The body's length is drawn by eye, what is
/// left is to scale.
fn stroke_left(stroke: &DamperStroke, (upper, lower): (Point, Point), unit: LengthUnit) -> Option<Shape> {
    let lengths = &stroke.lengths;
    let length = stroke.budget.length_at_ride;
    let (to, words) = if lengths.stop_contact > lengths.compressed {
        (lengths.stop_contact, "to the bump stop")
    } else {
        (lengths.compressed, "to metal")
    };
    let left = length - to;
    if left < LEAST_MM {
        return None;
    }
    let along = (upper - lower) / (upper - lower).norm();
    let body = lower + (upper - lower) * DRAWN_BODY;
    Some(Shape::Dimension(Dimension {
        // From the upper place to the lower one, so that the line stands on the other side than that of the length.
        from: project(DrawnView::Front, &(body + along * left)),
        to: project(DrawnView::Front, &body),
        place: DimensionPlace::Along,
        text: format!("{} of stroke {words}", unit.text(left)),
    }))
}

/// What the damper cannot do at the ghosts of a view: a ghost's lower mount says by how much it would be too long or too
/// short there, or how far it is into its bump stop.
///
/// * `damper`: the one whose ends come first in each skeleton
pub(super) fn damper_limits(
    view: DrawnView,
    poses: &[(Pose, String, Skeleton)],
    damper: &Damper,
    unit: LengthUnit,
) -> Vec<(Pose, Shape)> {
    let ghosts = poses.iter().filter(|(pose, ..)| *pose != Pose::Main);
    let told = ghosts.filter_map(|(pose, _, skeleton)| {
        let (upper, lower) = skeleton.dampers.first()?;
        let words = limit_words(damper, (upper - lower).norm(), unit)?;
        let joint = Joint {
            at: project(view, lower),
            label: Some(words),
        };
        Some((*pose, Shape::Joint(joint)))
    });
    told.collect()
}

/// A multiplication sign stands for a fault, an exclamation mark for care: both are in every font.
fn limit_words(damper: &Damper, length: f64, unit: LengthUnit) -> Option<String> {
    let over = length - damper.extended_between_mounts();
    let under = damper.compressed_between_mounts() - length;
    let into_stop = damper.stop_contact_between_mounts() - length;
    if over >= LEAST_MM {
        Some(format!("\u{d7} topped out: {} too long", unit.text(over)))
    } else if under >= LEAST_MM {
        Some(format!("\u{d7} metal to metal: {} too short", unit.text(under)))
    } else if damper.bump_stop > 0.0 && into_stop >= LEAST_MM {
        Some(format!("! {} into the bump stop", unit.text(into_stop)))
    } else {
        None
    }
}

/// How far the wheel's centre goes to a ghost.
fn travel(word: &str, ride: Point, ghost: Point, unit: LengthUnit) -> Option<Shape> {
    let way = (ghost.z - ride.z).abs();
    (way >= LEAST_MM).then(|| {
        Shape::Dimension(Dimension {
            from: project(DrawnView::Side, &ride),
            to: project(DrawnView::Side, &ghost),
            place: DimensionPlace::Right,
            text: format!("{word} {}", unit.text(way)),
        })
    })
}
