//! From a figure to its picture.

use super::beside::{Part, describe, parts};
use super::canvas::{Canvas, Hold, Lettering, Stroke, paint};
use super::check::check;
use super::flags::{self, Flag};
use super::frame;
use super::layout::{Beside, Plan, plan};
use super::margin::LABEL;
use super::marks::{self, InsideLabel};
use super::model::{Axis, Figure};
use super::panel;
use crate::sheet::PictureError;
use crate::sheet::colour::{AXIS, INK};
use crate::sheet::text::{clean, quantity};

impl Figure {
    /// The picture as SVG text, with a title and a description for those who cannot see it.
    ///
    /// # Errors
    /// [`PictureError`] when there is nothing to draw, a number that has to be finite is not, or a range or the width
    /// is unusable.
    pub fn svg(&self) -> Result<String, PictureError> {
        check(self)?;
        let arranged = arrange(self);
        let title = clean(&self.title);
        let title = if title.is_empty() { listing(self) } else { title };
        let description = clean(&self.description);
        let description = if description.is_empty() {
            listing(self)
        } else {
            description
        };
        paint(arranged.plan.size, &title, &description, |canvas| {
            draw(canvas, self, &arranged)
        })
    }
}

/// A figure with every label in its place.
struct Arranged<'a> {
    plan: Plan<'a>,
    flags: Vec<Flag>,
    inside: Vec<Vec<InsideLabel>>,
    beside: Vec<Vec<Part>>,
}

/// Labels that find no room inside a panel go beside it, which makes the panel narrower: repeated until all have room.
/// Labels only ever move outwards, so this ends.
fn arrange(figure: &Figure) -> Arranged<'_> {
    let mut outside: Vec<Vec<Part>> = vec![Vec::new(); figure.panels.len()];
    loop {
        let beside: Vec<Vec<Part>> = figure
            .panels
            .iter()
            .zip(&outside)
            .map(|(panel, outside)| parts(panel, outside))
            .collect();
        let words: Vec<Vec<Beside>> = figure
            .panels
            .iter()
            .zip(&beside)
            .map(|(panel, parts)| parts.iter().filter_map(|part| describe(panel, *part)).collect())
            .collect();
        let bare = plan(figure, &words, 0);
        let edges = bare
            .panels
            .first()
            .map_or((0.0, 0.0), |panel| (panel.area.left, panel.area.right));
        let flags = flags::place(figure, &bare.x, edges.0, edges.1);
        let plan = plan(figure, &words, flags::rows(&flags));
        let lines_down: Vec<f64> = figure
            .limits
            .iter()
            .filter(|limit| plan.x.holds(limit.at))
            .map(|limit| plan.x.at(limit.at))
            .collect();
        let mut inside = Vec::new();
        let mut moved = false;
        for (panel, outside) in plan.panels.iter().zip(&mut outside) {
            let (labels, mut left_over) = marks::place(panel, outside, &lines_down);
            moved |= !left_over.is_empty();
            outside.append(&mut left_over);
            inside.push(labels);
        }
        if !moved {
            return Arranged {
                plan,
                flags,
                inside,
                beside,
            };
        }
    }
}

fn draw(canvas: &mut Canvas<'_>, figure: &Figure, arranged: &Arranged<'_>) -> Result<(), PictureError> {
    let plan = &arranged.plan;
    frame::draw_titles(canvas, plan)?;
    for ((panel, inside), beside) in plan.panels.iter().zip(&arranged.inside).zip(&arranged.beside) {
        panel::draw(canvas, figure, plan, panel, inside, beside)?;
    }
    if let Some(first) = plan.panels.first() {
        for flag in &arranged.flags {
            let middle = flag.middle(first.area.top);
            if let Some(x) = flag.line {
                canvas.line(
                    &[(x, first.area.top), (x, middle.1 + 7.0)],
                    Stroke::solid(AXIS, 0.7),
                )?;
            }
        }
        for flag in &arranged.flags {
            let how = Lettering {
                face: LABEL,
                colour: INK,
                hold: Hold::Middle,
                upright: false,
            };
            canvas.text(&flag.words, flag.middle(first.area.top), how)?;
        }
    }
    plan.panels.last().map_or(Ok(()), |last| {
        frame::draw_shared_axis(canvas, plan, &figure.x, &last.area)
    })
}

/// Axes and curves in words, for a figure without a description of its own.
fn listing(figure: &Figure) -> String {
    let axis = |axis: &Axis| quantity(&clean(&axis.name), &clean(&axis.unit));
    let panels: Vec<String> = figure
        .panels
        .iter()
        .map(|panel| {
            let series = panel.series.iter().map(|series| clean(&series.name));
            let envelopes = panel.envelopes.iter().map(|envelope| clean(&envelope.name));
            let names: Vec<String> = series.chain(envelopes).filter(|name| !name.is_empty()).collect();
            if names.is_empty() {
                axis(&panel.y)
            } else {
                format!("{}: {}", axis(&panel.y), names.join(", "))
            }
        })
        .collect();
    format!("{} over {}", panels.join("; "), axis(&figure.x))
}
