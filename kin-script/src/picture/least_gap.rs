//! The linkage where two solids come nearest to one another, with the gap between them.

use super::linkage::{DrawnView, add, project, sheet};
use super::skeleton::{self, Skeleton};
use crate::host::ScriptError;
use crate::model::{Body, Model, Suspension};
use crate::sheet::drawing::{
    Dimension, DimensionPlace, Drawing, Layer, Marker, Outline, OutlineKind, Pose, Shape, View,
};
use crate::units::LengthUnit;
use crate::vocabulary::core_error;
use kin_core::AxleTravel;
use kin_core::checks::{Finding, PairClearance, RoundedHull, Verdict, WheelPlace};
use std::f64::consts::TAU;

/// Points on the circle round a corner of a hull.
const ROUND_POINTS: u32 = 96;
/// A gap seen shorter than this share of itself is not dimensioned in that view: the line would look like another.
const SEEN_SHARE: f64 = 0.6;
/// A gap below this (mm) is marked by a ring: on a sheet that shows a wheel its arrows would cover it.
const LEAST_MM: f64 = 12.0;
/// The same where the sheet shows the gap close up (mm).
const LEAST_CLOSE_UP_MM: f64 = 0.2;
/// A close-up reaches this many gaps to each side, and so many millimetres at least.
const CLOSE_UP_GAPS: f64 = 4.0;
/// Its height over its width.
const CLOSE_UP_HEIGHT: f64 = 0.6;
const LEAST_WINDOW_MM: f64 = 15.0;

/// Draws a suspension where the gap of a pair is least, with ride height as a ghost.
///
/// # Errors
/// Positions that cannot be reached.
pub fn least_gap(
    model: &Model,
    suspension: &Suspension,
    views: &[DrawnView],
    (pair, finding): (&PairClearance, &Finding),
) -> Result<Drawing, ScriptError> {
    let failed = |error: kin_core::Error| core_error(&error, &model.units);
    let show = model.units.shown();
    let place = pair.least.wheels.sentence().render(show);
    let poses = [
        (
            Pose::Low,
            "ride height".to_owned(),
            at(suspension, None).map_err(failed)?,
        ),
        (
            Pose::Main,
            format!("least gap, {place}"),
            at(suspension, Some(&pair.least.wheels)).map_err(failed)?,
        ),
    ];
    let mut drawing = sheet(model, matches!(suspension, Suspension::Axle(_)), views, &poses);
    let words = gap_words(pair, finding, model.units.length);
    drawing.subtitle = Some(format!("{} to {}: {words}, {place}", pair.part, pair.other));
    drawing.description = format!(
        "Linkage {place}, where the gap from {} to {} is least: {words}. Ride height as a ghost. Tyre width is drawn by eye \
         where it is not one of the two.",
        pair.part, pair.other
    );
    let best = best_view(views, pair, LEAST_MM);
    for (drawn, view) in drawing.views.iter_mut().zip(views) {
        // The two solids and their gap are what is to be seen: names of joints would be in the way.
        unname(drawn);
        let mut shapes = solids(*view, pair);
        if Some(*view) == best {
            shapes.push(gap_line(*view, pair, &words));
        } else {
            shapes.push(Shape::Marker(Marker {
                at: project(*view, &((pair.least.on_part + pair.least.on_other) / 2.0)),
                label: words.clone(),
            }));
        }
        add(drawn, shapes, Vec::new());
    }
    Ok(drawing)
}

/// Draws only the two solids, close up round their least gap and cut off at the edge of the picture.
#[must_use]
pub fn gap_close_up(
    model: &Model,
    views: &[DrawnView],
    (pair, finding): (&PairClearance, &Finding),
) -> Drawing {
    let unit = model.units.length;
    let place = pair.least.wheels.sentence().render(model.units.shown());
    let words = gap_words(pair, finding, unit);
    let best = best_view(views, pair, LEAST_CLOSE_UP_MM);
    let wide = (CLOSE_UP_GAPS * pair.least.gap.abs()).max(LEAST_WINDOW_MM);
    let half = (wide, CLOSE_UP_HEIGHT * wide);
    let mut drawing = sheet(model, matches!(model.body, Body::LiveAxle(_)), views, &[]);
    drawing.subtitle = Some(format!(
        "{} to {}: {words}, {place}; close up",
        pair.part, pair.other
    ));
    drawing.description = format!(
        "The two solids {} and {} {place}, close up where the gap between them is least: {words}. They are cut off at the edge.",
        pair.part, pair.other
    );
    let middle = (pair.least.on_part + pair.least.on_other) / 2.0;
    for (drawn, view) in drawing.views.iter_mut().zip(views) {
        let at = project(*view, &middle);
        let mut shapes = Vec::new();
        for shape in solids(*view, pair) {
            if let Shape::Outline(mut outline) = shape {
                outline.places = cut(outline.places, at, half);
                if outline.places.len() >= 3 {
                    outline.window = Some((at, half));
                    shapes.push(Shape::Outline(outline));
                }
            }
        }
        if Some(*view) == best {
            shapes.push(gap_line(*view, pair, &words));
        }
        drawn.layers.push(Layer {
            pose: Pose::Main,
            name: String::new(),
            shapes,
        });
        drawn
            .reaches
            .extend([(at.0 - half.0, at.1 - half.1), (at.0 + half.0, at.1 + half.1)]);
    }
    drawing
}

/// The part of a convex outline in a window, given by its middle and half its width and height, edge after edge (the polygon clipping of Sutherland and Hodgman, 1974).
fn cut(mut places: Vec<(f64, f64)>, at: (f64, f64), half: (f64, f64)) -> Vec<(f64, f64)> {
    for (across, side) in [(true, 1.0), (true, -1.0), (false, 1.0), (false, -1.0)] {
        // How far a place lies inside one edge of the window.
        let inside = |place: (f64, f64)| {
            let from = if across { place.0 - at.0 } else { place.1 - at.1 };
            (if across { half.0 } else { half.1 }) - side * from
        };
        let Some(mut last) = places.last().copied() else {
            break;
        };
        let mut kept = Vec::new();
        for place in places {
            let (before, here) = (inside(last), inside(place));
            if (before < 0.0) != (here < 0.0) {
                let share = before / (before - here);
                kept.push((
                    last.0 + (place.0 - last.0) * share,
                    last.1 + (place.1 - last.1) * share,
                ));
            }
            if here >= 0.0 {
                kept.push(place);
            }
            last = place;
        }
        places = kept;
    }
    places
}

/// A dimension line from one closest point to the other.
fn gap_line(view: DrawnView, pair: &PairClearance, words: &str) -> Shape {
    Shape::Dimension(Dimension {
        from: project(view, &pair.least.on_part),
        to: project(view, &pair.least.on_other),
        place: DimensionPlace::Along,
        text: words.to_owned(),
    })
}

/// The gap with its verdict: a gap below zero is an overlap.
fn gap_words(pair: &PairClearance, finding: &Finding, unit: LengthUnit) -> String {
    let gap = pair.least.gap;
    let size = unit.text(gap.abs());
    let what = match (gap < 0.0, pair.least.cores_meet) {
        (true, true) => format!("overlap of more than {size}"),
        (true, false) => format!("overlap {size}"),
        (false, _) => format!("gap {size}"),
    };
    match finding.verdict {
        Verdict::NotAsked => what,
        verdict => format!("{what} ({verdict})"),
    }
}

fn at(suspension: &Suspension, place: Option<&WheelPlace>) -> Result<Skeleton, kin_core::Error> {
    Ok(match suspension {
        Suspension::Corner(corner) => {
            let (travel, rack) = place.map_or((0.0, 0.0), |place| (place.left(), place.rack()));
            skeleton::of_corner(&corner.at(corner.ride_travel()? + travel, rack)?)
        }
        Suspension::Axle(axle) => {
            let ride = axle.ride_travel()?;
            let (left, right) = place.map_or((0.0, 0.0), |place| (place.left(), place.right()));
            skeleton::of_axle(&axle.at(AxleTravel {
                left: ride + left,
                right: ride + right,
            })?)
        }
    })
}

/// The view that shows the gap at its longest, if any shows it well.
fn best_view(views: &[DrawnView], pair: &PairClearance, least: f64) -> Option<DrawnView> {
    let apart = (pair.least.on_part - pair.least.on_other).norm();
    let seen = |view: &DrawnView| {
        let (one, two) = (
            project(*view, &pair.least.on_part),
            project(*view, &pair.least.on_other),
        );
        (one.0 - two.0).hypot(one.1 - two.1)
    };
    let best = views.iter().max_by(|a, b| seen(a).total_cmp(&seen(b)))?;
    (apart >= least && seen(best) >= SEEN_SHARE * apart).then_some(*best)
}

fn unname(view: &mut View) {
    for shape in view.layers.iter_mut().flat_map(|layer| &mut layer.shapes) {
        match shape {
            Shape::Joint(joint) => joint.label = None,
            Shape::Bar(bar) => bar.label = None,
            _ => {}
        }
    }
    for layer in &mut view.layers {
        layer.shapes.retain(|shape| !matches!(shape, Shape::Dimension(_)));
    }
}

/// Both solids, each named once.
fn solids(view: DrawnView, pair: &PairClearance) -> Vec<Shape> {
    let names = [&pair.part, &pair.other];
    let kinds = [OutlineKind::Part, OutlineKind::Obstacle];
    let mut shapes = Vec::new();
    for ((hulls, name), kind) in pair.at_least.iter().zip(names).zip(kinds) {
        let mut label = Some(name.clone());
        for hull in hulls {
            let places = seen(view, hull);
            if places.len() >= 3 {
                let label = label.take();
                shapes.push(Shape::Outline(Outline {
                    places,
                    kind,
                    label,
                    window: None,
                }));
            }
        }
    }
    shapes
}

/// The outline of a rounded hull in a view.
fn seen(view: DrawnView, hull: &RoundedHull) -> Vec<(f64, f64)> {
    let corners = hull.points.iter().map(|point| project(view, point));
    if hull.radius <= 0.0 {
        return convex_hull(corners.collect());
    }
    let round = |(x, y): (f64, f64)| {
        (0..ROUND_POINTS).map(move |step| {
            let turn = f64::from(step) * TAU / f64::from(ROUND_POINTS);
            (x + hull.radius * turn.cos(), y + hull.radius * turn.sin())
        })
    };
    convex_hull(corners.flat_map(round).collect())
}

/// The convex hull of places in a plane, by the monotone chain of Andrew (1979): sorted along one direction, and from both
/// ends only left turns are kept.
fn convex_hull(mut places: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    places.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    places.dedup();
    if places.len() < 3 {
        return places;
    }
    let half = |places: &mut dyn Iterator<Item = &(f64, f64)>| {
        let mut chain: Vec<(f64, f64)> = Vec::new();
        for place in places {
            while let [.., before, last] = chain.as_slice() {
                let turn =
                    (last.0 - before.0) * (place.1 - before.1) - (last.1 - before.1) * (place.0 - before.0);
                if turn > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(*place);
        }
        // Its last place is the first one of the other half.
        chain.pop();
        chain
    };
    let mut hull = half(&mut places.iter());
    hull.extend(half(&mut places.iter().rev()));
    hull
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hull_of_a_square_with_places_inside_is_the_square() {
        let inside = [(5.0, 5.0), (2.0, 7.0), (5.0, 0.0)];
        let mut places = vec![(10.0, 10.0), (0.0, 0.0), (10.0, 0.0), (0.0, 10.0)];
        places.extend(inside);
        let hull = convex_hull(places);
        assert_eq!(hull, [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]);
    }

    #[test]
    fn a_window_cuts_an_outline() {
        let strip = vec![(-100.0, -1.0), (100.0, -1.0), (100.0, 1.0), (-100.0, 1.0)];
        let seen = cut(strip.clone(), (50.0, 0.0), (10.0, 6.0));
        assert_eq!(seen.len(), 4);
        assert!(
            seen.iter()
                .all(|place| (40.0..=60.0).contains(&place.0) && place.1.abs() == 1.0)
        );
        assert!(cut(strip, (50.0, 40.0), (10.0, 6.0)).is_empty());
    }

    #[test]
    fn a_rod_seen_from_its_end_is_a_circle() {
        let rod = RoundedHull {
            points: vec![[100.0, 400.0, 300.0].into(), [-100.0, 400.0, 300.0].into()],
            radius: 20.0,
        };
        let places = seen(DrawnView::Front, &rod);
        assert!(places.len() >= 90);
        for (y, z) in places {
            assert!(((y - 400.0).hypot(z - 300.0) - 20.0).abs() < 1e-9);
        }
    }
}
