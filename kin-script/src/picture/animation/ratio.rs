//! The motion ratio against travel, under the linkage.

use super::{CURVE, DRAWN, EDGE, Frame, HEAD, WIDTH, line, short};
use crate::sheet::plot::ticks::{Ticks, ticks};
use crate::units::Units;
use std::fmt::Write;
use svg::node::element::{Element, Path, Text};

/// The motion ratio against travel under the linkage, the same in every frame.
pub(super) struct Curve {
    points: Vec<(f64, f64)>,
    low: f64,
    high: f64,
    /// Round ratios between the two.
    round: Ticks,
}

/// A ratio that changes by less than this is drawn level.
const LEAST_SPAN: f64 = 0.02;

impl Curve {
    pub(super) fn of(frames: &[Frame]) -> Option<Self> {
        let points: Vec<(f64, f64)> = frames
            .iter()
            .filter_map(|frame| Some((frame.travel, frame.ratio?)))
            .collect();
        let ratios = || points.iter().map(|(_, ratio)| *ratio);
        let (low, high) = (
            ratios().fold(f64::INFINITY, f64::min),
            ratios().fold(f64::NEG_INFINITY, f64::max),
        );
        let room = (0.5 * (LEAST_SPAN - (high - low))).max(0.0);
        (points.len() > 1).then_some(Self {
            points,
            low: low - room,
            high: high + room,
            round: ticks(low - room, high + room, 4),
        })
    }

    pub(super) fn at(&self, travel: f64, ratio: f64) -> (f64, f64) {
        let ends = (
            self.points.first().map_or(0.0, |point| point.0),
            self.points.last().map_or(1.0, |point| point.0),
        );
        (
            EDGE + (WIDTH - 2.0 * EDGE) * (travel - ends.0) / (ends.1 - ends.0),
            HEAD + DRAWN + CURVE.1 + CURVE.0 * (self.high - ratio) / (self.high - self.low),
        )
    }

    /// The curve with its ends in words.
    pub(super) fn drawn(&self, units: &Units) -> Vec<Element> {
        let mut data = String::new();
        for (travel, ratio) in &self.points {
            let (x, y) = self.at(*travel, *ratio);
            let mark = if data.is_empty() { "M" } else { "L" };
            let _ = write!(data, "{mark}{} {}", short(x), short(y));
        }
        let foot = HEAD + DRAWN + CURVE.1 + CURVE.0 + 22.0;
        let words = |x: f64, y: f64, anchor: &str, words: String| {
            Text::new(words)
                .set("x", short(x))
                .set("y", short(y))
                .set("font-size", 14)
                .set("font-family", "sans-serif")
                .set("fill", "#48525d")
                .set("text-anchor", anchor)
        };
        let (first, last) = (self.points.first(), self.points.last());
        let travel = |point: Option<&(f64, f64)>| point.map_or(0.0, |(travel, _)| travel.abs());
        let mut drawn: Vec<Element> = Vec::new();
        for (ratio, label) in self.round.values.iter().zip(&self.round.labels) {
            let y = self.at(0.0, *ratio).1;
            drawn.push(line((EDGE, y), (WIDTH - EDGE, y), "#d9dee3", 1.0).into());
            drawn.push(words(EDGE - 8.0, y + 5.0, "end", label.clone()).into());
        }
        drawn.push(
            Path::new()
                .set("d", data)
                .set("fill", "none")
                .set("stroke", "#1f5494")
                .set("stroke-width", 3)
                .into(),
        );
        let length = units.length;
        drawn.push(
            words(
                EDGE,
                foot,
                "start",
                format!("droop {}", length.text(travel(first))),
            )
            .into(),
        );
        let middle = "motion ratio (damper over wheel) against wheel travel from ride height";
        drawn.push(words(0.5 * WIDTH, foot, "middle", middle.to_owned()).into());
        drawn.push(
            words(
                WIDTH - EDGE,
                foot,
                "end",
                format!("bump {}", length.text(travel(last))),
            )
            .into(),
        );
        drawn
    }
}
