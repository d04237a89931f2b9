//! A model file on its own: stroke sheet, curves, pictures, pages.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use clap::{Args, ValueEnum};

use crate::fit::FitSheet;
use crate::host::{Outcome, ScriptError, Session};
use crate::model::{Model, ModelFile, ModelFormat, Suspension};
use crate::page::{Document, Inputs, SheetParts, moving_page, sheet_page};
use crate::picture::{DrawnView, Event, curves, linkage, mark};
use crate::stroke_sheet::{failed_stroke, stroke_sheet};
use crate::sweep::{Sweep, Variable};
use crate::table::{Table, TableError};
use crate::units::Units;
use crate::vocabulary::core_error;
use kin_core::checks::{DamperStroke, StrokeQuestion, Verdict, check_axle_stroke, check_corner_stroke};
use kin_core::pickups::Wanted;

/// Curves of a corner that are shown unless others are asked for.
const CORNER_CURVES: [&str; 7] = [
    "camber",
    "toe",
    "caster",
    "damper_length",
    "motion_ratio",
    "roll_centre_height",
    "half_track_change",
];
/// Curves of an axle that are shown unless others are asked for.
const AXLE_CURVES: [&str; 6] = [
    "damper_length_left",
    "motion_ratio_left",
    "motion_ratio_roll_left",
    "pinion_angle",
    "roll_centre_height",
    "anti_squat_slope",
];
/// Half the travel shown (mm) where the model wants none.
const USUAL_TRAVEL_MM: f64 = 50.0;

/// Findings that are marked on the curves at most: as many as one damper makes.
const MOST_MARKS: usize = 6;

/// How a model's curves are shown.
#[derive(Debug, Args)]
pub(super) struct ModelOptions {
    /// Model file only: the curves to show, such as camber,toe,camber_gain (`kin words curves` lists them).
    #[arg(long, value_name = "NAMES", value_delimiter = ',')]
    curves: Vec<String>,
    /// Model file only: least wheel travel from ride height, in the model's unit (droop negative).
    #[arg(long, value_name = "TRAVEL", allow_negative_numbers = true)]
    from: Option<f64>,
    /// Model file only: greatest wheel travel from ride height, in the model's unit.
    #[arg(long, value_name = "TRAVEL", allow_negative_numbers = true)]
    to: Option<f64>,
    /// Model file only: travel between two rows, in the model's unit.
    #[arg(long, value_name = "TRAVEL")]
    step: Option<f64>,
    /// Model file only: print just the table of curves, in this form.
    #[arg(long, value_enum, value_name = "FORM")]
    format: Option<TableForm>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum TableForm {
    /// Aligned columns.
    Text,
    /// Comma-separated values.
    Csv,
    /// A list of objects.
    Json,
}

impl ModelOptions {
    pub(super) fn is_given(&self) -> bool {
        !self.curves.is_empty() || self.from.or(self.to).or(self.step).is_some() || self.format.is_some()
    }

    /// Whether the output is read by a program, which further lines would disturb.
    pub(super) fn is_for_a_program(&self) -> bool {
        self.format.is_some()
    }
}

pub(super) fn run(file: &Path, session: &Session, options: &ModelOptions) -> Result<Outcome, ScriptError> {
    let shown = file.display().to_string();
    let in_file = |error: ScriptError| ScriptError {
        what: format!("{shown}: {}", error.what),
        ..error
    };
    let format =
        ModelFormat::of(file).ok_or_else(|| ScriptError::new(format!("{shown} is no model file")))?;
    let name = file.file_name().unwrap_or_default().to_string_lossy();
    let text = session
        .script_folder()
        .read_text(&name, session.limits().file_bytes)?;
    let model = Arc::new(ModelFile::read(&text, format).map_err(in_file)?);
    let suspension = Arc::new(
        model
            .suspension()
            .map_err(|error| in_file(core_error(&error, &model.units)))?,
    );
    let strokes = strokes(&suspension, &model.units)?;
    let sweep = sweep(&model, &suspension, &strokes, options)?;
    let names: Vec<String> = if options.curves.is_empty() {
        usual_curves(&sweep)?
    } else {
        options.curves.clone()
    };
    let table = sweep.table(&names)?;
    if let Some(form) = options.format {
        session.print(written(&table, form)?.trim_end());
    } else {
        sheets(session, &model, &suspension, &strokes, (&sweep, &names, &table))?;
    }
    if let Some(what) = failed_stroke(&model.title, &strokes, &model.units) {
        session.record_failed_check(what);
    }
    Ok(session.outcome())
}

/// Prints the sheet and the table, and writes them and the pictures into the output folder.
fn sheets(
    session: &Session,
    model: &Model,
    suspension: &Suspension,
    strokes: &[DamperStroke],
    (sweep, names, table): (&Sweep, &[String], &Table),
) -> Result<(), ScriptError> {
    let failed = |error: &dyn std::fmt::Display| ScriptError::new(error.to_string());
    let folder = session.output_folder();
    if strokes.is_empty() {
        session.print(&format!(
            "{}: no damper is given, so there is no stroke check.",
            model.title
        ));
    } else {
        let sheet = stroke_sheet(&model.title, strokes, &model.units);
        session.print(&sheet);
        folder.write("stroke.txt", (sheet + "\n").as_bytes())?;
    }
    session.print(&format!("\n{}", table.text()));
    folder.write(
        "curves.csv",
        table.csv().map_err(|error| failed(&error))?.as_bytes(),
    )?;
    let on_one_sheet = names.get(..names.len().min(6)).unwrap_or(names);
    let shown = [(String::new(), sweep)];
    let mut figure = curves(&model.title, &shown, on_one_sheet)?;
    let events = strokes.iter().flat_map(Event::of_stroke);
    let matters = events.filter(|event| event.verdict >= Verdict::Tight);
    mark(&mut figure, &shown, matters.take(MOST_MARKS).collect())?;
    let plotted = figure.svg().map_err(|error| failed(&error))?;
    folder.write("curves.svg", plotted.as_bytes())?;
    let (droop, bump) = ends(sweep);
    let drawing = linkage(
        model,
        suspension,
        &[DrawnView::Front, DrawnView::Side],
        droop,
        bump,
    )?;
    let drawn = drawing.svg().map_err(|error| failed(&error))?;
    folder.write("linkage.svg", drawn.as_bytes())?;
    let parts = SheetParts {
        pictures: vec![drawn, plotted],
        tables: vec![("Through the travel".to_owned(), table.clone())],
        studies: Vec::new(),
    };
    let page = fit_page(model, suspension, strokes, &parts)?;
    folder.write("sheet.html", page.text.as_bytes())?;
    let moving = moving_page(model, suspension, droop, bump)?;
    folder.write("moving.html", moving.text.as_bytes())?;
    Ok(())
}

/// The fit sheet of what a model file alone asks: its stroke check.
fn fit_page(
    model: &Model,
    suspension: &Suspension,
    strokes: &[DamperStroke],
    parts: &SheetParts,
) -> Result<Document, ScriptError> {
    let sheet = FitSheet {
        title: model.title.clone(),
        axle: matches!(suspension, Suspension::Axle(_)),
        units: model.units,
        stroke: strokes.to_vec(),
        answers: Vec::new(),
    };
    let inputs = Inputs {
        model: model.clone(),
        questions: serde_json::Value::Object(serde_json::Map::new()),
        kinds: BTreeMap::new(),
        sources: BTreeMap::new(),
    };
    sheet_page(&sheet, &inputs, parts)
}

/// The travels that a sweep from ride height ends at (mm, both positive).
fn ends(sweep: &Sweep) -> (f64, f64) {
    let travels = sweep.places.iter().filter_map(|row| row.first().copied());
    let (least, greatest) = travels.fold((0.0_f64, 0.0_f64), |(least, greatest), travel| {
        (least.min(travel), greatest.max(travel))
    });
    (-least, greatest)
}

fn strokes(suspension: &Suspension, units: &Units) -> Result<Vec<DamperStroke>, ScriptError> {
    let question = StrokeQuestion::default();
    let checked = match suspension {
        Suspension::Corner(corner) if corner.pickups().any_damper().is_some() => {
            check_corner_stroke(corner, &question).map(|only| vec![only])
        }
        Suspension::Axle(axle) if axle.pickups().any_dampers().is_some() => {
            check_axle_stroke(axle, &question)
        }
        _ => Ok(Vec::new()),
    };
    checked.map_err(|error| core_error(&error, units))
}

/// What the model wants, and how far the linkage goes from ride height in droop and in bump (mm), where it ends.
fn wanted_and_room(
    suspension: &Suspension,
    units: &Units,
) -> Result<(Wanted, [Option<f64>; 2]), ScriptError> {
    let wanted = match suspension {
        Suspension::Corner(corner) => corner.pickups().wanted,
        Suspension::Axle(axle) => axle.pickups().wanted,
    };
    let reach = suspension.reach();
    let ride = suspension
        .ride_travel()
        .map_err(|error| core_error(&error, units))?;
    let room = [
        reach.lowest.map(|lowest| ride - lowest),
        reach.highest.map(|highest| highest - ride),
    ];
    Ok((wanted.unwrap_or_default(), room))
}

/// From full droop to bump-stop contact, and as far as is wanted, in round numbers of the model's unit, unless asked otherwise.
fn sweep(
    model: &Arc<Model>,
    suspension: &Arc<Suspension>,
    strokes: &[DamperStroke],
    options: &ModelOptions,
) -> Result<Sweep, ScriptError> {
    let unit = model.units.length.millimetres();
    let step = options.step.unwrap_or(if unit > 1.0 { 0.25 } else { 5.0 });
    if !(step.is_finite() && step > 0.0) {
        return Err(
            ScriptError::new(format!("a step of {step} makes no rows")).with_help("give a step above 0")
        );
    }
    let sensible = |travel: Option<f64>| travel.filter(|travel| (10.0..250.0).contains(travel));
    let stroke = strokes.first();
    let droop = sensible(stroke.and_then(|stroke| stroke.first_in_droop.1));
    let bump = sensible(stroke.and_then(|stroke| stroke.budget.bump_to_stop));
    let (wanted, room) = wanted_and_room(suspension, &model.units)?;
    // Out to the next round number, so that what is wanted is shown to its end, as far as the linkage goes.
    let ending = |stop: Option<f64>, wanted: Option<f64>, room: Option<f64>| {
        let steps = |travel: f64| travel / unit / step;
        let inner = stop.map(|stop| steps(stop).floor());
        let outer = wanted.map(|wanted| (steps(wanted) - 1e-9).ceil());
        let most = room.map_or(f64::INFINITY, |room| steps(room).floor());
        let end = match (inner, outer) {
            (Some(inner), Some(outer)) => inner.max(outer),
            (one, other) => one.or(other).unwrap_or_else(|| steps(USUAL_TRAVEL_MM).floor()),
        };
        end.min(most) * step
    };
    let from = options
        .from
        .unwrap_or_else(|| -ending(droop, wanted.droop, room[0]));
    let to = options.to.unwrap_or_else(|| ending(bump, wanted.bump, room[1]));
    let rows = ((to - from) / step + 1e-6).floor();
    if !(rows.is_finite() && (1.0..=100_000.0).contains(&rows)) {
        return Err(ScriptError::new(format!(
            "from {from} to {to} in steps of {step} is not a range of travel"
        )));
    }
    let travels = (0..=rows as usize)
        .map(|row| (from + step * row as f64) * unit)
        .collect();
    Sweep::new(
        Arc::clone(model),
        Arc::clone(suspension),
        &[(Variable::Bump, travels)],
    )
}

/// The usual curves of the layout that the model has the parts for.
fn usual_curves(sweep: &Sweep) -> Result<Vec<String>, ScriptError> {
    let usual: &[&str] = match *sweep.suspension {
        Suspension::Corner(_) => &CORNER_CURVES,
        Suspension::Axle(_) => &AXLE_CURVES,
    };
    let mut names = Vec::with_capacity(usual.len());
    for name in usual {
        if sweep.values(sweep.reading(name)?)?.iter().any(Option::is_some) {
            names.push((*name).to_owned());
        }
    }
    Ok(names)
}

fn written(table: &Table, form: TableForm) -> Result<String, ScriptError> {
    let failed = |error: TableError| ScriptError::new(error.to_string());
    match form {
        TableForm::Text => Ok(table.text()),
        TableForm::Csv => table.csv().map_err(failed),
        TableForm::Json => table.json().map_err(failed),
    }
}
