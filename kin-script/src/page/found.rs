//! What the checks found, line by line: what fails first.

use crate::fit::FitSheet;
use crate::stroke_sheet::stroke_verdict;
use crate::units::Units;
use kin_core::checks::{Finding, Verdict};
use serde::Serialize;

/// A verdict as word, sign and class of the style sheet: colour alone says nothing.
#[derive(Debug, Serialize)]
pub(super) struct Judged {
    word: &'static str,
    sign: &'static str,
    class: &'static str,
}

/// A check and the worst of its findings.
#[derive(Debug, Serialize)]
pub(super) struct CheckLine {
    heading: String,
    verdict: Judged,
}

/// One finding.
#[derive(Debug, Serialize)]
pub(super) struct FindingLine {
    check: String,
    verdict: Judged,
    statement: String,
    margin: Option<String>,
    place: Option<String>,
    remedies: Vec<String>,
}

/// Said where the remedies of the finding before are those of this one as well.
const SAME_REMEDIES: &str = "What is listed above mends this as well.";

pub(super) fn judged(verdict: Verdict) -> Judged {
    let (sign, class) = match verdict {
        Verdict::Holds => ("\u{2714}", "holds"),
        Verdict::Tight => ("!", "tight"),
        Verdict::Fails => ("\u{2716}", "fails"),
        Verdict::NotAsked => ("?", "open"),
    };
    Judged {
        word: verdict.word(),
        sign,
        class,
    }
}

/// Each check with its findings; the stroke check first.
fn by_check(fit: &FitSheet) -> impl Iterator<Item = (&'static str, Verdict, Vec<&Finding>)> {
    let stroke = fit.stroke.iter().flat_map(|damper| &damper.findings).collect();
    let answers = fit.answers.iter().map(|answer| &answer.report);
    let answers = answers.map(|report| (report.heading, report.verdict(), report.findings.iter().collect()));
    std::iter::once(("Damper stroke", stroke_verdict(&fit.stroke), stroke)).chain(answers)
}

/// Every check that was made.
pub(super) fn checks(fit: &FitSheet) -> Vec<CheckLine> {
    let lines = by_check(fit).map(|(heading, verdict, _)| CheckLine {
        heading: heading.to_owned(),
        verdict: judged(verdict),
    });
    lines.collect()
}

/// All findings, what fails first; within a verdict in the order of the work.
pub(super) fn findings(fit: &FitSheet) -> Vec<FindingLine> {
    let mut all: Vec<(&str, &Finding)> = by_check(fit)
        .flat_map(|(heading, _, findings)| findings.into_iter().map(move |finding| (heading, finding)))
        .collect();
    all.sort_by_key(|(_, finding)| std::cmp::Reverse(finding.verdict));
    let mut said: Vec<String> = Vec::new();
    let lines = all.into_iter().map(|(check, finding)| {
        let mut line = line(check, finding, &fit.units);
        if !line.remedies.is_empty() && line.remedies == said {
            line.remedies = vec![SAME_REMEDIES.to_owned()];
        } else {
            said.clone_from(&line.remedies);
        }
        line
    });
    lines.collect()
}

fn line(check: &str, finding: &Finding, units: &Units) -> FindingLine {
    let show = units.shown();
    let place = finding.at_travel.map(|travel| {
        let length = units.length.text(travel.abs());
        match travel {
            travel if travel > 0.0 => format!("{length} of bump"),
            travel if travel < 0.0 => format!("{length} of droop"),
            _ => "ride height".to_owned(),
        }
    });
    let remedies = finding.remedies.iter();
    FindingLine {
        check: check.to_owned(),
        verdict: judged(finding.verdict),
        statement: finding.statement.render(show),
        margin: (finding.verdict != Verdict::NotAsked).then(|| margin_words(finding, units)),
        place,
        remedies: remedies.map(|remedy| remedy.sentence.render(show)).collect(),
    }
}

/// What is left beyond the limit, or how much is missing.
fn margin_words(finding: &Finding, units: &Units) -> String {
    let text = units.text(finding.margin.abs(), finding.dimension);
    if finding.margin < 0.0 {
        format!("Short by {text}")
    } else {
        format!("Margin {text}")
    }
}
