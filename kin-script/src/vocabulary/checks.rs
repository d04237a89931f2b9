//! Words for checks.

use super::core_error;
use super::described::ScriptModel;
use super::findings::finding_list;
use crate::arguments;
use crate::host::{ScriptError, Session, Word};
use crate::model::Suspension;
use crate::stroke_sheet::{failed_stroke, stroke_sheet, stroke_verdict};
use crate::units::{Measure, Units};
use kin_core::checks::{
    DamperStroke, Stopper, StrokeQuestion, Verdict, check_axle_stroke, check_corner_stroke,
};
use rhai::{Array, Dynamic, Engine, EvalAltResult, Map};
use serde::Deserialize;
use std::sync::Arc;

pub(super) const NAMES: &[&str] = &["stroke", "check_stroke"];

/// Names that can be read from a stroke check, for suggestions.
pub(super) const KEYS: &[&str] = &[
    "verdict",
    "findings",
    "dampers",
    "bump_to_stop",
    "bump_to_metal",
    "droop_to_top_out",
    "length_at_ride",
    "stroke_used_at_ride",
    "motion_ratio_at_ride",
    "first_in_bump",
    "first_in_droop",
    "mock_up_at_ride",
    "mock_up_at_stop_contact",
    "mock_up_at_full_droop",
    "remedies",
    "change",
    "window_from",
    "window_to",
    "statement",
    "value",
    "limit",
    "at",
];

type Answer<T> = Result<T, Box<EvalAltResult>>;

/// A stroke check in a script.
#[derive(Clone)]
pub(super) struct ScriptStroke(Arc<Stroke>);

struct Stroke {
    title: String,
    units: Units,
    dampers: Vec<DamperStroke>,
}

/// What a script may ask of the check, in its own unit.
#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields)]
struct Question {
    bump: Option<f64>,
    droop: Option<f64>,
    margin: Option<f64>,
}

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, session: &Session) {
    engine
        .register_type_with_name::<ScriptStroke>("stroke")
        .register_fn("to_string", |stroke: &mut ScriptStroke| stroke.text())
        .register_indexer_get(|stroke: &mut ScriptStroke, name: &str| stroke.get(name));
    Word {
        name: "stroke",
        parameters: &["model: model", "wanted: map", "stroke"],
        documentation: "The stroke check as a what-if: it does not count for the exit code.\n\n\
            Asked and read like `check_stroke`. A ride height given as `damper_length` moves with the mounts of a changed \
            copy: call `hold_ride_height()` on the copy before the change to keep the wheel where it is.",
    }
    .register(engine, remarked(session));
    let what_if = remarked(session);
    engine.register_fn("stroke", move |model: &mut ScriptModel| {
        what_if(model, Map::new())
    });
    Word {
        name: "check_stroke",
        parameters: &["model: model", "wanted: map", "stroke"],
        documentation: "The stroke check of this car: if it fails, the program exits with 1.\n\n\
            Keys: `bump` and `droop` (wheel travel wanted from ride height) and `margin` (travel left below which a limit is \
            tight); what is absent is taken from the model's `wanted`.\n\n\
            `print` shows the sheet. Can be read: `verdict` (\"holds\", \"tight\", \"fails\", or \"not asked\" where no travel is wanted); `bump_to_stop`, \
            `bump_to_metal` and `droop_to_top_out` (wheel travel from ride height, `()` where the linkage ends first); \
            `length_at_ride` (between the mounts), `stroke_used_at_ride` (0 to 1), `motion_ratio_at_ride`; \
            `mock_up_at_ride`, `mock_up_at_stop_contact` and `mock_up_at_full_droop` (lengths of a mock-up bar); \
            `first_in_bump` and `first_in_droop` (what stops the wheel: `by`, and `at` which travel); `findings` (a list of maps \
            with `subject`, `verdict`, `value`, `limit`, `margin`, `unit`, `at`, `statement`, `remedies`); and `dampers`, the same for \
            each damper of an axle. A remedy has `kind`, `change`, `window_from`, `window_to` and `text`. Lengths are in the \
            model's unit.\n\n\
            All travels here count from ride height, as `bump` does in `sweep` and `at`; `travel` there counts from the \
            pickups as measured.",
    }
    .register(engine, counted(session));
    let count = counted(session);
    engine.register_fn("check_stroke", move |model: &mut ScriptModel| {
        count(model, Map::new())
    });
}

/// The check, with a remark on a ride height that a change in the script has moved.
fn remarked(session: &Session) -> impl Fn(&mut ScriptModel, Map) -> Answer<ScriptStroke> + Clone + use<> {
    let session = session.clone();
    move |model: &mut ScriptModel, wanted: Map| {
        model.remark_moved_ride(&session);
        stroke(model, wanted)
    }
}

/// The check that counts for the exit code.
fn counted(session: &Session) -> impl Fn(&mut ScriptModel, Map) -> Answer<ScriptStroke> + Clone + use<> {
    let session = session.clone();
    let asked = remarked(&session);
    move |model: &mut ScriptModel, wanted: Map| {
        let stroke = asked(model, wanted)?;
        if let Some(what) = stroke.0.failed() {
            session.record_failed_check(what);
        }
        Ok(stroke)
    }
}

fn stroke(model: &ScriptModel, wanted: Map) -> Answer<ScriptStroke> {
    let dampers = dampers(model, wanted)?;
    Ok(ScriptStroke::new(&model.model.title, model.model.units, dampers))
}

/// The stroke check of every damper, asked in the script's unit.
pub(super) fn dampers(model: &ScriptModel, wanted: Map) -> Answer<Vec<DamperStroke>> {
    let units = model.model.units;
    let question = stroke_question(wanted, &units)?;
    let suspension = model.suspension()?;
    let dampers = stroke_of(&suspension, &question);
    Ok(dampers.map_err(|error| core_error(&error, &units))?)
}

/// The stroke check of every damper of a suspension.
pub(crate) fn stroke_of(
    suspension: &Suspension,
    question: &StrokeQuestion,
) -> Result<Vec<DamperStroke>, kin_core::Error> {
    match suspension {
        Suspension::Corner(corner) => check_corner_stroke(corner, question).map(|only| vec![only]),
        Suspension::Axle(axle) => check_axle_stroke(axle, question),
    }
}

/// The question of the stroke check, from a map in the script's unit.
pub(crate) fn stroke_question(wanted: Map, units: &Units) -> Result<StrokeQuestion, ScriptError> {
    let question: Question = arguments::read(Dynamic::from_map(wanted), "the wanted travel")?;
    let length = |value: Option<f64>| value.map(|value| value * units.length.millimetres());
    for (value, key) in [
        (question.bump, "bump"),
        (question.droop, "droop"),
        (question.margin, "margin"),
    ] {
        if value.is_some_and(|value| value < 0.0) {
            return Err(ScriptError::new(format!("the wanted `{key}` is negative"))
                .with_help("count it from ride height, positive in its own direction")
                .with_key(key));
        }
    }
    Ok(StrokeQuestion {
        bump: length(question.bump),
        droop: length(question.droop),
        margin: length(question.margin),
    })
}

impl Stroke {
    fn verdict(&self) -> Verdict {
        stroke_verdict(&self.dampers)
    }

    /// What fails, in a sentence.
    fn failed(&self) -> Option<String> {
        failed_stroke(&self.title, &self.dampers, &self.units)
    }

    fn length(&self, millimetres: f64) -> Dynamic {
        self.units.from_core(millimetres, Measure::LENGTH).into()
    }

    fn maybe(&self, millimetres: Option<f64>) -> Dynamic {
        millimetres.map_or(Dynamic::UNIT, |length| self.length(length))
    }

    /// What can be read of one damper.
    fn damper(&self, damper: &DamperStroke) -> Map {
        let budget = &damper.budget;
        [
            ("damper", damper.damper.clone().into()),
            ("verdict", damper.verdict().word().into()),
            ("findings", finding_list(&damper.findings, &self.units)),
            ("bump_to_stop", self.maybe(budget.bump_to_stop)),
            ("bump_to_metal", self.maybe(budget.bump_to_metal)),
            ("droop_to_top_out", self.maybe(budget.droop_to_top_out)),
            ("length_at_ride", self.length(budget.length_at_ride)),
            ("stroke_used_at_ride", budget.stroke_used_at_ride.into()),
            ("motion_ratio_at_ride", budget.motion_ratio_at_ride.into()),
            ("mock_up_at_ride", self.length(damper.mock_up.at_ride)),
            ("first_in_bump", self.stopper(&damper.first_in_bump)),
            ("first_in_droop", self.stopper(&damper.first_in_droop)),
            (
                "mock_up_at_stop_contact",
                self.length(damper.mock_up.at_stop_contact),
            ),
            ("mock_up_at_full_droop", self.length(damper.mock_up.at_full_droop)),
        ]
        .into_iter()
        .map(|(key, value): (&str, Dynamic)| (key.into(), value))
        .collect()
    }

    /// What stops the wheel, and after how much travel from ride height.
    fn stopper(&self, (stopper, travel): &(Stopper, Option<f64>)) -> Dynamic {
        let map: Map = [
            ("by".into(), stopper.to_string().into()),
            ("at".into(), self.maybe(*travel)),
        ]
        .into_iter()
        .collect();
        map.into()
    }
}

impl ScriptStroke {
    pub(super) fn new(title: &str, units: Units, dampers: Vec<DamperStroke>) -> Self {
        Self(Arc::new(Stroke {
            title: title.to_owned(),
            units,
            dampers,
        }))
    }

    pub(super) fn text(&self) -> String {
        stroke_sheet(&self.0.title, &self.0.dampers, &self.0.units)
    }

    pub(super) fn dampers(&self) -> &[DamperStroke] {
        &self.0.dampers
    }

    pub(super) fn title(&self) -> &str {
        &self.0.title
    }

    pub(super) fn units(&self) -> Units {
        self.0.units
    }

    pub(super) fn verdict(&self) -> Verdict {
        self.0.verdict()
    }

    /// What a script reads of each damper.
    pub(super) fn damper_maps(&self) -> Vec<Map> {
        let stroke = &self.0;
        stroke
            .dampers
            .iter()
            .map(|damper| stroke.damper(damper))
            .collect()
    }

    fn get(&mut self, name: &str) -> Answer<Dynamic> {
        let stroke = &self.0;
        match name {
            "verdict" => return Ok(stroke.verdict().word().into()),
            "dampers" => {
                return Ok(stroke
                    .dampers
                    .iter()
                    .map(|damper| Dynamic::from(stroke.damper(damper)))
                    .collect::<Array>()
                    .into());
            }
            "findings" => {
                let findings = stroke.dampers.iter().flat_map(|damper| &damper.findings);
                return Ok(finding_list(findings, &stroke.units));
            }
            _ => {}
        }
        let [only] = stroke.dampers.as_slice() else {
            return Err(ScriptError::new(format!("the dampers differ: which `{name}`?"))
                .with_help("read it from one of them, such as `.dampers[0]`")
                .into());
        };
        let mut map = stroke.damper(only);
        map.remove(name).ok_or_else(|| {
            let error = ScriptError::new(format!("a stroke check has no `{name}`")).with_key(name);
            match crate::explain::suggest(name, map.keys().map(|key| key.as_str())) {
                Some(nearest) => error.with_help(format!("did you mean `{nearest}`?")).into(),
                None => error.into(),
            }
        })
    }
}
