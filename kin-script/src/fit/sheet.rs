//! The fit sheet: every check that was asked for, on one page.

use super::text::{paragraph, section, verdict_words};
use super::{Answer, Asked, CHECKS, FitCheck};
use crate::explain::suggest;
use crate::host::ScriptError;
use crate::model::Suspension;
use crate::stroke_sheet::{CAUTION, stroke_section, stroke_verdict, unasked_words};
use crate::units::Units;
use kin_core::checks::{DamperStroke, Finding, Verdict};
use rhai::{Dynamic, Map};
use std::fmt::Write;

/// Keys of a question that several checks share.
const SHARED: [&str; 1] = ["ride_height"];

/// All answers about one corner or axle.
#[derive(Debug, Clone)]
pub struct FitSheet {
    /// What the suspension is called.
    pub title: String,
    /// Whether it is a live axle.
    pub axle: bool,
    /// The units of the sheet.
    pub units: Units,
    /// The stroke check.
    pub stroke: Vec<DamperStroke>,
    /// The other checks, in the order of the work.
    pub answers: Vec<Answer>,
}

impl FitSheet {
    /// Runs every check that the map holds a question for.
    ///
    /// # Errors
    /// A key that is no check, and whatever a check refuses.
    pub fn new(
        title: &str,
        asked: &Asked<'_>,
        stroke: Vec<DamperStroke>,
        mut questions: Map,
    ) -> Result<Self, ScriptError> {
        let shared: Vec<(&str, Dynamic)> = SHARED
            .iter()
            .filter_map(|key| Some((*key, questions.get(*key)?.clone())))
            .collect();
        let mut answers = Vec::new();
        for check in CHECKS {
            let Some(mut question) = questions.remove(check.word) else {
                continue;
            };
            if let Some(heard) = asked.heard {
                heard.begin(check.word);
            }
            if check.needs_ride_height {
                share(&mut question, &shared);
            }
            answers.push((check.run)(asked, question)?);
        }
        match questions.keys().next() {
            Some(unknown) => Err(no_check(unknown)),
            None => Ok(Self {
                title: title.to_owned(),
                axle: matches!(asked.suspension, Suspension::Axle(_)),
                units: asked.units,
                stroke,
                answers,
            }),
        }
    }

    /// All findings.
    pub fn findings(&self) -> impl Iterator<Item = &Finding> {
        let stroke = self.stroke.iter().flat_map(|damper| &damper.findings);
        stroke.chain(self.answers.iter().flat_map(|answer| &answer.report.findings))
    }

    /// The worst of all findings.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        let answers = self.answers.iter().map(|answer| answer.report.verdict());
        answers.fold(stroke_verdict(&self.stroke), Verdict::max)
    }

    /// The checks besides the stroke check that found something which no limit was given for.
    fn unasked(&self) -> Vec<&'static str> {
        let reports = self.answers.iter().map(|answer| &answer.report);
        let unasked = reports.filter(|report| {
            let mut verdicts = report.findings.iter().map(|finding| finding.verdict);
            report.findings.is_empty() || verdicts.any(|verdict| verdict == Verdict::NotAsked)
        });
        unasked.map(|report| report.heading).collect()
    }

    /// The verdict in words, with what was not asked.
    pub(crate) fn verdict_words(&self) -> String {
        let verdict = verdict_words(self.verdict(), &self.unasked());
        if self.stroke.is_empty() {
            return format!("{verdict} No damper is given, so there is no stroke check.");
        }
        format!("{verdict}{}", unasked_words(&self.stroke))
    }

    /// The sheet for the terminal and the wall.
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = String::new();
        let _ = writeln!(text, "Fit sheet: {}", self.title);
        paragraph(&mut text, "Verdict: ", &self.verdict_words());
        let stroke = stroke_verdict(&self.stroke);
        let mut heads = vec![("Damper stroke", stroke)];
        let answers = self.answers.iter();
        heads.extend(answers.map(|answer| (answer.report.heading, answer.report.verdict())));
        for (heading, verdict) in heads {
            let _ = writeln!(text, "  {heading:<30}{verdict}");
        }
        let _ = writeln!(text, "\nDamper stroke: {stroke}");
        stroke_section(&mut text, &self.stroke, &self.units);
        for answer in &self.answers {
            text.push('\n');
            section(&mut text, &answer.report, &self.units);
        }
        text.push('\n');
        paragraph(&mut text, "", CAUTION);
        text.trim_end().to_owned()
    }
}

/// Hands what several checks need to a question that does not say it itself.
fn share(question: &mut Dynamic, shared: &[(&str, Dynamic)]) {
    if let Some(mut map) = question.write_lock::<Map>() {
        for (key, value) in shared {
            map.entry((*key).into()).or_insert_with(|| value.clone());
        }
    }
}

fn no_check(unknown: &str) -> ScriptError {
    let error = ScriptError::new(format!("the fit sheet knows no check `{unknown}`")).with_key(unknown);
    let words = || CHECKS.iter().map(|check: &FitCheck| check.word);
    match suggest(unknown, words()) {
        Some(nearest) => error.with_help(format!("did you mean `{nearest}`?")),
        None => error.with_help(format!(
            "the checks are wanted, {}",
            words().collect::<Vec<_>>().join(", ")
        )),
    }
}
