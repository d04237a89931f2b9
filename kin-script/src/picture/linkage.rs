//! The linkage to scale at droop, ride height and bump.

use super::construction::construct;
use super::measures::{damper_limits, measures};
use super::skeleton::{self, Part, PartKind, Skeleton, WheelInSpace};
use crate::host::ScriptError;
use crate::model::{Model, Suspension};
use crate::sheet::drawing::{
    Bar, BarStyle, Dimension, DimensionPlace, Direction, Drawing, Joint, Layer, Pose, ScaleUnit, Shape, View,
    Wheel,
};
use crate::units::LengthUnit;
use crate::vocabulary::core_error;
use kin_core::AxleTravel;
use kin_core::checks::DamperStroke;
use kin_core::pickups::{Damper, Point};
use serde::Deserialize;

/// Width of a tyre as drawn, as a share of its radius: descriptions do not give it.
const DRAWN_TYRE_WIDTH: f64 = 0.65;
/// Outer diameter of a spring as drawn, as a share of the tyre's radius: descriptions do not give it.
const DRAWN_SPRING: f64 = 0.25;
/// Share of a damper's extended length that its body takes, as drawn.
pub(super) const DRAWN_BODY: f64 = 0.5;

/// The pose that a drawing shows in full unless it is about another.
const RIDE: &str = "ride height";

/// A direction to look from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum DrawnView {
    /// From the front of the car; an axle is seen from behind.
    Front,
    /// From the left of the car.
    Side,
    /// From above, forward up.
    Top,
}

/// What a drawing shows besides the linkage itself.
#[derive(Debug, Clone, Copy, Default)]
pub struct Extras<'a> {
    /// Instant centres, the roll centre and the lines to them.
    pub construction: bool,
    /// The stroke check of each damper: what is left of its stroke, and of the wheel's travel.
    pub strokes: &'a [DamperStroke],
}

/// Draws a suspension.
///
/// * `droop`, `bump`: wheel travel of the ghosts from ride height (mm, positive)
///
/// # Errors
/// Positions that cannot be reached.
pub fn linkage(
    model: &Model,
    suspension: &Suspension,
    views: &[DrawnView],
    droop: f64,
    bump: f64,
) -> Result<Drawing, ScriptError> {
    linkage_with(model, suspension, views, (droop, bump), Extras::default())
}

/// Draws a suspension with what a teacher or a fabricator adds to it.
///
/// * `ghosts`: droop and bump of the ghosts from ride height (mm, positive)
///
/// # Errors
/// Positions that cannot be reached.
pub fn linkage_with(
    model: &Model,
    suspension: &Suspension,
    views: &[DrawnView],
    (droop, bump): (f64, f64),
    extras: Extras<'_>,
) -> Result<Drawing, ScriptError> {
    let failed = |error: kin_core::Error| core_error(&error, &model.units);
    let at = |from_ride: f64| -> Result<Skeleton, kin_core::Error> {
        Ok(match suspension {
            Suspension::Corner(corner) => {
                skeleton::of_corner(&corner.at(corner.ride_travel()? + from_ride, 0.0)?)
            }
            Suspension::Axle(axle) => {
                skeleton::of_axle(&axle.at(AxleTravel::both(axle.ride_travel()? + from_ride))?)
            }
        })
    };
    let unit = model.units.length;
    let poses = [
        (
            Pose::Low,
            format!("droop {}", unit.text(droop)),
            at(-droop).map_err(failed)?,
        ),
        (
            Pose::High,
            format!("bump {}", unit.text(bump)),
            at(bump).map_err(failed)?,
        ),
        (Pose::Main, RIDE.to_owned(), at(0.0).map_err(failed)?),
    ];
    let is_axle = matches!(suspension, Suspension::Axle(_));
    let mut drawing = sheet(model, is_axle, views, &poses);
    drawing.description = format!(
        "Linkage at ride height, with {} of droop and {} of bump as ghosts",
        unit.text(droop),
        unit.text(bump)
    );
    // Where the damper is seen best of the views drawn.
    let told = [DrawnView::Front, DrawnView::Side]
        .into_iter()
        .find(|view| views.contains(view));
    for (drawn, view) in drawing.views.iter_mut().zip(views) {
        if let Some(damper) = first_damper(suspension).filter(|_| told == Some(*view)) {
            for (pose, shape) in damper_limits(*view, &poses, damper, unit) {
                let mut layers = drawn.layers.iter_mut();
                let layer = layers.find(|layer| layer.pose == pose);
                layer
                    .into_iter()
                    .for_each(|layer| layer.shapes.push(shape.clone()));
            }
        }
        let added = measures(*view, &poses, extras.strokes, unit);
        add(drawn, added, Vec::new());
        if extras.construction {
            let constructed = construct(*view, suspension, unit).map_err(failed)?;
            add(drawn, constructed.shapes, constructed.reaches);
        }
    }
    if extras.construction {
        drawing.description += "; with instant centres, roll centre and the lines to them";
    }
    Ok(drawing)
}

/// The damper whose ends a skeleton holds first.
fn first_damper(suspension: &Suspension) -> Option<&Damper> {
    match suspension {
        Suspension::Corner(corner) => corner.pickups().any_damper(),
        Suspension::Axle(axle) => axle.pickups().any_dampers().map(|sides| &sides.left),
    }
}

/// Adds shapes to the main pose of a view.
pub(super) fn add(view: &mut View, shapes: Vec<Shape>, reaches: Vec<(f64, f64)>) {
    if let Some(main) = view.layers.iter_mut().find(|layer| layer.pose == Pose::Main) {
        main.shapes.extend(shapes);
    }
    view.reaches.extend(reaches);
}

/// A suspension in some poses, without a description.
pub(super) fn sheet(
    model: &Model,
    is_axle: bool,
    views: &[DrawnView],
    poses: &[(Pose, String, Skeleton)],
) -> Drawing {
    let unit = model.units.length;
    Drawing {
        title: model.title.clone(),
        subtitle: Some("To scale; tyre width and spring diameter are not given and are drawn by eye".into()),
        scale_unit: match unit {
            LengthUnit::Millimetre => ScaleUnit::millimetre(),
            LengthUnit::Inch => ScaleUnit::inch(),
        },
        views: views
            .iter()
            .map(|view| drawn((*view, views), is_axle, poses, unit))
            .collect(),
        ..Drawing::default()
    }
}

fn drawn(
    (view, views): (DrawnView, &[DrawnView]),
    is_axle: bool,
    poses: &[(Pose, String, Skeleton)],
    unit: LengthUnit,
) -> View {
    // Seen from the front, the left of the car is on the right of the sheet; seen from behind, on its left.
    let across = if is_axle {
        Direction::reversed("left")
    } else {
        Direction::new("left")
    };
    let main = poses.iter().find(|(pose, ..)| *pose == Pose::Main);
    let main_name = main.map(|(_, name, _)| name.as_str());
    let (name, horizontal, vertical) = match view {
        DrawnView::Front if is_axle => ("Rear view", across, Direction::new("up")),
        DrawnView::Front => ("Front view", across, Direction::new("up")),
        DrawnView::Side => ("Side view", Direction::reversed("forward"), Direction::new("up")),
        DrawnView::Top if main_name == Some(RIDE) => {
            ("Top view, ride height", across, Direction::new("forward"))
        }
        DrawnView::Top => ("Top view", across, Direction::new("forward")),
    };
    // Seen from above the wheel's travel is a few millimetres of shift: ghosts would lie on the parts and tell nothing.
    let is_shown = |pose: Pose| pose == Pose::Main || view != DrawnView::Top;
    let shown = poses.iter().filter(|(pose, ..)| is_shown(*pose));
    let layers = shown.map(|(pose, name, skeleton)| Layer {
        pose: *pose,
        name: name.clone(),
        shapes: shapes((view, views), *pose == Pose::Main, skeleton, unit),
    });
    View {
        layers: layers.collect(),
        ..View::new(name, horizontal, vertical)
    }
}

pub(super) fn project(view: DrawnView, point: &Point) -> (f64, f64) {
    match view {
        DrawnView::Front => (point.y, point.z),
        DrawnView::Side => (point.x, point.z),
        DrawnView::Top => (point.y, point.x),
    }
}

/// * `view`: the view, among all that are drawn
fn shapes(
    (view, views): (DrawnView, &[DrawnView]),
    main: bool,
    skeleton: &Skeleton,
    unit: LengthUnit,
) -> Vec<Shape> {
    let to = |point: &Point| project(view, point);
    let mut shapes: Vec<Shape> = skeleton
        .wheels
        .iter()
        .map(|wheel| Shape::Wheel(outline(view, wheel)))
        .collect();
    if main && view != DrawnView::Top {
        shapes.extend(skeleton.contacts.first().map(|contact| Shape::Ground(contact.z)));
    }
    let radius = skeleton.wheels.first().map_or(0.0, |wheel| wheel.radius);
    for part in &skeleton.parts {
        let style = match part.kind {
            PartKind::Link => BarStyle::Link,
            PartKind::Arm => BarStyle::Arm,
            PartKind::Upright => BarStyle::Upright,
            PartKind::TieRod => BarStyle::TieRod,
            PartKind::AxleTube => BarStyle::AxleTube,
            PartKind::Damper => BarStyle::Damper {
                body: DRAWN_BODY * (part.to - part.from).norm(),
            },
            PartKind::Spring => BarStyle::Spring {
                diameter: DRAWN_SPRING * radius,
                coils: 9,
            },
        };
        shapes.push(Shape::Bar(Bar {
            from: to(&part.from),
            to: to(&part.to),
            style,
            label: (main && is_named_in(view, views, part)).then(|| part.name.clone()),
        }));
    }
    for (name, place) in &skeleton.joints {
        // What a damper's ends belong to is seen; short names find room.
        let label = (main && labelled(view, name)).then(|| match name.split_once("damper, ") {
            Some((_, end)) => end.to_owned(),
            None => name.clone(),
        });
        shapes.push(Shape::Joint(Joint { at: to(place), label }));
    }
    if main && view == DrawnView::Front {
        for (upper, lower) in skeleton.dampers.iter().take(1) {
            let text = format!("{} between mounts", unit.text((upper - lower).norm()));
            shapes.push(Shape::Dimension(Dimension {
                from: to(lower),
                to: to(upper),
                place: DimensionPlace::Along,
                text,
            }));
        }
    }
    shapes
}

/// Whether a link is named in a view: seen from above its joints are, else it is in the view that shows it longest.
fn is_named_in(view: DrawnView, views: &[DrawnView], part: &Part) -> bool {
    let seen = |view: DrawnView| {
        let (from, to) = (project(view, &part.from), project(view, &part.to));
        (from.0 - to.0).hypot(from.1 - to.1)
    };
    let best = views.iter().copied().max_by(|a, b| seen(*a).total_cmp(&seen(*b)));
    let long = seen(view) > 0.5 * (part.to - part.from).norm();
    !part.name.is_empty() && !views.contains(&DrawnView::Top) && best == Some(view) && long
}

/// Each joint is named where it is seen best; the same name in every view would crowd the sheet.
fn labelled(view: DrawnView, name: &str) -> bool {
    match view {
        DrawnView::Front => name.contains("ball joint") || name.contains("damper"),
        DrawnView::Side => name.contains("damper"),
        DrawnView::Top => {
            name.contains("pivot")
                || name.contains("tie rod")
                || name.contains("body")
                || name.contains(", axle")
        }
    }
}

fn outline(view: DrawnView, wheel: &WheelInSpace) -> Wheel {
    let centre = project(view, &wheel.centre);
    let width = DRAWN_TYRE_WIDTH * wheel.radius;
    let axis = &wheel.spin_axis;
    // The wheel plane seen edge on is at right angles to the spin axis in the view.
    match view {
        DrawnView::Side => Wheel::Round {
            centre,
            radius: wheel.radius,
        },
        DrawnView::Front => Wheel::Edge {
            centre,
            radius: wheel.radius,
            width,
            plane: (-axis.z, axis.y),
        },
        DrawnView::Top => Wheel::Edge {
            centre,
            radius: wheel.radius,
            width,
            plane: (-axis.x, axis.y),
        },
    }
}
