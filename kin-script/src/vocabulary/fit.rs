//! Words for everything that decides whether a part goes in and stays in.

use super::checks::{ScriptStroke, dampers};
use super::described::ScriptModel;
use super::findings::finding_list;
use super::study::plain_map;
use super::swept::ScriptTable;
use crate::explain::{suggest, value_words};
use crate::fit::{self, Asked, CHECKS, FitCheck, FitSheet, Heard, Item, Kinds, Report, Value};
use crate::host::{ScriptError, Session, Word};
use crate::model::Model;
use crate::units::{Measure, Units};
use kin_core::Dimension;
use kin_core::checks::Finding;
use rhai::{Array, Dynamic, Engine, EvalAltResult, Map};
use std::sync::Arc;

/// How a word that does not count is documented.
const WHAT_IF: &str = "The same as a what-if: it does not count for the exit code. Asked and read like the word with `check_` \
    before its name.";

type Reply<T> = Result<T, Box<EvalAltResult>>;

/// A check's report in a script.
#[derive(Clone)]
pub(super) struct ScriptReport {
    pub(super) report: Arc<Report>,
    pub(super) title: Arc<str>,
    pub(super) units: Units,
}

/// A fit sheet in a script, with what it was made from.
#[derive(Clone)]
pub(super) struct ScriptFit {
    pub(super) sheet: Arc<FitSheet>,
    pub(super) model: Arc<Model>,
    pub(super) questions: Arc<serde_json::Value>,
    /// What the numbers of the questions are.
    pub(super) kinds: Arc<Kinds>,
}

/// The names of this topic.
pub(super) fn names() -> Vec<String> {
    let checks = CHECKS
        .iter()
        .flat_map(|check| [check.word.to_owned(), format!("check_{}", check.word)]);
    checks
        .chain(["fit", "check_fit", "assembly_card"].map(str::to_owned))
        .collect()
}

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, session: &Session) {
    engine
        .register_type_with_name::<ScriptReport>("report")
        .register_fn("to_string", |report: &mut ScriptReport| report.text())
        .register_indexer_get(|report: &mut ScriptReport, name: &str| report.get(name));
    engine
        .register_type_with_name::<ScriptFit>("fit")
        .register_fn("to_string", |fit: &mut ScriptFit| fit.text())
        .register_indexer_get(|fit: &mut ScriptFit, name: &str| fit.get(name));
    for check in CHECKS {
        one_check(engine, session, check);
    }
    whole_fit(engine, session);
    card(engine);
}

fn one_check(engine: &mut Engine, session: &Session, check: &'static FitCheck) {
    let parameters = &["model: model", "question: map", "report"];
    let what_if = session.clone();
    Word {
        name: check.word,
        parameters,
        documentation: WHAT_IF,
    }
    .register(engine, move |model: &mut ScriptModel, question: Dynamic| {
        model.remark_moved_ride(&what_if);
        report(model, check, question)
    });
    let session = session.clone();
    Word {
        name: check.counted,
        parameters,
        documentation: check.documentation,
    }
    .register(engine, move |model: &mut ScriptModel, question: Dynamic| {
        model.remark_moved_ride(&session);
        let report = report(model, check, question)?;
        let findings = &report.report.findings;
        if let Some(what) = fit::failed_words(report.report.heading, &report.title, findings, &report.units) {
            session.record_failed_check(what);
        }
        Ok::<_, Box<EvalAltResult>>(report)
    });
}

fn whole_fit(engine: &mut Engine, session: &Session) {
    let parameters = &["model: model", "questions: map", "fit"];
    let what_if = session.clone();
    Word {
        name: "fit",
        parameters,
        documentation: WHAT_IF,
    }
    .register(engine, move |model: &mut ScriptModel, questions: Map| {
        model.remark_moved_ride(&what_if);
        whole(model, questions)
    });
    let session = session.clone();
    Word {
        name: "check_fit",
        parameters,
        documentation: "Every check that the map asks for, as one sheet: if one fails, the program exits with 1.\n\n\
            Keys: `wanted` (`bump`, `droop`, `margin` of the stroke check, which is always made) and the words of the other checks \
            without `check_`, each with its own question; `bump_stop`, `damper_setting` and `springs` use the question of \
            `ride_height` unless they have their own.\n\n\
            `print` shows the sheet. Can be read: `verdict`, `findings`, `stroke`, and each check by its key.",
    }
    .register(engine, move |model: &mut ScriptModel, questions: Map| {
        model.remark_moved_ride(&session);
        let fit = whole(model, questions)?;
        if let Some(what) = fit.failed_words() {
            session.record_failed_check(what);
        }
        Ok::<_, Box<EvalAltResult>>(fit)
    });
}

fn card(engine: &mut Engine) {
    Word {
        name: "assembly_card",
        parameters: &["fit: fit", "text"],
        documentation: "The settings of a fit sheet in the order of the work, with boxes to tick: mock-up bars, spring seats, \
            fasteners with torque and clamp, clicks, bar links, what is tightened at ride height, and what goes to alignment. What \
            fails stands at its head.",
    }
    .register(engine, |fit: &mut ScriptFit| fit::assembly_card(&fit.sheet));
}

fn report(model: &ScriptModel, check: &FitCheck, question: Dynamic) -> Reply<ScriptReport> {
    let suspension = model.suspension()?;
    let asked = Asked::new(&suspension, model.model.units);
    let answer = (check.run)(&asked, question)?;
    Ok(ScriptReport {
        report: Arc::new(answer.report),
        title: model.model.title.as_str().into(),
        units: asked.units,
    })
}

fn whole(model: &ScriptModel, mut questions: Map) -> Reply<ScriptFit> {
    let asked_for = Arc::new(plain_map(&questions));
    let wanted = match questions.remove("wanted") {
        Some(wanted) => wanted.try_cast_result::<Map>().map_err(|other| {
            let got = value_words(&other);
            ScriptError::new(format!("`wanted`: expected a map #{{ }}, got {got}")).with_key("wanted")
        })?,
        None => Map::new(),
    };
    let stroke = dampers(model, wanted)?;
    let suspension = model.suspension()?;
    let heard = Heard::default();
    let asked = Asked {
        heard: Some(&heard),
        ..Asked::new(&suspension, model.model.units)
    };
    let sheet = FitSheet::new(&model.model.title, &asked, stroke, questions)?;
    Ok(ScriptFit {
        sheet: Arc::new(sheet),
        model: Arc::clone(&model.model),
        questions: asked_for,
        kinds: Arc::new(heard.kinds()),
    })
}

impl ScriptReport {
    pub(super) fn findings(&self) -> &[Finding] {
        &self.report.findings
    }

    pub(super) fn text(&self) -> String {
        fit::report_text(&self.title, &self.report, &self.units)
    }

    fn get(&mut self, name: &str) -> Reply<Dynamic> {
        let report = &self.report;
        match name {
            "verdict" => return Ok(report.verdict().word().into()),
            "findings" => return Ok(finding_list(&report.findings, &self.units)),
            "items" => {
                let items = report.items.iter();
                return Ok(items
                    .map(|item| Dynamic::from_map(item_map(item, &self.units)))
                    .collect::<Array>()
                    .into());
            }
            _ => {}
        }
        let mut maps: Vec<Map> = report
            .items
            .iter()
            .map(|item| item_map(item, &self.units))
            .collect();
        // A part by its name, or a value that only one part has.
        if let Some(place) = report.items.iter().position(|item| item.name == name) {
            return Ok(maps.swap_remove(place).into());
        }
        let empty = |value: &Dynamic| value.read_lock::<Array>().is_some_and(|list| list.is_empty());
        let held = maps.iter().filter_map(|map| map.get(name));
        let mut found = held.filter(|value| !empty(value));
        match (found.next(), found.next()) {
            (Some(only), None) => Ok(only.clone()),
            (Some(_), Some(_)) => {
                let many = maps.len();
                Err(
                    ScriptError::new(format!("there are {many} parts in this report: which `{name}`?"))
                        .with_help(
                            "read it from one of them, such as `.items[0]`, or by the name of the part",
                        )
                        .into(),
                )
            }
            (None, _) => {
                let keys = maps.iter().flat_map(Map::keys).map(|key| key.as_str());
                let names = report.items.iter().map(|item| item.name.as_str());
                let known = keys.chain(names).chain(["verdict", "findings", "items"]);
                Err(not_there(
                    format!("the report `{}` has no `{name}`", report.check),
                    name,
                    known,
                ))
            }
        }
    }
}

impl ScriptFit {
    pub(super) fn text(&self) -> String {
        self.sheet.text()
    }

    fn failed_words(&self) -> Option<String> {
        let sheet = &self.sheet;
        fit::failed_words("Fit sheet", &sheet.title, sheet.findings(), &sheet.units)
    }

    fn get(&mut self, name: &str) -> Reply<Dynamic> {
        let fit = &self.sheet;
        match name {
            "verdict" => return Ok(fit.verdict().word().into()),
            "findings" => return Ok(finding_list(fit.findings(), &fit.units)),
            "stroke" => {
                return Ok(Dynamic::from(ScriptStroke::new(
                    &fit.title,
                    fit.units,
                    fit.stroke.clone(),
                )));
            }
            _ => {}
        }
        let answered = || fit.answers.iter().map(|answer| &answer.report);
        match answered().find(|report| report.check == name) {
            Some(report) => Ok(Dynamic::from(ScriptReport {
                report: Arc::new(report.clone()),
                title: fit.title.as_str().into(),
                units: fit.units,
            })),
            None => {
                let known = answered().map(|report| report.check);
                let known = known.chain(["verdict", "findings", "stroke"]);
                Err(not_there(format!("this fit sheet has no `{name}`"), name, known))
            }
        }
    }
}

pub(super) fn not_there<'a>(
    what: String,
    name: &str,
    known: impl Iterator<Item = &'a str>,
) -> Box<EvalAltResult> {
    let error = ScriptError::new(what).with_key(name);
    match suggest(name, known) {
        Some(nearest) => error.with_help(format!("did you mean `{nearest}`?")).into(),
        None => error.into(),
    }
}

/// The values of a part in the script's unit.
pub(super) fn item_map(item: &Item, units: &Units) -> Map {
    let mut map: Map = item
        .entries
        .iter()
        .map(|entry| (entry.key.into(), dynamic(&entry.value, units)))
        .collect();
    map.insert("name".into(), item.name.clone().into());
    let tables = item.tables.iter();
    let tables: Array = tables
        .map(|(_, table)| Dynamic::from(ScriptTable(Arc::new(table.clone()))))
        .collect();
    map.insert("tables".into(), tables.into());
    map
}

fn dynamic(value: &Value, units: &Units) -> Dynamic {
    let measured = |value: f64, dimension: Dimension, per_travel: bool| {
        let measure = Measure {
            dimension,
            per_travel,
        };
        Dynamic::from_float(units.from_core(value, measure))
    };
    let number = |value, dimension| measured(value, dimension, false);
    match value {
        Value::Quantity(value, dimension) => number(*value, *dimension),
        Value::PerTravel(value, dimension) => measured(*value, *dimension, true),
        Value::Vector(parts, dimension) => parts
            .iter()
            .map(|part| number(*part, *dimension))
            .collect::<Array>()
            .into(),
        Value::Count(count) => (*count).into(),
        Value::List(values) => values
            .iter()
            .map(|value| dynamic(value, units))
            .collect::<Array>()
            .into(),
        Value::Named(values) => {
            let named = values.iter();
            Dynamic::from_map(
                named
                    .map(|(name, value)| (name.as_str().into(), dynamic(value, units)))
                    .collect::<Map>(),
            )
        }
        Value::Share(number) | Value::Number(number, _) => (*number).into(),
        Value::Truth(truth) => (*truth).into(),
        Value::Text(_) | Value::Sentence(_) => fit::value_text(value, units).into(),
        Value::Absent(_) => Dynamic::UNIT,
    }
}
