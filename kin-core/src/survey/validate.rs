//! What cannot be right in a notebook, before anything is worked out.

use super::error::SurveyError;
use super::notebook::Survey;
use super::reading::{Axis, Observed, Reading};
use super::words::point_words;
use crate::pickups::Side;
use std::collections::BTreeMap;

/// Points of one survey: a car has some sixty.
pub(super) const MOST_POINTS: usize = 80;
/// Readings of one survey.
pub(super) const MOST_READINGS: usize = 800;
/// Tapes that miss a triangle by more than this many standard deviations cannot be three honest readings.
const TRIANGLE_LIMIT: f64 = 5.0;
/// Coordinates stated twice may differ by this (mm): the rounding of a printed value.
const SAME_VALUE: f64 = 1e-6;

/// Refuses numbers that are none, distances of nothing, triangles that cannot close and stated coordinates against each other.
pub(super) fn validate(survey: &Survey) -> Result<(), SurveyError> {
    if survey.readings.is_empty() {
        return Err(SurveyError::NoReadings);
    }
    let (points, readings) = (survey.points().len(), survey.readings.len());
    if points > MOST_POINTS || readings > MOST_READINGS {
        return Err(SurveyError::TooLarge { points, readings });
    }
    for reading in &survey.readings {
        one(survey, reading)?;
    }
    stated(survey)?;
    triangles(survey)
}

fn one(survey: &Survey, reading: &Reading) -> Result<(), SurveyError> {
    let words = || reading.words();
    let number = reading.value + reading.offset;
    if !number.is_finite() {
        return Err(SurveyError::NotFinite { reading: words() });
    }
    let deviation = survey.deviation(reading);
    if !(deviation.is_finite() && deviation > 0.0) {
        return Err(SurveyError::Deviation {
            reading: words(),
            deviation,
        });
    }
    let points = match &reading.observed {
        Observed::Rigid { first, second } => vec![&first[..], &second[..]]
            .into_iter()
            .map(|pair| pair.iter().map(String::as_str).collect())
            .collect(),
        other => vec![other.points()],
    };
    if points.iter().any(|pair| pair.len() == 2 && pair[0] == pair[1]) {
        return Err(SurveyError::SamePoint { reading: words() });
    }
    match &reading.observed {
        Observed::Distance { .. } if number <= 0.0 => Err(SurveyError::NoDistance {
            reading: words(),
            distance: number,
        }),
        Observed::Angle { .. } if number.abs() > std::f64::consts::FRAC_PI_2 => Err(SurveyError::Angle {
            reading: words(),
            angle: number,
        }),
        _ => Ok(()),
    }
}

/// Where something was stated, as the end of a sentence.
fn place(label: &str) -> String {
    if label.is_empty() {
        String::new()
    } else {
        format!(" ({label})")
    }
}

fn stated(survey: &Survey) -> Result<(), SurveyError> {
    let mut known: BTreeMap<(&str, Axis), (f64, &str)> = BTreeMap::new();
    for fixed in &survey.fixed {
        let coordinate = format!("the {} of {}", fixed.axis.word(), point_words(&fixed.point));
        if !fixed.value.is_finite() {
            return Err(SurveyError::NotFinite {
                reading: format!("{coordinate}{}", place(&fixed.label)),
            });
        }
        let before = known.get(&(fixed.point.as_str(), fixed.axis));
        if let Some((value, label)) = before.filter(|(value, _)| (value - fixed.value).abs() > SAME_VALUE) {
            return Err(SurveyError::ContradictoryDatum {
                coordinate,
                first: place(label),
                first_value: *value,
                second: place(&fixed.label),
                second_value: Some(fixed.value),
            });
        }
        known.insert((&fixed.point, fixed.axis), (fixed.value, &fixed.label));
        let side = survey.sides.get(&fixed.point);
        let wrong = match side {
            Some(Side::Left) => fixed.value < 0.0,
            Some(Side::Right) => fixed.value > 0.0,
            None => false,
        };
        if fixed.axis == Axis::Y && wrong {
            let side = if side == Some(&Side::Left) {
                "left"
            } else {
                "right"
            };
            return Err(SurveyError::ContradictoryDatum {
                coordinate,
                first: place(&fixed.label),
                first_value: fixed.value,
                second: format!("and on the {side} of the car, where offsets have the other sign"),
                second_value: None,
            });
        }
    }
    Ok(())
}

fn sorted<'a>(one: &'a str, other: &'a str) -> (&'a str, &'a str) {
    if one < other { (one, other) } else { (other, one) }
}

/// Refuses three tapes of which one is longer than the other two together.
fn triangles(survey: &Survey) -> Result<(), SurveyError> {
    // Repeated tapes count by the one that is kindest: only what cannot be explained is refused.
    let mut tapes: BTreeMap<(&str, &str), Vec<&Reading>> = BTreeMap::new();
    for reading in &survey.readings {
        if let Observed::Distance { from, to } = &reading.observed {
            tapes.entry(sorted(from, to)).or_default().push(reading);
        }
    }
    let points: Vec<String> = survey.points().into_iter().collect();
    for (pair, longest) in &tapes {
        for third in &points {
            let (one, other) = (
                tapes.get(&sorted(pair.0, third)),
                tapes.get(&sorted(pair.1, third)),
            );
            let (Some(one), Some(other)) = (one, other) else {
                continue;
            };
            let length = |reading: &&&Reading| reading.value + reading.offset;
            let by_length = |a: &&&Reading, b: &&&Reading| length(a).total_cmp(&length(b));
            let (Some(longest), Some(one), Some(other)) = (
                longest.iter().min_by(by_length),
                one.iter().max_by(by_length),
                other.iter().max_by(by_length),
            ) else {
                continue;
            };
            let deviations = [longest, one, other].map(|reading| survey.deviation(reading).powi(2));
            let allowed = TRIANGLE_LIMIT * deviations.iter().sum::<f64>().sqrt();
            let sum = length(&one) + length(&other);
            if length(&longest) > sum + allowed {
                return Err(SurveyError::TriangleCannotClose {
                    longest: longest.words(),
                    length: length(&longest),
                    others: [one.words(), other.words()],
                    sum,
                });
            }
        }
    }
    Ok(())
}
