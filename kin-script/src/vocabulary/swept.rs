//! Words for moving a model: sweeps, positions, columns and tables.

use super::described::ScriptModel;
use super::gauge::{Asked, Gauge};
use crate::explain::suggest;
use crate::host::{ScriptError, Session, Word, finite};
use crate::sweep::{Sweep, Values, Variable};
use crate::table::{Cell, Table};
use kin_core::Dimension;
use rhai::{Array, Dynamic, Engine, EvalAltResult, ImmutableString, Map};
use std::sync::Arc;

pub(super) const NAMES: &[&str] = &[
    "steps",
    "sweep",
    "at",
    "column",
    "table",
    "least",
    "greatest",
    "curve_names",
];

/// Keys of a sweep, for suggestions.
pub(super) const KEYS: &[&str] = &["travel", "bump", "rack", "roll", "travel_left", "travel_right"];

/// Positions that one sweep visits at most.
const MOST_POSITIONS: usize = 100_000;

/// In a grid the last of these runs fastest and is the one that curves are plotted against.
const VARIABLES: [Variable; 6] = [
    Variable::Rack,
    Variable::Roll,
    Variable::TravelRight,
    Variable::TravelLeft,
    Variable::Bump,
    Variable::Travel,
];

type Answer<T> = Result<T, Box<EvalAltResult>>;

/// A sweep in a script.
#[derive(Clone)]
pub(super) struct ScriptSweep(pub(super) Arc<Sweep>);

/// A table in a script.
#[derive(Clone)]
pub(super) struct ScriptTable(pub(super) Arc<Table>);

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, session: &Session) {
    types(engine);
    Word {
        name: "steps",
        parameters: &["from: number", "to: number", "step: number", "list"],
        documentation: "Numbers from `from` to `to`, both included, `step` apart; the last step may be shorter.",
    }
    .register(engine, steps);
    let sweeping = session.clone();
    Word {
        name: "sweep",
        parameters: &["model: model", "along: map", "sweep"],
        documentation: "Moves a model. A list varies a thing, a number holds it; two lists make a grid.\n\n\
            A corner: `travel` (from the pickups as measured) or `bump` (from ride height, droop negative), and `rack`. \
            An axle: `travel` or `bump` of both wheels and `roll` (deg), or `travel_left` and `travel_right`. \
            Lengths are in the model's unit.\n\n\
            `travel` 0 is the position the points were measured in, where `camber` and `toe` are those given; `bump` 0 is \
            ride height, as in the stroke check. Without `ride_height` in the model they are the same.",
    }
    .register(engine, move |model: &mut ScriptModel, along: Map| -> Answer<ScriptSweep> {
        remark_if_from_ride_height(model, &along, &sweeping);
        Ok(swept(model, &along)?)
    });
    let placing = session.clone();
    Word {
        name: "at",
        parameters: &["model: model", "where: map/number", "position"],
        documentation: "The model at one position, solved exactly; its curves are read by name: \
            `corner.at(#{ bump: 25 }).camber`, `axle.at(#{ roll: 2 }).axle_steer`.\n\n\
            `at(#{ bump: 25 })` is 25 of bump from ride height, as the stroke check counts. A plain number, as in `at(25)`, \
            is `travel`: it counts from the pickups as measured. The two differ where the model gives a `ride_height`, such as \
            on a car that was measured hanging. The keys are those of `sweep`.\n\n\
            Places are read as points: of a corner `upper_ball_joint`, `lower_ball_joint`, `tie_rod_inner`, `tie_rod_outer`, \
            `wheel_centre`, `contact_point`, `damper_lower_mount`; of an axle `wheel_centre_left`, `contact_point_left`, \
            `damper_lower_mount_left`, the same with `_right`, and `pinion_point`. Also `travel` and `rack`, or `travel_left` \
            and `travel_right`; `link_stretch` of an axle, by link; and `wheel_rate_from_spring` and `wheel_rate_geometric`, \
            the two parts of a wheel rate (of an axle with its side, such as `wheel_rate_left_from_spring`).",
    }
    .register(engine, move |model: &mut ScriptModel, place: Dynamic| -> Answer<Gauge> {
        if let Some(map) = place.read_lock::<Map>() {
            remark_if_from_ride_height(model, &map, &placing);
        }
        Ok(position(model, &place)?)
    });
    Word {
        name: "column",
        parameters: &["sweep: sweep", "name: text", "list"],
        documentation: "The values of a curve along a sweep, in the model's units; `()` where it has none.\n\n\
            The names are those of `curve_names(model)`; a rate has a name such as `camber_gain` or `toe_rate`.\n\n\
            Of a table, the cells under a heading: `answer.items[0].tables[0].column(\"gap_mm\")`.",
    }
    .register(engine, |sweep: &mut ScriptSweep, name: &str| -> Answer<Array> { Ok(column(&sweep.0, name)?) });
    Word {
        name: "table",
        parameters: &["sweep: sweep", "names: list", "table"],
        documentation: "A table of the named curves along a sweep; `print` shows it, `save` writes it as CSV, JSON or text.\n\n\
            With a list of column names and a list of rows, each a list of numbers and texts, it is a table of one's own: \
            `table([\"hole\", \"bump_mm\"], [[\"inner\", 52.7], [\"outer\", 61.0]])`.",
    }
    .register(engine, |sweep: &mut ScriptSweep, names: Array| -> Answer<ScriptTable> {
        Ok(ScriptTable(Arc::new(sweep.0.table(&texts(names, "the list of curves")?)?)))
    });
    engine.register_fn("column", |table: &mut ScriptTable, name: &str| -> Answer<Array> {
        Ok(table_column(&table.0, name)?)
    });
    engine.register_fn("table", |names: Array, rows: Array| -> Answer<ScriptTable> {
        Ok(ScriptTable(Arc::new(super::rows::table(
            texts(names, "the column names")?,
            rows,
        )?)))
    });
    for (name, documentation, pick) in [
        (
            "least",
            "The least number in a list.",
            f64::min as fn(f64, f64) -> f64,
        ),
        ("greatest", "The greatest number in a list.", f64::max),
    ] {
        Word {
            name,
            parameters: &["numbers: list", "number"],
            documentation,
        }
        .register(engine, move |numbers: Array| -> Answer<f64> {
            Ok(extreme(&numbers, pick)?)
        });
    }
    Word {
        name: "curve_names",
        parameters: &["model: model", "list"],
        documentation: "The names of all curves and rates that can be read from a model.",
    }
    .register(engine, |model: &mut ScriptModel| -> Array {
        let names = match model.model.layout() {
            "live_axle" => crate::readings::Reading::axle_names(),
            _ => crate::readings::Reading::corner_names(),
        };
        names.into_iter().map(Dynamic::from).collect()
    });
}

/// A travel counted from a ride height that a change in the script has moved is remarked on.
fn remark_if_from_ride_height(model: &ScriptModel, along: &Map, session: &Session) {
    if along.contains_key(Variable::Bump.key()) {
        model.remark_moved_ride(session);
    }
}

fn types(engine: &mut Engine) {
    engine
        .register_type_with_name::<ScriptSweep>("sweep")
        .register_fn("to_string", |sweep: &mut ScriptSweep| {
            format!(
                "sweep of {} with {} positions",
                sweep.0.model.title,
                sweep.0.places.len()
            )
        })
        .register_type_with_name::<ScriptTable>("table")
        .register_fn("to_string", |table: &mut ScriptTable| table.0.text())
        .register_type_with_name::<Gauge>("position")
        .register_indexer_get(|position: &mut Gauge, name: &str| position.get(name));
}

fn steps(from: Dynamic, to: Dynamic, step: Dynamic) -> Answer<Array> {
    let (from, to) = (finite(&from, "`from`")?, finite(&to, "`to`")?);
    let step = finite(&step, "`step`")?.abs();
    let count = (to - from).abs() / step;
    if step == 0.0 {
        return Err(ScriptError::new("a step of 0 leads nowhere")
            .with_help("the third number is the distance between two numbers, such as steps(-50, 65, 5)")
            .into());
    }
    if count > MOST_POSITIONS as f64 {
        return Err(
            ScriptError::new(format!("steps of {step} from {from} to {to} are too many"))
                .with_help(format!("a list has at most {MOST_POSITIONS} steps"))
                .into(),
        );
    }
    let direction = (to - from).signum() * step;
    // A last step shorter than a millionth of a step is round-off of the division, not a step.
    let whole = (count + 1e-6).floor() as usize;
    let mut values: Array = (0..=whole)
        .map(|place| Dynamic::from(from + direction * place as f64))
        .collect();
    if count - whole as f64 > 1e-6 {
        values.push(to.into());
    } else if let Some(last) = values.last_mut().filter(|_| whole > 0) {
        *last = to.into();
    }
    Ok(values)
}

/// A number in the reader's unit, in core units.
fn in_core(model: &ScriptModel, variable: Variable, value: &Dynamic) -> Result<f64, ScriptError> {
    let number =
        finite(value, &format!("`{}`", variable.key())).map_err(|error| error.with_key(variable.key()))?;
    let units = &model.model.units;
    Ok(match variable.measure().dimension {
        Dimension::Angle => number.to_radians(),
        dimension => number * units.core_units(dimension),
    })
}

fn values(model: &ScriptModel, along: &Map) -> Result<Vec<Values>, ScriptError> {
    for key in along.keys() {
        if !KEYS.contains(&key.as_str()) {
            let error =
                ScriptError::new(format!("a model is not moved along `{key}`")).with_key(key.as_str());
            return Err(match crate::explain::suggest(key, KEYS.iter().copied()) {
                Some(nearest) => error.with_help(format!("did you mean `{nearest}`?")),
                None => error.with_help(format!("it is moved along {}", KEYS.join(", "))),
            });
        }
    }
    let mut asked = Vec::new();
    let mut positions: usize = 1;
    for variable in VARIABLES {
        let Some(value) = along.get(variable.key()) else {
            continue;
        };
        let list = match value.clone().into_array() {
            Ok(list) => list
                .iter()
                .map(|value| in_core(model, variable, value))
                .collect::<Result<Vec<_>, _>>()?,
            Err(_) => vec![in_core(model, variable, value)?],
        };
        positions = positions.saturating_mul(list.len());
        asked.push((variable, list));
    }
    if positions > MOST_POSITIONS {
        return Err(ScriptError::new(format!(
            "{positions} positions are asked in one sweep; at most {MOST_POSITIONS}"
        ))
        .with_help("take longer steps"));
    }
    Ok(asked)
}

fn swept(model: &ScriptModel, along: &Map) -> Result<ScriptSweep, ScriptError> {
    let asked = values(model, along)?;
    // A key that does not go with the model is said first: one number hides no mistake in its name.
    crate::sweep::goes_together(
        &*model.suspension()?,
        along.keys().filter_map(|key| variable_of(key)),
    )?;
    if asked.iter().all(|(_, values)| values.len() == 1) {
        return Err(ScriptError::new("the sweep varies nothing")
            .with_help("give a list, such as `travel: steps(-50, 75, 5)`; for one position use `at`"));
    }
    Ok(ScriptSweep(Arc::new(Sweep::new(
        Arc::clone(&model.model),
        model.suspension()?,
        &asked,
    )?)))
}

fn position(model: &ScriptModel, place: &Dynamic) -> Result<Gauge, ScriptError> {
    let Some(map) = place.read_lock::<Map>() else {
        let travel = Some(in_core(model, Variable::Travel, place)?);
        return Gauge::new(
            model,
            &Asked {
                travel,
                ..Asked::default()
            },
        );
    };
    let mut asked = Asked::default();
    for (variable, list) in values(model, &map)? {
        let [value] = list.as_slice() else {
            return Err(ScriptError::new(format!(
                "`{}` holds a list: one position needs one number",
                variable.key()
            ))
            .with_key(variable.key()));
        };
        let slot = match variable {
            Variable::Travel => &mut asked.travel,
            Variable::Bump => &mut asked.bump,
            Variable::Rack => &mut asked.rack,
            Variable::Roll => &mut asked.roll,
            Variable::TravelLeft => &mut asked.travel_left,
            Variable::TravelRight => &mut asked.travel_right,
        };
        *slot = Some(*value);
    }
    crate::sweep::goes_together(
        &*model.suspension()?,
        map.keys().filter_map(|key| variable_of(key)),
    )?;
    Gauge::new(model, &asked)
}

fn variable_of(key: &str) -> Option<Variable> {
    VARIABLES.into_iter().find(|variable| variable.key() == key)
}

/// A column of a table by its heading.
fn table_column(table: &Table, name: &str) -> Result<Array, ScriptError> {
    let headings = || table.columns.iter().map(|column| column.name.as_str());
    let Some(column) = table.columns.iter().find(|column| column.name == name) else {
        let error = ScriptError::new(format!("this table has no column `{name}`")).with_key(name);
        return Err(match suggest(name, headings()) {
            Some(nearest) => error.with_help(format!("did you mean `{nearest}`?")),
            None => error.with_help(format!("it has {}", headings().collect::<Vec<_>>().join(", "))),
        });
    };
    let cells = column.cells.iter().map(|cell| match cell {
        Cell::Number(number) => Dynamic::from_float(*number),
        Cell::Text(text) => text.clone().into(),
        Cell::Empty => Dynamic::UNIT,
    });
    Ok(cells.collect())
}

fn column(sweep: &Sweep, name: &str) -> Result<Array, ScriptError> {
    if let Some(place) = sweep.varied.iter().position(|variable| variable.key() == name) {
        return Ok(sweep
            .variable_values(place)
            .into_iter()
            .map(Dynamic::from)
            .collect());
    }
    let values = sweep.values(sweep.reading(name)?)?;
    Ok(values
        .into_iter()
        .map(|value| value.map_or(Dynamic::UNIT, Dynamic::from))
        .collect())
}

/// Texts of a list; a single text is a list of one.
pub(super) fn texts(list: Array, what: &str) -> Result<Vec<String>, ScriptError> {
    let read = |value: Dynamic| {
        value
            .clone()
            .try_cast::<ImmutableString>()
            .map(|text| text.to_string())
            .ok_or_else(|| {
                ScriptError::new(format!(
                    "{what}: expected a text, got {}",
                    crate::explain::value_words(&value)
                ))
            })
    };
    list.into_iter().map(read).collect()
}

fn extreme(numbers: &Array, pick: fn(f64, f64) -> f64) -> Result<f64, ScriptError> {
    let mut found: Option<f64> = None;
    for value in numbers {
        let number = finite(value, "each item of the list")?;
        found = Some(found.map_or(number, |known| pick(known, number)));
    }
    found.ok_or_else(|| ScriptError::new("the list is empty"))
}
