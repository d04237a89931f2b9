//! One row of a notebook.

use super::number::{angle, length, place};
use crate::explain::suggest;
use crate::host::ScriptError;
use crate::units::LengthUnit;
use kin_core::pickups::{Point, Side};
use kin_core::survey::{Axis, FixedCoordinate, Kind, Observed, Reading, Survey};

/// The cells of a row.
#[derive(Debug, Clone)]
pub(super) struct Cells {
    pub(super) kind: String,
    pub(super) point: String,
    pub(super) to: String,
    pub(super) reading: String,
    pub(super) deviation: String,
    pub(super) offset: String,
}

impl Cells {
    /// Whether it is a reading whose number was not filled in.
    pub(super) fn is_unread(&self) -> bool {
        let reads = ["tape", "height", "offset", "station", "angle"];
        self.reading.is_empty() && reads.contains(&self.kind.as_str())
    }
}

/// Kinds of rows beside readings.
const OTHERS: [&str; 7] = [
    "fixed_height",
    "fixed_offset",
    "fixed_station",
    "sketch",
    "side",
    "deviation",
    "unit",
];

/// Takes a row into a survey: what it states, and the readings it holds.
pub(super) fn take(
    survey: &mut Survey,
    cells: &Cells,
    unit: LengthUnit,
    label: &str,
) -> Result<Vec<Reading>, ScriptError> {
    let fixed = |axis: Axis| -> Result<FixedCoordinate, ScriptError> {
        Ok(FixedCoordinate {
            point: named(&cells.point, "point")?,
            axis,
            value: length(&cells.reading, unit)?,
            label: label.to_owned(),
        })
    };
    match cells.kind.as_str() {
        "unit" => {}
        "fixed_station" => survey.fixed.push(fixed(Axis::X)?),
        "fixed_offset" => survey.fixed.push(fixed(Axis::Y)?),
        "fixed_height" => survey.fixed.push(fixed(Axis::Z)?),
        "sketch" => {
            let [x, y, z] = place(&cells.reading, unit)?;
            survey
                .sketch
                .insert(named(&cells.point, "point")?, Point::new(x, y, z));
        }
        "side" => {
            let side = match cells.reading.to_ascii_lowercase().as_str() {
                "left" => Side::Left,
                "right" => Side::Right,
                other => {
                    return Err(ScriptError::new(format!(
                        "the side {other:?} is neither left nor right"
                    )));
                }
            };
            survey.sides.insert(named(&cells.point, "point")?, side);
        }
        "deviation" => {
            let kind = kind(&cells.point)?;
            survey.deviations.set(kind, number(kind, &cells.reading, unit)?);
        }
        other => return readings(survey, kind(other)?, cells, unit),
    }
    Ok(Vec::new())
}

fn readings(
    survey: &Survey,
    kind: Kind,
    cells: &Cells,
    unit: LengthUnit,
) -> Result<Vec<Reading>, ScriptError> {
    let point = named(&cells.point, "point")?;
    let standard_deviation = match cells.deviation.as_str() {
        "" => None,
        text => Some(number(kind, text, unit).map_err(|error| of(error, "deviation"))?),
    };
    let offset = match cells.offset.as_str() {
        "" => 0.0,
        text => length(text, unit).map_err(|error| of(error, "offset"))?,
    };
    let unread = matches!(kind, Kind::Same | Kind::Rigid);
    if unread && !cells.reading.is_empty() {
        return Err(ScriptError::new(format!(
            "a row of kind {} has no reading: it says that two things are alike",
            kind.word()
        )));
    }
    let value = || number(kind, &cells.reading, unit).map_err(|error| of(error, "reading"));
    let observed = match kind {
        Kind::Tape => vec![Observed::Distance {
            from: point,
            to: named(&cells.to, "to")?,
        }],
        Kind::Angle => vec![Observed::Angle {
            from: point,
            to: named(&cells.to, "to")?,
        }],
        Kind::Height | Kind::Offset | Kind::Station => vec![Observed::Coordinate {
            of: point,
            axis: match kind {
                Kind::Height => Axis::Z,
                Kind::Offset => Axis::Y,
                _ => Axis::X,
            },
            from: (!cells.to.is_empty()).then(|| cells.to.clone()),
        }],
        Kind::Same => {
            let right = named(&cells.to, "to")?;
            let one = |axis| Observed::Mirror {
                left: point.clone(),
                right: right.clone(),
                axis,
            };
            Axis::ALL.map(one).to_vec()
        }
        Kind::Rigid => rigid(survey, &point, &named(&cells.to, "to")?)?,
    };
    let value = if unread { 0.0 } else { value()? };
    let reading = |observed| Reading {
        offset,
        standard_deviation,
        ..Reading::new(observed, value)
    };
    Ok(observed.into_iter().map(reading).collect())
}

/// The same length at every travel: a point measured at another travel has a name with that travel behind an `@`.
fn rigid(survey: &Survey, from: &str, to: &str) -> Result<Vec<Observed>, ScriptError> {
    let points = survey.points();
    let mut states: Vec<&str> = points
        .iter()
        .filter_map(|name| name.split_once('@'))
        .filter(|(base, _)| *base == from || *base == to)
        .map(|(_, state)| state)
        .collect();
    states.dedup();
    let at = |base: &str, state: &str| {
        let moved = format!("{base}@{state}");
        if points.contains(&moved) {
            moved
        } else {
            base.to_owned()
        }
    };
    let mut same: Vec<Observed> = Vec::new();
    for state in states {
        let observed = Observed::Rigid {
            first: [from.to_owned(), to.to_owned()],
            second: [at(from, state), at(to, state)],
        };
        if !same.contains(&observed) {
            same.push(observed);
        }
    }
    if same.is_empty() {
        return Err(ScriptError::new(format!(
            "{from} and {to} were measured at one travel only: a rigid length says nothing there"
        ))
        .with_help(
            "points measured at another travel have its name behind an @, such as lower_arm.ball_joint@hanging",
        ));
    }
    Ok(same)
}

/// A length, or an angle where the kind is one (mm or rad).
fn number(kind: Kind, text: &str, unit: LengthUnit) -> Result<f64, ScriptError> {
    if kind == Kind::Angle {
        angle(text)
    } else {
        length(text, unit)
    }
}

fn of(error: ScriptError, column: &str) -> ScriptError {
    ScriptError {
        what: format!("the {column} {}", error.what),
        ..error
    }
}

fn named(name: &str, column: &str) -> Result<String, ScriptError> {
    if name.is_empty() {
        return Err(ScriptError::new(format!("the column `{column}` is empty"))
            .with_help("name the point that was measured"));
    }
    Ok(name.to_owned())
}

fn kind(word: &str) -> Result<Kind, ScriptError> {
    if let Some(kind) = Kind::ALL.into_iter().find(|kind| kind.word() == word) {
        return Ok(kind);
    }
    let known: Vec<&str> = Kind::ALL.iter().map(|kind| kind.word()).chain(OTHERS).collect();
    let error = if word.is_empty() {
        ScriptError::new("the row does not say its kind")
    } else {
        ScriptError::new(format!("there is no kind {word:?}"))
    };
    Err(match suggest(word, known.iter().copied()) {
        Some(nearest) => error.with_help(format!("did you mean {nearest:?}?")),
        None => error.with_help(format!("the kinds are {}", known.join(", "))),
    })
}
