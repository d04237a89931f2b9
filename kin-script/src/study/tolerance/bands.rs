//! Curves over the travel with the band that 90 of 100 variants lie in.

use super::asked::Question;
use crate::model::Model;
use crate::picture::{axle_stroke_zones, stroke_zones};
use crate::readings::Reading as Named;
use crate::sheet::plot::{Axis, Emphasis, Envelope, Figure, Limit, LimitKind, Panel, Series};
use crate::study::{NamedTable, StudyPicture};
use crate::table::{Cell, Column, Table};
use crate::units::{Measure, Units};
use kin_core::study::{BandPoint, CurveBand, Subject, ToleranceResult};

/// Panels that one figure holds at most.
pub(super) const MOST_PANELS: usize = 6;

/// The picture of all bands.
pub(super) fn picture(model: &Model, question: &Question, result: &ToleranceResult) -> StudyPicture {
    let units = &model.units;
    let panels = question.curves.iter().zip(&result.bands).take(MOST_PANELS);
    let panels = panels.map(|((named, _), band)| Panel {
        bands: match &question.subject {
            Subject::Corner(corner) => stroke_zones(corner, *named, units),
            Subject::Axle(axle) => axle_stroke_zones(axle, *named, units),
        },
        ..panel(*named, band, units)
    });
    let mut limits = vec![Limit {
        at: 0.0,
        label: "ride height".into(),
        kind: LimitKind::Reference,
    }];
    limits.extend(wanted(&question.subject, units));
    StudyPicture::Curves(Figure {
        title: format!("{}: what the error of the tape does", model.title),
        subtitle: Some(format!(
            "5 to 95 % of {} variants, seed {}",
            result.samples, result.seed
        )),
        x: Axis::new("Bump from ride height", units.symbol(Measure::LENGTH)).with_words("droop", "bump"),
        limits,
        panels: panels.collect(),
        ..Figure::default()
    })
}

/// The travel that the description wants, as lines across.
fn wanted(subject: &Subject, units: &Units) -> Vec<Limit> {
    let wanted = match subject {
        Subject::Corner(corner) => corner.wanted,
        Subject::Axle(axle) => axle.wanted,
    };
    let Some(wanted) = wanted else { return Vec::new() };
    let ways = [
        (wanted.bump, 1.0, "bump wanted"),
        (wanted.droop, -1.0, "droop wanted"),
    ];
    let line = |(travel, sign, words): (Option<f64>, f64, &str)| {
        Some(Limit {
            at: units.from_core(sign * travel?, Measure::LENGTH),
            label: words.into(),
            kind: LimitKind::Reference,
        })
    };
    ways.into_iter().filter_map(line).collect()
}

fn panel(named: Named, band: &CurveBand, units: &Units) -> Panel {
    let (low, high) = named.sign_words();
    let mut axis = Axis::new(named.title(), units.symbol(named.measure()));
    axis.low_words = (!low.is_empty()).then(|| low.to_owned());
    axis.high_words = (!high.is_empty()).then(|| high.to_owned());
    let x = |point: &BandPoint| units.from_core(point.bump, Measure::LENGTH);
    let y = |value: f64| units.from_core(value, named.measure());
    let ends = |point: &BandPoint| Some((x(point), y(point.sampled.low?), y(point.sampled.high?)));
    let mut panel = Panel::new(axis);
    panel.envelopes = vec![Envelope {
        name: "5 to 95 %".into(),
        points: band.points.iter().filter_map(ends).collect(),
        look: Some(0),
    }];
    panel.series = vec![Series {
        emphasis: Emphasis::Strong,
        look: Some(0),
        ..Series::new(
            "as measured",
            band.points
                .iter()
                .map(|point| (x(point), y(point.value)))
                .collect(),
        )
    }];
    panel
}

/// The table of one curve.
pub(super) fn table(named: Named, band: &CurveBand, units: &Units) -> NamedTable {
    let decimals = units.decimals_of(named.measure()) + 1;
    let column = |name: &str, of: &dyn Fn(&BandPoint) -> Option<f64>| Column {
        name: format!("{name}{}", units.suffix(named.measure())),
        decimals,
        cells: band
            .points
            .iter()
            .map(|point| Cell::from(of(point).map(|value| units.from_core(value, named.measure()))))
            .collect(),
    };
    let bump = Column {
        name: format!("bump{}", units.suffix(Measure::LENGTH)),
        decimals: units.decimals(kin_core::Dimension::Length),
        cells: band
            .points
            .iter()
            .map(|point| Cell::Number(units.from_core(point.bump, Measure::LENGTH)))
            .collect(),
    };
    NamedTable {
        name: named.curve_name(),
        caption: format!(
            "{} over bump from ride height, with the band of the variants",
            named.title()
        ),
        table: Table {
            columns: vec![
                bump,
                column("measured", &|point| Some(point.value)),
                column("sd_linear", &|point| Some(point.linear_deviation)),
                column("sd_found", &|point| point.sampled.deviation),
                column("low_5", &|point| point.sampled.low),
                column("high_95", &|point| point.sampled.high),
            ],
        },
    }
}
