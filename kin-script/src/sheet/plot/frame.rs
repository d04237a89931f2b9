//! Title, grid, axes, tick labels and the words at the ends of axes.

use super::canvas::{Canvas, Hold, Lettering, Stroke};
use super::layout::{EDGE, HEADING, NAME_ROW, PanelPlan, Plan, SUBTITLE, TICK, TICK_GAP, TITLE};
use super::model::Axis;
use crate::sheet::PictureError;
use crate::sheet::boxes::Rect;
use crate::sheet::colour::{AXIS, GRID, INK, SOFT_INK, ZERO_LINE};
use crate::sheet::text::{Fitted, LEADING, Type, clean, fit};

const WORDS: Type = Type::plain(12.0);
/// Between the words along an axis and its numbers (CSS pixels).
const WORDS_GAP: f64 = 8.0;
/// Lines that the words at one end of an axis may take.
const MOST_LINES: usize = 2;

pub(super) fn draw_titles(canvas: &mut Canvas<'_>, plan: &Plan<'_>) -> Result<(), PictureError> {
    let mut top = EDGE;
    for (words, face, colour) in [(&plan.title, TITLE, INK), (&plan.subtitle, SUBTITLE, SOFT_INK)] {
        let height = face.size * LEADING * words.lines.len() as f64;
        let how = Lettering {
            face,
            colour,
            hold: Hold::Start,
            upright: false,
        };
        canvas.text(words, (EDGE, top + height / 2.0), how)?;
        top += height;
    }
    Ok(())
}

/// Grid lines of a panel, under everything but the zones.
pub(super) fn draw_grid(
    canvas: &mut Canvas<'_>,
    plan: &Plan<'_>,
    panel: &PanelPlan<'_>,
) -> Result<(), PictureError> {
    let area = panel.area;
    let stroke = |value: f64| Stroke::solid(if value == 0.0 { ZERO_LINE } else { GRID }, 1.0);
    for value in &plan.x_ticks.values {
        let x = panel.x.at(*value);
        canvas.line(&[(x, area.top), (x, area.bottom)], stroke(*value))?;
    }
    for value in &panel.ticks.values {
        let y = panel.y.at(*value);
        canvas.line(&[(area.left, y), (area.right, y)], stroke(*value))?;
    }
    Ok(())
}

/// Axis lines, ticks, the panel's name and its numbers.
pub(super) fn draw_axes(
    canvas: &mut Canvas<'_>,
    plan: &Plan<'_>,
    panel: &PanelPlan<'_>,
) -> Result<(), PictureError> {
    let Rect {
        left,
        top,
        right,
        bottom,
    } = panel.area;
    let line = Stroke::solid(AXIS, 1.0);
    canvas.line(&[(left, top), (left, bottom), (right, bottom)], line)?;
    for value in &plan.x_ticks.values {
        let x = panel.x.at(*value);
        canvas.line(&[(x, bottom), (x, bottom + 4.0)], line)?;
    }
    let numbers = Lettering {
        face: TICK,
        colour: SOFT_INK,
        hold: Hold::End,
        upright: false,
    };
    for (value, label) in panel.ticks.values.iter().zip(&panel.ticks.labels) {
        let y = panel.y.at(*value);
        canvas.line(&[(left - 4.0, y), (left, y)], line)?;
        canvas.text(&one_line(label), (left - TICK_GAP, y), numbers)?;
    }
    let name = Lettering {
        face: HEADING,
        colour: INK,
        hold: Hold::Start,
        upright: false,
    };
    canvas.text(&panel.heading, (left, panel.heading_height), name)?;
    draw_end_words(canvas, &panel.panel.y, &panel.area, plan.words_column)
}

/// Words along the panel's axis, reading upwards: at its foot what lower numbers mean, at its head what higher ones do.
fn draw_end_words(
    canvas: &mut Canvas<'_>,
    axis: &Axis,
    area: &Rect,
    column: f64,
) -> Result<(), PictureError> {
    let x = EDGE + (column - WORDS_GAP) / 2.0;
    let (low, high) = end_words(axis, room_of_each(axis, area.height()), MOST_LINES);
    let how = |hold| Lettering {
        face: WORDS,
        colour: SOFT_INK,
        hold,
        upright: true,
    };
    canvas.text(&low, (x, area.bottom), how(Hold::Start))?;
    canvas.text(&high, (x, area.top), how(Hold::End))
}

/// Room along a panel of this height for the words at one end of its axis.
fn room_of_each(axis: &Axis, height: f64) -> f64 {
    if axis.low_words.is_some() && axis.high_words.is_some() {
        height / 2.0 - 5.0
    } else {
        height
    }
}

/// Width of the column for the words along a panel's axis (CSS pixels): two lines where one is too short for them.
pub(super) fn words_column(axis: &Axis, height: f64) -> f64 {
    let (low, high) = end_words(axis, room_of_each(axis, height), MOST_LINES);
    match low.lines.len().max(high.lines.len()) {
        0 => 0.0,
        lines => WORDS.size * (1.0 + LEADING * (lines - 1) as f64) + WORDS_GAP,
    }
}

/// The words at the ends of an axis with arrows, each within its room.
fn end_words(axis: &Axis, room: f64, most_lines: usize) -> (Fitted, Fitted) {
    let arrow_room = WORDS.width("← ");
    let words = |text: &Option<String>| {
        fit(
            text.as_deref().unwrap_or_default(),
            WORDS,
            room - arrow_room,
            most_lines,
        )
    };
    let (mut low, mut high) = (words(&axis.low_words), words(&axis.high_words));
    if let Some(first) = low.lines.first_mut() {
        first.insert_str(0, "← ");
    }
    if let Some(last) = high.lines.last_mut() {
        last.push_str(" →");
    }
    (low, high)
}

/// Room along the axis that the words at both its ends need to be shown whole (CSS pixels): on one line, or on two where
/// one would need more than `most`.
pub(super) fn end_words_room(axis: &Axis, most: f64) -> f64 {
    let room = |width: fn(&str) -> f64| {
        let words = [&axis.low_words, &axis.high_words].into_iter().flatten();
        let widest = words
            .map(|words| WORDS.width("← ") + width(&clean(words)))
            .fold(0.0, f64::max);
        if widest > 0.0 { 2.0 * (widest + 8.0) } else { 0.0 }
    };
    let on_one_line = room(|words| WORDS.width(words));
    if on_one_line <= most {
        on_one_line
    } else {
        room(width_on_two_lines).min(most)
    }
}

/// Width of words broken where both lines are shortest.
fn width_on_two_lines(words: &str) -> f64 {
    let broken = words.match_indices(' ').map(|(place, _)| {
        let (first, second) = words.split_at(place);
        WORDS.width(first).max(WORDS.width(second.trim_start()))
    });
    broken.fold(WORDS.width(words), f64::min)
}

/// Numbers, name and words of the shared axis, below the last panel.
pub(super) fn draw_shared_axis(
    canvas: &mut Canvas<'_>,
    plan: &Plan<'_>,
    axis: &Axis,
    area: &Rect,
) -> Result<(), PictureError> {
    let numbers = Lettering {
        face: TICK,
        colour: SOFT_INK,
        hold: Hold::Middle,
        upright: false,
    };
    for (value, label) in plan.x_ticks.values.iter().zip(&plan.x_ticks.labels) {
        canvas.text(&one_line(label), (plan.x.at(*value), area.bottom + 15.0), numbers)?;
    }
    let mut y = area.bottom + 36.0;
    let name_width = HEADING.width(&plan.x_name);
    let aside = if plan.name_below {
        area.width() / 2.0
    } else {
        (area.width() - name_width) / 2.0
    };
    let (low, high) = end_words(axis, aside - 10.0, 1);
    let words = |hold| Lettering {
        face: WORDS,
        colour: SOFT_INK,
        hold,
        upright: false,
    };
    canvas.text(&low, (area.left, y), words(Hold::Start))?;
    canvas.text(&high, (area.right, y), words(Hold::End))?;
    y += if plan.name_below { NAME_ROW } else { 0.0 };
    let name = fit(&plan.x_name, HEADING, area.width(), 1);
    let centre = (area.left + area.right) / 2.0;
    canvas.text(
        &name,
        (centre, y),
        Lettering {
            face: HEADING,
            colour: INK,
            hold: Hold::Middle,
            upright: false,
        },
    )
}

/// Whether the name of the shared axis needs a row of its own below the words at its ends.
pub(super) fn needs_row_of_its_own(axis: &Axis, name: &str, width: f64) -> bool {
    let words = [&axis.low_words, &axis.high_words].into_iter().flatten();
    let widest = words
        .map(|words| WORDS.width(&format!("← {}", clean(words))))
        .fold(0.0, f64::max);
    widest > 0.0 && HEADING.width(name) + 2.0 * (widest + 12.0) > width
}

pub(super) fn one_line(text: &str) -> Fitted {
    Fitted {
        lines: vec![text.to_owned()],
        whole: None,
    }
}
