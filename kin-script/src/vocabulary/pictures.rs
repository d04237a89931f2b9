//! Words for pictures.

use super::described::ScriptModel;
use super::marked::events;
use super::output::named;
use super::study::ScriptStudy;
use super::swept::{ScriptSweep, texts};
use crate::arguments;
use crate::fit::{self, Asked};
use crate::host::{ScriptError, Session, Word};
use crate::model::{Model, Suspension};
use crate::picture::{DrawnView, Extras, curves, gap_close_up, least_gap, linkage_with, mark, mark_places};
use crate::study::StudyAnswer;
use crate::sweep::Sweep;
use kin_core::checks::{DamperStroke, StrokeQuestion, check_axle_stroke, check_corner_stroke};
use rhai::{Array, Dynamic, Engine, EvalAltResult, Map};
use serde::Deserialize;
use std::sync::Arc;

pub(super) const NAMES: &[&str] = &["plot", "draw"];

/// Ghosts are drawn at this travel (mm) where the model gives none.
const USUAL_GHOST_MM: f64 = 50.0;

type Answer<T> = Result<T, Box<EvalAltResult>>;

/// How a drawing is asked for, in the model's unit.
#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields)]
struct Drawn {
    views: Option<Vec<DrawnView>>,
    droop: Option<f64>,
    bump: Option<f64>,
    #[serde(default)]
    construction: bool,
    #[serde(default)]
    dimensions: bool,
    #[serde(default)]
    close_up: bool,
}

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, session: &Session) {
    let writing = session.clone();
    Word {
        name: "plot",
        parameters: &["file: text", "sweeps: sweep/map", "curves: text/list", "text"],
        documentation: "Plots curves against what the sweep varies, as SVG into the output folder: a panel for each curve.\n\n\
            Each curve is joined in the order of its axis. Several sweeps go on one picture as a map with their names: `#{ original: a, replacement: b }`. A picture of \
            `damper_length` shows the damper's limits as zones.\n\n\
            A map behind the curves, `#{ findings: check }`, marks where in the travel something happens: of a stroke check where the damper \
            tops out, touches its bump stop and meets metal; of other checks, their findings or a list of both, each finding that \
            has a place. `#{ mark: #{ \"in a bend\": 40 } }` marks places of your own: by their words, where they lie along what the sweep \
            varies, with a point on each curve.\n\n\
            Of a study: `plot(\"toe.svg\", study, \"bands\")` writes its picture of that name; without a name its main one.",
    }
    .register(engine, move |file: &str, sweeps: Dynamic, names: Dynamic| {
        plot(&writing, file, sweeps, names, Map::new())
    });
    let writing = session.clone();
    engine.register_fn(
        "plot",
        move |file: &str, sweeps: Dynamic, names: Dynamic, how: Map| plot(&writing, file, sweeps, names, how),
    );
    let writing = session.clone();
    engine.register_fn("plot", move |file: &str, study: ScriptStudy| -> Answer<String> {
        let name = study.0.pictures.first().map_or("", |(name, _)| *name);
        write(&writing, file, &study_picture(&study.0, &name.into())?)
    });
    let writing = session.clone();
    Word {
        name: "draw",
        parameters: &["file: text", "model: model", "how: map", "text"],
        documentation: "Draws the linkage to scale at ride height, with droop and bump as ghosts, as SVG into the output folder. The top view shows ride height only: seen from above, droop and bump lie on it.\n\n\
            Keys: `views` (a list of \"front\", \"side\", \"top\"), `droop` and `bump` (wheel travel of the ghosts from ride height), \
            `construction` (true: instant centres, roll centre and the lines to them; a corner's instant centre is what the upright turns about, which \
            bump steer moves a little off the place where the lines of the arms alone meet), `dimensions` (true: stroke left, travel to the ghosts), \
            `obstacles` (the question of `check_clearance`: draws the pair with the least margin where its gap is least, with the gap), \
            `close_up` (true, with `obstacles`: only the two solids round their gap).",
    }
    .register(engine, move |file: &str, model: ScriptModel, how: Map| draw(&writing, file, &model, how));
    let writing = session.clone();
    engine.register_fn("draw", move |file: &str, model: ScriptModel| {
        draw(&writing, file, &model, Map::new())
    });
}

/// Writes a picture; any other ending would promise what the file does not hold.
pub(super) fn write(session: &Session, file: &str, svg: &str) -> Answer<String> {
    named(file, "\"camber.svg\"")?;
    let ending = std::path::Path::new(file).extension();
    if !ending.is_some_and(|ending| ending.eq_ignore_ascii_case("svg")) {
        return Err(
            ScriptError::new(format!("{file:?} is no name for a picture: pictures are SVG"))
                .with_help("end the name in .svg; web browsers and drawing programs open it")
                .into(),
        );
    }
    Ok(session
        .output_folder()
        .write(file, svg.as_bytes())?
        .display()
        .to_string())
}

fn plot(session: &Session, file: &str, sweeps: Dynamic, names: Dynamic, mut how: Map) -> Answer<String> {
    let findings = how.remove("findings");
    let own = how.remove("mark");
    if let Some(other) = how.keys().next() {
        return Err(ScriptError::new(format!("the plot has no key `{other}`"))
            .with_key(other.as_str())
            .with_help("the keys are findings and mark")
            .into());
    }
    if let Some(study) = sweeps.read_lock::<ScriptStudy>() {
        return write(session, file, &study_picture(&study.0, &names)?);
    }
    let runs: Vec<(String, Arc<Sweep>)> = if let Some(only) = sweeps.read_lock::<ScriptSweep>() {
        vec![(String::new(), Arc::clone(&only.0))]
    } else if let Some(map) = sweeps.read_lock::<Map>() {
        map.iter()
            .map(|(name, run)| Ok((name.to_string(), sweep_in(run, name)?)))
            .collect::<Result<_, ScriptError>>()?
    } else {
        return Err(ScriptError::new(format!(
            "expected a sweep or a map of sweeps, got {}",
            crate::explain::value_words(&sweeps)
        ))
        .into());
    };
    let names = match names.clone().try_cast::<Array>() {
        Some(list) => texts(list, "the curves")?,
        None => texts(vec![names], "the curve")?,
    };
    let mut titles = runs.iter().map(|(_, run)| &run.model.title);
    let title = match titles.next() {
        Some(first) if titles.all(|title| title == first) => first.clone(),
        _ => {
            let names: Vec<String> = runs.iter().map(|(name, _)| name.replace('_', " ")).collect();
            crate::explain::joined(&names, "and")
        }
    };
    let shown: Vec<(String, &Sweep)> = runs
        .iter()
        .map(|(name, run)| (name.replace('_', " "), &**run))
        .collect();
    let mut figure = curves(&title, &shown, &names)?;
    if let (Some(findings), Some((_, first))) = (findings, shown.first()) {
        mark(&mut figure, &shown, events(&findings, first.model.units.length)?)?;
    }
    if let Some(own) = own {
        mark_places(&mut figure, &own_places(&own)?)?;
    }
    let svg = figure
        .svg()
        .map_err(|error| ScriptError::new(error.to_string()))?;
    write(session, file, &svg)
}

/// Places to mark: words and numbers.
fn own_places(own: &Dynamic) -> Result<Vec<(String, f64)>, ScriptError> {
    let Some(map) = own.read_lock::<Map>() else {
        return Err(ScriptError::new(format!(
            "`mark`: expected a map of words and places, got {}",
            crate::explain::value_words(own)
        ))
        .with_key("mark")
        .with_help("such as #{ \"in a bend\": 40 }"));
    };
    let place = |(words, at): (&rhai::ImmutableString, &Dynamic)| {
        let at = at.as_float().or_else(|_| at.as_int().map(|whole| whole as f64));
        match at {
            Ok(at) if at.is_finite() => Ok((words.to_string(), at)),
            _ => {
                Err(ScriptError::new(format!("`mark`: the place of `{words}` is no number")).with_key("mark"))
            }
        }
    };
    map.iter()
        .map(|(words, at)| place((&words.as_str().into(), at)))
        .collect()
}

/// A picture of a study, by its name.
fn study_picture(study: &StudyAnswer, name: &Dynamic) -> Result<String, ScriptError> {
    let wanted = name.to_string();
    let pictures = || study.pictures.iter().map(|(name, _)| *name);
    let Some((_, picture)) = study.pictures.iter().find(|(name, _)| *name == wanted) else {
        let error = ScriptError::new(format!("the study `{}` has no picture `{wanted}`", study.study))
            .with_key(wanted.as_str());
        let known: Vec<&str> = pictures().collect();
        return Err(if known.is_empty() {
            error.with_help("it has none")
        } else {
            error.with_help(format!("it has {}", known.join(", ")))
        });
    };
    picture.svg()
}

fn sweep_in(value: &Dynamic, name: &str) -> Result<Arc<Sweep>, ScriptError> {
    value
        .read_lock::<ScriptSweep>()
        .map(|sweep| Arc::clone(&sweep.0))
        .ok_or_else(|| {
            ScriptError::new(format!(
                "`{name}`: expected a sweep, got {}",
                crate::explain::value_words(value)
            ))
            .with_key(name)
        })
}

fn draw(session: &Session, file: &str, model: &ScriptModel, mut how: Map) -> Answer<String> {
    let obstacles = how.remove("obstacles");
    let how: Drawn = arguments::read(Dynamic::from_map(how), "the drawing")?;
    let suspension = model.suspension()?;
    let views = how
        .views
        .clone()
        .unwrap_or_else(|| vec![DrawnView::Front, DrawnView::Side]);
    let drawing = if let Some(question) = obstacles {
        how.refuse_with_obstacles()?;
        let asked = Asked::new(&suspension, model.model.units);
        let clearance = fit::clearance_of(&asked, question)?;
        let (Some(pair), Some(finding)) = (clearance.pairs.first(), clearance.findings.first()) else {
            return Err(ScriptError::new("the obstacles leave nothing to compare")
                .with_key("obstacles")
                .with_help("give one part that moves and one obstacle at least")
                .into());
        };
        if how.close_up {
            gap_close_up(&model.model, &views, (pair, finding))
        } else {
            least_gap(&model.model, &suspension, &views, (pair, finding))?
        }
    } else {
        if how.close_up {
            return Err(
                ScriptError::new("`close_up` shows a gap: it goes with `obstacles`")
                    .with_key("close_up")
                    .into(),
            );
        }
        let strokes = strokes(&suspension);
        let ghosts = ghosts(&model.model, &strokes, how.droop, how.bump);
        let extras = Extras {
            construction: how.construction,
            strokes: if how.dimensions { &strokes } else { &[] },
        };
        linkage_with(&model.model, &suspension, &views, ghosts, extras)?
    };
    let svg = drawing
        .svg()
        .map_err(|error| ScriptError::new(error.to_string()))?;
    write(session, file, &svg)
}

impl Drawn {
    /// A drawing of the least gap is drawn where the gap is: what belongs to ride height has no place on it.
    fn refuse_with_obstacles(&self) -> Result<(), ScriptError> {
        let given = [
            (self.droop.is_some(), "droop"),
            (self.bump.is_some(), "bump"),
            (self.construction, "construction"),
            (self.dimensions, "dimensions"),
        ];
        match given.into_iter().find(|(is_given, _)| *is_given) {
            None => Ok(()),
            Some((_, key)) => Err(ScriptError::new(format!(
                "`{key}` does not go with `obstacles`: with obstacles the linkage is drawn where the gap is least"
            ))
            .with_key(key)
            .with_help("make two drawings")),
        }
    }
}

/// The stroke check of each damper, where there is one.
pub(super) fn strokes(suspension: &Suspension) -> Vec<DamperStroke> {
    let question = StrokeQuestion::default();
    match suspension {
        Suspension::Corner(corner) => check_corner_stroke(corner, &question).into_iter().collect(),
        Suspension::Axle(axle) => check_axle_stroke(axle, &question).unwrap_or_default(),
    }
}

/// How far droop and bump are shown (mm): as asked in the model's unit, or what is usual.
pub(super) fn ghosts(
    model: &Model,
    strokes: &[DamperStroke],
    droop: Option<f64>,
    bump: Option<f64>,
) -> (f64, f64) {
    let in_core = |value: Option<f64>| value.map(|value| value.abs() * model.units.length.millimetres());
    let (usual_droop, usual_bump) = usual_ghosts(strokes.first());
    (
        in_core(droop).unwrap_or(usual_droop),
        in_core(bump).unwrap_or(usual_bump),
    )
}

/// Where the first stop acts in droop, and where the bump stop is touched, if the damper says so.
fn usual_ghosts(stroke: Option<&DamperStroke>) -> (f64, f64) {
    let sensible = |travel: Option<f64>| {
        travel
            .filter(|travel| (5.0..300.0).contains(travel))
            .unwrap_or(USUAL_GHOST_MM)
    };
    match stroke {
        Some(stroke) => (
            sensible(stroke.first_in_droop.1),
            sensible(stroke.budget.bump_to_stop),
        ),
        None => (USUAL_GHOST_MM, USUAL_GHOST_MM),
    }
}
