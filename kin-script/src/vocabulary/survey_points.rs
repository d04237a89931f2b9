//! Words for what becomes of surveyed points: pickups of a model, their covariance, and both sides compared.

use super::described::ScriptModel;
use super::survey_results::{ScriptAdjusted, ScriptSymmetry, survey_error};
use crate::arguments;
use crate::explain::suggest;
use crate::host::{ScriptError, Session, Word};
use crate::survey::partner;
use kin_core::survey::{Basis, Datum, MirrorImage, Symmetry};
use rhai::{Array, Dynamic, Engine, EvalAltResult, Map};
use serde::Deserialize;
use std::sync::Arc;

/// Difference between both sides that a mirrored model may have (mm). Common practice, no source.
const ALLOWED_MM: f64 = 5.0;

type Reply<T> = Result<T, Box<EvalAltResult>>;

/// What a script may ask of a comparison.
#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields, default)]
struct Compared {
    allowed: Option<f64>,
    pairs: Vec<[String; 2]>,
    wheels: Option<[String; 4]>,
    scaled: bool,
}

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, session: &Session) {
    pickups_word(engine, session);
    covariance_word(engine);
    symmetry_word(engine);
}

fn pickups_word(engine: &mut Engine, session: &Session) {
    let placing = session.clone();
    Word {
        name: "place_pickups",
        parameters: &["model: model", "adjusted: adjusted", "names: map", "model"],
        documentation: "The model with its pickups where the survey found them.\n\n\
            Points with the names of the model's keys, such as `upper_arm.front_pivot`, go there by themselves (`left.` or `right.` before \
            a corner's key is taken as its side); others by `names`, such as `#{ upper_front: \"upper_arm.front_pivot\" }`. Pickups that \
            were not measured stay as described, and a remark names them. How sure the pickups are is `covariance`.",
    }
    .register(
        engine,
        move |model: &mut ScriptModel, adjusted: ScriptAdjusted, names: Map| place(&placing, model, &adjusted, &names),
    );
    let placing = session.clone();
    engine.register_fn(
        "place_pickups",
        move |model: &mut ScriptModel, adjusted: ScriptAdjusted| {
            place(&placing, model, &adjusted, &Map::new())
        },
    );
}

fn place(
    session: &Session,
    model: &ScriptModel,
    adjusted: &ScriptAdjusted,
    names: &Map,
) -> Reply<ScriptModel> {
    let result = &adjusted.adjusted;
    if let Datum::Inner { .. } = result.datum() {
        return Err(ScriptError::new(format!(
            "the survey {} does not fix where its points lie in the car",
            adjusted.title
        ))
        .with_help(
            "read a few heights, offsets and stations, or state coordinates with rows such as `fixed_height`",
        )
        .into());
    }
    if let MirrorImage::Undecided { .. } = result.mirror_image() {
        let said = result.mirror_image().sentence().unwrap_or_default();
        return Err(ScriptError::new(format!("the survey {}: {said}", adjusted.title)).into());
    }
    let keys = model.point_keys();
    let mut points = Vec::new();
    for (point, key) in pairs(adjusted, names, &keys)? {
        let place = result.place(&point).unwrap_or_default();
        let shown = [place.x, place.y, place.z].map(|coordinate| model.shown(coordinate));
        points.push((key, shown));
    }
    if points.is_empty() {
        return Err(ScriptError::new(format!(
            "no point of the survey {} has the name of a pickup of {}",
            adjusted.title, model.model.title
        ))
        .with_help(format!(
            "name them in a map, such as place_pickups(adjusted, #{{ name_in_survey: {:?} }})",
            keys.first().map_or("", String::as_str)
        ))
        .into());
    }
    let kept: Vec<&str> = keys
        .iter()
        .map(String::as_str)
        .filter(|key| points.iter().all(|(placed, _)| placed != key))
        .collect();
    if !kept.is_empty() {
        session.remark(&adjusted.title, || {
            format!(
                "{}: the survey did not measure {}: kept as described.",
                model.model.title,
                kept.join(", ")
            )
        });
    }
    Ok(model.with_points(&points)?)
}

/// Survey points with the pickup each one is.
fn pairs(
    adjusted: &ScriptAdjusted,
    names: &Map,
    keys: &[String],
) -> Result<Vec<(String, String)>, ScriptError> {
    let mut found: Vec<(String, String)> = Vec::new();
    for (point, key) in names {
        let key = key.clone().into_string().map_err(|got| {
            ScriptError::new(format!("`{point}`: expected the key of a pickup, got {got}"))
                .with_key(point.as_str())
        })?;
        adjusted.point(point)?;
        if !keys.contains(&key) {
            let error = ScriptError::new(format!("the model has no pickup `{key}`")).with_key(point.as_str());
            return Err(match suggest(&key, keys.iter().map(String::as_str)) {
                Some(nearest) => error.with_help(format!("did you mean {nearest:?}?")),
                None => error.with_help(format!("it has {}", keys.join(", "))),
            });
        }
        if let Some((other, _)) = found.iter().find(|(_, known)| *known == key) {
            return Err(
                ScriptError::new(format!("`{point}` and `{other}` are both named `{key}`"))
                    .with_key(point.as_str()),
            );
        }
        found.push((point.to_string(), key));
    }
    for point in adjusted.adjusted.names() {
        let bare = ["left.", "right."]
            .iter()
            .find_map(|side| point.strip_prefix(side));
        let key = keys
            .iter()
            .find(|key| *key == point || Some(key.as_str()) == bare);
        let Some(key) = key else {
            continue;
        };
        let taken = found
            .iter()
            .any(|(known, placed)| placed == key || known == point);
        if !taken {
            found.push((point.to_owned(), key.clone()));
        }
    }
    Ok(found)
}

fn covariance_word(engine: &mut Engine) {
    Word {
        name: "covariance",
        parameters: &["adjusted: adjusted", "names: map/list", "basis: text", "map"],
        documentation: "How sure the points of a survey are, and how their errors hang together.\n\n\
            `names` is a map as for `place_pickups`, from the survey's names to the model's keys, or a list of the survey's own names. \
            `basis` is \"a priori\" or \"scaled\". The map has `coordinates` (a list such as `upper_arm.front_pivot.x`), `matrix` (a row for \
            each, in the survey's unit squared), `basis` and `unit`.",
    }
    .register(engine, |adjusted: ScriptAdjusted, names: Dynamic, basis: &str| covariance(&adjusted, names, basis));
    engine.register_fn("covariance", |adjusted: ScriptAdjusted, names: Dynamic| {
        covariance(&adjusted, names, "a priori")
    });
}

fn covariance(adjusted: &ScriptAdjusted, names: Dynamic, basis: &str) -> Reply<Map> {
    let basis = match basis {
        "a priori" => Basis::APriori,
        "scaled" => Basis::Scaled,
        other => {
            return Err(ScriptError::new(format!("{other:?} is neither \"a priori\" nor \"scaled\"")).into());
        }
    };
    let named: Vec<(String, String)> = match names.read_lock::<Map>() {
        Some(map) => map
            .iter()
            .map(|(point, key)| (point.to_string(), key.to_string()))
            .collect(),
        None => {
            let list = names.clone().into_array().unwrap_or_default();
            let texts = super::swept::texts(list, "the list of points")?;
            texts.into_iter().map(|name| (name.clone(), name)).collect()
        }
    };
    let points: Vec<&str> = named.iter().map(|(point, _)| point.as_str()).collect();
    let matrix = adjusted
        .adjusted
        .covariance(&points, basis)
        .map_err(|error| survey_error(&error, &adjusted.units))?
        .ok_or_else(|| {
            ScriptError::new("without readings to spare there is no sigma0 to scale by")
                .with_help("ask for \"a priori\"")
        })?;
    let square = adjusted.units.length.millimetres().powi(2);
    let rows: Array = matrix
        .row_iter()
        .map(|row| {
            row.iter()
                .map(|value| Dynamic::from_float(value / square))
                .collect::<Array>()
                .into()
        })
        .collect();
    let coordinates: Array = named
        .iter()
        .flat_map(|(_, key)| ["x", "y", "z"].map(|letter| Dynamic::from(format!("{key}.{letter}"))))
        .collect();
    let map = [
        ("coordinates", Dynamic::from_array(coordinates)),
        ("matrix", rows.into()),
        ("basis", basis.words().into()),
        ("unit", adjusted.units.length.symbol().into()),
    ];
    Ok(map.into_iter().map(|(key, value)| (key.into(), value)).collect())
}

fn symmetry_word(engine: &mut Engine) {
    Word {
        name: "symmetry",
        parameters: &["left: adjusted", "right: adjusted", "options: map", "symmetry"],
        documentation: "Left against right: is the car straight enough for a mirrored model?\n\n\
            One adjusted survey of both sides, `found.symmetry()`, where points are paired by `left` and `right` in their names; or two, one of \
            each side, where points of the same name are. `pairs` pairs others: a list of `[left, right]`. Keys of the options: `allowed` (the \
            difference a mirrored model may have, in the survey's unit; 5 mm without), `pairs`, `wheels` (in one survey, the wheel centres front \
            left, front right, rear left, rear right: then wheelbases and thrust angle are told), `scaled` (true: with standard deviations scaled \
            by sigma0).\n\n\
            `print` shows the sheet. Can be read: `verdict` (\"straight\", \"cannot tell\", \"crooked\"), `differences` and `deviations` (maps by \
            the left point), `wheelbase_difference`, `thrust_angle` (degrees, positive to the left), `sheet`.",
    }
    .register(
        engine,
        |left: ScriptAdjusted, right: ScriptAdjusted, options: Map| compare(&left, Some(&right), options),
    );
    engine
        .register_fn("symmetry", |left: ScriptAdjusted, right: ScriptAdjusted| {
            compare(&left, Some(&right), Map::new())
        })
        .register_fn("symmetry", |adjusted: ScriptAdjusted, options: Map| {
            compare(&adjusted, None, options)
        })
        .register_fn("symmetry", |adjusted: ScriptAdjusted| {
            compare(&adjusted, None, Map::new())
        });
}

fn compare(left: &ScriptAdjusted, right: Option<&ScriptAdjusted>, options: Map) -> Reply<ScriptSymmetry> {
    let mut asked: Compared = arguments::read(Dynamic::from_map(options), "the comparison of both sides")?;
    if asked.pairs.is_empty() {
        let others: Vec<&str> = right.unwrap_or(left).adjusted.names().collect();
        asked.pairs = left
            .adjusted
            .names()
            .filter_map(|name| {
                let partner = match right {
                    Some(_) if others.contains(&name) => Some(name.to_owned()),
                    _ => partner(name),
                };
                partner.map(|partner| [name.to_owned(), partner])
            })
            .filter(|[_, partner]| others.contains(&partner.as_str()))
            .collect();
    }
    let pairs: Vec<(&str, &str)> = asked
        .pairs
        .iter()
        .map(|[left, right]| (left.as_str(), right.as_str()))
        .collect();
    let wheels = asked
        .wheels
        .as_ref()
        .map(|wheels| wheels.each_ref().map(String::as_str));
    let millimetres = left.units.length.millimetres();
    let symmetry = Symmetry::compare(
        &left.adjusted,
        right.map(|right| &*right.adjusted),
        &pairs,
        wheels,
        asked.allowed.map_or(ALLOWED_MM, |allowed| allowed * millimetres),
        if asked.scaled {
            Basis::Scaled
        } else {
            Basis::APriori
        },
    );
    Ok(ScriptSymmetry {
        title: left.title.clone(),
        units: left.units,
        symmetry: Arc::new(symmetry.map_err(|error| survey_error(&error, &left.units))?),
    })
}
