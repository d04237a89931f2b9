//! Words for pages: the fit sheet for the wall, the moving page for the classroom.

use super::described::ScriptModel;
use super::fit::ScriptFit;
use super::pictures::{ghosts, strokes};
use super::swept::ScriptTable;
use crate::arguments;
use crate::explain::value_words;
use crate::host::{ScriptError, Session, Word};
use crate::page::{Document, DocumentKind, Inputs, SheetParts, moving_page, sheet_page};
use crate::picture;
use rhai::{Dynamic, Engine, EvalAltResult, Map};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::Arc;

pub(super) const NAMES: &[&str] = &["page", "moving_page", "animation"];
/// Keys of what the pages are asked with, for suggestions.
pub(super) const KEYS: &[&str] = &["pictures", "tables", "sources", "seconds"];

type Answer<T> = Result<T, Box<EvalAltResult>>;

/// A finished page or picture in a script.
#[derive(Clone)]
pub(super) struct ScriptDocument(pub(super) Arc<Document>);

/// What a sheet shows beside the checks, as far as it is plain values.
#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields)]
struct Shown {
    #[serde(default)]
    pictures: Vec<String>,
    #[serde(default)]
    sources: BTreeMap<String, String>,
}

/// How far a model is moved, in its own unit.
#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields)]
struct Moved {
    droop: Option<f64>,
    bump: Option<f64>,
}

/// How a picture moves: how far, in the model's unit, and how long it takes.
#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields)]
struct Animated {
    droop: Option<f64>,
    bump: Option<f64>,
    seconds: Option<f64>,
}

/// Seconds from droop to bump and back, and those that can be asked for.
const USUAL_SECONDS: f64 = 5.0;
const SECONDS: std::ops::RangeInclusive<f64> = 1.0..=60.0;

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, session: &Session) {
    engine
        .register_type_with_name::<ScriptDocument>("page")
        .register_fn("to_string", |document: &mut ScriptDocument| {
            document.0.kind.words().to_owned()
        });
    let reading = session.clone();
    Word {
        name: "page",
        parameters: &["fit: fit", "how: map", "page"],
        documentation: "The fit sheet as one HTML file for the wall, the mail and the screen: the verdict, what was found with margins and \
            what mends it, every check, the numbers, and all inputs with their units and where they came from. It needs no network and \
            prints on A4 and Letter. `save(\"sheet.html\", page(fit, #{ .. }))` writes it.\n\n\
            Keys: `pictures`, a list of what `draw` and `plot` returned in this run; `tables`, a map of tables by caption, such as \
            `#{ \"Camber in bump\": corner.sweep(#{ bump: steps(-50, 65, 5) }).table([\"camber\"]) }`; `sources`, where numbers come from, by what they \
            belong to: `#{ coilover: \"catalogue\", \"coilover.upper_mount\": \"measured\", \"ride_height.load\": \"assumed\" }`. What has no \
            source of its own has the model's `provenance`.",
    }
    .register(engine, move |fit: &mut ScriptFit, how: Map| sheet(&reading, fit, how));
    let reading = session.clone();
    engine.register_fn("page", move |fit: &mut ScriptFit| {
        sheet(&reading, fit, Map::new())
    });
    Word {
        name: "moving_page",
        parameters: &["model: model", "how: map", "page"],
        documentation: "One HTML file for the classroom, on which a double wishbone or a live axle is taken hold of: its wheels and every pickup are \
            dragged, or moved with the arrow keys, and motion ratio, wheel rate, spring force at the wheel, camber, roll centre and their curves \
            follow. An axle's wheels move together or one against the other, and where its right side is the mirror of the left, it follows. \
            Two states are kept and compared; a teacher chooses the curves and draws the construction lines of the instant and roll \
            centres. It needs no network: `save(\"moving.html\", moving_page(corner))`.\n\n\
            Keys: `droop` and `bump`, how far the wheels go from ride height; without them to where the first stop acts.",
    }
    .register(engine, |model: ScriptModel, how: Map| moving(&model, how));
    engine.register_fn("moving_page", |model: ScriptModel| moving(&model, Map::new()));
    Word {
        name: "animation",
        parameters: &["model: model", "how: map", "picture"],
        documentation: "A picture for slides in which the linkage goes from droop to bump and back by itself, with its motion ratio: \
            `save(\"moving.svg\", animation(corner))`. Web pages and slides shown in a browser play it; where motion is not wanted, or \
            cannot be shown, it stands at ride height.\n\n\
            Keys: `droop` and `bump`, how far the wheel goes from ride height; `seconds` for the way there and back, 5 without it.",
    }
    .register(engine, |model: ScriptModel, how: Map| animated(&model, how));
    engine.register_fn("animation", |model: ScriptModel| animated(&model, Map::new()));
}

fn animated(model: &ScriptModel, how: Map) -> Answer<ScriptDocument> {
    let how: Animated = arguments::read(Dynamic::from_map(how), "the animation")?;
    let seconds = how.seconds.unwrap_or(USUAL_SECONDS);
    if !SECONDS.contains(&seconds) {
        let text = format!(
            "`seconds`: {seconds} is not within {} to {}",
            SECONDS.start(),
            SECONDS.end()
        );
        return Err(ScriptError::new(text)
            .with_help(
                "it is the time from droop to bump and back; faster flickers, slower seems to stand still",
            )
            .with_key("seconds")
            .into());
    }
    let suspension = model.suspension()?;
    let (droop, bump) = ghosts(&model.model, &strokes(&suspension), how.droop, how.bump);
    Ok(ScriptDocument(Arc::new(Document {
        kind: DocumentKind::Picture,
        text: picture::animation(&model.model, &suspension, droop, bump, seconds)?,
    })))
}

fn moving(model: &ScriptModel, how: Map) -> Answer<ScriptDocument> {
    let how: Moved = arguments::read(Dynamic::from_map(how), "the moving page")?;
    let suspension = model.suspension()?;
    let (droop, bump) = ghosts(&model.model, &strokes(&suspension), how.droop, how.bump);
    if droop + bump <= 0.0 {
        return Err(
            ScriptError::new("the wheel of this moving page goes nowhere: `droop` and `bump` are 0")
                .with_help("give how far it goes from ride height, such as #{ droop: 50, bump: 50 }")
                .with_key("bump")
                .into(),
        );
    }
    let page = moving_page(&model.model, &suspension, droop, bump)?;
    Ok(ScriptDocument(Arc::new(page)))
}

fn sheet(session: &Session, fit: &ScriptFit, mut how: Map) -> Answer<ScriptDocument> {
    let tables = how.remove("tables").map_or_else(|| Ok(Vec::new()), tables)?;
    let shown: Shown = arguments::read(Dynamic::from_map(how), "the page")?;
    let pictures = shown
        .pictures
        .iter()
        .map(|path| session.output_folder().read_back(path));
    let parts = SheetParts {
        pictures: pictures.collect::<Result<_, _>>()?,
        tables,
    };
    let inputs = Inputs {
        model: (*fit.model).clone(),
        questions: (*fit.questions).clone(),
        sources: shown.sources,
    };
    Ok(ScriptDocument(Arc::new(sheet_page(&fit.sheet, &inputs, &parts)?)))
}

fn tables(value: Dynamic) -> Result<Vec<(String, crate::table::Table)>, ScriptError> {
    let wrong = |got: &Dynamic| {
        ScriptError::new(format!(
            "`tables`: expected a map of tables by caption, got {}",
            value_words(got)
        ))
        .with_key("tables")
    };
    let Some(map) = value.read_lock::<Map>() else {
        return Err(wrong(&value));
    };
    map.iter()
        .map(|(caption, table)| {
            let held = table.read_lock::<ScriptTable>().ok_or_else(|| wrong(table))?;
            Ok((caption.to_string(), (*held.0).clone()))
        })
        .collect()
}
