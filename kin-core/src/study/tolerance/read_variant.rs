//! Reads what is asked from one variant.

use super::question::{Requirement, Tolerance};
use super::result::LinearResult;
use crate::checks::{Finding, TravelBudget, Verdict};
use crate::curves::AxleCurve;
use crate::pickups::Side;
use crate::study::outcome::{stroke_budget, stroke_farthest, stroke_near};
use crate::study::{Built, Outcome, Reading, Subject};
use crate::{Error, Sentence};

/// A travel is looked for this many standard deviations beyond where it is as measured, before all of the reach is searched.
const LIKELY: f64 = 6.0;
/// And this much farther (mm).
const BEYOND_MM: f64 = 2.0;

/// What was read from one variant.
#[derive(Debug, Default)]
pub(super) struct ReadVariant {
    /// One for each requirement; none where it has no value.
    pub(super) values: Vec<Option<f64>>,
    /// One for each curve and place, curve by curve; not finite where there is none.
    pub(super) curves: Vec<f64>,
    /// The findings of the checks; none where they gave no answer or were not asked.
    pub(super) findings: Option<Vec<(&'static str, String, Verdict)>>,
    /// What could not be had, and why.
    pub(super) failed: Vec<(String, Sentence)>,
}

/// Builds a variant and reads it.
pub(super) fn read(study: &Tolerance<'_>, linear: &[LinearResult], subject: &Subject) -> ReadVariant {
    let mut read = ReadVariant {
        values: vec![None; study.requirements.len()],
        curves: vec![f64::NAN; study.curves.len() * study.bumps.len()],
        ..ReadVariant::default()
    };
    let built = match subject.build() {
        Ok(built) => built,
        Err(error) => {
            read.failed.push(("the variant".to_owned(), error.sentence()));
            return read;
        }
    };
    let mut budgets = Budgets::default();
    let requirements = study.requirements.iter().zip(linear);
    for ((requirement, linear), value) in requirements.zip(&mut read.values) {
        match budgets.value(requirement, linear, &built) {
            Ok(found) if found.is_finite() => *value = Some(found),
            Ok(_) => {
                let reason = Sentence::new("its number is not finite");
                read.failed.push((requirement.name.clone(), reason));
            }
            Err(error) => read.failed.push((requirement.name.clone(), error.sentence())),
        }
    }
    if let Err(error) = read_curves(study, &built, &mut read.curves) {
        read.failed.push(("the curves".to_owned(), error.sentence()));
    }
    if let Some(checks) = study.checks {
        match checks(&built) {
            Ok(findings) => read.findings = Some(findings.into_iter().map(said).collect()),
            Err(reason) => read.failed.push(("the checks".to_owned(), reason)),
        }
    }
    read
}

fn said(finding: Finding) -> (&'static str, String, Verdict) {
    (finding.check, finding.subject, finding.verdict)
}

/// The travel budgets of both dampers, each measured once.
#[derive(Default)]
struct Budgets {
    left: Option<Result<TravelBudget, Error>>,
    right: Option<Result<TravelBudget, Error>>,
}

impl Budgets {
    fn value(
        &mut self,
        requirement: &Requirement,
        linear: &LinearResult,
        built: &Built,
    ) -> Result<f64, Error> {
        let Outcome::Stroke(reading, side) = requirement.outcome else {
            return requirement.outcome.value(built);
        };
        let farthest = linear.value + LIKELY * linear.deviation + BEYOND_MM;
        if let Some(value) = stroke_near(built, reading, side, farthest) {
            return Ok(value);
        }
        let known = match side {
            Side::Left => &mut self.left,
            Side::Right => &mut self.right,
        };
        let budget = known.get_or_insert_with(|| stroke_budget(built, side));
        let budget = budget.as_ref().map_err(Clone::clone)?;
        reading
            .of_budget(budget)
            .map_or_else(|| stroke_farthest(built, reading, side), Ok)
    }
}

/// Reads all curves in one sweep.
fn read_curves(study: &Tolerance<'_>, built: &Built, values: &mut [f64]) -> Result<(), Error> {
    if study.curves.is_empty() {
        return Ok(());
    }
    let ride = built.ride_travel()?;
    let travels: Vec<f64> = study.bumps.iter().map(|bump| ride + bump).collect();
    let places = study.bumps.len();
    match built {
        Built::Corner(corner) => corner.follow_travel(&travels, 0.0, |place, position| {
            for (curve, reading) in study.curves.iter().enumerate() {
                if let Reading::Corner(quantity, along) = reading {
                    let value = match along {
                        None => quantity.value(position),
                        Some(along) => quantity.rate(position, *along),
                    };
                    put(values, curve * places + place, value);
                }
            }
        }),
        Built::Axle(axle) => axle.follow_heave(&travels, |place, position| {
            for (curve, reading) in study.curves.iter().enumerate() {
                if let Reading::Axle(quantity, along) = reading {
                    let quantity: &AxleCurve = quantity;
                    let value = match along {
                        None => quantity.value(position),
                        Some(along) => quantity.rate(position, *along),
                    };
                    put(values, curve * places + place, value);
                }
            }
        }),
    }
    .map_err(Error::from)
}

fn put(values: &mut [f64], place: usize, value: Option<f64>) {
    if let (Some(cell), Some(value)) = (values.get_mut(place), value) {
        *cell = value;
    }
}
