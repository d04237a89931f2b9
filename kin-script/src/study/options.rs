//! What a study may choose between: options, each with its alternatives.

use super::subject;
use crate::explain::value_words;
use crate::host::ScriptError;
use crate::model::Model;
use crate::table::Cell;
use crate::units::Measure;
use kin_core::Dimension;
use kin_core::pickups::Quantity;
use rhai::{Array, Dynamic, ImmutableString, Map};

/// Combinations that one study looks at at most.
const MOST_VARIANTS: usize = 100_000;

/// One option with its alternatives.
#[derive(Debug, Clone)]
pub struct Dimensioned {
    /// Its name: the keys that lead to what it changes, or what the user calls it.
    pub name: String,
    /// Its name for people.
    pub title: String,
    /// Its name in columns, with the unit.
    pub column: String,
    /// The unit of its numbers; empty where it leads to no number of the model.
    pub unit: String,
    /// What its numbers are, where it leads to a number of the model.
    pub dimension: Option<Dimension>,
    /// What there is to choose from.
    pub alternatives: Vec<Alternative>,
}

/// One of the things to choose from.
#[derive(Debug, Clone)]
pub struct Alternative {
    /// How it is called in tables.
    pub label: Cell,
    /// What the script gave, for a function of the script.
    pub value: Dynamic,
    /// What it changes: keys that lead to a place in the model, and what is put there.
    pub changes: Vec<(String, Dynamic)>,
}

/// All options of a study.
#[derive(Debug, Clone, Default)]
pub struct Options(pub Vec<Dimensioned>);

impl Options {
    /// Reads options: a map from names to lists, in the order of the names, or a list of maps with `name` and `of` in the
    /// order given.
    ///
    /// * `by_function`: whether a function of the script makes the variants, so that names need not lead into the model
    ///
    /// # Errors
    /// What is no list of alternatives, and more combinations than a study looks at.
    pub fn read(given: Dynamic, model: &Model, by_function: bool) -> Result<Self, ScriptError> {
        let named: Vec<Given> = match given.clone().try_cast::<Map>() {
            Some(map) => map
                .into_iter()
                .map(|(name, list)| (name.to_string(), list, String::new()))
                .collect(),
            None => ordered(given)?,
        };
        if named.is_empty() {
            return Err(ScriptError::new("there is nothing to choose from")
                .with_help("name what varies, such as options: #{ \"spring.rate\": [60, 70, 80] }"));
        }
        let mut options = Vec::with_capacity(named.len());
        for (name, list, unit) in named {
            options.push(Dimensioned {
                unit,
                ..option(name, list, by_function)?
            });
        }
        let mut options = Self(options);
        options.name_columns(model);
        let count = options.0.iter().try_fold(1_usize, |count, option| {
            count
                .checked_mul(option.alternatives.len())
                .filter(|count| *count <= MOST_VARIANTS)
        });
        match count {
            Some(_) => Ok(options),
            None => Err(
                ScriptError::new(format!("the options make more than {MOST_VARIANTS} combinations"))
                    .with_help("list fewer alternatives, or choose in two steps"),
            ),
        }
    }

    /// How many combinations there are.
    #[must_use]
    pub fn combinations(&self) -> usize {
        self.0.iter().map(|option| option.alternatives.len()).product()
    }

    /// The alternatives of a combination, by their places; the last option runs fastest.
    #[must_use]
    pub fn places(&self, combination: usize) -> Vec<usize> {
        let mut rest = combination;
        let mut places: Vec<usize> = self
            .0
            .iter()
            .rev()
            .map(|option| {
                let count = option.alternatives.len().max(1);
                let place = rest % count;
                rest /= count;
                place
            })
            .collect();
        places.reverse();
        places
    }

    /// The alternatives of a combination.
    pub fn chosen(&self, combination: usize) -> impl Iterator<Item = (&Dimensioned, &Alternative)> {
        let places = self.places(combination);
        self.0
            .iter()
            .zip(places)
            .filter_map(|(option, place)| Some((option, option.alternatives.get(place)?)))
    }

    /// A combination in words.
    #[must_use]
    pub fn words(&self, combination: usize) -> String {
        let parts = self
            .chosen(combination)
            .map(|(option, chosen)| match &chosen.label {
                Cell::Text(text) => text.clone(),
                Cell::Number(number) => {
                    let unit = if option.unit.is_empty() { "" } else { " " };
                    format!("{} {}{unit}{}", option.title, shown(*number), option.unit)
                }
                Cell::Empty => String::new(),
            });
        parts.collect::<Vec<_>>().join(", ")
    }

    /// Short column names where they stay apart, with the unit of what they lead to.
    fn name_columns(&mut self, model: &Model) {
        let numbers = subject(model).numbers();
        let short = |name: &str| {
            let keys: Vec<&str> = name.split('.').collect();
            let last = keys.len().saturating_sub(1);
            match keys.as_slice() {
                [.., "x" | "y" | "z"] => keys[last.saturating_sub(1)..].join("_"),
                _ => keys[last..].join("_"),
            }
        };
        let shorts: Vec<String> = self.0.iter().map(|option| short(&option.name)).collect();
        for (place, option) in self.0.iter_mut().enumerate() {
            let own = &shorts[place];
            let alone = shorts.iter().filter(|other| *other == own).count() == 1;
            let name = if alone {
                own.clone()
            } else {
                option.name.replace('.', "_")
            };
            option.dimension = numbers
                .iter()
                .find(|number| number.name == option.name)
                .map(|number| dimension(number.quantity));
            let measure = option.dimension.map(|dimension| Measure {
                dimension,
                per_travel: false,
            });
            option.title = name.replace('_', " ");
            let suffix = match measure {
                Some(measure) => {
                    option.unit = model.units.symbol(measure);
                    model.units.suffix(measure)
                }
                None if option.unit.is_empty() => String::new(),
                None => format!("_{}", option.unit.to_lowercase().replace([' ', '/'], "_")),
            };
            option.column = format!("{}{suffix}", name.replace(' ', "_"));
        }
    }
}

impl Dimensioned {
    /// Its numbers, where all alternatives are numbers.
    #[must_use]
    pub fn numbers(&self) -> Option<Vec<f64>> {
        let number = |alternative: &Alternative| match alternative.label {
            Cell::Number(number) => Some(number),
            _ => None,
        };
        self.alternatives.iter().map(number).collect()
    }
}

fn dimension(quantity: Quantity) -> Dimension {
    match quantity {
        Quantity::Length => Dimension::Length,
        Quantity::Rate => Dimension::Rate,
        Quantity::Force => Dimension::Force,
        Quantity::Mass => Dimension::Mass,
        Quantity::Torque | Quantity::TorsionalRate => Dimension::Torque,
        Quantity::Stress => Dimension::Stress,
        Quantity::Speed => Dimension::Speed,
        Quantity::Angle => Dimension::Angle,
    }
}

/// An option as given: its name, its alternatives, and the unit the user states for its numbers.
type Given = (String, Dynamic, String);

/// Options as a list, each a map with `name` and `of`, and `unit` where the name leads to no number of the model.
fn ordered(given: Dynamic) -> Result<Vec<Given>, ScriptError> {
    let wrong = |got: &Dynamic| {
        ScriptError::new(format!(
            "the options: expected a map of lists, or a list of maps with `name` and `of`, got {}",
            value_words(got)
        ))
    };
    let words = given.clone();
    let list = given.try_cast::<Array>().ok_or_else(|| wrong(&words))?;
    list.into_iter()
        .map(|one| {
            let words = one.clone();
            let mut map = one.try_cast::<Map>().ok_or_else(|| wrong(&words))?;
            let unit = map.remove("unit").map_or(String::new(), |unit| unit.to_string());
            match (map.remove("name"), map.remove("of"), map.keys().next()) {
                (Some(name), Some(of), None) => Ok((name.to_string(), of, unit)),
                (_, _, Some(unknown)) => Err(ScriptError::new(format!("an option has no key `{unknown}`"))
                    .with_help("it has `name`, `of` and `unit`")
                    .with_key(unknown.as_str())),
                _ => Err(wrong(&words)),
            }
        })
        .collect()
}

fn option(name: String, list: Dynamic, by_function: bool) -> Result<Dimensioned, ScriptError> {
    let words = value_words(&list);
    let Some(list) = list.try_cast::<Array>().filter(|list| !list.is_empty()) else {
        return Err(ScriptError::new(format!(
            "the option `{name}`: expected a list of alternatives, got {words}"
        ))
        .with_key(name));
    };
    let alternatives: Result<Vec<Alternative>, ScriptError> = list
        .into_iter()
        .map(|value| alternative(&name, value, by_function))
        .collect();
    Ok(Dimensioned {
        alternatives: alternatives?,
        title: String::new(),
        column: String::new(),
        unit: String::new(),
        dimension: None,
        name,
    })
}

/// A value for the place that the option's name leads to, or a map with `name` and `value`, or with `name` and `set`.
fn alternative(option: &str, given: Dynamic, by_function: bool) -> Result<Alternative, ScriptError> {
    let mut named = given.clone().try_cast::<Map>();
    let is_named = named.as_ref().is_some_and(|map| map.contains_key("name"));
    let Some(map) = named.as_mut().filter(|_| is_named) else {
        return Ok(Alternative {
            label: label(&given),
            changes: if by_function {
                Vec::new()
            } else {
                vec![(option.to_owned(), given.clone())]
            },
            value: given,
        });
    };
    if by_function {
        let name = map.get("name").map_or(String::new(), ToString::to_string);
        return Ok(Alternative {
            label: Cell::Text(name),
            value: given,
            changes: Vec::new(),
        });
    }
    let name = map.remove("name").map_or(String::new(), |name| name.to_string());
    let changes = match (map.remove("value"), map.remove("set")) {
        (Some(value), None) => vec![(option.to_owned(), value)],
        (None, Some(set)) => match set.clone().try_cast::<Map>() {
            Some(set) => set
                .into_iter()
                .map(|(key, value)| (key.to_string(), value))
                .collect(),
            None => {
                return Err(ScriptError::new(format!(
                    "{name}, `set`: expected a map of keys and values, got {}",
                    value_words(&set)
                ))
                .with_key("set"));
            }
        },
        _ => {
            return Err(ScriptError::new(format!(
                "{name}: a named alternative has `value` (for `{option}`) or `set` (a map of keys and values)"
            ))
            .with_key("name"));
        }
    };
    if let Some(unknown) = map.keys().next() {
        return Err(
            ScriptError::new(format!("{name}: a named alternative has no key `{unknown}`"))
                .with_help("it has `name`, and `value` or `set`")
                .with_key(unknown.as_str()),
        );
    }
    Ok(Alternative {
        label: Cell::Text(name),
        value: given,
        changes,
    })
}

/// How a value is called in a table.
fn label(value: &Dynamic) -> Cell {
    if let Ok(number) = value.as_float() {
        return Cell::from(Some(number));
    }
    if let Ok(whole) = value.as_int() {
        // Exact up to 2^53, far beyond any length in a workshop.
        return Cell::Number(whole as f64);
    }
    if let Some(list) = value.read_lock::<Array>() {
        let parts = list.iter().map(|part| match label(part) {
            Cell::Number(number) => shown(number),
            Cell::Text(text) => text,
            Cell::Empty => String::new(),
        });
        return Cell::Text(parts.collect::<Vec<_>>().join(" "));
    }
    match value.read_lock::<ImmutableString>() {
        Some(text) => Cell::Text(text.to_string()),
        None => Cell::Text(value_words(value)),
    }
}

/// A number with as many decimals as it needs, three at most.
#[must_use]
pub(super) fn shown(number: f64) -> String {
    let text = crate::table::fixed(number, 3);
    if text.contains('e') {
        return text;
    }
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Decimals that a column of given numbers needs, three at most.
pub(super) fn decimals_needed(numbers: &[f64]) -> usize {
    let needed = |number: &f64| shown(*number).split_once('.').map_or(0, |(_, after)| after.len());
    numbers.iter().map(needed).max().unwrap_or(0)
}
