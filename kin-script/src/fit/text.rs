//! Reports in words: sections of the fit sheet.

use super::report::{Item, Report, Value};
use crate::stroke_sheet::CAUTION;
use crate::table::fixed;
use crate::units::{Measure, Units};
use kin_core::checks::{Finding, Remedy, Verdict};
use std::fmt::Write;

/// Sheets are read in terminals and on A4 paper.
pub(crate) const COLUMNS: usize = 100;
/// Tables are indented.
const TABLE_COLUMNS: u16 = 94;
/// Width of the labels.
const LABELS: usize = 30;

/// A verdict in words, for the head of a sheet.
///
/// * `unasked`: the parts that were not judged, or not wholly, since no limit was given for them
#[must_use]
pub(crate) fn verdict_words(verdict: Verdict, unasked: &[&str]) -> String {
    let words = match (verdict, unasked) {
        (Verdict::NotAsked, _) => "NOT ASKED.",
        (Verdict::Holds, []) => "HOLDS. Every limit holds with its margin.",
        (Verdict::Holds, _) => "HOLDS. Every limit that was given holds with its margin.",
        (Verdict::Tight, []) => "TIGHT. Every limit holds, some with less than the wanted margin.",
        (Verdict::Tight, _) => {
            "TIGHT. Every limit that was given holds, some with less than the wanted margin."
        }
        (Verdict::Fails, _) => "FAILS. See the findings marked [fails].",
    };
    if unasked.is_empty() {
        return words.to_owned();
    }
    format!(
        "{words} Not asked, so nothing is said of fit there: {}.",
        unasked.join(", ")
    )
}

/// What fails in a check, in a sentence; none where nothing does.
pub(crate) fn failed_words<'a>(
    heading: &str,
    title: &str,
    findings: impl IntoIterator<Item = &'a Finding>,
    units: &Units,
) -> Option<String> {
    let mut failed = findings
        .into_iter()
        .filter(|finding| finding.verdict == Verdict::Fails);
    let first = failed.next()?;
    let statement = first.statement.render(units.shown());
    let more = match failed.count() {
        0 => String::new(),
        1 => " And 1 more finding.".to_owned(),
        count => format!(" And {count} more findings."),
    };
    Some(format!("{heading}, {title}: {statement}{more}"))
}

/// A report as a sheet of its own.
#[must_use]
pub fn report_text(title: &str, report: &Report, units: &Units) -> String {
    let mut text = String::new();
    let _ = writeln!(text, "{title}");
    section(&mut text, report, units);
    text.push('\n');
    paragraph(&mut text, "", CAUTION);
    text.trim_end().to_owned()
}

/// A report as a section: heading, values, findings.
pub(crate) fn section(text: &mut String, report: &Report, units: &Units) {
    let _ = writeln!(text, "{}: {}", report.heading, report.verdict());
    // A part that has nothing for people is there for scripts.
    let shown =
        |item: &&Item| !item.tables.is_empty() || item.entries.iter().any(|entry| !entry.label.is_empty());
    for item in report.items.iter().filter(shown) {
        item_lines(text, item, units);
    }
    findings(text, &report.findings, units);
}

/// The values and tables of one part.
pub(crate) fn item_lines(text: &mut String, item: &Item, units: &Units) {
    let shown = || item.entries.iter().filter(|entry| !entry.label.is_empty());
    if !item.name.is_empty() && (shown().next().is_some() || !item.tables.is_empty()) {
        let _ = writeln!(text, "  {}", item.name);
    }
    for entry in shown() {
        let mut label = entry.label;
        for value in lines(&entry.value) {
            paragraph(text, &format!("    {label:<LABELS$}"), &value_text(value, units));
            label = "";
        }
    }
    for (caption, table) in &item.tables {
        paragraph(text, "    ", caption);
        for line in table.fitting(TABLE_COLUMNS).lines() {
            let _ = writeln!(text, "      {line}");
        }
    }
}

/// What of a value goes on a line of its own.
fn lines(value: &Value) -> &[Value] {
    match value {
        Value::List(values) => values,
        one => std::slice::from_ref(one),
    }
}

/// A value with its unit.
#[must_use]
pub fn value_text(value: &Value, units: &Units) -> String {
    match value {
        Value::Quantity(value, dimension) => units.text(*value, *dimension),
        Value::PerTravel(value, dimension) => {
            let measure = Measure {
                dimension: *dimension,
                per_travel: true,
            };
            let number = fixed(units.from_core(*value, measure), units.decimals_of(measure));
            format!("{number} {}", units.symbol(measure))
        }
        Value::Vector([x, y, z], dimension) => {
            let [x, y, z] = [x, y, z].map(|part| units.text(*part, *dimension));
            format!("forward {x}, left {y}, up {z}")
        }
        Value::Count(count) => count.to_string(),
        Value::Share(share) => format!("{} %", fixed(100.0 * share, 0)),
        Value::Number(number, decimals) => fixed(*number, *decimals),
        Value::Text(words) => words.clone(),
        Value::Sentence(sentence) => sentence.render(units.shown()),
        Value::List(values) => {
            let words: Vec<String> = values.iter().map(|value| value_text(value, units)).collect();
            words.join(" ")
        }
        Value::Named(values) => {
            let words = values
                .iter()
                .map(|(name, value)| format!("{name} {}", value_text(value, units)));
            words.collect::<Vec<_>>().join(", ")
        }
        Value::Truth(truth) => if *truth { "yes" } else { "no" }.to_owned(),
        Value::Absent(why) => (*why).to_owned(),
    }
}

/// Findings with their remedies.
pub(crate) fn findings(text: &mut String, findings: &[Finding], units: &Units) {
    let show = units.shown();
    let mut said = None;
    for finding in findings {
        let mark = format!("  [{}] ", finding.verdict);
        paragraph(text, &mark, &finding.statement.render(show));
        remedies(text, &finding.remedies, &mut said, units);
    }
}

/// Remedies as a list; those that another finding has said already are not said again.
fn remedies<'a>(text: &mut String, remedies: &'a [Remedy], said: &mut Option<&'a [Remedy]>, units: &Units) {
    const MARK: &str = "          - ";
    if remedies.is_empty() {
        return;
    }
    if *said == Some(remedies) {
        paragraph(text, MARK, "What is listed above mends this as well.");
        return;
    }
    for remedy in remedies {
        paragraph(text, MARK, &remedy.sentence.render(units.shown()));
    }
    *said = Some(remedies);
}

/// A paragraph with its first line marked and the others under its text.
pub(crate) fn paragraph(text: &mut String, mark: &str, words: &str) {
    let indent = " ".repeat(mark.chars().count());
    let options = textwrap::Options::new(COLUMNS)
        .initial_indent(mark)
        .subsequent_indent(&indent);
    let _ = writeln!(text, "{}", textwrap::fill(words, options));
}
