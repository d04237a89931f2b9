//! Where everything goes: room for words first, the panels get the rest.

use super::check::{panel_range, shared_range};
use super::curve::visible_pieces;
use super::frame::{self, end_words_room, needs_row_of_its_own};
use super::margin::{BESIDE, LABEL, Sample, entry_room};
use super::model::{Axis, Figure, Panel};
use super::ticks::{Ticks, power_text, ticks_in};
use crate::sheet::boxes::{Rect, Spot};
use crate::sheet::text::{Fitted, LEADING, Type, clean, fit, quantity};

pub(super) const TITLE: Type = Type::bold(18.0);
pub(super) const SUBTITLE: Type = Type::plain(13.0);
pub(super) const HEADING: Type = Type::bold(13.0);
pub(super) const TICK: Type = Type::plain(12.0);
/// Free edge of the picture (CSS pixels).
pub(super) const EDGE: f64 = 14.0;
/// From the axis to its tick labels (CSS pixels).
pub(super) const TICK_GAP: f64 = 9.0;
/// Height of a row of labels above the panels (CSS pixels).
pub(super) const FLAG_ROW: f64 = 17.0;
const HEADING_ROW: f64 = 26.0;
/// Between the titles and the first heading (CSS pixels).
const TITLE_GAP: f64 = 4.0;
/// Height of a row for the name of the shared axis alone (CSS pixels).
pub(super) const NAME_ROW: f64 = 18.0;
const FOOT: f64 = 56.0;
/// Height of a panel that the words along its axis may ask for, as a share of the figure's width.
const TALLEST_FOR_WORDS: f64 = 0.29;
/// Widest words beside a panel: pixels, and share of the picture.
const WIDEST_LABEL: (f64, f64) = (190.0, 0.24);
pub(super) const LABEL_LINES: usize = 3;

/// Numbers to pixels along one direction.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scale {
    low: f64,
    high: f64,
    from: f64,
    to: f64,
}

impl Scale {
    /// The pixel of a number. Far outside the range it stops at ten times the picture, so that casts stay safe.
    pub(super) fn at(&self, value: f64) -> f64 {
        let share = (value - self.low) / (self.high - self.low);
        self.from + share.clamp(-1e4, 1e4) * (self.to - self.from)
    }

    pub(super) fn holds(&self, value: f64) -> bool {
        self.low <= value && value <= self.high
    }

    /// Whether a value lies above the range.
    pub(super) fn is_above(&self, value: f64) -> bool {
        value > self.high
    }
}

/// A panel with its place and its curves in pixels.
pub(super) struct PanelPlan<'a> {
    pub(super) panel: &'a Panel,
    pub(super) area: Rect,
    pub(super) x: Scale,
    pub(super) y: Scale,
    pub(super) ticks: Ticks,
    pub(super) heading: Fitted,
    /// Middle of the heading's line.
    pub(super) heading_height: f64,
    pub(super) curves: Vec<Vec<Vec<Spot>>>,
}

/// A figure with everything in its place.
pub(super) struct Plan<'a> {
    pub(super) size: (f64, f64),
    pub(super) title: Fitted,
    pub(super) subtitle: Fitted,
    pub(super) x: Scale,
    pub(super) x_ticks: Ticks,
    pub(super) x_name: String,
    /// Width of the column for the words along the panels' axes.
    pub(super) words_column: f64,
    /// The name of the shared axis stands in a row of its own.
    pub(super) name_below: bool,
    pub(super) panels: Vec<PanelPlan<'a>>,
}

/// Words that stand beside a panel, before heights are known.
pub(super) struct Beside {
    pub(super) words: String,
    pub(super) sample: Sample,
}

/// Lays a figure out with `flag_rows` rows of labels above the panels and the given words beside each.
pub(super) fn plan<'a>(figure: &'a Figure, beside: &[Vec<Beside>], flag_rows: usize) -> Plan<'a> {
    let width = figure.width;
    let title = fit(&figure.title, TITLE, width - 2.0 * EDGE, 3);
    let subtitle = fit(
        figure.subtitle.as_deref().unwrap_or_default(),
        SUBTITLE,
        width - 2.0 * EDGE,
        3,
    );
    let label_room = label_room(width, beside);
    let heights: Vec<f64> = beside.iter().map(|words| panel_height(figure, words)).collect();
    let ranges: Vec<(f64, f64)> = figure.panels.iter().map(panel_range).collect();
    let y_ticks: Vec<Ticks> = ranges
        .iter()
        .zip(&heights)
        .zip(&figure.panels)
        .map(|(((low, high), height), panel)| {
            ticks_in(
                &panel.y.unit,
                *low,
                *high,
                (height / 42.0).round().max(2.0) as usize,
            )
        })
        .collect();

    let words_column = figure
        .panels
        .iter()
        .zip(&heights)
        .map(|(panel, height)| frame::words_column(&panel.y, *height))
        .fold(0.0, f64::max);
    let left = EDGE + words_column + widest(&y_ticks) + TICK_GAP;
    let right = width
        - if label_room > 0.0 {
            BESIDE + label_room + EDGE
        } else {
            EDGE + 14.0
        };
    let (low, high) = shared_range(figure);
    let x = Scale {
        low,
        high,
        from: left,
        to: right,
    };
    let x_ticks = shared_ticks(&figure.x.unit, low, high, right - left);

    let mut top = EDGE + TITLE_GAP + TITLE.size * LEADING * title.lines.len() as f64;
    top += SUBTITLE.size * LEADING * subtitle.lines.len() as f64;
    let mut panels = Vec::new();
    for (index, (panel, ticks)) in figure.panels.iter().zip(y_ticks).enumerate() {
        let heading_height = top + HEADING_ROW / 2.0 + if index == 0 { 1.0 } else { 5.0 };
        top += HEADING_ROW
            + if index == 0 {
                flag_rows as f64 * FLAG_ROW
            } else {
                4.0
            };
        let height = heights.get(index).copied().unwrap_or_default();
        let (low, high) = ranges.get(index).copied().unwrap_or_default();
        let area = Rect::new(left, top, right, top + height);
        let y = Scale {
            low,
            high,
            from: area.bottom,
            to: area.top,
        };
        let name = axis_text(&panel.y, ticks.power);
        let heading = fit(&name, HEADING, width - left - EDGE, 1);
        let curves = panel
            .series
            .iter()
            .map(|series| visible_pieces(series.points.iter().map(|point| pixel(&x, &y, *point)), &area))
            .collect();
        panels.push(PanelPlan {
            panel,
            area,
            x,
            y,
            ticks,
            heading,
            heading_height,
            curves,
        });
        top += height;
    }
    let x_name = axis_text(&figure.x, x_ticks.power);
    let name_below = needs_row_of_its_own(&figure.x, &x_name, right - left);
    let foot = FOOT + if name_below { NAME_ROW } else { 0.0 };
    Plan {
        size: (width.round(), (top + foot).round()),
        title,
        subtitle,
        x,
        x_ticks,
        x_name,
        words_column,
        name_below,
        panels,
    }
}

/// A point in pixels; one with a missing number stays without.
pub(super) fn pixel(x: &Scale, y: &Scale, point: (f64, f64)) -> Spot {
    if point.0.is_finite() && point.1.is_finite() {
        (x.at(point.0), y.at(point.1))
    } else {
        (f64::NAN, f64::NAN)
    }
}

fn axis_text(axis: &Axis, power: i32) -> String {
    let unit = clean(&axis.unit);
    let unit = match (power, unit.is_empty()) {
        (0, _) => unit,
        (_, true) => power_text(power),
        (_, false) => format!("{} {unit}", power_text(power)),
    };
    quantity(&clean(&axis.name), &unit)
}

/// Width for the words beside the panels, the same for all.
fn label_room(width: f64, beside: &[Vec<Beside>]) -> f64 {
    let most = WIDEST_LABEL.0.min(WIDEST_LABEL.1 * width);
    beside
        .iter()
        .flatten()
        .flat_map(|label| fit(&label.words, LABEL, most, LABEL_LINES).lines)
        .map(|line| LABEL.width(&line).ceil() + 1.0)
        .fold(0.0, f64::max)
}

/// Words beside a panel, fitted to the room there is.
pub(super) fn fit_beside(words: &str, width: f64) -> Fitted {
    fit(
        words,
        LABEL,
        WIDEST_LABEL.0.min(WIDEST_LABEL.1 * width),
        LABEL_LINES,
    )
}

fn panel_height(figure: &Figure, beside: &[Beside]) -> f64 {
    let share = match figure.panels.len() {
        1 => 0.44,
        2 => 0.29,
        3 => 0.22,
        _ => 0.18,
    };
    let needed: f64 = beside
        .iter()
        .map(|label| entry_room(&fit_beside(&label.words, figure.width)))
        .sum();
    // Words at the ends of an axis are shown whole where that does not make a tower of the figure.
    let most = figure.width * TALLEST_FOR_WORDS;
    let words = figure.panels.iter().map(|panel| end_words_room(&panel.y, most));
    let wanted = words.fold(0.0, f64::max);
    (figure.width * share)
        .clamp(110.0, 460.0)
        .max(wanted)
        .max(needed)
        .round()
}

fn widest(all: &[Ticks]) -> f64 {
    all.iter()
        .flat_map(|ticks| &ticks.labels)
        .map(|label| TICK.width(label))
        .fold(0.0, f64::max)
}

/// As many round numbers along the shared axis as stand apart comfortably.
fn shared_ticks(unit: &str, low: f64, high: f64, room: f64) -> Ticks {
    let mut wanted = 10;
    loop {
        let found = ticks_in(unit, low, high, wanted);
        let widest = widest(std::slice::from_ref(&found));
        if wanted == 1 || widest + 18.0 <= room / found.labels.len().max(1) as f64 {
            return found;
        }
        wanted -= 1;
    }
}
