//! A linkage in motion as one picture for slides: its frames are shown in turn by the picture's own style sheet.
//!
//! Who asks for reduced motion, or looks with a program that animates nothing, sees ride height.

mod ratio;

use super::skeleton::{self, PartKind, Skeleton, WheelInSpace};
use crate::host::ScriptError;
use crate::model::{Model, Suspension};
use crate::readings::Reading;
use crate::table::fixed;
use crate::units::Units;
use crate::vocabulary::core_error;
use kin_core::curves::{AxleCurve, CornerCurve};
use kin_core::pickups::Point;
use kin_core::{AxleTravel, Error};
use ratio::Curve;
use std::fmt::Write;
use svg::Document;
use svg::node::element::{Circle, Description, Group, Line, Path, Polygon, Style, Text, Title};

/// Pictures from full droop to full bump; the way back shows them again.
const FRAMES: usize = 31;
/// Size of the picture and of its parts (CSS pixels).
const WIDTH: f64 = 900.0;
const HEAD: f64 = 84.0;
const DRAWN: f64 = 420.0;
const CURVE: (f64, f64) = (120.0, 30.0);
/// Room at the sides.
const EDGE: f64 = 70.0;
/// Width of a tyre as drawn, as a share of its radius: descriptions do not give it.
const TYRE_WIDTH: f64 = 0.65;

/// One position: parts in space, and what is said of it.
struct Frame {
    travel: f64,
    skeleton: Skeleton,
    words: String,
    ratio: Option<f64>,
}

/// From millimetres to the picture.
struct Scale {
    scale: f64,
    across: f64,
    up: f64,
    /// Seen from behind, the left is on the left.
    reversed: bool,
}

/// An animated picture of a suspension from droop to bump and back.
///
/// * `droop`, `bump`: wheel travel from ride height at the ends (mm, positive)
/// * `seconds`: for the way there and back
///
/// # Errors
/// Positions that cannot be reached.
pub fn animation(
    model: &Model,
    suspension: &Suspension,
    droop: f64,
    bump: f64,
    seconds: f64,
) -> Result<String, ScriptError> {
    let failed = |error: Error| core_error(&error, &model.units);
    let frame = |travel: f64| frame(suspension, travel, &model.units).map_err(failed);
    let frames: Vec<Frame> = (0..FRAMES)
        .map(|step| {
            // Slow at both ends, as a wheel that turns round is.
            let turn = std::f64::consts::PI * step as f64 / (FRAMES - 1) as f64;
            frame(-droop + (droop + bump) * 0.5 * (1.0 - turn.cos()))
        })
        .collect::<Result<_, _>>()?;
    let still = frame(0.0)?;
    let scale = Scale::around(&frames, matches!(suspension, Suspension::Axle(_)));
    let height = HEAD + DRAWN + CURVE.0 + 2.0 * CURVE.1;
    let text = |place: (f64, f64), size: f64, words: &str| {
        Text::new(words)
            .set("x", short(place.0))
            .set("y", short(place.1))
            .set("font-size", size)
            .set("font-family", "sans-serif")
            .set("fill", "#1d242c")
    };
    let ends = format!(
        "from {} of droop to {} of bump",
        model.units.length.text(droop),
        model.units.length.text(bump)
    );
    let mut document = Document::new()
        .set("role", "img")
        .set("width", WIDTH)
        .set("height", height)
        .set("viewBox", (0.0, 0.0, WIDTH, height))
        .add(Title::new(format!("{}, moving", model.title)))
        .add(Description::new().add(svg::node::Text::new(format!(
            "The linkage to scale, {} view, {ends} and back, with its motion ratio; ride height where nothing may move",
            if scale.reversed { "rear" } else { "front" }
        ))))
        .add(Style::new(style(seconds)))
        .add(
            svg::node::element::Rectangle::new()
                .set("width", WIDTH)
                .set("height", height)
                .set("fill", "#ffffff"),
        )
        .add(text((EDGE, 34.0), 20.0, &model.title).set("font-weight", "bold"));
    let curve = Curve::of(&frames);
    if let Some(curve) = &curve {
        for line in curve.drawn(&model.units) {
            document = document.add(line);
        }
    }
    document = document.add(shown(&still, &scale, curve.as_ref()).set("class", "kin-still"));
    for (place, frame) in frames.iter().enumerate() {
        let group = shown(frame, &scale, curve.as_ref())
            .set("class", format!("kin-frame kin-frame-{place}"))
            .set("visibility", "hidden");
        document = document.add(group);
    }
    Ok(document.to_string() + "\n")
}

fn frame(suspension: &Suspension, from_ride: f64, units: &Units) -> Result<Frame, Error> {
    let (skeleton, readings) = match suspension {
        Suspension::Corner(corner) => {
            let at = corner.at(corner.ride_travel()? + from_ride, 0.0)?;
            let value = |curve| Reading::Corner(curve, None).at_corner(&at);
            (
                skeleton::of_corner(&at),
                [value(CornerCurve::DamperLength), value(CornerCurve::MotionRatio)],
            )
        }
        Suspension::Axle(axle) => {
            let at = axle.at(AxleTravel::both(axle.ride_travel()? + from_ride))?;
            let value = |curve| Reading::Axle(curve, None).at_axle(&at);
            (
                skeleton::of_axle(&at),
                [
                    value(AxleCurve::DamperLengthLeft),
                    value(AxleCurve::MotionRatioLeft),
                ],
            )
        }
    };
    let length = units.length.text(from_ride.abs());
    let mut words = match from_ride {
        up if up > 0.0 => format!("{length} of bump"),
        down if down < 0.0 => format!("{length} of droop"),
        _ => "ride height".to_owned(),
    };
    let [damper, ratio] = readings;
    if let Some(damper) = damper {
        let _ = write!(words, ", damper {}", units.length.text(damper));
    }
    if let Some(ratio) = ratio {
        let _ = write!(words, ", motion ratio {}", fixed(ratio, 3));
    }
    Ok(Frame {
        travel: from_ride,
        skeleton,
        words,
        ratio,
    })
}

/// Frames shown in turn, forwards and back; nothing moves where no motion is wanted.
fn style(seconds: f64) -> String {
    let mut rules = format!(
        "@media (prefers-reduced-motion: no-preference) {{ .kin-still {{ visibility: hidden }} .kin-frame {{ animation: {}s \
         step-end infinite alternate }}",
        short(0.5 * seconds)
    );
    for place in 0..FRAMES {
        let _ = write!(
            rules,
            " .kin-frame-{place} {{ animation-name: kin-show-{place} }}"
        );
    }
    rules.push_str(" }");
    for place in 0..FRAMES {
        let share = |place: usize| short(100.0 * place as f64 / FRAMES as f64);
        let (from, to) = (share(place), share(place + 1));
        let before = if place == 0 {
            ""
        } else {
            "0% { visibility: hidden } "
        };
        let _ = write!(
            rules,
            " @keyframes kin-show-{place} {{ {before}{from}% {{ visibility: visible }} {to}%, 100% {{ visibility: hidden }} }}"
        );
    }
    // The last frame is shown to the end.
    rules.replace(
        "100%, 100% { visibility: hidden }",
        "100% { visibility: visible }",
    )
}

impl Scale {
    fn around(frames: &[Frame], reversed: bool) -> Self {
        let (mut low, mut high) = (Point::repeat(f64::INFINITY), Point::repeat(f64::NEG_INFINITY));
        for frame in frames {
            let skeleton = &frame.skeleton;
            let parts = skeleton.parts.iter().flat_map(|part| [part.from, part.to]);
            let wheels = skeleton.wheels.iter().flat_map(|wheel| {
                let away = Point::new(0.0, TYRE_WIDTH * wheel.radius, wheel.radius);
                [wheel.centre - away, wheel.centre + away]
            });
            for point in parts.chain(wheels) {
                low = low.inf(&point);
                high = high.sup(&point);
            }
        }
        let scale = ((WIDTH - 2.0 * EDGE) / (high.y - low.y)).min(DRAWN / (high.z - low.z));
        let middle = 0.5 * (low.y + high.y) * if reversed { -1.0 } else { 1.0 };
        Self {
            scale,
            across: 0.5 * WIDTH - scale * middle,
            up: HEAD + 0.5 * DRAWN + 0.5 * scale * (low.z + high.z),
            reversed,
        }
    }

    fn at(&self, point: &Point) -> (f64, f64) {
        let across = if self.reversed { -point.y } else { point.y };
        (self.across + self.scale * across, self.up - self.scale * point.z)
    }
}

fn shown(frame: &Frame, scale: &Scale, curve: Option<&Curve>) -> Group {
    let mut group = Group::new();
    for wheel in &frame.skeleton.wheels {
        group = group.add(tyre(wheel, scale));
    }
    if let Some(contact) = frame.skeleton.contacts.first() {
        let y = scale.at(contact).1;
        group = group.add(line((0.5 * EDGE, y), (WIDTH - 0.5 * EDGE, y), "#6b7681", 2.0));
    }
    let wheel = frame.skeleton.wheels.first();
    for part in &frame.skeleton.parts {
        if let (PartKind::Upright, Some(wheel)) = (part.kind, wheel) {
            let middle = (part.from + part.to) * 0.5;
            group = group.add(line(scale.at(&middle), scale.at(&wheel.centre), "#1d242c", 3.0));
        }
        let (colour, width) = match part.kind {
            PartKind::Arm | PartKind::Link => ("#1f5494", 4.0),
            PartKind::Upright | PartKind::AxleTube => ("#1d242c", 6.0),
            PartKind::TieRod => ("#48525d", 2.5),
            PartKind::Damper => ("#cc6a22", 7.0),
            PartKind::Spring => ("#8e2a22", 2.5),
        };
        let (from, to) = (scale.at(&part.from), scale.at(&part.to));
        group = if part.kind == PartKind::Spring {
            group.add(coil(from, to, 0.11 * scale.scale * radius(&frame.skeleton)))
        } else {
            group.add(line(from, to, colour, width))
        };
    }
    for (_, joint) in &frame.skeleton.joints {
        let (x, y) = scale.at(joint);
        group = group.add(
            Circle::new()
                .set("cx", short(x))
                .set("cy", short(y))
                .set("r", 4)
                .set("fill", "#ffffff")
                .set("stroke", "#1d242c")
                .set("stroke-width", 2),
        );
    }
    if let (Some(curve), Some(ratio)) = (curve, frame.ratio) {
        let (x, y) = curve.at(frame.travel, ratio);
        group = group.add(
            Circle::new()
                .set("cx", short(x))
                .set("cy", short(y))
                .set("r", 7)
                .set("fill", "#1f5494"),
        );
    }
    group.add(
        Text::new(frame.words.as_str())
            .set("x", EDGE)
            .set("y", 62)
            .set("font-size", 17)
            .set("font-family", "sans-serif")
            .set("fill", "#1d242c"),
    )
}

fn radius(skeleton: &Skeleton) -> f64 {
    skeleton.wheels.first().map_or(0.0, |wheel| wheel.radius)
}

fn line(from: (f64, f64), to: (f64, f64), colour: &str, width: f64) -> Line {
    Line::new()
        .set("x1", short(from.0))
        .set("y1", short(from.1))
        .set("x2", short(to.0))
        .set("y2", short(to.1))
        .set("stroke", colour)
        .set("stroke-width", width)
        .set("stroke-linecap", "round")
}

fn tyre(wheel: &WheelInSpace, scale: &Scale) -> Polygon {
    let along = wheel.spin_axis * (0.5 * TYRE_WIDTH * wheel.radius);
    let down = Point::new(0.0, -wheel.spin_axis.z, wheel.spin_axis.y).normalize() * wheel.radius;
    let corners = [along + down, along - down, -along - down, -along + down];
    let points = corners.map(|away| {
        let (x, y) = scale.at(&(wheel.centre + away));
        format!("{},{}", short(x), short(y))
    });
    Polygon::new()
        .set("points", points.join(" "))
        .set("fill", "#1d242c")
        .set("fill-opacity", 0.08)
        .set("stroke", "#48525d")
        .set("stroke-width", 1.5)
        .set("stroke-linejoin", "round")
}

fn coil(from: (f64, f64), to: (f64, f64), half: f64) -> Path {
    const TURNS: usize = 14;
    let (along, up) = (to.0 - from.0, to.1 - from.1);
    let size = along.hypot(up).max(1.0);
    let mut data = String::new();
    for step in 0..=TURNS {
        let share = step as f64 / TURNS as f64;
        let away = match step {
            0 | TURNS => 0.0,
            odd if odd % 2 == 1 => half,
            _ => -half,
        };
        let (x, y) = (
            from.0 + share * along - away * up / size,
            from.1 + share * up + away * along / size,
        );
        let _ = write!(
            data,
            "{}{} {}",
            if step == 0 { "M" } else { "L" },
            short(x),
            short(y)
        );
    }
    Path::new()
        .set("d", data)
        .set("fill", "none")
        .set("stroke", "#8e2a22")
        .set("stroke-width", 2.5)
}

/// A number to a tenth, without needless zeros.
fn short(value: f64) -> String {
    let text = fixed(value, 1);
    text.strip_suffix(".0").map(str::to_owned).unwrap_or(text)
}
