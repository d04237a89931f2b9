//! Surveys, adjusted points, comparisons and plans as values of a script.

use super::swept::ScriptTable;
use crate::explain::suggest;
use crate::host::ScriptError;
use crate::survey::{
    adjustment_sheet, blank_notebook, blank_sheet, plan_sheet, point_table, reading_table, symmetry_sheet,
};
use crate::units::{Measure, Units};
use kin_core::Dimension;
use kin_core::nalgebra::Vector3;
use kin_core::survey::{
    Adjustment, Basis, Kind, MeasurementPlan, MirrorImage, Survey, SurveyError, Symmetry,
};
use rhai::{Array, Dynamic, Engine, EvalAltResult, ImmutableString, Map};
use std::sync::Arc;

/// Names that can be read from results, for suggestions.
pub(super) const KEYS: &[&str] = &[
    "points",
    "deviations",
    "scaled_deviations",
    "rejected",
    "unchecked",
    "sigma0",
    "surplus",
    "agrees",
    "mirror_decided",
    "helpful",
    "readings",
    "differences",
    "wheelbase_difference",
    "thrust_angle",
    "expected",
    "notebook",
    "unread",
];

type Reply<T> = Result<T, Box<EvalAltResult>>;

/// A notebook in a script.
#[derive(Clone)]
pub(super) struct ScriptSurvey {
    pub(super) file: ImmutableString,
    pub(super) units: Units,
    pub(super) survey: Arc<Survey>,
    pub(super) unread: usize,
}

/// An adjusted survey in a script.
#[derive(Clone)]
pub(super) struct ScriptAdjusted {
    pub(super) title: ImmutableString,
    pub(super) units: Units,
    pub(super) adjusted: Arc<Adjustment>,
}

/// A comparison of both sides in a script.
#[derive(Clone)]
pub(super) struct ScriptSymmetry {
    pub(super) title: ImmutableString,
    pub(super) units: Units,
    pub(super) symmetry: Arc<Symmetry>,
}

/// A measurement plan in a script.
#[derive(Clone)]
pub(super) struct ScriptPlan {
    pub(super) title: ImmutableString,
    pub(super) units: Units,
    pub(super) plan: Arc<MeasurementPlan>,
}

/// Registers the values themselves.
pub(super) fn register(engine: &mut Engine) {
    engine
        .register_type_with_name::<ScriptSurvey>("survey")
        .register_fn("to_string", |survey: &mut ScriptSurvey| survey.text())
        .register_indexer_get(|survey: &mut ScriptSurvey, name: &str| survey.get(name));
    engine
        .register_type_with_name::<ScriptAdjusted>("adjusted")
        .register_fn("to_string", |adjusted: &mut ScriptAdjusted| adjusted.sheet())
        .register_indexer_get(|adjusted: &mut ScriptAdjusted, name: &str| adjusted.get(name));
    engine
        .register_type_with_name::<ScriptSymmetry>("symmetry")
        .register_fn("to_string", |symmetry: &mut ScriptSymmetry| symmetry.sheet())
        .register_indexer_get(|symmetry: &mut ScriptSymmetry, name: &str| symmetry.get(name));
    engine
        .register_type_with_name::<ScriptPlan>("plan")
        .register_fn("to_string", |plan: &mut ScriptPlan| {
            plan_sheet(&plan.title, &plan.plan, &plan.units)
        })
        .register_indexer_get(|plan: &mut ScriptPlan, name: &str| plan.get(name));
}

/// The sheet of an adjusted survey, of a comparison of both sides or of a measurement plan; none of anything else.
pub(super) fn survey_sheet(value: &Dynamic) -> Option<String> {
    let adjusted = value
        .read_lock::<ScriptAdjusted>()
        .map(|adjusted| adjusted.sheet());
    let symmetry = || {
        value
            .read_lock::<ScriptSymmetry>()
            .map(|symmetry| symmetry.sheet())
    };
    let plan = || {
        let plan = value.read_lock::<ScriptPlan>()?;
        Some(plan_sheet(&plan.title, &plan.plan, &plan.units))
    };
    adjusted.or_else(symmetry).or_else(plan)
}

/// A survey's error in the script's unit.
pub(super) fn survey_error(error: &SurveyError, units: &Units) -> ScriptError {
    let show = units.shown();
    match error {
        SurveyError::NotDetermined {
            readings,
            unknowns,
            gaps,
        } => {
            let few = if readings < unknowns {
                "are too few"
            } else {
                "leave gaps"
            };
            let gaps: Vec<String> = gaps.iter().map(|gap| gap.render(show)).collect();
            ScriptError::new(format!(
                "the {readings} readings {few} for {unknowns} coordinates: {}",
                gaps.join("; ")
            ))
        }
        SurveyError::UnknownPoint { name, known } => {
            let error = ScriptError::new(format!("the survey has no point `{name}`")).with_key(name.as_str());
            match suggest(name, known.iter().map(String::as_str)) {
                Some(nearest) => error.with_help(format!("did you mean `{nearest}`?")),
                None => error.with_help(format!("it has {}", known.join(", "))),
            }
        }
        other => ScriptError::new(other.sentence().render(show)),
    }
}

impl ScriptSurvey {
    fn text(&self) -> String {
        let readings = self.survey.readings.len();
        let mut text = format!(
            "Survey {}: {readings} readings of {} points",
            self.file,
            self.survey.points().len()
        );
        if self.unread > 0 {
            text += &format!(", {} more not filled in", self.unread);
        }
        for estimate in self.survey.repeats() {
            text += &format!("\n{}", estimate.sentence().render(self.units.shown()));
        }
        text
    }

    fn get(&mut self, name: &str) -> Reply<Dynamic> {
        Ok(match name {
            "points" => self
                .survey
                .points()
                .into_iter()
                .map(Dynamic::from)
                .collect::<Array>()
                .into(),
            "count" => whole(self.survey.readings.len()),
            "unread" => whole(self.unread),
            _ => return Err(not_there("survey", name, &["points", "count", "unread"])),
        })
    }
}

impl ScriptAdjusted {
    fn sheet(&self) -> String {
        adjustment_sheet(&self.title, &self.adjusted, &self.units)
    }

    /// Refuses a point that was not measured.
    pub(super) fn point(&self, name: &str) -> Result<(), ScriptError> {
        match self.adjusted.covariance(&[name], Basis::APriori) {
            Ok(_) => Ok(()),
            Err(error) => Err(survey_error(&error, &self.units)),
        }
    }

    fn get(&mut self, name: &str) -> Reply<Dynamic> {
        let adjusted = &self.adjusted;
        let deviations = |basis| self.by_point(|point| adjusted.standard_deviations(point, basis));
        Ok(match name {
            "points" => self.by_point(|point| adjusted.place(point)),
            "deviations" => deviations(Basis::APriori),
            "scaled_deviations" => deviations(Basis::Scaled),
            "sigma0" => adjusted.sigma0().map_or(Dynamic::UNIT, Dynamic::from_float),
            "surplus" => whole(adjusted.redundancy()),
            "agrees" => adjusted.global_test().is_none_or(|test| test.holds()).into(),
            "mirror_decided" => (!matches!(adjusted.mirror_image(), MirrorImage::Undecided { .. })).into(),
            "helpful" => adjusted.most_helpful().map_or(Dynamic::UNIT, |helpful| {
                helpful.sentence().render(self.units.shown()).into()
            }),
            "rejected" => {
                let maps = adjusted.rejected().iter().map(|rejected| {
                    let mut map = self.reading_map(rejected.index);
                    map.insert("mistake".into(), self.amount(rejected.index, rejected.mistake));
                    map.insert("normalised".into(), rejected.normalised.into());
                    let text = adjusted.rejected_sentence(rejected).render(self.units.shown());
                    map.insert("text".into(), text.into());
                    Dynamic::from_map(map)
                });
                maps.collect::<Array>().into()
            }
            "unchecked" => {
                let maps = adjusted.unchecked().map(|judged| {
                    let mut map = self.reading_map(judged.index);
                    map.insert("redundancy".into(), judged.redundancy.into());
                    Dynamic::from_map(map)
                });
                maps.collect::<Array>().into()
            }
            "table" => Dynamic::from(ScriptTable(Arc::new(point_table(adjusted, &self.units)))),
            "readings" => Dynamic::from(ScriptTable(Arc::new(reading_table(adjusted, &self.units)))),
            "sheet" => self.sheet().into(),
            _ => {
                let mut known = KEYS[..11].to_vec();
                known.extend(["table", "sheet"]);
                return Err(not_there("adjusted survey", name, &known));
            }
        })
    }

    fn by_point(&self, of: impl Fn(&str) -> Option<Vector3<f64>>) -> Dynamic {
        let points = self.adjusted.names().map(|name| {
            let value = of(name).map_or(Dynamic::UNIT, |value| list(&value, &self.units));
            (name.into(), value)
        });
        Dynamic::from_map(points.collect())
    }

    fn reading_map(&self, index: usize) -> Map {
        let reading = self.adjusted.reading(index);
        let mut map = Map::new();
        let words = reading.map_or_else(String::new, |reading| reading.observed.words());
        map.insert("reading".into(), words.into());
        map.insert(
            "where".into(),
            reading.map_or("", |reading| reading.label.as_str()).into(),
        );
        map
    }

    fn amount(&self, index: usize, value: f64) -> Dynamic {
        let kind = self
            .adjusted
            .reading(index)
            .map(|reading| reading.observed.kind());
        let dimension = if kind == Some(Kind::Angle) {
            Dimension::Angle
        } else {
            Dimension::Length
        };
        self.units
            .from_core(
                value,
                Measure {
                    dimension,
                    per_travel: false,
                },
            )
            .into()
    }
}

impl ScriptSymmetry {
    fn sheet(&self) -> String {
        symmetry_sheet(&self.title, &self.symmetry, &self.units)
    }

    fn get(&mut self, name: &str) -> Reply<Dynamic> {
        let by_pair = |of: &dyn Fn(&kin_core::survey::SidePair) -> Vector3<f64>| {
            let pairs = self.symmetry.pairs.iter();
            Dynamic::from_map(
                pairs
                    .map(|pair| (pair.left.as_str().into(), list(&of(pair), &self.units)))
                    .collect(),
            )
        };
        let thrust = self.symmetry.thrust.as_ref();
        Ok(match name {
            "verdict" => self.symmetry.verdict().words().into(),
            "differences" => by_pair(&|pair| pair.difference),
            "deviations" => by_pair(&|pair| pair.deviations),
            "wheelbase_difference" => thrust.map_or(Dynamic::UNIT, |thrust| {
                self.units.from_core(thrust.difference, Measure::LENGTH).into()
            }),
            "thrust_angle" => thrust.map_or(Dynamic::UNIT, |thrust| thrust.thrust_angle.to_degrees().into()),
            "sheet" => self.sheet().into(),
            _ => {
                let known = [
                    "verdict",
                    "differences",
                    "deviations",
                    "wheelbase_difference",
                    "thrust_angle",
                    "sheet",
                ];
                return Err(not_there("comparison", name, &known));
            }
        })
    }
}

impl ScriptPlan {
    fn get(&mut self, name: &str) -> Reply<Dynamic> {
        let plan = &self.plan;
        Ok(match name {
            "sheet" => blank_sheet(&self.title, plan, &self.units).into(),
            "notebook" => blank_notebook(plan, &self.units).into(),
            "count" => whole(plan.readings().count()),
            "surplus" => whole(plan.expected.redundancy()),
            "expected" => {
                let points = plan.expected.names().map(|name| {
                    let deviations = plan.expected.standard_deviations(name, Basis::APriori);
                    (
                        name.into(),
                        deviations.map_or(Dynamic::UNIT, |value| list(&value, &self.units)),
                    )
                });
                Dynamic::from_map(points.collect())
            }
            "helpful" => plan.expected.most_helpful().map_or(Dynamic::UNIT, |helpful| {
                helpful.sentence().render(self.units.shown()).into()
            }),
            _ => {
                let known = ["sheet", "notebook", "count", "surplus", "expected", "helpful"];
                return Err(not_there("measurement plan", name, &known));
            }
        })
    }
}

fn list(value: &Vector3<f64>, units: &Units) -> Dynamic {
    let shown = value
        .iter()
        .map(|part| Dynamic::from_float(units.from_core(*part, Measure::LENGTH)));
    shown.collect::<Array>().into()
}

fn whole(count: usize) -> Dynamic {
    i64::try_from(count).unwrap_or(i64::MAX).into()
}

fn not_there(what: &str, name: &str, known: &[&str]) -> Box<EvalAltResult> {
    let error = ScriptError::new(format!("the {what} has no `{name}`")).with_key(name);
    match suggest(name, known.iter().copied()) {
        Some(nearest) => error.with_help(format!("did you mean `{nearest}`?")).into(),
        None => error.with_help(format!("it has {}", known.join(", "))).into(),
    }
}
