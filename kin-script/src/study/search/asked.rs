//! A search as a script asks it.

use crate::arguments;
use crate::explain::value_words;
use crate::host::{ScriptError, finite};
use crate::model::{Body, Model};
use crate::study::asked_outcome::{in_core, reading};
use crate::study::{AskedOutcome, Source};
use crate::units::{Measure, Units};
use kin_core::Dimension;
use kin_core::pickups::{Side, Wanted};
use kin_core::study::search::{Goal, GoalPoint, Keep, SearchQuestion};
use kin_core::study::{Outcome, Station, StrokeReading, Subject};
use rhai::{Array, Dynamic, Map};
use serde::Deserialize;

/// Starts where the script does not say.
const USUAL_STARTS: usize = 6;
/// More starts than this are refused: each is a search of its own.
const MOST_STARTS: usize = 1_000;
/// Points between the ends of a stretch over which a curve is to stay as at ride height.
const STEADY_POINTS: usize = 8;
/// Most points of a trade-off.
const MOST_FRONT: usize = 200;

/// A search with what is needed to write about it.
pub(crate) struct AskedSearch {
    pub(crate) question: SearchQuestion,
    pub(crate) moves: Vec<MoveWords>,
    pub(crate) goals: Vec<GoalWords>,
    pub(crate) keeps: Vec<Measure>,
}

/// What a move's numbers are shown as.
pub(crate) struct MoveWords {
    /// Core units of one shown unit.
    pub(crate) factor: f64,
    /// Its symbol.
    pub(crate) symbol: String,
    /// The value of the number as described (shown unit), where it is one number.
    pub(crate) stands_at: Option<f64>,
}

/// What a goal's numbers are shown as.
pub(crate) struct GoalWords {
    pub(crate) measure: Measure,
    /// The curve with its places in bump (mm), where it is a curve; and whether it counts from ride height.
    pub(crate) curve: Option<CurveGoal>,
}

/// A goal that is a curve.
pub(crate) struct CurveGoal {
    pub(crate) reading: kin_core::study::Reading,
    pub(crate) bumps: Vec<f64>,
    pub(crate) from_ride: bool,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Keys {
    starts: Option<usize>,
    seed: Option<u64>,
    trade_off: Option<usize>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CurveKeys {
    name: Option<String>,
    curve: String,
    through: Option<Vec<[f64; 2]>>,
    change_through: Option<Vec<[f64; 2]>>,
    steady: Option<[f64; 2]>,
    weight: Option<f64>,
}

impl AskedSearch {
    /// Reads the map of the word `search`.
    pub(crate) fn read(mut map: Map, model: &Model, subject: &Subject) -> Result<Self, ScriptError> {
        let units = model.units;
        let axle = model.layout() == "live_axle";
        let mut asked = Self {
            question: SearchQuestion {
                moves: Vec::new(),
                holes: Vec::new(),
                goals: Vec::new(),
                keeps: Vec::new(),
                starts: USUAL_STARTS,
                seed: 1,
                front: None,
            },
            moves: Vec::new(),
            goals: Vec::new(),
            keeps: Vec::new(),
        };
        for one in list(&mut map, "move")? {
            asked.read_move(one, subject, &units)?;
        }
        for one in list(&mut map, "targets")? {
            asked.read_target(one, axle, &units)?;
        }
        for one in list(&mut map, "keep")? {
            asked.read_keep(one, model, axle)?;
        }
        let keys: Keys = arguments::read(Dynamic::from_map(map), "the search")?;
        asked.question.starts = bounded(keys.starts.unwrap_or(USUAL_STARTS), MOST_STARTS, "starts")?;
        asked.question.seed = keys.seed.unwrap_or(1);
        if let Some(points) = keys.trade_off {
            asked.question.front = Some(bounded(points, MOST_FRONT, "trade_off")?);
        }
        Ok(asked)
    }

    fn read_target(&mut self, value: Dynamic, axle: bool, units: &Units) -> Result<(), ScriptError> {
        let is_curve = value.read_lock::<Map>().is_some_and(|map| {
            ["through", "change_through", "steady"]
                .iter()
                .any(|key| map.contains_key(*key))
        });
        if is_curve {
            return self.read_curve(value, axle, units);
        }
        let asked = AskedOutcome::read(value, axle, units)?;
        let (Source::Core(outcome), Some(target)) = (&asked.source, asked.target) else {
            return Err(ScriptError::new(format!("the target `{}`: give `target`, the wanted value", asked.name))
                .with_help("such as #{ curve: \"camber_gain\", target: -0.02 }; a function of the script has no derivative and is no target"));
        };
        self.question.goals.push(Goal {
            name: asked.name.clone(),
            points: vec![GoalPoint {
                outcome: outcome.clone(),
                target,
            }],
            unit: counts_as_one(asked.measure),
            weight: asked.weight,
        });
        self.goals.push(GoalWords {
            measure: asked.measure,
            curve: None,
        });
        Ok(())
    }

    fn read_curve(&mut self, value: Dynamic, axle: bool, units: &Units) -> Result<(), ScriptError> {
        let keys: CurveKeys = arguments::read(value, "the target")?;
        let read = reading(&keys.curve, axle)?;
        let measure = measure_of(&read);
        let length = units.length.millimetres();
        let (pairs, from_ride) = match (keys.through, keys.change_through, keys.steady) {
            (Some(pairs), None, None) => (pairs, false),
            (None, Some(pairs), None) => (pairs, true),
            (None, None, Some([from, to])) => {
                let share = |point: usize| point as f64 / STEADY_POINTS as f64;
                let bumps = (0..=STEADY_POINTS).map(|point| from + (to - from) * share(point));
                (
                    bumps
                        .filter(|bump| *bump != 0.0)
                        .map(|bump| [bump, 0.0])
                        .collect(),
                    true,
                )
            }
            _ => {
                return Err(ScriptError::new(
                    "the target: give one of `through`, `change_through` and `steady`",
                )
                .with_key("through"));
            }
        };
        let points = pairs.iter().map(|[bump, target]| {
            let bump = bump * length;
            GoalPoint {
                outcome: if from_ride {
                    Outcome::Change(read, 0.0, bump)
                } else {
                    Outcome::At(read, Station::bump(bump))
                },
                target: in_core(*target, measure, units),
            }
        });
        let name = keys.name.unwrap_or_else(|| {
            let curve = keys.curve.replace('_', " ");
            if from_ride {
                format!("{curve}, change from ride height")
            } else {
                curve
            }
        });
        self.question.goals.push(Goal {
            name,
            points: points.collect(),
            unit: counts_as_one(measure),
            weight: keys.weight.unwrap_or(1.0),
        });
        self.goals.push(GoalWords {
            measure,
            curve: Some(CurveGoal {
                reading: read,
                bumps: pairs.iter().map(|[bump, _]| bump * length).collect(),
                from_ride,
            }),
        });
        Ok(())
    }

    fn read_keep(&mut self, value: Dynamic, model: &Model, axle: bool) -> Result<(), ScriptError> {
        let units = model.units;
        if value
            .as_immutable_string_ref()
            .is_ok_and(|word| *word == "wanted")
        {
            return self.keep_wanted(model);
        }
        let mut value = value;
        let margin = value.write_lock::<Map>().and_then(|mut map| map.remove("margin"));
        let asked = AskedOutcome::read(value, axle, &units)?;
        let margin = match margin {
            Some(margin) => in_core(finite(&margin, "the margin")?, asked.measure, &units),
            None => 0.0,
        };
        let (Source::Core(outcome), true) = (&asked.source, asked.has_limit()) else {
            return Err(ScriptError::new(format!(
                "the requirement `{}`: give `at_least` or `at_most` of a curve, a stroke or a gap",
                asked.name
            )));
        };
        self.keep(
            Keep {
                name: asked.name.clone(),
                outcome: outcome.clone(),
                at_least: asked.at_least.map(|limit| limit + margin),
                at_most: asked.at_most.map(|limit| limit - margin),
                unit: price_unit(asked.measure),
            },
            asked.measure,
        );
        Ok(())
    }

    fn keep(&mut self, keep: Keep, measure: Measure) {
        self.question.keeps.push(keep);
        self.keeps.push(measure);
    }

    /// The travel that the model itself wants.
    fn keep_wanted(&mut self, model: &Model) -> Result<(), ScriptError> {
        let wanted: Option<Wanted> = match &model.body {
            Body::DoubleWishbone { corner, .. } => corner.wanted,
            Body::LiveAxle(axle) => axle.wanted,
        };
        let none = || {
            ScriptError::new(format!(
                "the model {:?} has no `wanted` travel to keep",
                model.title
            ))
            .with_key("wanted")
            .with_help(
                "give it `wanted`, or a requirement such as #{ stroke: \"bump_to_stop\", at_least: 65 }",
            )
        };
        let wanted = wanted
            .filter(|wanted| wanted.bump.is_some() || wanted.droop.is_some())
            .ok_or_else(none)?;
        let length = model.units.length.millimetres();
        let margin = wanted.margin.unwrap_or(0.0);
        let pairs = [
            (StrokeReading::BumpToStop, wanted.bump),
            (StrokeReading::DroopToTopOut, wanted.droop),
        ];
        for (reading, given) in pairs {
            let Some(given) = given else { continue };
            self.keep(
                Keep {
                    name: reading.title().to_owned(),
                    outcome: Outcome::Stroke(reading, Side::Left),
                    at_least: Some((given + margin) * length),
                    at_most: None,
                    unit: 1.0,
                },
                Measure::LENGTH,
            );
        }
        Ok(())
    }
}

fn list(map: &mut Map, key: &str) -> Result<Array, ScriptError> {
    match map.remove(key) {
        None => Ok(Array::new()),
        Some(value) => Ok(match value.try_cast_result::<Array>() {
            Ok(list) => list,
            Err(one) => vec![one],
        }),
    }
}

pub(super) fn as_map(value: Dynamic, what: &str) -> Result<Map, ScriptError> {
    let words = value_words(&value);
    value
        .try_cast::<Map>()
        .ok_or_else(|| ScriptError::new(format!("{what}: expected a map #{{ }}, got {words}")))
}

fn bounded(value: usize, most: usize, key: &str) -> Result<usize, ScriptError> {
    if (1..=most).contains(&value) {
        Ok(value)
    } else {
        Err(ScriptError::new(format!("the search, `{key}`: give 1 to {most}, got {value}")).with_key(key))
    }
}

/// How a reading's numbers are shown.
pub(crate) fn measure_of(reading: &kin_core::study::Reading) -> Measure {
    Measure {
        dimension: match reading.dimension() {
            Dimension::Angle => Dimension::FineAngle,
            other => other,
        },
        per_travel: reading.is_rate(),
    }
}

/// What of a target counts as much as one millimetre (core units): one degree, a hundredth of a ratio, one of anything else;
/// of a rate, that over 25.4 mm of travel.
fn counts_as_one(measure: Measure) -> f64 {
    let own = match measure.dimension {
        Dimension::Angle | Dimension::FineAngle => 1.0_f64.to_radians(),
        Dimension::Ratio => 0.01,
        _ => 1.0,
    };
    if measure.per_travel { own / 25.4 } else { own }
}

/// By how much a requirement is moved to find its price (core units): one millimetre, a tenth of a degree.
fn price_unit(measure: Measure) -> f64 {
    match measure.dimension {
        Dimension::Angle | Dimension::FineAngle => 0.1 * counts_as_one(measure),
        _ => counts_as_one(measure),
    }
}
