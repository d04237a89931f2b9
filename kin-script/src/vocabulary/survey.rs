//! Words for surveys: from readings to pickups, and what to read on the car.

use super::described::ScriptModel;
use super::survey_results::{ScriptAdjusted, ScriptPlan, ScriptSurvey, survey_error};
use crate::arguments;
use crate::explain::suggest;
use crate::host::{ScriptError, Session, Word, finite};
use crate::model::{Body, in_core_units};
use crate::survey::Notebook;
use crate::units::{LengthUnit, Units};
use kin_core::pickups::Side;
use kin_core::survey::{DEFAULT_REJECTION_LIMIT, DefaultDeviations, Kind, MeasurementPlan};
use rhai::{Dynamic, Engine, EvalAltResult, Map};
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

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, session: &Session) {
    super::survey_results::register(engine);
    notebook_word(engine, session);
    adjust_word(engine);
    super::survey_points::register(engine, session);
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
