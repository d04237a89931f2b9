//! What kind of number each number of a question is, found while the question is read: for the echo of what was asked.

use kin_core::pickups::{Measured, Quantity};
use serde::de::DeserializeOwned;
use serde_json::Value;
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;

/// Numbers of a question up to which each is looked at; a longer one is told without units.
const MOST_NUMBERS: usize = 200;

/// Kinds of numbers by their paths such as `bolts.torque`, the check first, places in lists left out. None where a list mixes kinds.
pub type Kinds = BTreeMap<String, Option<Quantity>>;

/// Listens to the questions of checks.
#[derive(Debug, Default)]
pub struct Heard {
    check: Cell<&'static str>,
    kinds: RefCell<Kinds>,
}

impl Heard {
    /// Whose question comes next.
    pub(super) fn begin(&self, check: &'static str) {
        self.check.set(check);
    }

    /// Notes what each number of a question is: a number that is changed changes the one of the same kind that is visited.
    pub(super) fn note<T: DeserializeOwned + Measured>(&self, question: &Value) {
        let mut paths = Vec::new();
        numbers_of("", question, &mut paths);
        let Some(before) = visited::<T>(question).filter(|_| paths.len() <= MOST_NUMBERS) else {
            return;
        };
        for path in paths {
            let mut changed = question.clone();
            let Some(number) = changed.pointer_mut(&path) else {
                continue;
            };
            // Not a round factor: numbers that are equal must not change into one another.
            let other = number.as_f64().unwrap_or_default() * 1.0078125 + 0.01171875;
            *number = other.into();
            let after = visited::<T>(&changed).unwrap_or_default();
            if after.len() != before.len() {
                continue;
            }
            let differs = before.iter().zip(&after).find(|(old, new)| old.0 != new.0);
            if let Some(((_, quantity), _)) = differs {
                let known = self.kinds.borrow().get(&self.named(&path)).copied();
                let agreed = known.is_none_or(|known| known == Some(*quantity));
                let kind = agreed.then_some(*quantity);
                self.kinds.borrow_mut().insert(self.named(&path), kind);
            }
        }
    }

    /// Everything that was heard.
    #[must_use]
    pub fn kinds(self) -> Kinds {
        self.kinds.into_inner()
    }

    fn named(&self, pointer: &str) -> String {
        unnumbered(&format!("{}{}", self.check.get(), pointer.replace('/', ".")))
    }
}

/// What the number at a path is; the path begins with the check, and is the one that the user wrote.
#[must_use]
pub fn kind_of(kinds: &Kinds, path: &str) -> Option<Quantity> {
    let path = unnumbered(path);
    if let Some(kind) = kinds.get(&path) {
        return *kind;
    }
    let (check, rest) = path.split_once('.')?;
    // A list may have been read part by part, or put under a key that the user may leave out.
    let alike = kinds.iter().filter(|(known, _)| {
        let own = known
            .strip_prefix(check)
            .and_then(|known| known.strip_prefix('.'));
        own.is_some_and(|own| ends_with(own, rest) || ends_with(rest, own))
    });
    alike
        .min_by_key(|(known, _)| known.len())
        .and_then(|(_, kind)| *kind)
}

fn ends_with(path: &str, end: &str) -> bool {
    path.strip_suffix(end)
        .is_some_and(|start| start.is_empty() || start.ends_with('.'))
}

/// A path without its places in lists.
fn unnumbered(path: &str) -> String {
    let steps = path.split('.').filter(|step| step.parse::<usize>().is_err());
    steps.collect::<Vec<_>>().join(".")
}

/// Every number that is visited, with its kind; none where the question cannot be read.
fn visited<T: DeserializeOwned + Measured>(question: &Value) -> Option<Vec<(f64, Quantity)>> {
    let mut read: T = serde_json::from_value(question.clone()).ok()?;
    let mut seen = Vec::new();
    read.visit(&mut |number, quantity| seen.push((*number, quantity)));
    Some(seen)
}

/// The paths of all numbers, as JSON pointers.
fn numbers_of(path: &str, value: &Value, paths: &mut Vec<String>) {
    match value {
        Value::Number(_) => paths.push(path.to_owned()),
        // A key with a slash is no key of a question.
        Value::Object(map) => map
            .iter()
            .for_each(|(key, value)| numbers_of(&format!("{path}/{key}"), value, paths)),
        Value::Array(list) => list
            .iter()
            .enumerate()
            .for_each(|(place, value)| numbers_of(&format!("{path}/{place}"), value, paths)),
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kin_core::checks::{BoltQuestion, JointsQuestion};
    use serde_json::json;

    #[test]
    fn each_number_is_known_by_the_path_that_the_user_wrote() {
        let heard = Heard::default();
        heard.begin("joints");
        heard.note::<JointsQuestion>(
            &json!({ "joints": [{ "at": "upper_arm.ball_joint", "limit": 20 }, { "at": "b", "limit": 20 }] }),
        );
        heard.begin("bolts");
        heard.note::<BoltQuestion>(
            &json!({ "name": "a", "size": "1/2-13", "grade": "grade 8", "shear": "double", "force": 6.35,
            "tab": { "thickness": 6.35 }, "torque": 6.35 }),
        );
        let kinds = heard.kinds();
        let kind = |path| kind_of(&kinds, path);
        assert_eq!(kind("joints.2.limit"), Some(Quantity::Angle));
        assert_eq!(kind("joints.limit"), Some(Quantity::Angle));
        // Equal numbers of different kinds are told apart.
        assert_eq!(kind("bolts.force"), Some(Quantity::Force));
        assert_eq!(kind("bolts.torque"), Some(Quantity::Torque));
        assert_eq!(kind("bolts.1.tab.thickness"), Some(Quantity::Length));
        assert_eq!(kind("bolts.size"), None);
        assert_eq!(kind("joints.torque"), None);
    }
}
