//! A calibration as a script asks it.

use crate::arguments;
use crate::explain::value_words;
use crate::host::{ScriptError, finite};
use crate::model::Model;
use crate::study::asked_outcome::{in_core, reading};
use crate::study::changes::{changes_to, core_factor, places};
use crate::study::search::measure_of;
use crate::study::{AskedOutcome, Source, outcome_list};
use crate::units::Measure;
use kin_core::study::calibration::{Alternative, CalibrationQuestion, Gauge, GaugeReading};
use kin_core::study::{Outcome, Reading, Subject, Uncertainty};
use rhai::{Array, Dynamic, Map};
use serde::Deserialize;

/// Standard deviation of a taped coordinate where the script does not say (mm): about 3 mm at 95 %. Common practice, no source.
const USUAL_DEVIATION_MM: f64 = 1.5;

/// A calibration with what is needed to write about it.
pub(crate) struct AskedCalibration {
    pub(crate) question: CalibrationQuestion,
    pub(crate) readings: Vec<ReadingWords>,
    pub(crate) candidates: Vec<Alternative>,
    pub(crate) outcomes: Vec<AskedOutcome>,
    pub(crate) band: Option<Band>,
}

/// How a reading's numbers are shown.
pub(crate) struct ReadingWords {
    pub(crate) measure: Measure,
    /// The curve and its place in bump (mm), where it is one.
    pub(crate) curve: Option<(Reading, f64)>,
}

/// A curve that is shown with its band.
pub(crate) struct Band {
    pub(crate) reading: Reading,
    pub(crate) from: f64,
    pub(crate) to: f64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Keys {
    deviation: Option<f64>,
    band: Option<BandKeys>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct BandKeys {
    curve: String,
    from: f64,
    to: f64,
}

impl AskedCalibration {
    /// Reads the map of the word `calibrate`.
    pub(crate) fn read(mut map: Map, model: &Model, subject: &Subject) -> Result<Self, ScriptError> {
        let units = model.units;
        let axle = model.layout() == "live_axle";
        let known = map.remove("known");
        let gauges = map.remove("gauges");
        let readings = map.remove("readings");
        let candidates = map.remove("candidates");
        let outcomes = map.remove("outcomes");
        let keys: Keys = arguments::read(Dynamic::from_map(map), "the calibration")?;
        let mut asked = Self {
            question: CalibrationQuestion {
                uncertainty: uncertainty(subject, keys.deviation, known, model)?,
                readings: Vec::new(),
                gauges: Vec::new(),
            },
            readings: Vec::new(),
            candidates: Vec::new(),
            outcomes: match outcomes {
                Some(list) => outcome_list(list, axle, &units)?,
                None => Vec::new(),
            },
            band: None,
        };
        if let Some(band) = keys.band {
            let length = units.length.millimetres();
            asked.band = Some(Band {
                reading: reading(&band.curve, axle)?,
                from: band.from * length,
                to: band.to * length,
            });
        }
        let mut zeros = as_map(
            gauges.unwrap_or_else(|| Map::new().into()),
            "the calibration, `gauges`",
        )?;
        for one in as_list(readings, "readings")? {
            asked.read_readings(one, model, axle, &mut zeros)?;
        }
        if let Some(unused) = zeros.keys().next() {
            return Err(
                ScriptError::new(format!("the gauge `{unused}` has no reading")).with_key(unused.as_str())
            );
        }
        if let Some(candidates) = candidates {
            asked.candidates = alternatives(candidates, subject, model)?;
        }
        Ok(asked)
    }

    /// One reading, or a row of them along the travel.
    fn read_readings(
        &mut self,
        value: Dynamic,
        model: &Model,
        axle: bool,
        zeros: &mut Map,
    ) -> Result<(), ScriptError> {
        let units = model.units;
        let mut map = as_map(value, "a reading")?;
        let read = map.remove("read").ok_or_else(|| missing("read"))?;
        let deviation = map.remove("deviation").ok_or_else(|| missing("deviation"))?;
        let place_deviation = map.remove("place_deviation");
        let gauge = map.remove("gauge");
        let pairs: Vec<(Option<Dynamic>, Dynamic)> = match read.clone().try_cast::<Array>() {
            Some(values) => {
                let places = map
                    .remove("at")
                    .and_then(|at| at.try_cast::<Array>())
                    .unwrap_or_default();
                if places.len() != values.len() {
                    return Err(ScriptError::new(format!(
                        "a reading: {} values were `read` at {} places",
                        values.len(),
                        places.len()
                    ))
                    .with_key("at"));
                }
                places.into_iter().map(Some).zip(values).collect()
            }
            None => vec![(None, read)],
        };
        for (place, value) in pairs {
            let mut one = map.clone();
            if let Some(place) = place {
                one.insert("at".into(), place);
            }
            let asked = AskedOutcome::read(Dynamic::from_map(one), axle, &units)?;
            let Source::Core(outcome) = &asked.source else {
                return Err(ScriptError::new(
                    "a reading: a function of the script cannot be read on a gauge",
                ));
            };
            let gauge = match &gauge {
                Some(name) => Some(self.gauge(name, asked.measure, model, zeros)?),
                None => None,
            };
            let core = |value: &Dynamic, name: &str| {
                Ok::<f64, ScriptError>(in_core(finite(value, name)?, asked.measure, &units))
            };
            let place = match &place_deviation {
                Some(given) => finite(given, "place_deviation")? * units.length.millimetres(),
                None => 0.0,
            };
            self.question.readings.push(GaugeReading {
                name: asked.name.clone(),
                outcome: outcome.clone(),
                value: core(&value, "read")?,
                deviation: core(&deviation, "deviation")?,
                place_deviation: place,
                gauge,
            });
            self.readings.push(ReadingWords {
                measure: asked.measure,
                curve: match outcome {
                    Outcome::At(reading, station) if station.rack == 0.0 && station.roll == 0.0 => {
                        Some((*reading, station.bump))
                    }
                    _ => None,
                },
            });
        }
        Ok(())
    }

    /// The gauge of a reading: the first reading of it makes it.
    fn gauge(
        &mut self,
        name: &Dynamic,
        measure: Measure,
        model: &Model,
        zeros: &mut Map,
    ) -> Result<usize, ScriptError> {
        let Ok(name) = name.as_immutable_string_ref() else {
            return Err(ScriptError::new(format!(
                "a reading, `gauge`: expected the gauge's name, got {}",
                value_words(name)
            ))
            .with_key("gauge"));
        };
        if let Some(known) = self
            .question
            .gauges
            .iter()
            .position(|gauge| gauge.name == name.as_str())
        {
            return Ok(known);
        }
        let zero_deviation = match zeros.remove(name.as_str()) {
            Some(given) => Some(in_core(finite(&given, &name)?, measure, &model.units)),
            None => None,
        };
        self.question.gauges.push(Gauge {
            name: name.to_string(),
            zero_deviation,
        });
        Ok(self.question.gauges.len() - 1)
    }
}

fn uncertainty(
    subject: &Subject,
    deviation: Option<f64>,
    known: Option<Dynamic>,
    model: &Model,
) -> Result<Uncertainty, ScriptError> {
    let refused = |error: kin_core::study::UncertaintyError| ScriptError::new(error.to_string());
    let deviation = deviation.map_or(USUAL_DEVIATION_MM, |given| {
        given * model.units.length.millimetres()
    });
    let mut uncertainty = Uncertainty::of_every_coordinate(subject, deviation)
        .map_err(|error| refused(error).with_key("deviation"))?;
    let Some(known) = known else {
        return Ok(uncertainty);
    };
    for (name, deviation) in as_map(known, "the calibration, `known`")? {
        for (_, number) in places(subject, &name)? {
            let deviation = finite(&deviation, &name)? * core_factor(number.quantity, &model.units);
            uncertainty = uncertainty
                .with(subject, &[(number.name.as_str(), deviation)])
                .map_err(|error| refused(error).with_key(name.as_str()))?;
        }
    }
    Ok(uncertainty)
}

/// Descriptions by name, each a map of numbers or points with their values.
fn alternatives(
    candidates: Dynamic,
    subject: &Subject,
    model: &Model,
) -> Result<Vec<Alternative>, ScriptError> {
    let mut all = Vec::new();
    for (name, changes) in as_map(candidates, "the calibration, `candidates`")? {
        let mut alternative = Alternative {
            name: name.to_string(),
            changes: Vec::new(),
        };
        for (key, value) in as_map(changes, "a candidate")? {
            alternative
                .changes
                .extend(changes_to(subject, &model.units, &key, &value)?);
        }
        all.push(alternative);
    }
    if !all.iter().any(is_as_described) {
        all.insert(
            0,
            Alternative {
                name: "as described".to_owned(),
                changes: Vec::new(),
            },
        );
    }
    Ok(all)
}

/// Whether an alternative is the description itself.
pub(crate) fn is_as_described(alternative: &Alternative) -> bool {
    // Numbers that a person writes for a place differ by far more where they differ.
    alternative.changes.iter().all(|(_, change)| change.abs() < 1e-9)
}

fn missing(key: &str) -> ScriptError {
    ScriptError::new(format!("a reading needs the key `{key}`, which is missing"))
        .with_help("such as #{ curve: \"toe\", at: [-50, 0, 50], read: [0.31, 0.1, -0.2], deviation: 0.02 }")
}

fn as_map(value: Dynamic, what: &str) -> Result<Map, ScriptError> {
    let words = value_words(&value);
    value
        .try_cast::<Map>()
        .ok_or_else(|| ScriptError::new(format!("{what}: expected a map #{{ }}, got {words}")))
}

fn as_list(value: Option<Dynamic>, key: &str) -> Result<Array, ScriptError> {
    let Some(value) = value else {
        return Err(ScriptError::new(format!(
            "the calibration needs the key `{key}`, which is missing"
        )));
    };
    Ok(match value.try_cast_result::<Array>() {
        Ok(list) => list,
        Err(one) => vec![one],
    })
}

/// How the band's numbers are shown.
pub(crate) fn band_measure(band: &Band) -> Measure {
    measure_of(&band.reading)
}
