//! Words for models side by side, and for parts swapped on a corner.

use super::choices::{judge, map_of, no_other_keys, questions};
use super::core_error;
use super::described::ScriptModel;
use super::study::ScriptStudy;
use super::swept::texts;
use crate::arguments;
use crate::explain::{suggest, value_words};
use crate::fit::{Asked, CHECKS, Typed};
use crate::host::{ScriptError, Session, StudyProgress, Word, Workers, finite};
use crate::model::{Body, Model, Suspension, in_core_units, in_user_units};
use crate::picture::curves;
use crate::study::{Compared, StudyPicture, comparison};
use crate::sweep::{Sweep, Variable};
use kin_core::study::{Swap, swapped};
use rhai::{Array, Dynamic, Engine, EvalAltResult, Map, NativeCallContext};
use std::sync::Arc;

pub(super) const NAMES: &[&str] = &["compare", "swap"];

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

const SWAP: &str = "The same corner with other arms or another upright, as it comes to stand with its wheel centre at the \
    same height.\n\n\
    `corner.swap(#{ upper_arm: #{ longer: -8 }, upright: #{ taller: 25 } })`\n\n\
    Keys: `upper_arm` and `lower_arm` (`longer`; `ball_joint`, where the new arm's would be with the arm lying as the old one does \
    at ride height; `front_pivot` and `rear_pivot`, where they are moved to), `upright` (`taller`, along the steering axis; or \
    `upper_ball_joint`, where it would be with the upright standing as the old one does), `tie_rod_longer`. Lengths are in the model's unit.\n\n\
    Body pivots stay unless they are moved, the upright is rigid, the tie rod keeps its length, and what rides on an \
    arm keeps its place on it. Camber, toe, caster, track and damper length come out as on the car and are not set right: `compare` shows them. \
    Travel 0 of the result is where it stands.";

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
    Word {
        name: "swap",
        parameters: &["corner: model", "parts: map", "model"],
        documentation: SWAP,
    }
    .register(engine, |model: &mut ScriptModel, parts: Map| swap(model, parts));
}

fn swap(model: &ScriptModel, parts: Map) -> Answer<ScriptModel> {
    let units = model.model.units;
    let parts: Swap = arguments::read(Dynamic::from_map(parts), "the swap")?;
    let parts = in_core_units(&parts, &units);
    let Suspension::Corner(corner) = &*model.suspension()? else {
        return Err(
            ScriptError::new("`swap` changes arms and upright of a corner, and this is an axle")
                .with_help("give the links of an axle other points, and `compare` both")
                .into(),
        );
    };
    let after = swapped(corner, &parts).map_err(|error| core_error(&error, &units))?;
    Ok(ScriptModel::new(Model {
        body: Body::DoubleWishbone {
            corner: in_user_units(&after, &units),
            right: None,
        },
        ..(*model.model).clone()
    })?)
}

/// What stays alike between the models.
#[derive(Clone, Copy, PartialEq)]
enum Keep {
    AsDescribed,
    RideHeight,
    Spring,
}

impl Keep {
    fn read(value: Option<Dynamic>) -> Result<Self, ScriptError> {
        const WORDS: [(&str, Keep); 3] = [
            ("as_described", Keep::AsDescribed),
            ("ride_height", Keep::RideHeight),
            ("spring", Keep::Spring),
        ];
        let Some(value) = value else {
            return Ok(Self::AsDescribed);
        };
        let word = value.to_string();
        WORDS
            .iter()
            .find(|(known, _)| *known == word)
            .map(|(_, keep)| *keep)
            .ok_or_else(|| {
                let error =
                    ScriptError::new(format!("`keep` is not {}", value_words(&value))).with_key("keep");
                match suggest(&word, WORDS.map(|(known, _)| known)) {
                    Some(nearest) => error.with_help(format!("did you mean \"{nearest}\"?")),
                    None => error.with_help("it is \"as_described\", \"ride_height\" or \"spring\""),
                }
            })
    }

    const fn words(self) -> &'static str {
        match self {
            Self::AsDescribed => "Each model is looked at where its own description says that it sits.",
            Self::RideHeight => "Every wheel centre is held as high on the body as that of the first model.",
            Self::Spring => {
                "Every model stands on the first one's spring and seats, under the same load, where it comes to rest."
            }
        }
    }
}

fn compare(session: &Session, context: &NativeCallContext, mut asked: Map) -> Answer<ScriptStudy> {
    const KEYS: [&str; 6] = ["models", "outcomes", "fit", "keep", "curves", "bump"];
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
    let progress = StudyProgress::begin(session);
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
    if !drawn.is_empty() {
        match picture(&answer.title, &models, &drawn, &bump) {
            Ok(picture) => answer.pictures.push(("curves", picture)),
            Err(error) => answer = answer.says(format!("There is no picture of the curves: {}.", error.what)),
        }
    }
    Ok(ScriptStudy(Arc::new(answer)))
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

/// Height of the wheel centre at ride height (mm), on the body.
fn centre_height(model: &ScriptModel) -> Result<f64, ScriptError> {
    let as_measured = match &*model.suspension()? {
        Suspension::Corner(corner) => corner.pickups().wheel.centre.z,
        Suspension::Axle(axle) => axle.pickups().wheels.left.z,
    };
    Ok(as_measured + model.ride_travel()?)
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

/// The models with what is to be kept alike.
fn kept(
    keep: Keep,
    models: Vec<(String, ScriptModel)>,
    ride_height: Option<&Dynamic>,
) -> Result<Vec<(String, ScriptModel)>, ScriptError> {
    let Some((_, first)) = models.first().cloned() else {
        return Ok(models);
    };
    let placed = |model: &ScriptModel, travel: f64| {
        let travel: Map = [("travel".into(), model.shown(travel).into())]
            .into_iter()
            .collect();
        model.with_values(&[("ride_height".to_owned(), Dynamic::from_map(travel))])
    };
    match keep {
        Keep::AsDescribed => Ok(models),
        Keep::RideHeight => {
            let height = centre_height(&first)?;
            models
                .into_iter()
                .map(|(name, model)| {
                    let travel = model.ride_travel()? + height - centre_height(&model)?;
                    Ok((name, placed(&model, travel)?))
                })
                .collect()
        }
        Keep::Spring => {
            let Some(question) = ride_height else {
                return Err(ScriptError::new(
                    "to keep the spring, `fit` needs `ride_height`: what the wheel carries",
                )
                .with_help("such as fit: #{ ride_height: #{ load: #{ sprung_mass: 406 } } }")
                .with_key("keep"));
            };
            let (_, seat) = standing(&first, question.clone())?;
            let end = upper_end(question);
            let spring = if first.model.layout() == "live_axle" {
                "springs.left"
            } else {
                "spring"
            };
            models
                .into_iter()
                .map(|(name, model)| {
                    let seated = model.with_values(&[(
                        format!("{spring}.{}", if end { "upper_seat" } else { "lower_seat" }),
                        model.shown(seat).into(),
                    )])?;
                    let (travel, _) = standing(&seated, as_set(question.clone()))?;
                    let Some(travel) = travel else {
                        return Err(ScriptError::new(format!(
                            "{name} finds no rest on the first one's spring within the reach of its arms"
                        )));
                    };
                    Ok((name, placed(&seated, travel)?))
                })
                .collect()
        }
    }
}

/// Whether the adjustable seat is the upper one.
fn upper_end(question: &Dynamic) -> bool {
    let map = question.read_lock::<Map>();
    let thread = map.as_ref().and_then(|map| map.get("seat_thread"));
    let end = thread
        .and_then(|thread| thread.read_lock::<Map>())
        .and_then(|thread| thread.get("end").cloned());
    end.is_some_and(|end| end.to_string() == "upper")
}

/// The same question, judged by the seat that the model has.
fn as_set(mut question: Dynamic) -> Dynamic {
    if let Some(mut map) = question.write_lock::<Map>() {
        map.insert("seat".into(), "as_set".into());
    }
    question
}

/// Where a model comes to rest (mm of travel from its pickups as measured), and the seat it is judged by (mm).
fn standing(model: &ScriptModel, question: Dynamic) -> Result<(Option<f64>, f64), ScriptError> {
    let suspension = model.suspension()?;
    let asked = Asked {
        suspension: &suspension,
        units: model.model.units,
    };
    let check = CHECKS.iter().find(|check| check.word == "ride_height");
    let typed = match check {
        Some(check) => (check.run)(&asked, question)?.typed,
        None => Typed::None,
    };
    match typed {
        Typed::RideHeight(rides) => match rides.first() {
            Some(ride) => Ok((ride.standing.as_ref().map(|standing| standing.travel), ride.seat)),
            None => Err(ScriptError::new("the ride height check gave no answer")),
        },
        _ => Err(ScriptError::new("the ride height check gave no answer")),
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
