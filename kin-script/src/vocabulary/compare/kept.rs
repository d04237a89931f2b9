//! What stays alike between compared models: where each says it sits, the wheel's height on the body, or the spring.

use super::super::described::ScriptModel;
use crate::explain::{suggest, value_words};
use crate::fit::{Asked, CHECKS, Typed};
use crate::host::ScriptError;
use crate::model::{Body, Suspension};
use rhai::{Dynamic, Map};

/// What stays alike between the models.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Keep {
    AsDescribed,
    RideHeight,
    Spring,
}

impl Keep {
    pub(super) fn read(value: Option<Dynamic>) -> Result<Self, ScriptError> {
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

    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::AsDescribed => "Each model is looked at where its own description says that it sits.",
            Self::RideHeight => "Every wheel centre is held as high on the body as that of the first model.",
            Self::Spring => {
                "Every model stands on the first one's spring and seats, under the same load, where it comes to rest."
            }
        }
    }
}

/// Height of the wheel centre at ride height (mm), on the body.
fn centre_height(model: &ScriptModel) -> Result<f64, ScriptError> {
    let as_measured = match &*model.suspension()? {
        Suspension::Corner(corner) => corner.pickups().wheel.centre.z,
        Suspension::Axle(axle) => axle.pickups().wheels.left.z,
    };
    Ok(as_measured + model.ride_travel()?)
}

/// The models with what is to be kept alike.
pub(super) fn kept(
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
            let (_, seats) = standing(&first, question.clone())?;
            let end = if upper_end(question) {
                "upper_seat"
            } else {
                "lower_seat"
            };
            models
                .into_iter()
                .map(|(name, model)| {
                    let seat = |(spring, seat): (&&str, &f64)| {
                        (format!("{spring}.{end}"), model.shown(*seat).into())
                    };
                    let values: Vec<(String, Dynamic)> = springs(&model)
                        .iter()
                        .zip(seats.iter().cycle())
                        .map(seat)
                        .collect();
                    let seated = model.with_values(&values)?;
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

/// The springs that a model describes, left first; one that mirrors the other has no seat of its own.
fn springs(model: &ScriptModel) -> &'static [&'static str] {
    match &model.model.body {
        Body::DoubleWishbone { .. } => &["spring"],
        Body::LiveAxle(axle) if axle.springs.as_ref().is_some_and(|both| both.right.is_some()) => {
            &["springs.left", "springs.right"]
        }
        Body::LiveAxle(_) => &["springs.left"],
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

/// Where a model comes to rest (mm of travel from its pickups as measured), and the seats it is judged by (mm), left first; one
/// where both sides are alike.
fn standing(model: &ScriptModel, question: Dynamic) -> Result<(Option<f64>, Vec<f64>), ScriptError> {
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
            Some(ride) => Ok((
                ride.standing.as_ref().map(|standing| standing.travel),
                rides.iter().map(|ride| ride.seat).collect(),
            )),
            None => Err(ScriptError::new("the ride height check gave no answer")),
        },
        _ => Err(ScriptError::new("the ride height check gave no answer")),
    }
}
