//! Words for models side by side.

mod kept;

use super::choices::{judge, map_of, no_other_keys, questions};
use super::described::ScriptModel;
use super::study::{ScriptStudy, plain_map};
use super::swept::texts;
use crate::explain::value_words;
use crate::host::{ScriptError, Session, StudyProgress, Word, Workers, finite};
use crate::model::Suspension;
use crate::picture::curves;
use crate::study::{Compared, StudyPicture, comparison};
use crate::sweep::{Sweep, Variable};
use kept::{Keep, kept};
use rhai::{Array, Dynamic, Engine, EvalAltResult, Map, NativeCallContext};
use std::sync::Arc;

pub(super) const NAMES: &[&str] = &["compare"];

type Answer<T> = Result<T, Box<EvalAltResult>>;

/// Models that one comparison holds at most: more do not go side by side on a sheet.
const MOST_MODELS: usize = 6;

/// What is asked of corners where the user names nothing.
const CORNER_OUTCOMES: [&str; 15] = [
    "camber",
    "toe",
    "caster",
    "kingpin_inclination",
    "camber_gain",
    "bump_steer",
    "scrub_radius",
    "caster_trail",
    "roll_centre_height",
    "damper_length",
    "motion_ratio",
    "wheel_rate",
    "bump_to_stop",
    "bump_to_metal",
    "droop_to_top_out",
];
const AXLE_OUTCOMES: [&str; 5] = [
    "roll_steer",
    "pinion_angle",
    "bump_to_stop",
    "bump_to_metal",
    "droop_to_top_out",
];
const CORNER_CURVES: [&str; 4] = ["camber", "toe", "roll_centre_height", "motion_ratio"];

/// Bump and droop of the picture (mm) and its steps, where the user gives none.
const USUAL_BUMP_MM: f64 = 50.0;
const USUAL_STEP_MM: f64 = 5.0;

const COMPARE: &str = "Models side by side: chosen numbers with differences to the first, overlaid curves, and the findings whose \
    verdict changes. Its findings do not count for the exit code.\n\n\
    `compare(#{ models: [#{ name: \"original arms\", model: a }, #{ name: \"replacement arms\", model: b }], \
    fit: #{ wanted: #{ bump: 65, droop: 50 } } })`\n\n\
    Keys: `models` (a list of maps with `name` and `model`, the first is what the others are compared with; or a map from names to \
    models, in the order of the names), `outcomes` (as for `outcome`; without it the usual ones), `fit` (the map of \
    `check_fit`), `keep` (\"as_described\"; \"ride_height\": every wheel centre stands as high on the body as the first one's; or \"spring\": the \
    spring and its seats are the first one's as they stand, and `fit.ride_height` says the load), `curves` \
    (for the picture `curves`), `bump` (a list of places for it, from ride height).\n\n\
    Can be read: the tables `comparison` and `changed`; each model by its name, with `verdict`, `failing` and `values` (by the \
    name of the number).";

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, session: &Session) {
    let session = session.clone();
    Word {
        name: "compare",
        parameters: &["asked: map", "study"],
        documentation: COMPARE,
    }
    .register(engine, move |context: NativeCallContext, asked: Map| {
        compare(&session, &context, asked)
    });
}

fn compare(session: &Session, context: &NativeCallContext, mut asked: Map) -> Answer<ScriptStudy> {
    const KEYS: [&str; 6] = ["models", "outcomes", "fit", "keep", "curves", "bump"];
    let told = plain_map(&asked);
    let models = models(asked.remove("models"))?;
    let Some((_, first)) = models.first().cloned() else {
        return Err(ScriptError::new("`compare` needs `models`")
            .with_key("models")
            .into());
    };
    let axle = first.model.layout() == "live_axle";
    if models.iter().any(|(_, model)| {
        model.model.layout() != first.model.layout() || model.model.units != first.model.units
    }) {
        return Err(
            ScriptError::new("the models do not go side by side: they differ in layout or units")
                .with_help("describe them all in the same unit, corners with corners and axles with axles")
                .into(),
        );
    }
    let keep = Keep::read(asked.remove("keep"))?;
    if !asked.contains_key("outcomes") {
        let usual: &[&str] = if axle { &AXLE_OUTCOMES } else { &CORNER_OUTCOMES };
        let usual: Array = usual.iter().map(|name| (*name).into()).collect();
        asked.insert("outcomes".into(), usual.into());
    }
    let drawn = match asked.remove("curves") {
        Some(names) => match names.clone().try_cast::<Array>() {
            Some(list) => texts(list, "the curves")?,
            None => texts(vec![names], "the curve")?,
        },
        None if axle => Vec::new(),
        None => CORNER_CURVES.iter().map(|name| (*name).to_owned()).collect(),
    };
    let bump = places(asked.remove("bump"), &first)?;
    let questions = questions(&first, &mut asked)?;
    no_other_keys(&asked, &KEYS, "the comparison")?;
    let models = kept(keep, models, questions.checks.get("ride_height"))?;
    let progress = StudyProgress::new(session, "Comparison", models.len());
    let workers = Workers::new(session, context)?;
    let judged = workers.map(models.len(), &progress, |place| {
        let (name, model) = models.get(place)?;
        Some(Compared {
            name: name.clone(),
            judged: judge(model, &questions, &workers),
            half_track: half_track(model),
            ride_travel: model.ride_travel().ok(),
        })
    });
    let judged: Vec<Compared> = judged.into_iter().flatten().flatten().collect();
    let units = first.model.units;
    let mut answer = comparison(&units, &judged, &questions.outcomes, keep.words());
    answer.stopped = (judged.len() < models.len())
        .then(|| format!("{} of {} models were looked at.", judged.len(), models.len()));
    if !drawn.is_empty() {
        match picture(&answer.title, &models, &drawn, &bump) {
            Ok(picture) => answer.pictures.push(("curves", picture)),
            Err(error) => answer = answer.says(format!("There is no picture of the curves: {}.", error.what)),
        }
    }
    Ok(ScriptStudy::new(told, answer))
}

/// The models in their order, by name.
fn models(given: Option<Dynamic>) -> Result<Vec<(String, ScriptModel)>, ScriptError> {
    let wrong = |what: &str| {
        ScriptError::new(format!("`models`: {what}"))
            .with_help("such as models: [#{ name: \"original\", model: a }, #{ name: \"new\", model: b }]")
            .with_key("models")
    };
    let given = given.ok_or_else(|| wrong("there are none"))?;
    let named: Vec<(String, Dynamic)> = match given.clone().try_cast::<Map>() {
        Some(map) => map
            .into_iter()
            .map(|(name, model)| (name.to_string(), model))
            .collect(),
        None => {
            let list = given
                .clone()
                .try_cast::<Array>()
                .ok_or_else(|| wrong(&format!("expected a list or a map, got {}", value_words(&given))))?;
            list.into_iter()
                .map(|one| {
                    let mut map = map_of(one, "models")?;
                    match (map.remove("name"), map.remove("model"), map.keys().next()) {
                        (Some(name), Some(model), None) => Ok((name.to_string(), model)),
                        _ => Err(wrong("each has `name` and `model`")),
                    }
                })
                .collect::<Result<_, _>>()?
        }
    };
    if named.len() < 2 || named.len() > MOST_MODELS {
        return Err(wrong(&format!(
            "2 to {MOST_MODELS} go side by side, {} given",
            named.len()
        )));
    }
    for (place, (name, _)) in named.iter().enumerate() {
        if named.iter().take(place).any(|(other, _)| other == name) {
            return Err(wrong(&format!(
                "two of them are called {name:?}; give each a name of its own"
            )));
        }
    }
    named
        .into_iter()
        .map(|(name, model)| {
            let got = value_words(&model);
            let model = model
                .try_cast::<ScriptModel>()
                .ok_or_else(|| wrong(&format!("{name}: expected a model, got {got}")))?;
            Ok((name, model))
        })
        .collect()
}

fn half_track(model: &ScriptModel) -> Option<f64> {
    match &*model.suspension().ok()? {
        Suspension::Corner(corner) => {
            let ride = corner.ride_travel().ok()?;
            Some(corner.at(ride, 0.0).ok()?.contact_point().y.abs())
        }
        Suspension::Axle(_) => None,
    }
}

/// Places of the picture, in mm of bump.
fn places(given: Option<Dynamic>, model: &ScriptModel) -> Result<Vec<f64>, ScriptError> {
    let Some(given) = given else {
        let count = (2.0 * USUAL_BUMP_MM / USUAL_STEP_MM).round() as usize;
        return Ok((0..=count)
            .map(|step| -USUAL_BUMP_MM + USUAL_STEP_MM * step as f64)
            .collect());
    };
    let words = value_words(&given);
    let list = given.try_cast::<Array>().ok_or_else(|| {
        ScriptError::new(format!(
            "`bump`: expected a list such as steps(-50, 75, 5), got {words}"
        ))
        .with_key("bump")
    })?;
    let unit = model.model.units.length.millimetres();
    list.iter()
        .map(|place| Ok(finite(place, "each place of `bump`")? * unit))
        .collect()
}

fn picture(
    title: &str,
    models: &[(String, ScriptModel)],
    names: &[String],
    bump: &[f64],
) -> Result<StudyPicture, ScriptError> {
    let runs: Vec<(String, Sweep)> = models
        .iter()
        .map(|(name, model)| {
            let sweep = Sweep::new(
                Arc::clone(&model.model),
                model.suspension()?,
                &[(Variable::Bump, bump.to_vec())],
            )?;
            Ok((name.clone(), sweep))
        })
        .collect::<Result<_, ScriptError>>()?;
    let shown: Vec<(String, &Sweep)> = runs.iter().map(|(name, run)| (name.clone(), run)).collect();
    Ok(StudyPicture::Curves(curves(title, &shown, names)?))
}
