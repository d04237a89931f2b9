//! Words for studies, and what a study's answer can be asked.

use super::core_error;
use super::described::ScriptModel;
use super::fit::{item_map, not_there};
use super::swept::ScriptTable;
use crate::host::{ScriptError, Session, Word};
use crate::study::{AskedOutcome, Source, StudyAnswer, study_text};
use rhai::{Array, Dynamic, Engine, EvalAltResult, FnPtr, Map};
use std::sync::Arc;

pub(super) const NAMES: &[&str] = &["outcome"];

type Answer<T> = Result<T, Box<EvalAltResult>>;

/// A study's answer in a script.
#[derive(Clone)]
pub(super) struct ScriptStudy(pub(super) Arc<StudyAnswer>);

impl ScriptStudy {
    /// An answer with what was asked.
    pub(super) fn new(asked: serde_json::Value, answer: StudyAnswer) -> Self {
        Self(Arc::new(StudyAnswer { asked, ..answer }))
    }
}

/// What a script holds as plain values; models by their titles, tables as their rows, functions by a word, and null for what has
/// no value.
pub(super) fn plain_value(value: &Dynamic) -> serde_json::Value {
    if let Some(map) = value.read_lock::<Map>() {
        let inner = map
            .iter()
            .map(|(key, value)| (key.to_string(), plain_value(value)));
        return serde_json::Value::Object(inner.collect());
    }
    if let Some(list) = value.read_lock::<Array>() {
        return list.iter().map(plain_value).collect();
    }
    if let Some(model) = value.read_lock::<ScriptModel>() {
        return model.model.title.as_str().into();
    }
    if let Some(table) = value.read_lock::<ScriptTable>() {
        return table.0.rows_as_json();
    }
    if value.is::<FnPtr>() {
        return "a function of the script".into();
    }
    match (value.as_int(), value.as_float(), value.as_bool()) {
        (Ok(whole), ..) => whole.into(),
        (_, Ok(number), _) => number.into(),
        (_, _, Ok(truth)) => truth.into(),
        _ => value
            .as_immutable_string_ref()
            .map_or(serde_json::Value::Null, |text| text.as_str().into()),
    }
}

/// The same of a map.
pub(super) fn plain_map(question: &Map) -> serde_json::Value {
    let inner = question
        .iter()
        .map(|(key, value)| (key.to_string(), plain_value(value)));
    serde_json::Value::Object(inner.collect())
}

/// How an outcome is asked.
const OUTCOME: &str = "One number of a model, as studies ask for it, in the model's units.\n\n\
    `corner.outcome(#{ curve: \"toe\", from: -50, to: 50 })` is the greatest minus the least toe from 50 of droop to 50 of bump, \
    turning points between included.\n\n\
    An outcome is one number read from a variant: the name of a curve (`\"camber\"`, at ride height; \
    rates such as `\"camber_gain\"` as well) or of a number of the stroke check (`\"bump_to_stop\"`, `\"bump_to_metal\"`, \
    `\"droop_to_top_out\"`, `\"length_at_ride\"`), or a map. Keys: `curve` with `at` (bump from ride height, or a map with \
    `bump`, `rack` or `roll`), or with `from` and `to` (bump) and `take` (\"spread\": greatest minus least; \"change\", \"least\", \
    \"greatest\"); or `stroke` with `side`; or `gap` (a question of `check_clearance`); or `function` (a function of the script \
    that takes a model and gives a number). And `name`, `at_least`, `at_most`, `target`, `weight` where a study uses them.";

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, _session: &Session) {
    engine
        .register_type_with_name::<ScriptStudy>("study")
        .register_fn("to_string", |study: &mut ScriptStudy| study_text(&study.0))
        .register_indexer_get(|study: &mut ScriptStudy, name: &str| study.get(name));
    engine.register_fn("table", |study: &mut ScriptStudy, name: &str| study.table(name));
    Word {
        name: "outcome",
        parameters: &["model: model", "what: text/map", "number"],
        documentation: OUTCOME,
    }
    .register(engine, |model: &mut ScriptModel, what: Dynamic| {
        outcome(model, what)
    });
}

fn outcome(model: &ScriptModel, what: Dynamic) -> Answer<f64> {
    let units = model.model.units;
    let axle = model.model.layout() == "live_axle";
    let asked = AskedOutcome::read(what, axle, &units)?;
    let Source::Core(outcome) = &asked.source else {
        return Err(ScriptError::new("a function is asked of a model by calling it").into());
    };
    let built = crate::study::subject(&model.model)
        .build()
        .map_err(|error| core_error(&error, &units))?;
    let value = outcome
        .value(&built)
        .map_err(|error| core_error(&error, &units))?;
    Ok(units.from_core(value, asked.measure))
}

impl ScriptStudy {
    fn get(&mut self, name: &str) -> Answer<Dynamic> {
        let study = &self.0;
        match name {
            "title" => return Ok(study.title.clone().into()),
            "statements" => {
                let stopped = study
                    .stopped
                    .iter()
                    .map(|stopped| format!("STOPPED: {stopped}").into());
                let statements = study.statements.iter().map(|statement| statement.clone().into());
                let statements = stopped.chain(statements);
                return Ok(statements.collect::<Array>().into());
            }
            "stopped" => return Ok(study.stopped.is_some().into()),
            "items" => {
                let items = study.items.iter();
                let maps = items.map(|item| Dynamic::from_map(item_map(item, &study.units)));
                return Ok(maps.collect::<Array>().into());
            }
            _ => {}
        }
        if let Some(item) = study.items.iter().find(|item| item.name == name) {
            return Ok(Dynamic::from_map(item_map(item, &study.units)));
        }
        // Values of the study itself stand in items without a name.
        let own = study.items.iter().filter(|item| item.name.is_empty());
        for item in own {
            if let Some(value) = item_map(item, &study.units).remove(name) {
                return Ok(value);
            }
        }
        if let Some((_, model)) = study.models.iter().find(|(known, _)| *known == name) {
            return Ok(Dynamic::from(ScriptModel::new(model.clone())?));
        }
        if study.tables.iter().any(|table| table.name == name) {
            return Ok(Dynamic::from(self.table(name)?));
        }
        let entries = study.items.iter().filter(|item| item.name.is_empty());
        let entries = entries.flat_map(|item| item.entries.iter().map(|entry| entry.key));
        let names = study.items.iter().map(|item| item.name.as_str());
        let tables = study.tables.iter().map(|table| table.name);
        let known = entries
            .chain(names)
            .chain(tables)
            .chain(study.models.iter().map(|(name, _)| *name))
            .chain(["title", "statements", "stopped", "items"]);
        Err(not_there(
            format!("the study `{}` has no `{name}`", study.study),
            name,
            known,
        ))
    }

    fn table(&mut self, name: &str) -> Answer<ScriptTable> {
        let tables = &self.0.tables;
        match tables.iter().find(|table| table.name == name) {
            Some(found) => Ok(ScriptTable(Arc::new(found.table.clone()))),
            None => Err(not_there(
                format!("the study `{}` has no table `{name}`", self.0.study),
                name,
                tables.iter().map(|table| table.name),
            )),
        }
    }
}
