//! Words for surveys: from readings to pickups, and what to read on the car.

use super::described::ScriptModel;
use super::survey_results::{ScriptAdjusted, ScriptPlan, ScriptSurvey, ScriptSymmetry, survey_error};
use crate::arguments;
use crate::explain::suggest;
use crate::host::{ScriptError, Session, Word, finite};
use crate::model::{Body, in_core_units};
use crate::survey::{Notebook, partner};
use crate::units::{LengthUnit, Units};
use kin_core::pickups::Side;
use kin_core::survey::{
    Basis, DEFAULT_REJECTION_LIMIT, Datum, DefaultDeviations, Kind, MeasurementPlan, MirrorImage, Symmetry,
};
use rhai::{Array, Dynamic, Engine, EvalAltResult, Map};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::Arc;

pub(super) const NAMES: &[&str] = &[
    "survey",
    "adjust",
    "place_pickups",
    "covariance",
    "symmetry",
    "measurement_plan",
];

/// Difference between both sides that a mirrored model may have (mm). Common practice, no source.
const ALLOWED_MM: f64 = 5.0;

type Reply<T> = Result<T, Box<EvalAltResult>>;

/// What a script may say of a notebook.
#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields, default)]
struct Options {
    unit: Option<LengthUnit>,
    side: Option<Side>,
    deviations: BTreeMap<String, f64>,
    leave_out: Vec<u64>,
    loosen: Vec<Loosened>,
}

/// A reading down-weighted by hand.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Loosened {
    line: u64,
    factor: f64,
}

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
    super::survey_results::register(engine);
    notebook_word(engine, session);
    adjust_word(engine);
    pickups_word(engine, session);
    covariance_word(engine);
    symmetry_word(engine);
    plan_word(engine);
}

fn notebook_word(engine: &mut Engine, session: &Session) {
    let reading = session.clone();
    Word {
        name: "survey",
        parameters: &["file: text", "options: map", "survey"],
        documentation: "Reads a notebook of tape readings (CSV) from the script's own folder.\n\n\
            Its first line names the columns: `kind`, `point`, `reading`, and where needed `to`, `deviation` (standard deviation of \
            this reading), `offset` (added to the reading to get to the centre: minus half a bolt head for a height to its top), \
            `note`. Kinds: `tape` (`point` to `to`), `height`, `offset`, `station` (of `point`; from `to` where that is given), `angle` \
            (of the line from `point` to `to` to level, degrees, positive when `to` is higher), `same` (`point` on the left mirrors `to` \
            on the right), `rigid` (`point` to `to` keeps its length at any travel; points measured at another travel are named like \
            `lower_arm.ball_joint@hanging`). Other rows: `unit` (`mm` or `inch`), `fixed_height`, `fixed_offset`, `fixed_station` \
            (stated, not measured), `sketch` (a rough place such as `150 400 450`), `side` (`left` or `right`), `deviation` (of all \
            readings of the kind under `point`). Numbers without a unit are in that of the row `unit`; `14 5/8 in`, `2 ft 3 1/2 in`, \
            `371.5 mm` are read anywhere.\n\n\
            Keys of the options: `unit`, `side` (of all points), `deviations` (by kind, such as `#{ tape: 1.5 }`), `leave_out` (lines of \
            the file), `loosen` (a list such as `[#{ line: 12, factor: 3 }]`: standard deviations multiplied).\n\n\
            Without a deviation: tape 1.2 mm, height 1.5, offset 2.0, station 2.5, angle 0.2 deg, same 3.0, rigid 0.5. `print` shows how \
            much was read and what repeated readings say of the tape. Can be read: `points`, `count`, `unread`.",
    }
    .register(engine, move |file: &str, options: Map| read(&reading, file, options));
    let reading = session.clone();
    engine.register_fn("survey", move |file: &str| read(&reading, file, Map::new()));
}

fn read(session: &Session, file: &str, options: Map) -> Reply<ScriptSurvey> {
    let options: Options = arguments::read(Dynamic::from_map(options), "the options of the survey")?;
    let text = session
        .script_folder()
        .read_text(file, session.limits().file_bytes)?;
    let mut notebook = Notebook::read(&text, file, options.unit)?;
    let units = Units::new(notebook.unit, None);
    for (word, deviation) in &options.deviations {
        let kind = kind(word)?;
        let core = match kind {
            Kind::Angle => deviation.to_radians(),
            _ => deviation * notebook.unit.millimetres(),
        };
        notebook.survey.deviations.set(kind, core);
    }
    if let Some(side) = options.side {
        for point in notebook.survey.points() {
            notebook.survey.sides.entry(point).or_insert(side);
        }
    }
    for loosened in &options.loosen {
        for index in notebook.at_line(loosened.line)? {
            notebook.survey.readings[index].loosened = loosened.factor;
        }
    }
    let mut left_out = Vec::new();
    for line in &options.leave_out {
        left_out.extend(notebook.at_line(*line)?);
    }
    let mut keep = (0..notebook.lines.len()).map(|index| !left_out.contains(&index));
    notebook.survey.readings.retain(|_| keep.next().unwrap_or(true));
    Ok(ScriptSurvey {
        file: file.into(),
        units,
        survey: Arc::new(notebook.survey),
        unread: notebook.unread.len(),
    })
}

fn kind(word: &str) -> Result<Kind, ScriptError> {
    Kind::ALL
        .into_iter()
        .find(|kind| kind.word() == word)
        .ok_or_else(|| {
            let known = Kind::ALL.map(Kind::word);
            let error = ScriptError::new(format!("there is no kind of reading `{word}`")).with_key(word);
            match suggest(word, known) {
                Some(nearest) => error.with_help(format!("did you mean `{nearest}`?")),
                None => error.with_help(format!("the kinds are {}", known.join(", "))),
            }
        })
}

fn adjust_word(engine: &mut Engine) {
    Word {
        name: "adjust",
        parameters: &["survey: survey", "options: map", "adjusted"],
        documentation: "The points that fit all readings of a survey best (weighted least squares), and how sure they are.\n\n\
            Readings that do not belong are left out one at a time: the one with the largest normalised residual, while that is beyond \
            3.5 standard deviations, and all is adjusted again; `#{ reject: 4 }` moves the limit, `#{ reject: false }` keeps all. What is \
            left out is named and counts as a reading to take again. What the readings do not fix is an error that says what to measure.\n\n\
            Standard deviations are `a priori` (from those stated for the readings) or `scaled` by sigma0 (by how the readings agreed).\n\n\
            `print` shows the sheet. Can be read: `points` and `deviations` (maps by point, `[forward, left, up]`), `scaled_deviations`, \
            `rejected` and `unchecked` (lists of maps with `reading`, `where` and more), `sigma0`, `surplus`, `agrees`, `mirror_decided`, \
            `helpful` (the one more reading that helps most), `table`, `readings`, `sheet`.",
    }
    .register(engine, |survey: &mut ScriptSurvey, options: Map| adjust(survey, &options));
    engine.register_fn("adjust", |survey: &mut ScriptSurvey| adjust(survey, &Map::new()));
}

fn adjust(survey: &ScriptSurvey, options: &Map) -> Reply<ScriptAdjusted> {
    let mut limit = Some(DEFAULT_REJECTION_LIMIT);
    for (key, value) in options {
        if key != "reject" {
            return Err(ScriptError::new(format!("an adjustment has no option `{key}`"))
                .with_key(key.as_str())
                .with_help("its option is `reject`: a limit, or false to keep all readings")
                .into());
        }
        limit = match value.as_bool() {
            Ok(false) => None,
            Ok(true) => limit,
            Err(_) => Some(finite(value, "`reject`").map_err(|error| error.with_key("reject"))?),
        };
        if limit.is_some_and(|limit| limit <= 0.0) {
            return Err(
                ScriptError::new("`reject` is a limit greater than zero, such as 3.5, or false")
                    .with_key("reject")
                    .into(),
            );
        }
    }
    let adjusted = match limit {
        Some(limit) => survey.survey.adjust_rejecting(limit),
        None => survey.survey.adjust(),
    };
    Ok(ScriptAdjusted {
        title: survey.file.clone(),
        units: survey.units,
        adjusted: Arc::new(adjusted.map_err(|error| survey_error(&error, &survey.units))?),
    })
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
        parameters: &["adjusted: adjusted", "options: map", "symmetry"],
        documentation: "Left against right: is the car straight enough for a mirrored model?\n\n\
            Points are paired by `left` and `right` in their names, or by `pairs`, a list of `[left, right]`. Keys: `allowed` (the difference \
            a mirrored model may have, in the survey's unit; 5 mm without), `pairs`, `wheels` (the wheel centres front left, front right, \
            rear left, rear right: then wheelbases and thrust angle are told), `scaled` (true: with standard deviations scaled by sigma0).\n\n\
            `print` shows the sheet. Can be read: `verdict` (\"straight\", \"cannot tell\", \"crooked\"), `differences` and `deviations` (maps by \
            the left point), `wheelbase_difference`, `thrust_angle` (degrees, positive to the left), `sheet`.",
    }
    .register(engine, |adjusted: ScriptAdjusted, options: Map| compare(&adjusted, options));
    engine.register_fn("symmetry", |adjusted: ScriptAdjusted| {
        compare(&adjusted, Map::new())
    });
}

fn compare(adjusted: &ScriptAdjusted, options: Map) -> Reply<ScriptSymmetry> {
    let mut asked: Compared = arguments::read(Dynamic::from_map(options), "the comparison of both sides")?;
    if asked.pairs.is_empty() {
        let names: Vec<&str> = adjusted.adjusted.names().collect();
        asked.pairs = names
            .iter()
            .filter_map(|name| partner(name).map(|partner| [(*name).to_owned(), partner]))
            .filter(|[_, partner]| names.contains(&partner.as_str()))
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
    let millimetres = adjusted.units.length.millimetres();
    let symmetry = Symmetry::compare(
        &adjusted.adjusted,
        None,
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
        title: adjusted.title.clone(),
        units: adjusted.units,
        symmetry: Arc::new(symmetry.map_err(|error| survey_error(&error, &adjusted.units))?),
    })
}

fn plan_word(engine: &mut Engine) {
    Word {
        name: "measurement_plan",
        parameters: &["model: model", "deviations: map", "plan"],
        documentation: "What to read on a car with this layout, in an order that makes sense lying under it.\n\n\
            The model holds rough places: they tell what accuracy to expect. `deviations` are the standard deviations of the readings by kind, \
            such as `#{ tape: 1.5, height: 2 }`, in the model's unit.\n\n\
            `print` shows the accuracy to expect of every pickup. Can be read: `sheet` (to print and write on), `notebook` (a CSV with empty \
            readings for a phone or a spreadsheet), `expected` (a map of standard deviations by point), `count`, `surplus`, `helpful`.",
    }
    .register(engine, |model: &mut ScriptModel, deviations: Map| plan(model, deviations));
    engine.register_fn("measurement_plan", |model: &mut ScriptModel| {
        plan(model, Map::new())
    });
}

fn plan(model: &ScriptModel, stated: Map) -> Reply<ScriptPlan> {
    let stated: BTreeMap<String, f64> = arguments::read(Dynamic::from_map(stated), "the deviations")?;
    let units = model.model.units;
    let mut deviations = DefaultDeviations::default();
    for (word, deviation) in &stated {
        let kind = kind(word)?;
        let core = match kind {
            Kind::Angle => deviation.to_radians(),
            _ => deviation * units.length.millimetres(),
        };
        deviations.set(kind, core);
    }
    let plan = match &model.model.body {
        Body::DoubleWishbone { corner, .. } => {
            MeasurementPlan::double_wishbone(&in_core_units(corner, &units), deviations)
        }
        Body::LiveAxle(axle) => MeasurementPlan::live_axle(&in_core_units(axle, &units), deviations),
    };
    Ok(ScriptPlan {
        title: model.model.title.as_str().into(),
        units,
        plan: Arc::new(plan.map_err(|error| survey_error(&error, &units))?),
    })
}
