//! From a map to its picture.

use super::ContourMap;
use super::field::Field;
use super::labels::{Labels, NUMBER};
use super::limits::Limits;
use crate::sheet::PictureError;
use crate::sheet::boxes::{Rect, Spot};
use crate::sheet::colour::{AXIS, BLUE, GREEN, GRID, INK, RUST, SLATE, SOFT_INK};
use crate::sheet::plot::canvas::{Canvas, Hold, Lettering, Stroke, paint};
use crate::sheet::plot::ticks::{Ticks, ticks, ticks_in};
use crate::sheet::text::{Type, clean, fit, number, quantity};

const WIDTH: f64 = 900.0;
const HEIGHT: f64 = 620.0;
const TITLE: Type = Type::bold(18.0);
const SUBTITLE: Type = Type::plain(13.0);
const NAME: Type = Type::bold(13.0);
const TICK: Type = Type::plain(12.0);
/// Free edge of the picture (CSS pixels).
const EDGE: f64 = 16.0;
/// Room for the name of the axis and its numbers (CSS pixels).
const FOOT: f64 = 52.0;
/// Between lines of hatching, and between looks along one of them (CSS pixels).
const HATCH: f64 = 11.0;
const LOOK: f64 = 2.0;
/// Lines of equal value that a map shows, about.
const LINES: usize = 14;

/// The frame, and how places of the grid lie in it.
struct Frame<'a> {
    map: &'a ContourMap,
    area: Rect,
}

pub(super) fn picture(map: &ContourMap) -> Result<String, PictureError> {
    let title = fit(&map.title, TITLE, WIDTH - 2.0 * EDGE, 2);
    let says = subtitle(map);
    let subtitle = fit(&says, SUBTITLE, WIDTH - 2.0 * EDGE, 3);
    let head = EDGE + 25.0 * title.lines.len() as f64 + 18.0 * subtitle.lines.len() as f64 + 6.0;
    let y_ticks = axis_ticks(&map.y.unit, &map.ys, 9);
    let widest = y_ticks
        .labels
        .iter()
        .map(|label| TICK.width(label))
        .fold(0.0, f64::max);
    let left = EDGE + 22.0 + widest + 10.0;
    let frame = Frame {
        map,
        area: Rect::new(left, head, WIDTH - EDGE - 14.0, HEIGHT - FOOT),
    };
    let description = format!("{} {says}", clean(&map.description));
    paint(
        (WIDTH, HEIGHT),
        &clean(&map.title),
        description.trim(),
        |canvas| {
            let face = |face, colour| Lettering {
                face,
                colour,
                hold: Hold::Start,
                upright: false,
            };
            let middle = EDGE + 12.5 * title.lines.len() as f64;
            canvas.text(&title, (EDGE, middle), face(TITLE, INK))?;
            let middle = EDGE + 25.0 * title.lines.len() as f64 + 9.0 * subtitle.lines.len() as f64;
            canvas.text(&subtitle, (EDGE, middle), face(SUBTITLE, SOFT_INK))?;
            frame.ground(canvas)?;
            frame.axes(canvas, &y_ticks)?;
            frame.lines(canvas)
        },
    )
}

/// What the lines and the hatching are, in a sentence.
fn subtitle(map: &ContourMap) -> String {
    let mut words = format!("Lines: {}.", quantity(&clean(&map.z.name), &clean(&map.z.unit)));
    if map.margins.is_empty() {
        return words;
    }
    words.push_str(match limits(map).everywhere() {
        (true, _) => " All limits hold everywhere.",
        (_, true) => " Hatched: a limit fails, or nothing could be judged; here that is everywhere.",
        _ => " Hatched: a limit fails, or nothing could be judged. Dashed: where all limits just hold.",
    });
    words
}

fn limits(map: &ContourMap) -> Limits<'_> {
    Limits {
        columns: map.xs.len(),
        rows: map.ys.len(),
        margins: &map.margins,
    }
}

fn axis_ticks(unit: &str, places: &[f64], wanted: usize) -> Ticks {
    let (low, high) = ends(places);
    ticks_in(unit, low, high, wanted)
}

fn ends(places: &[f64]) -> (f64, f64) {
    (
        places.first().copied().unwrap_or_default(),
        places.last().copied().unwrap_or(1.0),
    )
}

/// A share of the way from the first to the last place, as a place of the grid.
fn place_of(places: &[f64], share: f64) -> f64 {
    let (low, high) = ends(places);
    let value = low + share * (high - low);
    let cell = places
        .partition_point(|place| *place <= value)
        .clamp(1, places.len() - 1);
    let (before, after) = (places[cell - 1], places[cell]);
    (cell - 1) as f64 + (value - before) / (after - before)
}

/// A place of the grid as a share of the way from the first to the last place.
fn share_of(places: &[f64], place: f64) -> f64 {
    let (low, high) = ends(places);
    let cell = (place.floor().max(0.0) as usize).min(places.len() - 2);
    let (before, after) = (places[cell], places[cell + 1]);
    (before + (place - cell as f64) * (after - before) - low) / (high - low)
}

impl Frame<'_> {
    fn spot(&self, (column, row): Spot) -> Spot {
        let across = share_of(&self.map.xs, column);
        let up = share_of(&self.map.ys, row);
        (
            self.area.left + across * self.area.width(),
            self.area.bottom - up * self.area.height(),
        )
    }

    fn place(&self, (x, y): Spot) -> Spot {
        (
            place_of(&self.map.xs, (x - self.area.left) / self.area.width()),
            place_of(&self.map.ys, (self.area.bottom - y) / self.area.height()),
        )
    }

    fn field<'b>(&'b self, values: &'b [Option<f64>]) -> Field<'b> {
        Field {
            columns: self.map.xs.len(),
            rows: self.map.ys.len(),
            values,
        }
    }

    /// The plain ground of what holds, hatching where a limit fails, and the places that were worked out.
    fn ground(&self, canvas: &mut Canvas<'_>) -> Result<(), PictureError> {
        let area = &self.area;
        if !self.map.margins.is_empty() {
            canvas.fill_rect(area, GREEN.tint(0.10), 1.0)?;
            let limits = limits(self.map);
            let fails = |spot: Spot| limits.fails_at(self.place(spot));
            // The tint ends where the hatching begins: strips of paper-grey under every stretch that fails.
            let mut y = area.top;
            while y < area.bottom {
                let bottom = (y + LOOK).min(area.bottom);
                for (from, to) in stretches(area.left, area.right, |x| fails((x, 0.5 * (y + bottom)))) {
                    canvas.fill_rect(&Rect::new(from, y, to, bottom), SLATE.tint(0.13), 1.0)?;
                }
                y = bottom;
            }
            let (first, last) = (area.left - area.height(), area.right);
            let mut start = (first / HATCH).ceil() * HATCH;
            while start <= last {
                let at = |x: f64| (x, area.bottom - (x - start));
                let (from, to) = (start.max(area.left), (start + area.height()).min(area.right));
                for (from, to) in stretches(from, to, |x| fails(at(x))) {
                    canvas.line(&[at(from), at(to)], Stroke::solid(SLATE.tint(0.6), 0.9))?;
                }
                start += HATCH;
            }
            for line in limits.lines()? {
                let spots: Vec<Spot> = line.into_iter().map(|place| self.spot(place)).collect();
                let stroke = Stroke {
                    colour: RUST,
                    width: 2.4,
                    dash: &[9.0, 5.0],
                };
                canvas.line(&spots, stroke)?;
            }
        }
        for row in 0..self.map.ys.len() {
            for column in 0..self.map.xs.len() {
                canvas.dot(self.spot((column as f64, row as f64)), 1.3, AXIS)?;
            }
        }
        Ok(())
    }

    fn axes(&self, canvas: &mut Canvas<'_>, y_ticks: &Ticks) -> Result<(), PictureError> {
        let area = &self.area;
        let map = self.map;
        let text = |hold, upright, face, colour| Lettering {
            face,
            colour,
            hold,
            upright,
        };
        let corners = [
            (area.left, area.top),
            (area.right, area.top),
            (area.right, area.bottom),
            (area.left, area.bottom),
            (area.left, area.top),
        ];
        canvas.line(&corners, Stroke::solid(AXIS, 1.0))?;
        let x_ticks = axis_ticks(&map.x.unit, &map.xs, 10);
        let share = |places: &[f64], value: f64| {
            let (low, high) = ends(places);
            (value - low) / (high - low)
        };
        for (value, label) in x_ticks.values.iter().zip(&x_ticks.labels) {
            let share = share(&map.xs, *value);
            if !(-1e-9..=1.0 + 1e-9).contains(&share) {
                continue;
            }
            let x = area.left + share * area.width();
            canvas.line(
                &[(x, area.bottom), (x, area.bottom + 5.0)],
                Stroke::solid(AXIS, 1.0),
            )?;
            let label = fit(label, TICK, 90.0, 1);
            canvas.text(
                &label,
                (x, area.bottom + 15.0),
                text(Hold::Middle, false, TICK, INK),
            )?;
        }
        for (value, label) in y_ticks.values.iter().zip(&y_ticks.labels) {
            let share = share(&map.ys, *value);
            if !(-1e-9..=1.0 + 1e-9).contains(&share) {
                continue;
            }
            let y = area.bottom - share * area.height();
            canvas.line(&[(area.left - 5.0, y), (area.left, y)], Stroke::solid(AXIS, 1.0))?;
            let label = fit(label, TICK, 90.0, 1);
            canvas.text(&label, (area.left - 9.0, y), text(Hold::End, false, TICK, INK))?;
        }
        let name = |axis: &crate::sheet::plot::Axis, room: f64| {
            fit(&quantity(&clean(&axis.name), &clean(&axis.unit)), NAME, room, 1)
        };
        let centre = area.centre();
        canvas.text(
            &name(&map.x, area.width()),
            (centre.0, area.bottom + 36.0),
            text(Hold::Middle, false, NAME, INK),
        )?;
        canvas.text(
            &name(&map.y, area.height()),
            (EDGE + 6.0, centre.1),
            text(Hold::Middle, true, NAME, INK),
        )
    }

    /// Lines of equal value with their numbers.
    fn lines(&self, canvas: &mut Canvas<'_>) -> Result<(), PictureError> {
        let values = self.field(&self.map.values);
        let known = || {
            self.map
                .values
                .iter()
                .flatten()
                .copied()
                .filter(|value| value.is_finite())
        };
        let low = known().fold(f64::INFINITY, f64::min);
        let high = known().fold(f64::NEG_INFINITY, f64::max);
        if high <= low {
            return Ok(());
        }
        let levels = ticks(low, high, LINES);
        let mut labels = Labels::new(self.area.grown(-2.0));
        let mut numbers = Vec::new();
        for value in &levels.values {
            let text = number(*value, levels.decimals);
            for line in values.lines(*value)? {
                let spots: Vec<Spot> = line.into_iter().map(|place| self.spot(place)).collect();
                canvas.line(&spots, Stroke::solid(BLUE, 1.6))?;
                if let Some(spot) = labels.on_line(&spots, &text) {
                    numbers.push((spot, text.clone()));
                }
            }
        }
        for (spot, text) in numbers {
            let lettering = Lettering {
                face: NUMBER,
                colour: INK,
                hold: Hold::Middle,
                upright: false,
            };
            let size = (NUMBER.width(&text) + 4.0, NUMBER.size + 2.0);
            canvas.fill_rect(&Rect::around(spot, size.0, size.1), GRID.tint(0.3), 0.85)?;
            canvas.text(&fit(&text, NUMBER, 200.0, 1), spot, lettering)?;
        }
        Ok(())
    }
}

/// The stretches between two numbers where something is so, looked at in small steps.
fn stretches(from: f64, to: f64, is_so: impl Fn(f64) -> bool) -> Vec<(f64, f64)> {
    let mut found: Vec<(f64, f64)> = Vec::new();
    let steps = ((to - from) / LOOK).ceil().max(0.0) as usize;
    for step in 0..steps {
        let (start, end) = (
            from + LOOK * step as f64,
            (from + LOOK * (step + 1) as f64).min(to),
        );
        if !is_so(0.5 * (start + end)) {
            continue;
        }
        match found.last_mut() {
            Some(last) if start - last.1 < 1e-6 => last.1 = end,
            _ => found.push((start, end)),
        }
    }
    found
}
