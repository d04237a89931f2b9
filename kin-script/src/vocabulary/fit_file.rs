//! Fit sheets, reports and stroke checks as files for other programs.

use super::checks::ScriptStroke;
use super::findings::finding_list;
use super::fit::{ScriptFit, ScriptReport, item_map};
use super::study::plain_value;
use crate::fit::Report;
use crate::host::ScriptError;
use crate::table::pretty;
use crate::units::{Measure, Units};
use kin_core::Dimension;
use kin_core::checks::Finding;
use rhai::Dynamic;
use serde_json::{Value, json};

/// A whole fit sheet: verdict, findings, the stroke check, every other check with its values and tables, and what was asked.
pub(super) fn fit_json(fit: &ScriptFit) -> Result<String, ScriptError> {
    let sheet = &fit.sheet;
    let stroke = ScriptStroke::new(&sheet.title, sheet.units, sheet.stroke.clone());
    let checks = sheet.answers.iter();
    let checks: Vec<Value> = checks
        .map(|answer| checked(&answer.report, &sheet.units))
        .collect();
    written(&json!({
        "title": sheet.title,
        "layout": fit.model.layout(),
        "units": units_used(&sheet.units),
        "verdict": sheet.verdict().word(),
        "findings": found(sheet.findings(), &sheet.units),
        "stroke": dampers(&stroke),
        "checks": checks,
        "asked": *fit.questions,
    }))
}

/// One check.
pub(super) fn report_json(report: &ScriptReport) -> Result<String, ScriptError> {
    let mut value = checked(&report.report, &report.units);
    if let Value::Object(fields) = &mut value {
        fields.insert("title".to_owned(), report.title.as_ref().into());
        fields.insert("units".to_owned(), units_used(&report.units));
    }
    written(&value)
}

/// The stroke check.
pub(super) fn stroke_json(stroke: &ScriptStroke) -> Result<String, ScriptError> {
    let units = stroke.units();
    let findings = stroke.dampers().iter().flat_map(|damper| &damper.findings);
    written(&json!({
        "title": stroke.title(),
        "units": units_used(&units),
        "verdict": stroke.verdict().word(),
        "findings": found(findings, &units),
        "stroke": dampers(stroke),
    }))
}

fn dampers(stroke: &ScriptStroke) -> Vec<Value> {
    stroke
        .damper_maps()
        .into_iter()
        .map(|damper| plain_value(&Dynamic::from_map(damper)))
        .collect()
}

fn found<'a>(findings: impl IntoIterator<Item = &'a Finding>, units: &Units) -> Value {
    plain_value(&finding_list(findings, units))
}

fn checked(report: &Report, units: &Units) -> Value {
    let items = report.items.iter();
    let items: Vec<Value> = items
        .map(|item| plain_value(&Dynamic::from_map(item_map(item, units))))
        .collect();
    json!({
        "check": report.check,
        "verdict": report.verdict().word(),
        "findings": found(&report.findings, units),
        "items": items,
    })
}

/// The unit of each kind of number in the file.
fn units_used(units: &Units) -> Value {
    let symbol = |dimension| {
        units.symbol(Measure {
            dimension,
            per_travel: false,
        })
    };
    json!({
        "length": symbol(Dimension::Length),
        "angle": symbol(Dimension::Angle),
        "rate": symbol(Dimension::Rate),
        "force": symbol(Dimension::Force),
        "torque": symbol(Dimension::Torque),
        "stress": symbol(Dimension::Stress),
        "frequency": symbol(Dimension::Frequency),
        "mass": symbol(Dimension::Mass),
        "speed": symbol(Dimension::Speed),
        "damping": symbol(Dimension::Damping),
    })
}

fn written(value: &Value) -> Result<String, ScriptError> {
    let text = pretty(value).map_err(|error| ScriptError::new(error.to_string()))?;
    Ok(text + "\n")
}
