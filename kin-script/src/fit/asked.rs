//! A question in the user's unit, read into the core's.

use super::heard::Heard;
use crate::arguments;
use crate::host::ScriptError;
use crate::model::{Suspension, in_core_units};
use crate::units::Units;
use crate::vocabulary::core_error;
use kin_core::Error;
use kin_core::pickups::{AxleSides, Measured};
use rhai::{Array, Dynamic, Map};
use serde::de::DeserializeOwned;

/// What is asked about, and in which units.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// The suspension, in the core's units.
    pub suspension: &'a Suspension,
    /// The user's units.
    pub units: Units,
    /// Who is told what the numbers of the questions are.
    pub heard: Option<&'a Heard>,
}

impl<'a> Asked<'a> {
    /// Questions about a suspension, with nobody listening.
    #[must_use]
    pub const fn new(suspension: &'a Suspension, units: Units) -> Self {
        Self {
            suspension,
            units,
            heard: None,
        }
    }

    /// Tells what the numbers of a question are.
    fn tell<T: DeserializeOwned + Measured>(&self, value: &Dynamic, what: &str) {
        if let Some(heard) = self.heard
            && let Ok(question) = arguments::to_value(value.clone(), what)
        {
            heard.note::<T>(&question);
        }
    }

    /// A question in the core's units.
    ///
    /// # Errors
    /// Keys that are unknown or missing, and values of the wrong kind.
    pub fn read<T: DeserializeOwned + Measured + Clone>(
        &self,
        value: Dynamic,
        what: &str,
    ) -> Result<T, ScriptError> {
        self.tell::<T>(&value, what);
        let read: T = arguments::read(value, what)?;
        Ok(in_core_units(&read, &self.units))
    }

    /// One question, or a list of them.
    ///
    /// # Errors
    /// As for [`read`](Self::read).
    pub fn read_list<T: DeserializeOwned + Measured + Clone>(
        &self,
        value: Dynamic,
        what: &str,
    ) -> Result<Vec<T>, ScriptError> {
        match value.try_cast_result::<Array>() {
            Ok(list) => list.into_iter().map(|one| self.read(one, what)).collect(),
            Err(one) => Ok(vec![self.read(one, what)?]),
        }
    }

    /// A question for both sides of an axle: one map, or `left` and `right` apart.
    ///
    /// # Errors
    /// As for [`read`](Self::read).
    pub fn read_sides<T: DeserializeOwned + Measured + Clone>(
        &self,
        value: Dynamic,
        what: &str,
    ) -> Result<AxleSides<T>, ScriptError> {
        let apart = value
            .read_lock::<Map>()
            .is_some_and(|map| map.contains_key("left") || map.contains_key("right"));
        if !apart {
            return Ok(AxleSides {
                left: self.read(value, what)?,
                right: None,
            });
        }
        if let Some(map) = value.read_lock::<Map>() {
            map.values().for_each(|side| self.tell::<T>(side, what));
        }
        let sides: AxleSides<T> = arguments::read(value, what)?;
        let core = |side: &T| in_core_units(side, &self.units);
        Ok(AxleSides {
            left: core(&sides.left),
            right: sides.right.as_ref().map(core),
        })
    }
}

/// Takes a key out of a map that also holds something else.
pub(super) fn take(value: &mut Dynamic, key: &str) -> Option<Dynamic> {
    value.write_lock::<Map>().and_then(|mut map| map.remove(key))
}

/// Takes the question of another check out of a map; an empty one where it is absent, so that its own keys are asked for.
pub(super) fn take_question(value: &mut Dynamic, key: &str) -> Dynamic {
    take(value, key).unwrap_or_else(|| Dynamic::from_map(Map::new()))
}

/// A question with a list of parts under a key, from the list alone, one part alone, or a map with either.
pub(super) fn with_list(mut value: Dynamic, key: &str) -> Dynamic {
    let keys: Option<Vec<_>> = value
        .read_lock::<Map>()
        .map(|map| map.keys().map(ToString::to_string).collect());
    let mut question = Map::new();
    match keys {
        None if value.is_array() => {
            question.insert(key.into(), value);
        }
        None => return value,
        Some(keys) if keys.iter().any(|own| own == key) => {
            listed(&mut value, key);
            return value;
        }
        Some(keys) => {
            if let Some(range) = take(&mut value, "range") {
                question.insert("range".into(), range);
            }
            if keys.iter().any(|own| own != "range") {
                question.insert(key.into(), Dynamic::from_array(vec![value]));
            }
        }
    }
    Dynamic::from_map(question)
}

/// Makes a list of the one map that stands under a key.
pub(super) fn listed(value: &mut Dynamic, key: &str) {
    if let Some(mut map) = value.write_lock::<Map>()
        && let Some(one) = map.get_mut(key)
        && one.is_map()
    {
        let own = one.take();
        *one = Dynamic::from_array(vec![own]);
    }
}

/// A core error for scripts.
pub(super) fn refused(error: &Error, units: &Units) -> ScriptError {
    core_error(error, units)
}
