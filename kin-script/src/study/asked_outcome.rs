//! What a script asks of every variant: one number by name, by map, or by a function of its own.

use crate::arguments;
use crate::explain::{suggest, value_words};
use crate::host::ScriptError;
use crate::model::in_core_units;
use crate::readings::Reading as Named;
use crate::units::{Measure, Units};
use kin_core::checks::ClearanceQuestion;
use kin_core::pickups::Side;
use kin_core::study::{Built, Outcome, Reading, Station, StrokeReading};
use kin_core::{Along, AxleAlong, Dimension};
use rhai::{Array, Dynamic, FnPtr, Map};
use serde::Deserialize;

/// One number asked of every variant, with what the user wants of it (core units).
#[derive(Debug, Clone)]
pub struct AskedOutcome {
    /// What it is called in tables: the user's name, or the outcome in words.
    pub name: String,
    /// Where the number comes from.
    pub source: Source,
    /// What the number is.
    pub measure: Measure,
    /// It must be this at least.
    pub at_least: Option<f64>,
    /// It must be this at most.
    pub at_most: Option<f64>,
    /// What a search aims at.
    pub target: Option<f64>,
    /// How much a search cares, beside other targets.
    pub weight: f64,
}

/// Where an outcome's number comes from.
#[derive(Debug, Clone)]
pub enum Source {
    /// The core's outcome, with exact sensitivities.
    Core(Outcome),
    /// A function of the script: it takes a model and gives a number.
    Script(FnPtr),
}

/// The keys of an outcome's map.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Keys {
    name: Option<String>,
    curve: Option<String>,
    stroke: Option<String>,
    side: Option<Side>,
    at: Option<At>,
    from: Option<f64>,
    to: Option<f64>,
    take: Option<Take>,
    at_least: Option<f64>,
    at_most: Option<f64>,
    target: Option<f64>,
    weight: Option<f64>,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum At {
    Bump(f64),
    Place(Place),
}

#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields)]
struct Place {
    bump: Option<f64>,
    rack: Option<f64>,
    roll: Option<f64>,
}

/// What is taken of a curve between two places.
#[derive(Deserialize, Clone, Copy)]
#[serde(rename_all = "snake_case")]
enum Take {
    Spread,
    Change,
    Least,
    Greatest,
}

const CONTEXT: &str = "the outcome";

impl AskedOutcome {
    /// Reads an outcome: a text such as `camber` (at ride height) or `bump_to_stop`, a map, or a function.
    ///
    /// # Errors
    /// Unknown names and keys, and what does not go together.
    pub fn read(value: Dynamic, axle: bool, units: &Units) -> Result<Self, ScriptError> {
        if let Some(function) = value.clone().try_cast::<FnPtr>() {
            return Ok(Self::of_function(function, None));
        }
        if let Ok(name) = value.as_immutable_string_ref() {
            let outcome = named(&name, axle, Side::Left)?;
            return Ok(Self::of_core(outcome, None, units));
        }
        let Some(mut map) = value.clone().try_cast::<Map>() else {
            return Err(ScriptError::new(format!(
                "{CONTEXT}: expected a name, a map or a function, got {}",
                value_words(&value)
            )));
        };
        let gap = map.remove("gap");
        let function = map.remove("function");
        let keys: Keys = arguments::read(Dynamic::from_map(map), CONTEXT)?;
        let mut asked = match (gap, function) {
            (Some(gap), None) => {
                let question: ClearanceQuestion = arguments::read(gap, "the gap")?;
                let question = in_core_units(&question, units);
                Self::of_core(Outcome::Gap(Box::new(question)), keys.name.clone(), units)
            }
            (None, Some(function)) => {
                let words = value_words(&function);
                let function = function.try_cast::<FnPtr>().ok_or_else(|| {
                    ScriptError::new(format!("{CONTEXT}, `function`: expected a function, got {words}"))
                        .with_key("function")
                })?;
                Self::of_function(function, keys.name.clone())
            }
            (Some(_), Some(_)) => return Err(one_of_them()),
            (None, None) => Self::of_core(keys.outcome(axle, units)?, keys.name.clone(), units),
        };
        let measure = asked.measure;
        let core = |number: Option<f64>| number.map(|number| in_core(number, measure, units));
        asked.at_least = core(keys.at_least);
        asked.at_most = core(keys.at_most);
        if let (Some(low), Some(high)) = (keys.at_least, keys.at_most)
            && low > high
        {
            return Err(ScriptError::new(format!(
                "{CONTEXT}: nothing is at least {low} and at most {high} at once"
            ))
            .with_key("at_least"));
        }
        asked.target = core(keys.target);
        asked.weight = keys.weight.unwrap_or(1.0);
        Ok(asked)
    }

    /// One of the core's outcomes, without limits; without a name it is called by what it is.
    pub(crate) fn of_core(outcome: Outcome, name: Option<String>, units: &Units) -> Self {
        let measure = Measure {
            dimension: match outcome.dimension() {
                Dimension::Angle => Dimension::FineAngle,
                other => other,
            },
            per_travel: outcome.is_rate(),
        };
        Self {
            name: name.unwrap_or_else(|| outcome.words().render(units.shown())),
            source: Source::Core(outcome),
            measure,
            at_least: None,
            at_most: None,
            target: None,
            weight: 1.0,
        }
    }

    fn of_function(function: FnPtr, name: Option<String>) -> Self {
        Self {
            name: name.unwrap_or_else(|| function.fn_name().to_owned()),
            source: Source::Script(function),
            // A function's number is taken as it comes.
            measure: Measure {
                dimension: Dimension::Ratio,
                per_travel: false,
            },
            at_least: None,
            at_most: None,
            target: None,
            weight: 1.0,
        }
    }

    /// Whether the user gave a limit.
    #[must_use]
    pub fn has_limit(&self) -> bool {
        self.at_least.is_some() || self.at_most.is_some()
    }

    /// What is left to the nearer limit (core units), negative beyond it; none without a limit.
    #[must_use]
    pub fn margin(&self, value: f64) -> Option<f64> {
        let low = self.at_least.map(|limit| value - limit);
        let high = self.at_most.map(|limit| limit - value);
        match (low, high) {
            (Some(low), Some(high)) => Some(low.min(high)),
            (one, other) => one.or(other),
        }
    }

    /// The number of a built variant (core units); none for a function, which needs the model.
    ///
    /// # Errors
    /// As for [`Outcome::value`].
    pub fn value(&self, built: &Built) -> Option<Result<f64, kin_core::Error>> {
        match &self.source {
            Source::Core(outcome) => Some(outcome.value(built)),
            Source::Script(_) => None,
        }
    }
}

/// A list of outcomes, or one alone.
///
/// # Errors
/// As for [`AskedOutcome::read`]; an empty list.
pub fn outcome_list(value: Dynamic, axle: bool, units: &Units) -> Result<Vec<AskedOutcome>, ScriptError> {
    let list = match value.try_cast_result::<Array>() {
        Ok(list) => list,
        Err(one) => vec![one],
    };
    if list.is_empty() {
        return Err(ScriptError::new("the list of outcomes is empty")
            .with_help("name at least one, such as \"camber\" or #{ curve: \"toe\", from: -50, to: 50 }"));
    }
    list.into_iter()
        .map(|one| AskedOutcome::read(one, axle, units))
        .collect()
}

impl Keys {
    fn outcome(&self, axle: bool, units: &Units) -> Result<Outcome, ScriptError> {
        let length = |value: f64| value * units.length.millimetres();
        match (&self.curve, &self.stroke) {
            (Some(curve), None) => {
                let reading = reading(curve, axle)?;
                match (self.from, self.to) {
                    (Some(from), Some(to)) if self.at.is_none() => {
                        let (from, to) = (length(from), length(to));
                        Ok(match self.take.unwrap_or(Take::Spread) {
                            Take::Spread => Outcome::Spread(reading, from, to),
                            Take::Change => Outcome::Change(reading, from, to),
                            Take::Least => Outcome::Least(reading, from, to),
                            Take::Greatest => Outcome::Greatest(reading, from, to),
                        })
                    }
                    (None, None) => Ok(Outcome::At(reading, self.station(axle, units)?)),
                    _ => Err(
                        ScriptError::new(format!("{CONTEXT}: give both `from` and `to`, or `at`"))
                            .with_key("from"),
                    ),
                }
            }
            (None, Some(stroke)) => named_stroke(stroke, self.side.unwrap_or(Side::Left)),
            _ => Err(one_of_them()),
        }
    }

    fn station(&self, axle: bool, units: &Units) -> Result<Station, ScriptError> {
        let length = |value: Option<f64>| value.unwrap_or(0.0) * units.length.millimetres();
        let place = match &self.at {
            None => return Ok(Station::default()),
            Some(At::Bump(bump)) => return Ok(Station::bump(length(Some(*bump)))),
            Some(At::Place(place)) => place,
        };
        let (foreign, key) = if axle {
            (place.rack, "rack")
        } else {
            (place.roll, "roll")
        };
        if foreign.is_some() {
            let layout = if axle { "an axle" } else { "a corner" };
            return Err(
                ScriptError::new(format!("{CONTEXT}: {layout} is not moved along `{key}`")).with_key(key),
            );
        }
        Ok(Station {
            bump: length(place.bump),
            rack: length(place.rack),
            roll: place.roll.unwrap_or(0.0).to_radians(),
        })
    }
}

/// An outcome by a plain name: a number of the stroke check, or a curve at ride height.
fn named(name: &str, axle: bool, side: Side) -> Result<Outcome, ScriptError> {
    match named_stroke(name, side) {
        Ok(outcome) => Ok(outcome),
        Err(_) => Ok(Outcome::At(reading(name, axle)?, Station::default())),
    }
}

fn named_stroke(name: &str, side: Side) -> Result<Outcome, ScriptError> {
    let known = StrokeReading::ALL
        .into_iter()
        .find(|reading| reading.key() == name);
    known
        .map(|reading| Outcome::Stroke(reading, side))
        .ok_or_else(|| {
            let error = ScriptError::new(format!("the stroke check has no number `{name}`")).with_key(name);
            let keys = StrokeReading::ALL.map(StrokeReading::key);
            match suggest(name, keys) {
                Some(nearest) => error.with_help(format!("did you mean `{nearest}`?")),
                None => error.with_help(format!("it has {}", keys.join(", "))),
            }
        })
}

/// A curve or rate by name.
pub(crate) fn reading(name: &str, axle: bool) -> Result<Reading, ScriptError> {
    let found = if axle {
        Named::of_axle(name, AxleAlong::Heave)?
    } else {
        Named::of_corner(name, Along::Travel)?
    };
    Ok(match found {
        Named::Corner(curve, along) => Reading::Corner(curve, along),
        Named::Axle(curve, along) => Reading::Axle(curve, along),
    })
}

/// A number in the user's unit in core units.
pub(crate) fn in_core(number: f64, measure: Measure, units: &Units) -> f64 {
    let own = match measure.dimension {
        Dimension::Angle | Dimension::FineAngle => number.to_radians(),
        dimension => number * units.core_units(dimension),
    };
    if measure.per_travel {
        own / units.length.millimetres()
    } else {
        own
    }
}

fn one_of_them() -> ScriptError {
    ScriptError::new(format!(
        "{CONTEXT}: give one of `curve`, `stroke`, `gap` and `function`"
    ))
    .with_help(
        "such as #{ curve: \"toe\", from: -50, to: 50 } or #{ stroke: \"bump_to_stop\", at_least: 45 }",
    )
}
