//! One view: heading, parts in the order they cover each other, dimensions, labels.

use super::arrange::HEAD;
use super::bars::{draw_back, draw_body, draw_front, draw_ghost, ghost_stroke};
use super::dimension::{self, draw_head};
use super::dimension_rows::Rows;
use super::labels;
use super::model::{Bar, BarStyle, Layer, Pose, Shape, View};
use super::outline;
use super::pen::{Pen, Stroke};
use super::projection::Projection;
use super::wheel;
use crate::sheet::boxes::Spot;
use crate::sheet::colour::{AXIS, GREEN, INK, PAPER, SOFT_INK};
use crate::sheet::place::Placer;
use crate::sheet::text::{Type, fit};

const NAME: Type = Type::bold(13.0);
const WORDS: Type = Type::plain(11.5);
/// Length of the direction arrows (CSS pixels).
const ARROW: f64 = 22.0;

/// Draws a view; returns the labels for which there was no room.
pub(super) fn draw(pen: &mut Pen, view: &View, rows: &Rows, projection: &Projection) -> Vec<String> {
    draw_heading(pen, view, projection);
    let mut layers: Vec<&Layer> = view.layers.iter().collect();
    // Ghosts first; the sort keeps the order of equals.
    layers.sort_by_key(|layer| layer.pose == Pose::Main);
    for layer in &layers {
        for shape in &layer.shapes {
            draw_ground_work(pen, shape, layer.pose, projection);
        }
    }
    for layer in layers.iter().filter(|layer| layer.pose != Pose::Main) {
        for bar in bars(layer) {
            draw_ghost(pen, bar, projection, layer.pose);
        }
    }
    let main = || layers.iter().filter(|layer| layer.pose == Pose::Main);
    main()
        .flat_map(|layer| bars(layer))
        .for_each(|bar| draw_back(pen, bar, projection));
    let mut bodies: Vec<&Bar> = main().flat_map(|layer| bars(layer)).collect();
    bodies.sort_by_key(|bar| depth(bar.style));
    bodies.iter().for_each(|bar| draw_body(pen, bar, projection));
    main()
        .flat_map(|layer| bars(layer))
        .for_each(|bar| draw_front(pen, bar, projection));
    for shape in layers.iter().flat_map(|layer| &layer.shapes) {
        if let Shape::Outline(outline) = shape {
            outline::draw(pen, outline, projection);
        }
    }
    for layer in &layers {
        for shape in &layer.shapes {
            draw_points(pen, shape, layer.pose, projection);
        }
    }
    let mut placer = Placer::new(projection.cell);
    labels::add_obstacles(&mut placer, view, projection);
    let loose = dimension::draw(pen, &mut placer, view, rows, projection);
    // Names belong to a point; a measure may stand anywhere along its line, so it comes after them.
    let mut missing = labels::draw(pen, &mut placer, view, projection);
    missing.extend(dimension::draw_texts(pen, &mut placer, loose));
    missing
}

fn bars(layer: &Layer) -> impl Iterator<Item = &Bar> {
    layer.shapes.iter().filter_map(|shape| match shape {
        Shape::Bar(bar) => Some(bar),
        _ => None,
    })
}

/// What covers what: wide parts lie below slender ones.
fn depth(style: BarStyle) -> u8 {
    match style {
        BarStyle::AxleTube => 0,
        BarStyle::Upright => 1,
        BarStyle::Arm | BarStyle::Link => 2,
        BarStyle::TieRod => 3,
        BarStyle::Damper { .. } => 4,
        BarStyle::Spring { .. } => 5,
    }
}

/// Wheels, ground and construction lines, below the parts.
fn draw_ground_work(pen: &mut Pen, shape: &Shape, pose: Pose, projection: &Projection) {
    match shape {
        Shape::Wheel(outline) => wheel::draw(pen, outline, projection, pose),
        Shape::Ground(height) => {
            let y = projection.at((0.0, *height)).1;
            let (left, right) = (projection.cell.left + 2.0, projection.cell.right - 2.0);
            pen.line((left, y), (right, y), Stroke::solid(INK, 1.2));
            let mut x = left + 6.0;
            while x < right {
                pen.line((x, y), (x - 5.0, y + 5.0), Stroke::solid(AXIS, 0.7));
                x += 12.0;
            }
        }
        Shape::Construction(line) => {
            let seen = projection
                .cell
                .clip(projection.at(line.from), projection.at(line.to));
            if let Some((from, to)) = seen {
                pen.line(
                    from,
                    to,
                    Stroke {
                        colour: GREEN,
                        width: 1.1,
                        dash: "12 3 2.5 3",
                        opacity: 1.0,
                    },
                );
            }
        }
        Shape::Bar(_) | Shape::Joint(_) | Shape::Dimension(_) | Shape::Marker(_) | Shape::Outline(_) => {}
    }
}

/// Joints, markers and the centres of ghost wheels, above the parts.
fn draw_points(pen: &mut Pen, shape: &Shape, pose: Pose, projection: &Projection) {
    match shape {
        Shape::Joint(joint) if pose == Pose::Main => {
            let title = joint.label.as_deref().map(crate::sheet::text::clean);
            let stroke = Stroke::solid(INK, 1.6);
            pen.titled_circle(
                projection.at(joint.at),
                4.4,
                Some((PAPER, 1.0)),
                stroke,
                title.as_deref(),
            );
        }
        Shape::Joint(joint) => {
            draw_ghost_joint(pen, projection.at(joint.at), pose);
        }
        Shape::Marker(marker) if projection.cell.holds_spot(projection.at(marker.at)) => {
            let spot = projection.at(marker.at);
            pen.circle(spot, 5.0, Some((PAPER, 1.0)), Stroke::solid(GREEN, 1.3));
            draw_cross(pen, spot, 5.0, Stroke::solid(GREEN, 1.3));
        }
        Shape::Wheel(outline) => {
            let stroke = if pose == Pose::Main {
                Stroke::solid(INK, 1.0)
            } else {
                Stroke::solid(SOFT_INK, 0.9)
            };
            draw_cross(pen, projection.at(outline.centre()), 4.0, stroke);
        }
        _ => {}
    }
}

/// A joint of another pose: open where the wheel hangs, filled where it is up, so that the two differ in any print.
fn draw_ghost_joint(pen: &mut Pen, spot: Spot, pose: Pose) {
    let fill = if pose == Pose::High { SOFT_INK } else { PAPER };
    pen.circle(spot, 2.6, Some((fill, 1.0)), Stroke::solid(SOFT_INK, 1.0));
}

fn draw_cross(pen: &mut Pen, (x, y): Spot, reach: f64, stroke: Stroke) {
    pen.line((x - reach, y), (x + reach, y), stroke);
    pen.line((x, y - reach), (x, y + reach), stroke);
}

/// The view's name, and which way its numbers grow.
fn draw_heading(pen: &mut Pen, view: &View, projection: &Projection) {
    let cell = projection.cell;
    let middle = cell.top - HEAD / 2.0 + 2.0;
    let name = fit(&view.name, NAME, cell.width() * 0.42, 1);
    pen.text(&name, (cell.left, middle), NAME, INK, "start");
    let width = |lines: &[String], face: Type| lines.iter().map(|line| face.width(line)).fold(0.0, f64::max);
    let words = [&view.horizontal, &view.vertical].map(|way| fit(&way.words, WORDS, cell.width() * 0.22, 1));
    let [across, up] = &words;
    let start = cell.left + width(&name.lines, NAME) + 20.0;
    let (right, above) = (!view.horizontal.reversed, !view.vertical.reversed);
    let sign = |positive: bool| if positive { 1.0 } else { -1.0 };
    let origin_x = if right {
        start
    } else {
        start + width(&across.lines, WORDS) + 7.0 + ARROW
    };
    let origin = (origin_x, middle + 9.0 * sign(above));
    let tip_across = (origin.0 + ARROW * sign(right), origin.1);
    let tip_up = (origin.0, origin.1 - ARROW * sign(above));
    for (tip, back) in [(tip_across, (-sign(right), 0.0)), (tip_up, (0.0, sign(above)))] {
        pen.line(origin, tip, Stroke::solid(INK, 1.0));
        draw_head(pen, tip, back);
    }
    let anchor = if right { "start" } else { "end" };
    pen.text(
        across,
        (tip_across.0 + 7.0 * sign(right), tip_across.1),
        WORDS,
        SOFT_INK,
        anchor,
    );
    pen.text(
        up,
        (tip_up.0 + 8.0, tip_up.1 + 6.0 * sign(above)),
        WORDS,
        SOFT_INK,
        "start",
    );
}

/// A short piece of a pose's line with a joint at its end, for the key.
pub(super) fn draw_sample(pen: &mut Pen, from: Spot, to: Spot, pose: Pose) {
    let stroke = if pose == Pose::Main {
        Stroke::solid(INK, 2.6)
    } else {
        ghost_stroke(pose, 1.6)
    };
    pen.line(from, to, stroke);
    let joint = (to.0 - 4.0, to.1);
    if pose == Pose::Main {
        pen.circle(joint, 4.0, Some((PAPER, 1.0)), Stroke::solid(INK, 1.6));
    } else {
        draw_ghost_joint(pen, joint, pose);
    }
}
