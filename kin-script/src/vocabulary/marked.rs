//! Reads what is to be marked on a picture: checks, their findings, or lists of both.

use super::checks::ScriptStroke;
use super::fit::{ScriptFit, ScriptReport};
use crate::arguments;
use crate::explain::value_words;
use crate::host::ScriptError;
use crate::picture::Event;
use crate::units::LengthUnit;
use kin_core::checks::{Finding, Verdict};
use rhai::{Array, Dynamic, Map};
use serde::Deserialize;

/// What is read of a finding that a script hands back; the rest of it is for the script.
#[derive(Deserialize)]
struct Told {
    subject: String,
    verdict: String,
    at: Option<f64>,
}

/// The events of a check, a finding, or a list of them.
///
/// * `unit`: the unit of the findings' travels
///
/// # Errors
/// Anything else.
pub(super) fn events(value: &Dynamic, unit: LengthUnit) -> Result<Vec<Event>, ScriptError> {
    if let Some(stroke) = value.read_lock::<ScriptStroke>() {
        return Ok(stroke.dampers().iter().flat_map(Event::of_stroke).collect());
    }
    if let Some(report) = value.read_lock::<ScriptReport>() {
        return Ok(of_findings(report.findings()));
    }
    if let Some(fit) = value.read_lock::<ScriptFit>() {
        // A whole sheet holds more than a picture: what holds is left out.
        let matters = |verdict: Verdict| verdict >= Verdict::Tight;
        let mut found: Vec<Event> = fit.sheet.stroke.iter().flat_map(Event::of_stroke).collect();
        found.retain(|event| matters(event.verdict));
        let answers = fit
            .sheet
            .answers
            .iter()
            .flat_map(|answer| &answer.report.findings);
        found.extend(of_findings(answers.filter(|finding| matters(finding.verdict))));
        return Ok(found);
    }
    if let Some(list) = value.read_lock::<Array>() {
        let each = list.iter().map(|one| events(one, unit));
        return Ok(each
            .collect::<Result<Vec<_>, _>>()?
            .into_iter()
            .flatten()
            .collect());
    }
    if let Some(map) = value.read_lock::<Map>() {
        return Ok(of_map(&map, unit)?.into_iter().collect());
    }
    Err(ScriptError::new(format!(
        "`findings`: expected a check, its findings, or a list of them, got {}",
        value_words(value)
    ))
    .with_key("findings"))
}

fn of_findings<'a>(findings: impl IntoIterator<Item = &'a Finding>) -> Vec<Event> {
    findings.into_iter().filter_map(Event::of_finding).collect()
}

/// A finding that was read from a check before; one without a place in the travel has no event.
fn of_map(map: &Map, unit: LengthUnit) -> Result<Option<Event>, ScriptError> {
    let told: Map = ["subject", "verdict", "at"]
        .into_iter()
        .filter_map(|key| Some((key.into(), map.get(key)?.clone())))
        .collect();
    let told: Told = arguments::read(Dynamic::from_map(told), "the finding")?;
    let known = [Verdict::NotAsked, Verdict::Holds, Verdict::Tight, Verdict::Fails];
    let verdict = known
        .into_iter()
        .find(|verdict| verdict.word() == told.verdict)
        .ok_or_else(|| {
            ScriptError::new(format!(
            "the finding, `verdict`: \"{}\" is not one of \"holds\", \"tight\", \"fails\" and \"not asked\"",
            told.verdict
        ))
        .with_key("verdict")
        })?;
    Ok(told.at.map(|at| Event {
        at: at * unit.millimetres(),
        what: told.subject,
        verdict,
    }))
}
