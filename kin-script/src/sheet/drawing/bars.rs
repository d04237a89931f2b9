//! Straight parts: tubes with an outline, dampers, springs; ghosts as thin dashed lines.

use super::model::{Bar, BarStyle, Pose};
use super::pen::{Pen, Stroke};
use super::projection::Projection;
use super::spring::coils;
use crate::sheet::boxes::{Spot, distance};
use crate::sheet::colour::{BLUE, Colour, GREEN, INK, PLUM, RUST, SLATE, SOFT_INK};

/// The dash of a ghost; the main pose has none.
pub(super) fn ghost_stroke(pose: Pose, width: f64) -> Stroke {
    match pose {
        Pose::Main => Stroke::solid(INK, width),
        Pose::Low => Stroke {
            colour: SOFT_INK,
            width,
            dash: "9 4",
            opacity: 0.8,
        },
        Pose::High => Stroke {
            colour: SOFT_INK,
            width,
            dash: "1.8 3",
            opacity: 0.8,
        },
    }
}

/// Outline colour, core colour and outer width of a tube (CSS pixels).
fn tube(style: BarStyle) -> (Colour, Colour, f64) {
    match style {
        BarStyle::Arm => (BLUE, BLUE.tint(0.28), 7.0),
        BarStyle::Link => (BLUE, BLUE.tint(0.12), 6.0),
        BarStyle::Upright => (INK, SLATE.tint(0.55), 9.0),
        BarStyle::TieRod => (PLUM, PLUM.tint(0.2), 4.5),
        BarStyle::AxleTube => (INK, SLATE.tint(0.25), 14.0),
        BarStyle::Damper { .. } => (RUST, RUST.tint(0.35), 11.0),
        BarStyle::Spring { .. } => (GREEN, GREEN, 2.2),
    }
}

/// Half of what a bar takes up across its length (CSS pixels).
pub(super) fn half_width(style: BarStyle, scale: f64) -> f64 {
    match style {
        BarStyle::Spring { diameter, .. } => diameter * scale / 2.0,
        _ => tube(style).2 / 2.0,
    }
}

/// What lies behind a bar: the far halves of a spring.
pub(super) fn draw_back(pen: &mut Pen, bar: &Bar, projection: &Projection) {
    if let BarStyle::Spring {
        diameter,
        coils: turns,
    } = bar.style
    {
        let (from, to) = (projection.at(bar.from), projection.at(bar.to));
        for (start, end) in coils(from, to, diameter * projection.scale, turns).back {
            pen.line(start, end, Stroke::solid(GREEN.tint(0.6), 1.2));
        }
    }
}

/// The bar itself, but for the near halves of a spring.
pub(super) fn draw_body(pen: &mut Pen, bar: &Bar, projection: &Projection) {
    let (from, to) = (projection.at(bar.from), projection.at(bar.to));
    let (outline, core, width) = tube(bar.style);
    match bar.style {
        BarStyle::Spring { .. } => {}
        BarStyle::Damper { body } => {
            let length = distance(from, to);
            let share = if length > 0.0 {
                (body * projection.scale / length).min(1.0)
            } else {
                1.0
            };
            let end = (from.0 + (to.0 - from.0) * share, from.1 + (to.1 - from.1) * share);
            draw_tube(pen, end, to, (INK, SLATE.tint(0.2), 4.5));
            draw_tube(pen, from, end, (outline, core, width));
        }
        _ => draw_tube(pen, from, to, (outline, core, width)),
    }
}

/// What lies before a bar: the near halves of a spring.
pub(super) fn draw_front(pen: &mut Pen, bar: &Bar, projection: &Projection) {
    if let BarStyle::Spring {
        diameter,
        coils: turns,
    } = bar.style
    {
        let (from, to) = (projection.at(bar.from), projection.at(bar.to));
        for (start, end) in coils(from, to, diameter * projection.scale, turns).front {
            pen.line(start, end, Stroke::solid(GREEN, 2.0));
        }
    }
}

/// A bar of another pose. Springs are left out: their coils would hide the rest.
pub(super) fn draw_ghost(pen: &mut Pen, bar: &Bar, projection: &Projection, pose: Pose) {
    if !matches!(bar.style, BarStyle::Spring { .. }) {
        pen.line(
            projection.at(bar.from),
            projection.at(bar.to),
            ghost_stroke(pose, 1.5),
        );
    }
}

fn draw_tube(pen: &mut Pen, from: Spot, to: Spot, (outline, core, width): (Colour, Colour, f64)) {
    pen.line(from, to, Stroke::solid(outline, width));
    pen.line(from, to, Stroke::solid(core, width - 2.6));
}
