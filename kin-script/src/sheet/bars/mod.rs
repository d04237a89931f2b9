//! Signed bars, one under the other, as SVG text.
//!
//! ```
//! use kin_script::sheet::bars::{Bar, BarChart};
//!
//! let chart = BarChart {
//!     title: "What moves bump steer".into(),
//!     axis: "deg/in per mm".into(),
//!     bars: vec![
//!         Bar { label: "tie rod inner end, up".into(), value: 0.026, text: "0.026".into() },
//!         Bar { label: "tie rod outer end, up".into(), value: -0.022, text: "-0.022".into() },
//!     ],
//!     ..BarChart::default()
//! };
//! assert!(chart.svg()?.contains("tie rod inner end, up"));
//! # Ok::<(), kin_script::sheet::PictureError>(())
//! ```

#[cfg(test)]
mod tests;

use svg::node::element::{Description, Rectangle, SVG, Title};
use svg::node::{Node, Text};

use super::PictureError;
use super::boxes::Rect;
use super::colour::{AXIS, BLUE, GRID, INK, PAPER, RUST, SOFT_INK};
use super::drawing::pen::{Pen, Stroke, short};
use super::plot::ticks::ticks;
use super::text::{LEADING, MINUS, Type, clean, fit, quantity};

/// Room around the picture (CSS pixels).
const EDGE: f64 = 16.0;
const TITLE: Type = Type::bold(18.0);
const SUBTITLE: Type = Type::plain(13.0);
const LABEL: Type = Type::plain(13.0);
/// From one bar to the next, and how thick a bar is.
const ROW: f64 = 24.0;
const THICK: f64 = 15.0;
/// Between a label or a number and what it stands beside.
const GAP: f64 = 8.0;
/// Labels take this share of the width at most.
const MOST_LABEL: f64 = 0.42;
/// More bars than this are no picture.
const MOST_BARS: usize = 60;

/// Signed bars.
#[derive(Debug, Clone)]
pub struct BarChart {
    /// Title, also the `<title>` of the picture.
    pub title: String,
    /// A line below the title.
    pub subtitle: Option<String>,
    /// What the picture shows, in words, for its `<desc>`; when empty, the bars are listed.
    pub description: String,
    /// What the length of a bar is.
    pub name: String,
    /// Its unit.
    pub axis: String,
    /// Width (CSS pixels), 360 to 4000.
    pub width: f64,
    /// The bars from top to bottom.
    pub bars: Vec<Bar>,
}

/// One bar.
#[derive(Debug, Clone, Default)]
pub struct Bar {
    /// What it stands for.
    pub label: String,
    /// How long it is: positive to the right.
    pub value: f64,
    /// The number at its end, as the reader should see it.
    pub text: String,
}

impl Default for BarChart {
    fn default() -> Self {
        Self {
            title: String::new(),
            subtitle: None,
            description: String::new(),
            name: String::new(),
            axis: String::new(),
            width: 900.0,
            bars: Vec::new(),
        }
    }
}

/// Where the bars lie.
struct Plan {
    area: Rect,
    low: f64,
    high: f64,
}

impl Plan {
    fn at(&self, value: f64) -> f64 {
        self.area.left + (value - self.low) / (self.high - self.low) * (self.area.right - self.area.left)
    }

    fn middle(&self, row: usize) -> f64 {
        self.area.top + ROW * (row as f64 + 0.5)
    }
}

impl BarChart {
    /// The picture as SVG text, with a title and a description for those who cannot see it.
    ///
    /// # Errors
    /// [`PictureError`] without bars, with too many, with a number that is not finite, or with an unusable width.
    pub fn svg(&self) -> Result<String, PictureError> {
        self.check()?;
        let mut pen = Pen::default();
        let top = self.draw_titles(&mut pen);
        let plan = self.plan(top);
        self.draw_axis(&mut pen, &plan);
        for (row, bar) in self.bars.iter().enumerate() {
            draw_bar(&mut pen, &plan, row, bar);
        }
        let height = plan.area.bottom + 2.0 * GAP + 2.0 * LABEL.size * LEADING + EDGE;
        Ok(self.document(pen, height))
    }

    fn check(&self) -> Result<(), PictureError> {
        if self.bars.is_empty() || self.bars.len() > MOST_BARS {
            return Err(PictureError::Empty {
                place: format!(
                    "a chart of {} bars (1 to {MOST_BARS} can be drawn)",
                    self.bars.len()
                ),
            });
        }
        if !(360.0..=4000.0).contains(&self.width) {
            return Err(PictureError::Width {
                width: self.width,
                least: 360.0,
                most: 4000.0,
            });
        }
        match self.bars.iter().find(|bar| !bar.value.is_finite()) {
            Some(bar) => Err(PictureError::NotFinite {
                what: format!("the bar `{}`", clean(&bar.label)),
            }),
            None => Ok(()),
        }
    }

    /// Draws title and subtitle; returns where they end.
    fn draw_titles(&self, pen: &mut Pen) -> f64 {
        let mut top = EDGE;
        let subtitle = self.subtitle.as_deref().unwrap_or_default();
        for (text, face, colour) in [(self.title.as_str(), TITLE, INK), (subtitle, SUBTITLE, SOFT_INK)] {
            let words = fit(text, face, self.width - 2.0 * EDGE, 3);
            let height = face.size * LEADING * words.lines.len() as f64;
            pen.text(&words, (EDGE, top + height / 2.0), face, colour, "start");
            top += height;
        }
        top + GAP
    }

    /// Labels take what they need on the left; the numbers at the ends of the bars need room on both sides.
    fn plan(&self, top: f64) -> Plan {
        let widest = |text: &dyn Fn(&Bar) -> String| {
            let widths = self.bars.iter().map(|bar| LABEL.width(&text(bar)));
            widths.fold(0.0, f64::max)
        };
        let labels = widest(&|bar| clean(&bar.label)).min(MOST_LABEL * self.width);
        let numbers = widest(&|bar| clean(&bar.text)) + 2.0 * GAP;
        let left = EDGE + labels + 2.0 * GAP;
        let right = self.width - EDGE;
        let low = self.bars.iter().map(|bar| bar.value).fold(0.0, f64::min);
        let high = self.bars.iter().map(|bar| bar.value).fold(0.0, f64::max);
        let (low, high) = if high > low { (low, high) } else { (0.0, 1.0) };
        // Numbers stand outside their bars: to the right of positive ones, to the left of negative ones.
        let before = if low < 0.0 { numbers } else { 0.0 };
        let after = if high > 0.0 { numbers } else { 0.0 };
        let room = (right - left - before - after).max(40.0);
        let unit = (high - low) / room;
        Plan {
            area: Rect::new(left, top, right, top + ROW * self.bars.len() as f64),
            low: low - before * unit,
            high: high + after * unit,
        }
    }

    fn draw_axis(&self, pen: &mut Pen, plan: &Plan) {
        let ticks = ticks(plan.low, plan.high, 9);
        let line = plan.area.bottom + GAP + LABEL.size * LEADING / 2.0;
        for (value, label) in ticks.values.iter().zip(&ticks.labels) {
            let x = plan.at(*value);
            pen.line(
                (x, plan.area.top),
                (x, plan.area.bottom),
                Stroke::solid(GRID, 1.0),
            );
            let words = fit(label, LABEL, 200.0, 1);
            pen.text(&words, (x, line), LABEL, SOFT_INK, "middle");
        }
        let unit = match ticks.power {
            0 => clean(&self.axis),
            power if power < 0 => format!("10{MINUS}{} {}", superscript(-power), clean(&self.axis)),
            power => format!("10{} {}", superscript(power), clean(&self.axis)),
        };
        let name = fit(
            &quantity(&clean(&self.name), &unit),
            LABEL,
            self.width - 2.0 * EDGE,
            1,
        );
        let wide = name.lines.first().map_or(0.0, |line| LABEL.width(line));
        // Under the bars, but never beyond the edge of the picture.
        let middle = (plan.area.left + plan.area.right) / 2.0;
        let middle = middle.min(self.width - EDGE - wide / 2.0).max(EDGE + wide / 2.0);
        pen.text(
            &name,
            (middle, line + GAP + LABEL.size * LEADING),
            LABEL,
            INK,
            "middle",
        );
    }

    fn document(&self, pen: Pen, height: f64) -> String {
        let mut description = clean(&self.description);
        if description.is_empty() {
            let bars = self
                .bars
                .iter()
                .map(|bar| format!("{} {}", clean(&bar.label), clean(&bar.text)));
            let bars: Vec<String> = bars.collect();
            description = format!(
                "{}: {}",
                quantity(&clean(&self.name), &clean(&self.axis)),
                bars.join("; ")
            );
        }
        let mut document = SVG::new()
            .set("role", "img")
            .set("width", short(self.width))
            .set("height", short(height))
            .set("viewBox", format!("0 0 {} {}", short(self.width), short(height)))
            .set("font-family", "sans-serif")
            .add(Title::new(clean(&self.title)));
        let mut described = Description::new();
        described.append(Text::new(description));
        document.append(described);
        let paper = Rectangle::new()
            .set("width", short(self.width))
            .set("height", short(height))
            .set("fill", PAPER.hex());
        document.append(paper);
        for element in pen.elements {
            document.append(element);
        }
        format!("{document}\n")
    }
}

fn draw_bar(pen: &mut Pen, plan: &Plan, row: usize, bar: &Bar) {
    let (zero, end, middle) = (plan.at(0.0), plan.at(bar.value), plan.middle(row));
    let colour = if bar.value < 0.0 { RUST } else { BLUE };
    let (top, bottom) = (middle - THICK / 2.0, middle + THICK / 2.0);
    pen.polygon(&[(zero, top), (end, top), (end, bottom), (zero, bottom)], colour);
    let half = ROW / 2.0;
    pen.line(
        (zero, middle - half),
        (zero, middle + half),
        Stroke::solid(AXIS, 1.2),
    );
    let label = fit(&bar.label, LABEL, plan.area.left - EDGE - 2.0 * GAP, 1);
    pen.text(&label, (plan.area.left - 2.0 * GAP, middle), LABEL, INK, "end");
    let number = fit(&bar.text.replace('-', &MINUS.to_string()), LABEL, 400.0, 1);
    let (x, anchor) = if bar.value < 0.0 {
        (end - GAP, "end")
    } else {
        (end + GAP, "start")
    };
    pen.text(&number, (x, middle), LABEL, INK, anchor);
}

/// A power of ten's exponent in raised digits.
fn superscript(power: i32) -> String {
    let raised = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
    let digits = power.to_string();
    let digits = digits.chars().filter_map(|digit| digit.to_digit(10));
    digits.filter_map(|digit| raised.get(digit as usize)).collect()
}
