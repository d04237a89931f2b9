//! What may move, as a script says it.

use super::asked::{AskedSearch, MoveWords, as_map};
use crate::arguments;
use crate::explain::value_words;
use crate::host::ScriptError;
use crate::study::changes::{changes_to, core_factor, places, symbol_of};
use crate::units::Units;
use kin_core::study::Subject;
use kin_core::study::search::{Hole, Holes, Move};
use rhai::{Array, Dynamic, Map};
use serde::Deserialize;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MoveKeys {
    name: Option<String>,
    number: Option<Names>,
    point: Option<Names>,
    along: Option<[f64; 3]>,
    by: [f64; 2],
    step: Option<f64>,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum Names {
    One(String),
    Several(Vec<String>),
}

impl AskedSearch {
    pub(super) fn read_move(
        &mut self,
        value: Dynamic,
        subject: &Subject,
        units: &Units,
    ) -> Result<(), ScriptError> {
        let mut map = as_map(value, "a move")?;
        if let Some(holes) = map.remove("holes") {
            let list = read_holes(&map, &holes, subject, units)?;
            self.question.holes.push(list);
            return Ok(());
        }
        let keys: MoveKeys = arguments::read(Dynamic::from_map(map), "a move")?;
        let (names, along) = match (keys.number, keys.point, keys.along) {
            (Some(number), None, None) => (number.list(), None),
            (None, Some(point), Some(along)) => (point.list(), Some(unit_vector(along)?)),
            _ => {
                return Err(ScriptError::new(
                    "a move: give `number`, or `point` with `along`, or `point` with `holes`",
                )
                .with_help(
                    "such as #{ number: \"tie_rod.outer.z\", by: [-12, 0] } or #{ point: \"coilover.upper_mount\", along: [0, 0, 1], by: [-20, 20] }",
                ));
            }
        };
        let mut rates = Vec::new();
        let mut quantity = None;
        let mut stands_at = None;
        for name in &names {
            let found = places(subject, name)?;
            let wanted = if along.is_some() { 3 } else { 1 };
            if found.len() != wanted {
                let kind = if wanted == 3 { "a point" } else { "one number" };
                return Err(ScriptError::new(format!("a move: `{name}` is not {kind}")).with_key(name));
            }
            for (axis, (place, number)) in found.into_iter().enumerate() {
                let known = *quantity.get_or_insert(number.quantity);
                if known != number.quantity {
                    return Err(ScriptError::new("a move: tied numbers must be of one kind").with_key(name));
                }
                let rate = along
                    .and_then(|along: [f64; 3]| along.get(axis).copied())
                    .unwrap_or(1.0);
                if names.len() == 1 && along.is_none() {
                    stands_at = Some(number.value / core_factor(known, units));
                }
                rates.push((place, rate));
            }
        }
        let Some(quantity) = quantity else {
            return Err(ScriptError::new("a move: the list of names is empty"));
        };
        let factor = core_factor(quantity, units);
        self.question.moves.push(Move {
            name: keys.name.unwrap_or_else(|| names.join(" and ")),
            along: rates,
            range: (keys.by[0] * factor, keys.by[1] * factor),
            step: keys.step.map(|step| step * factor),
        });
        self.moves.push(MoveWords {
            factor,
            symbol: symbol_of(quantity, units),
            stands_at,
        });
        Ok(())
    }
}

impl Names {
    fn list(self) -> Vec<String> {
        match self {
            Self::One(name) => vec![name],
            Self::Several(names) => names,
        }
    }
}

fn read_holes(map: &Map, holes: &Dynamic, subject: &Subject, units: &Units) -> Result<Holes, ScriptError> {
    #[derive(Deserialize)]
    #[serde(deny_unknown_fields)]
    struct HoleKeys {
        name: Option<String>,
        point: String,
    }
    let keys: HoleKeys = arguments::read(Dynamic::from_map(map.clone()), "a move among holes")?;
    let named: Vec<(String, Dynamic)> = if let Some(list) = holes.clone().try_cast::<Array>() {
        let places = list.into_iter().enumerate();
        places
            .map(|(place, hole)| (format!("hole {}", place + 1), hole))
            .collect()
    } else if let Some(map) = holes.clone().try_cast::<Map>() {
        map.into_iter()
            .map(|(name, hole)| (name.to_string(), hole))
            .collect()
    } else {
        return Err(ScriptError::new(format!(
            "a move, `holes`: expected a list or a map of points, got {}",
            value_words(holes)
        ))
        .with_key("holes"));
    };
    let made = named.into_iter().map(|(name, hole)| {
        let changes = changes_to(subject, units, &keys.point, &hole)?;
        Ok(Hole { name, changes })
    });
    Ok(Holes {
        name: keys.name.unwrap_or_else(|| keys.point.clone()),
        holes: made.collect::<Result<Vec<Hole>, ScriptError>>()?,
    })
}

fn unit_vector(along: [f64; 3]) -> Result<[f64; 3], ScriptError> {
    let length = along.iter().map(|part| part * part).sum::<f64>().sqrt();
    if length > 0.0 && length.is_finite() {
        Ok(along.map(|part| part / length))
    } else {
        Err(ScriptError::new("a move, `along`: the direction has no length").with_key("along"))
    }
}
