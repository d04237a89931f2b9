//! The question of a tolerance study, read from a script's map.

use crate::arguments;
use crate::explain::value_words;
use crate::host::ScriptError;
use crate::model::Model;
use crate::readings::Reading as Named;
use crate::study::{AskedOutcome, Source, asked_uncertainty, outcome_list, subject};
use kin_core::study::{Measurement, Reading, Requirement, Subject, Uncertainty};
use kin_core::{Along, AxleAlong};
use rhai::{Array, Dynamic, Map};
use serde::Deserialize;

const CONTEXT: &str = "the tolerance";
/// Variants where none are asked for: shares are then good to half a percent.
const USUAL_SAMPLES: usize = 10_000;
/// Shares of fewer say nothing.
const LEAST_SAMPLES: usize = 50;
/// The most that are worth waiting for.
const MOST_SAMPLES: usize = 10_000_000;
const USUAL_SEED: u64 = 1;
const USUAL_SURE: f64 = 0.99;
/// Bump and droop of bands where none are asked for (mm), and places between them.
const USUAL_BUMP_MM: f64 = 50.0;
const USUAL_PLACES: i32 = 8;

/// The plain keys.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Keys {
    curves: Option<Vec<String>>,
    bump: Option<Vec<f64>>,
    samples: Option<i64>,
    seed: Option<i64>,
    sure: Option<f64>,
}

/// How well a reading of an outcome is read.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ReadingKeys {
    name: Option<String>,
    deviation: Option<f64>,
    value: Option<f64>,
}

/// What is asked, in core units.
pub(super) struct Question {
    pub(super) subject: Subject,
    pub(super) uncertainty: Uncertainty,
    pub(super) outcomes: Vec<AskedOutcome>,
    pub(super) requirements: Vec<Requirement>,
    pub(super) checks: Option<Map>,
    pub(super) curves: Vec<(Named, Reading)>,
    pub(super) bumps: Vec<f64>,
    pub(super) samples: usize,
    pub(super) seed: u64,
    pub(super) sure: f64,
    pub(super) readings: Vec<(AskedOutcome, Measurement)>,
}

impl Question {
    pub(super) fn read(model: &Model, mut map: Map) -> Result<Self, ScriptError> {
        let units = &model.units;
        let axle = model.layout() == "live_axle";
        let outcomes = match map.remove("outcomes") {
            Some(list) => outcome_list(list, axle, units)?,
            None => Vec::new(),
        };
        let checks = map.remove("checks").map(map_of_checks).transpose()?;
        let readings = match map.remove("readings") {
            Some(list) => readings(list, axle, model)?,
            None => Vec::new(),
        };
        let subject = subject(model);
        let uncertainty = uncertainty(&mut map, &subject, model)?;
        let keys: Keys = arguments::read(Dynamic::from_map(map), CONTEXT)?;
        let (outcomes, requirements) = requirements(outcomes, &subject, model)?;
        let curves = keys.curves.unwrap_or_default();
        let curves = curves
            .iter()
            .map(|name| curve(name, axle))
            .collect::<Result<_, _>>()?;
        let bumps = match keys.bump {
            Some(bumps) => bumps
                .iter()
                .map(|bump| bump * units.length.millimetres())
                .collect(),
            None => (-USUAL_PLACES..=USUAL_PLACES)
                .map(|place| f64::from(place) / f64::from(USUAL_PLACES) * USUAL_BUMP_MM)
                .collect(),
        };
        let sure = keys.sure.unwrap_or(USUAL_SURE);
        if !(sure > 0.5 && sure < 1.0) {
            return Err(ScriptError::new(format!(
                "how sure it shall be is {sure}: give a share between 0.5 and 1, such as 0.99"
            ))
            .with_key("sure"));
        }
        Ok(Self {
            samples: samples(keys.samples)?,
            seed: seed(keys.seed)?,
            subject,
            uncertainty,
            outcomes,
            requirements,
            checks,
            curves,
            bumps,
            sure,
            readings,
        })
    }
}

fn samples(asked: Option<i64>) -> Result<usize, ScriptError> {
    let Some(asked) = asked else {
        return Ok(USUAL_SAMPLES);
    };
    usize::try_from(asked)
        .ok()
        .filter(|samples| (LEAST_SAMPLES..=MOST_SAMPLES).contains(samples))
        .ok_or_else(|| {
            ScriptError::new(format!(
                "{asked} variants: give a whole number from {LEAST_SAMPLES} to {MOST_SAMPLES}"
            ))
            .with_key("samples")
        })
}

fn seed(asked: Option<i64>) -> Result<u64, ScriptError> {
    let Some(asked) = asked else { return Ok(USUAL_SEED) };
    u64::try_from(asked).map_err(|_| {
        ScriptError::new(format!("the seed is {asked}: give a whole number from zero up")).with_key("seed")
    })
}

fn map_of_checks(value: Dynamic) -> Result<Map, ScriptError> {
    value.try_cast_result::<Map>().map_err(|other| {
        ScriptError::new(format!(
            "{CONTEXT}, `checks`: expected a map as `check_fit` takes it, got {}",
            value_words(&other)
        ))
        .with_key("checks")
    })
}

fn curve(name: &str, axle: bool) -> Result<(Named, Reading), ScriptError> {
    let named = if axle {
        Named::of_axle(name, AxleAlong::Heave)?
    } else {
        Named::of_corner(name, Along::Travel)?
    };
    Ok((
        named,
        match named {
            Named::Corner(curve, along) => Reading::Corner(curve, along),
            Named::Axle(curve, along) => Reading::Axle(curve, along),
        },
    ))
}

/// The outcomes asked for, and the model's own stroke limits where nobody asks for the same number.
fn requirements(
    mut outcomes: Vec<AskedOutcome>,
    subject: &Subject,
    model: &Model,
) -> Result<(Vec<AskedOutcome>, Vec<Requirement>), ScriptError> {
    let mut requirements = Vec::new();
    for asked in &outcomes {
        let Source::Core(outcome) = &asked.source else {
            return Err(ScriptError::new(format!(
                "{CONTEXT}: `{}` is a function; its error cannot be worked out from exact derivatives",
                asked.name
            ))
            .with_help("name a curve, a number of the stroke check or a gap")
            .with_key("outcomes"));
        };
        requirements.push(Requirement {
            name: asked.name.clone(),
            outcome: outcome.clone(),
            at_least: asked.at_least,
            at_most: asked.at_most,
        });
    }
    for own in Requirement::of_stroke(subject) {
        if requirements.iter().any(|known| known.outcome == own.outcome) {
            continue;
        }
        let mut asked = AskedOutcome::of_core(own.outcome.clone(), None, &model.units);
        (asked.at_least, asked.at_most) = (own.at_least, own.at_most);
        requirements.push(Requirement {
            name: asked.name.clone(),
            ..own
        });
        outcomes.push(asked);
    }
    Ok((outcomes, requirements))
}

fn uncertainty(question: &mut Map, subject: &Subject, model: &Model) -> Result<Uncertainty, ScriptError> {
    let given = asked_uncertainty::read(question, CONTEXT, subject, model)?;
    given
        .filter(|uncertainty| !uncertainty.places().is_empty())
        .ok_or_else(|| {
            ScriptError::new(format!("{CONTEXT}: how well the pickups were measured is not said")).with_help(
                "give deviation: 1.5 (one standard deviation of every coordinate, half of what the tape is good for), \
                 deviations: #{ \"coilover.upper_mount\": 0.8 } for single points, or the covariance of a survey",
            )
        })
}

/// Readings of outcomes that could be taken, or were.
fn readings(
    value: Dynamic,
    axle: bool,
    model: &Model,
) -> Result<Vec<(AskedOutcome, Measurement)>, ScriptError> {
    let list = value.try_cast_result::<Array>().unwrap_or_else(|one| vec![one]);
    list.into_iter().map(|one| reading(one, axle, model)).collect()
}

fn reading(value: Dynamic, axle: bool, model: &Model) -> Result<(AskedOutcome, Measurement), ScriptError> {
    let context = "the reading";
    let units = &model.units;
    let mut map = value.try_cast_result::<Map>().map_err(|other| {
        ScriptError::new(format!("{context}: expected a map, got {}", value_words(&other)))
            .with_help("such as #{ outcome: \"length_at_ride\", deviation: 0.8 }")
            .with_key("readings")
    })?;
    let outcome = map.remove("outcome").ok_or_else(|| {
        ScriptError::new(format!("{context}: the key `outcome` is missing: what is read"))
            .with_key("readings")
    })?;
    let asked = AskedOutcome::read(outcome, axle, units)?;
    let keys: ReadingKeys = arguments::read(Dynamic::from_map(map), context)?;
    let Source::Core(outcome) = &asked.source else {
        return Err(ScriptError::new(format!("{context}: a function cannot be read")).with_key("outcome"));
    };
    let core = |number: f64| crate::study::in_core(number, asked.measure, units);
    if keys.deviation.is_some_and(|deviation| deviation < 0.0) {
        return Err(
            ScriptError::new(format!("{context}: its standard deviation is negative")).with_key("deviation"),
        );
    }
    if keys.value.is_some() && keys.deviation.is_none() {
        return Err(ScriptError::new(format!(
            "{context}: say how well the value was read, as `deviation`"
        ))
        .with_key("value"));
    }
    let measurement = Measurement {
        name: keys.name.unwrap_or_else(|| asked.name.clone()),
        outcome: outcome.clone(),
        deviation: keys.deviation.map(core),
        value: keys.value.map(core),
    };
    Ok((asked, measurement))
}
