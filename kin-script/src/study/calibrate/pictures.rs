//! Pictures of a calibration: residuals, and a curve with its band before and after.

use super::Calibrated;
use super::asked::{Band, band_measure};
use crate::model::Model;
use crate::sheet::plot::{Axis, Emphasis, Envelope, Figure, Limit, LimitKind, Mark, Panel, Series};
use crate::study::StudyPicture;
use crate::study::search::capitalised;
use crate::units::{Measure, Units};
use kin_core::study::calibration::outcome_with_deviation;
use kin_core::study::{Outcome, Reading, Station, Subject, Uncertainty};

/// Points of a curve.
const POINTS: usize = 33;
/// Standard deviations on either side that hold 95 % of a normal distribution.
const NINETY_FIVE_PERCENT: f64 = 1.96;

pub(super) fn pictures(model: &Model, calibrated: &Calibrated) -> Vec<(&'static str, StudyPicture)> {
    let mut pictures = Vec::new();
    if let Some(band) = &calibrated.asked.band
        && let Some(figure) = band_figure(model, calibrated, band)
    {
        pictures.push(("band", StudyPicture::Curves(figure)));
    }
    if let Some(figure) = residual_figure(model, calibrated) {
        pictures.push(("residuals", StudyPicture::Curves(figure)));
    }
    pictures
}

/// A curve with 95 % of what the survey allows, and of what survey and readings allow together.
fn band_figure(model: &Model, calibrated: &Calibrated, band: &Band) -> Option<Figure> {
    let units = model.units;
    let measure = band_measure(band);
    let before = band_points(&calibrated.surveyed, calibrated.prior(), band, measure, &units);
    let after = band_points(
        &calibrated.found.subject,
        &calibrated.found.posterior,
        band,
        measure,
        &units,
    );
    if before.is_empty() || after.is_empty() {
        return None;
    }
    let line = |points: &[(f64, f64, f64)]| points.iter().map(|(bump, value, _)| (*bump, *value)).collect();
    let area = |points: &[(f64, f64, f64)]| {
        let ends = points
            .iter()
            .map(|(bump, value, half)| (*bump, value - half, value + half));
        ends.collect()
    };
    let own = calibrated
        .asked
        .question
        .readings
        .iter()
        .zip(&calibrated.asked.readings);
    let zeros = &calibrated.found.zeros;
    let marks = own.filter_map(|(reading, words)| {
        let (read, bump) = words.curve?;
        let zero = reading
            .gauge
            .and_then(|gauge| zeros.get(gauge))
            .map_or(0.0, |(zero, _)| *zero);
        (read == band.reading).then(|| Mark {
            at: (
                units.from_core(bump, Measure::LENGTH),
                units.from_core(reading.value - zero, measure),
            ),
            label: String::new(),
        })
    });
    let marks: Vec<Mark> = marks.collect();
    let points = match (marks.is_empty(), zeros.is_empty()) {
        (true, _) => "",
        (false, true) => "; points: readings",
        (false, false) => "; points: readings less the zero of their gauge",
    };
    let key = capitalised(&band.reading.info().key.replace('_', " "));
    let panel = Panel {
        envelopes: vec![
            Envelope {
                name: "survey, 95 %".to_owned(),
                points: area(&before),
                look: Some(0),
            },
            Envelope {
                name: "with readings, 95 %".to_owned(),
                points: area(&after),
                look: Some(1),
            },
        ],
        series: vec![
            Series {
                emphasis: Emphasis::Quiet,
                look: Some(0),
                ..Series::new("survey", line(&before))
            },
            Series {
                emphasis: Emphasis::Strong,
                look: Some(1),
                ..Series::new("with readings", line(&after))
            },
        ],
        marks,
        ..Panel::new(Axis::new(key, units.symbol(measure)))
    };
    Some(Figure {
        title: format!("Calibration: {}", model.title),
        subtitle: Some(format!(
            "Each curve with the band that holds it in 95 of 100 cases{points}"
        )),
        x: Axis::new("Wheel travel from ride height", units.length.symbol()).with_words("droop", "bump"),
        panels: vec![panel],
        ..Figure::default()
    })
}

/// Bump, value and half the band of 95 %, in shown units.
fn band_points(
    subject: &Subject,
    uncertainty: &Uncertainty,
    band: &Band,
    measure: Measure,
    units: &Units,
) -> Vec<(f64, f64, f64)> {
    let points = (0..POINTS).filter_map(|point| {
        let bump = band.from + (band.to - band.from) * point as f64 / (POINTS - 1) as f64;
        let outcome = Outcome::At(band.reading, Station::bump(bump));
        let (value, deviation) = outcome_with_deviation(subject, uncertainty, &outcome).ok()?;
        Some((
            units.from_core(bump, Measure::LENGTH),
            units.from_core(value, measure),
            units.from_core(NINETY_FIVE_PERCENT * deviation, measure),
        ))
    });
    points.collect()
}

/// Readings less what is fitted, over bump, in a panel for each curve, with what their errors allow.
fn residual_figure(model: &Model, calibrated: &Calibrated) -> Option<Figure> {
    let units = model.units;
    let mut curves: Vec<(Reading, Measure)> = Vec::new();
    for words in &calibrated.asked.readings {
        if let Some((reading, _)) = words.curve
            && !curves.iter().any(|(known, _)| *known == reading)
        {
            curves.push((reading, words.measure));
        }
    }
    let panels: Vec<Panel> = curves
        .into_iter()
        .filter_map(|(curve, measure)| {
            let own = calibrated.found.readings.iter().zip(&calibrated.asked.readings);
            let mut points: Vec<(f64, f64, f64)> = own
                .filter_map(|(end, words)| {
                    let (reading, bump) = words.curve?;
                    (reading == curve).then(|| {
                        (
                            units.from_core(bump, Measure::LENGTH),
                            units.from_core(end.residual, measure),
                            units.from_core(NINETY_FIVE_PERCENT * end.deviation, measure),
                        )
                    })
                })
                .collect();
            points.sort_by(|one, other| one.0.total_cmp(&other.0));
            if points.len() < 2 {
                return None;
            }
            let key = curve.info().key.replace('_', " ");
            Some(Panel {
                envelopes: vec![Envelope {
                    name: "reading error, 95 %".to_owned(),
                    points: points
                        .iter()
                        .map(|(bump, _, half)| (*bump, -half, *half))
                        .collect(),
                    look: Some(0),
                }],
                series: vec![Series {
                    look: Some(1),
                    ..Series::new(
                        "read less fitted",
                        points.iter().map(|(bump, value, _)| (*bump, *value)).collect(),
                    )
                }],
                marks: points
                    .iter()
                    .map(|(bump, value, _)| Mark {
                        at: (*bump, *value),
                        label: String::new(),
                    })
                    .collect(),
                limits: vec![Limit {
                    at: 0.0,
                    label: String::new(),
                    kind: LimitKind::Reference,
                }],
                ..Panel::new(Axis::new(
                    format!("{} residual", capitalised(&key)),
                    units.symbol(measure),
                ))
            })
        })
        .take(6)
        .collect();
    if panels.is_empty() {
        return None;
    }
    Some(Figure {
        title: format!("Residuals: {}", model.title),
        subtitle: Some("What was read, less what the calibrated pickups say".to_owned()),
        x: Axis::new("Wheel travel from ride height", units.length.symbol()).with_words("droop", "bump"),
        panels,
        ..Figure::default()
    })
}
