//! Labels of joints, bars, markers and ghosts, each where it covers least.

use super::bars::half_width;
use super::model::{Pose, Shape, View, Wheel};
use super::outline;
use super::pen::{Pen, Stroke};
use super::projection::Projection;
use crate::sheet::boxes::{Rect, Spot, distance};
use crate::sheet::colour::{AXIS, INK, SOFT_INK};
use crate::sheet::place::{Placer, Shade, Wish, leader_end};
use crate::sheet::text::{Fitted, HALF_HEIGHT, LEADING, Type, clean, fit};

const LETTERS: Type = Type::plain(12.0);
const GHOST_LETTERS: Type = Type::plain(11.5);
/// Widest label (CSS pixels).
const WIDEST: f64 = 130.0;
/// How much narrower a label may be wrapped where that finds it a better place.
const NARROWER: f64 = 0.62;
/// Dislike of a ghost's line under a label, per pixel.
const GHOST: f64 = 0.5;
/// Where the label of a line may hang along it, the best place first.
const ALONG_A_LINE: [f64; 7] = [0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92];
/// Longer ways from the place to its label get a leader line (CSS pixels).
const CLOSE: f64 = 14.0;

/// A label in search of room.
struct Wanted {
    /// Where it may hang, the best place first.
    anchors: Vec<Spot>,
    clearance: f64,
    text: String,
    ghost: bool,
    /// What it names lies outside the view: an arrow in the text tells where, no leader line.
    outside: bool,
}

/// Tells the search of room what is drawn.
pub(super) fn add_obstacles(placer: &mut Placer, view: &View, projection: &Projection) {
    for layer in &view.layers {
        let main = layer.pose == Pose::Main;
        for shape in &layer.shapes {
            match shape {
                Shape::Bar(bar) => {
                    let (from, to) = (projection.at(bar.from), projection.at(bar.to));
                    placer.avoid(from, to, if main { 1.0 } else { GHOST });
                    if main {
                        let half = half_width(bar.style, projection.scale);
                        avoid_edges(placer, (from, to), half);
                    }
                }
                Shape::Joint(joint) => {
                    let size = if main { 11.0 } else { 5.0 };
                    placer.take(Rect::around(projection.at(joint.at), size, size));
                    if main {
                        placer.name_point(projection.at(joint.at));
                    }
                }
                Shape::Wheel(wheel) => avoid_wheel(placer, wheel, projection, main),
                Shape::Ground(height) => {
                    let y = projection.at((0.0, *height)).1;
                    // The line, and the hatching below it.
                    for y in [y, y + 2.5, y + 5.0] {
                        placer.avoid((projection.cell.left, y), (projection.cell.right, y), 1.0);
                    }
                }
                Shape::Construction(line) => {
                    placer.avoid(projection.at(line.from), projection.at(line.to), 0.8);
                }
                Shape::Marker(marker) if projection.cell.holds_spot(projection.at(marker.at)) => {
                    placer.take(Rect::around(projection.at(marker.at), 12.0, 12.0));
                    placer.name_point(projection.at(marker.at));
                }
                Shape::Outline(outline) => outline::avoid(placer, outline, projection),
                Shape::Marker(_) | Shape::Dimension(_) => {}
            }
        }
    }
}

/// The outlines of a bar: a label must not touch its drawn width.
fn avoid_edges(placer: &mut Placer, (from, to): (Spot, Spot), half: f64) {
    let length = distance(from, to);
    if length <= f64::EPSILON {
        return;
    }
    let aside = ((to.1 - from.1) / length * half, (from.0 - to.0) / length * half);
    for side in [-1.0, 1.0] {
        let moved = |spot: Spot| (spot.0 + side * aside.0, spot.1 + side * aside.1);
        placer.avoid(moved(from), moved(to), 0.6);
    }
}

fn avoid_wheel(placer: &mut Placer, wheel: &Wheel, projection: &Projection, main: bool) {
    let weight = if main { 0.5 } else { GHOST };
    let centre = projection.at(wheel.centre());
    if main {
        placer.shade(shade(wheel, projection));
    }
    let outline: Vec<Spot> = match wheel {
        Wheel::Round { radius, .. } => (0..36)
            .map(|step| f64::from(step).to_radians() * 10.0)
            .map(|turn| {
                (
                    turn.cos() * radius * projection.scale,
                    turn.sin() * radius * projection.scale,
                )
            })
            .map(|(x, y)| (centre.0 + x, centre.1 + y))
            .collect(),
        Wheel::Edge {
            radius, width, plane, ..
        } => {
            let length = plane.0.hypot(plane.1);
            let along = (
                plane.0 / length * projection.signs.0,
                -plane.1 / length * projection.signs.1,
            );
            let (far, wide) = (radius * projection.scale, width / 2.0 * projection.scale);
            [(1.0, 1.0), (1.0, -1.0), (-1.0, -1.0), (-1.0, 1.0)]
                .map(|(a, b)| (a * far, b * wide))
                .map(|(a, b)| {
                    (
                        centre.0 + along.0 * a - along.1 * b,
                        centre.1 + along.1 * a + along.0 * b,
                    )
                })
                .to_vec()
        }
    };
    for (from, to) in outline.iter().zip(outline.iter().cycle().skip(1)) {
        placer.avoid(*from, *to, weight);
    }
}

/// The tyre as a filled shape.
fn shade(wheel: &Wheel, projection: &Projection) -> Shade {
    let centre = projection.at(wheel.centre());
    match wheel {
        Wheel::Round { radius, .. } => {
            let half = radius * projection.scale;
            Shade {
                centre,
                along: (1.0, 0.0),
                half: (half, half),
                round: true,
            }
        }
        Wheel::Edge {
            radius, width, plane, ..
        } => {
            let length = plane.0.hypot(plane.1);
            Shade {
                centre,
                along: (
                    plane.0 / length * projection.signs.0,
                    -plane.1 / length * projection.signs.1,
                ),
                half: (radius * projection.scale, width / 2.0 * projection.scale),
                round: false,
            }
        }
    }
}

/// Draws the labels of a view; returns those for which there was no room.
pub(super) fn draw(pen: &mut Pen, placer: &mut Placer, view: &View, projection: &Projection) -> Vec<String> {
    let mut missing = Vec::new();
    for label in wanted(view, projection) {
        let (face, colour) = if label.ghost {
            (GHOST_LETTERS, SOFT_INK)
        } else {
            (LETTERS, INK)
        };
        let room = WIDEST.min(projection.cell.width() * 0.6);
        let Some(placed) = search(placer, &label.text, face, room, (&label.anchors, label.clearance)) else {
            missing.push(clean(&label.text));
            continue;
        };
        if let Some(end) = leader_end(placed.anchor, &placed.area, CLOSE).filter(|_| !label.outside) {
            pen.line(placed.anchor, end, Stroke::solid(AXIS, 0.7));
            placer.avoid(placed.anchor, end, GHOST);
        }
        pen.text(&placed.words, placed.area.centre(), face, colour, "middle");
    }
    missing
}

/// Words that found room.
pub(super) struct Placed {
    pub(super) words: Fitted,
    pub(super) area: Rect,
    pub(super) anchor: Spot,
}

/// Looks for room for words near one of their anchors (with the free distance from it): on one line or two of at most
/// `room` pixels, or narrower on up to three.
pub(super) fn search(
    placer: &mut Placer,
    text: &str,
    face: Type,
    room: f64,
    (anchors, clearance): (&[Spot], f64),
) -> Option<Placed> {
    let mut shapes = vec![fit(text, face, room, 2)];
    let narrow = fit(text, face, room * NARROWER, 3);
    // The name of a ghost is a length that is read as one.
    if face == LETTERS && narrow.whole.is_none() && narrow.lines.len() > shapes[0].lines.len() {
        shapes.push(narrow);
    }
    let sizes: Vec<(f64, f64)> = shapes.iter().map(|words| size(words, face)).collect();
    let found = placer.place_one(&Wish {
        anchors,
        shapes: &sizes,
        clearance,
    })?;
    Some(Placed {
        words: shapes.swap_remove(found.shape),
        area: found.area,
        anchor: found.anchor,
    })
}

fn size(words: &Fitted, face: Type) -> (f64, f64) {
    let widths = words.lines.iter().map(|line| face.width(line));
    let steps = words.lines.len().saturating_sub(1) as f64 * LEADING;
    (
        widths.fold(0.0, f64::max),
        face.size * (2.0 * HALF_HEIGHT + steps),
    )
}

/// All labels: markers and joints first, since they have least choice, ghosts last.
fn wanted(view: &View, projection: &Projection) -> Vec<Wanted> {
    let (mut markers, mut points, mut bars, mut ghosts) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for layer in &view.layers {
        let ghost = layer.pose != Pose::Main;
        // Both wheels of an axle stand in one pose: naming it at one of them is enough.
        let named_wheel = layer
            .shapes
            .iter()
            .rposition(|shape| matches!(shape, Shape::Wheel(_)));
        for (place, shape) in layer.shapes.iter().enumerate() {
            match shape {
                Shape::Joint(joint) => {
                    let target = if ghost { &mut ghosts } else { &mut points };
                    want(
                        target,
                        [projection.at(joint.at)],
                        8.5,
                        joint.label.as_deref(),
                        ghost,
                    );
                }
                Shape::Bar(bar) => {
                    let target = if ghost { &mut ghosts } else { &mut bars };
                    let (from, to) = (projection.at(bar.from), projection.at(bar.to));
                    want(target, along(from, to), 9.0, bar.label.as_deref(), ghost);
                }
                Shape::Construction(line) => {
                    let seen = projection
                        .cell
                        .clip(projection.at(line.from), projection.at(line.to));
                    if let Some((from, to)) = seen {
                        want(&mut bars, along(from, to), 5.0, line.label.as_deref(), ghost);
                    }
                }
                Shape::Marker(marker) => {
                    let (anchor, text) = marker_label(projection, projection.at(marker.at), &marker.label);
                    want(&mut markers, [anchor], 8.5, Some(&text), ghost);
                    let outside = !projection.cell.holds_spot(projection.at(marker.at));
                    markers
                        .iter_mut()
                        .rev()
                        .take(1)
                        .for_each(|label| label.outside = outside);
                }
                Shape::Wheel(wheel) if ghost && named_wheel == Some(place) => {
                    let anchor = wheel_edge(wheel, projection, layer.pose);
                    want(&mut ghosts, [anchor], 4.0, Some(&layer.name), true);
                }
                Shape::Outline(outline) => {
                    let anchor = outline::middle(outline, projection);
                    want(&mut points, [anchor], 9.0, outline.label.as_deref(), ghost);
                }
                Shape::Wheel(_) | Shape::Ground(_) | Shape::Dimension(_) => {}
            }
        }
    }
    markers
        .into_iter()
        .chain(points)
        .chain(bars)
        .chain(ghosts)
        .collect()
}

fn want(
    list: &mut Vec<Wanted>,
    anchors: impl Into<Vec<Spot>>,
    clearance: f64,
    text: Option<&str>,
    ghost: bool,
) {
    let text = clean(text.unwrap_or_default());
    if !text.is_empty() {
        list.push(Wanted {
            anchors: anchors.into(),
            clearance,
            text,
            ghost,
            outside: false,
        });
    }
}

/// Where a ghost is named: at the top of its wheel if it is the high one, at the bottom if it is the low one.
fn wheel_edge(wheel: &Wheel, projection: &Projection, pose: Pose) -> Spot {
    let centre = projection.at(wheel.centre());
    let reach = wheel.half_size().1 * projection.scale;
    (
        centre.0,
        if pose == Pose::High {
            centre.1 - reach
        } else {
            centre.1 + reach
        },
    )
}

/// A marker outside the view is told at the edge, with an arrow to where it lies.
fn marker_label(projection: &Projection, spot: Spot, text: &str) -> (Spot, String) {
    let cell = projection.cell.grown(-4.0);
    if cell.holds_spot(spot) {
        return (spot, text.to_owned());
    }
    let anchor = (
        spot.0.clamp(cell.left, cell.right),
        spot.1.clamp(cell.top, cell.bottom),
    );
    let (aside, down) = (spot.0 - anchor.0, spot.1 - anchor.1);
    let text = if aside.abs() >= down.abs() {
        if aside < 0.0 {
            format!("← {text}")
        } else {
            format!("{text} →")
        }
    } else if down < 0.0 {
        format!("↑ {text}")
    } else {
        format!("↓ {text}")
    };
    (anchor, text)
}

/// Where a label may hang along a line, the best place first.
pub(super) fn along(from: Spot, to: Spot) -> [Spot; 7] {
    ALONG_A_LINE.map(|share| (from.0 + (to.0 - from.0) * share, from.1 + (to.1 - from.1) * share))
}
