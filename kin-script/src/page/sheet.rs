//! The fit sheet as a page: the verdict first, then what was found, the numbers, the pictures, and what all of it was made from.

use super::document::{Document, DocumentKind};
use super::inline_svg::{inline, words_of};
use super::inputs::{Given, Inputs};
use super::template::{Template, filled};
use crate::fit::{FitSheet, Report, Value, value_text};
use crate::host::ScriptError;
use crate::stroke_sheet::{CAUTION, stroke_rows, stroke_verdict};
use crate::table::{Cell, Table, fixed};
use crate::units::{LengthUnit, Units};
use kin_core::checks::{DamperStroke, Finding, Verdict};
use minijinja::Value as Safe;
use serde::Serialize;

const PAGE: Template = Template {
    name: "sheet.html.jinja",
    text: include_str!("sheet.html.jinja"),
};
const STYLE: &str = include_str!("sheet.css");

/// What a sheet shows beside the checks.
#[derive(Debug, Clone, Default)]
pub struct SheetParts {
    /// Pictures as SVG, in the order they are shown.
    pub pictures: Vec<String>,
    /// Tables with their captions.
    pub tables: Vec<(String, Table)>,
}

#[derive(Serialize)]
struct Context {
    style: Safe,
    title: String,
    layout: &'static str,
    verdict: Judged,
    verdict_words: String,
    checks: Vec<CheckLine>,
    findings: Vec<FindingLine>,
    sections: Vec<Section>,
    pictures: Vec<Picture>,
    tables: Vec<Grid>,
    described: Vec<Given>,
    asked: Vec<Given>,
    asked_units: &'static str,
    caution: &'static str,
}

/// A verdict as word, sign and class of the style sheet: colour alone says nothing.
#[derive(Serialize)]
struct Judged {
    word: &'static str,
    sign: &'static str,
    class: &'static str,
}

#[derive(Serialize)]
struct CheckLine {
    heading: String,
    verdict: Judged,
    findings: usize,
}

#[derive(Serialize)]
struct FindingLine {
    check: String,
    verdict: Judged,
    statement: String,
    margin: Option<String>,
    place: Option<String>,
    remedies: Vec<String>,
}

#[derive(Serialize)]
struct Section {
    heading: String,
    items: Vec<ItemRows>,
}

#[derive(Serialize)]
struct ItemRows {
    name: String,
    rows: Vec<(String, Vec<String>)>,
    tables: Vec<Grid>,
}

#[derive(Serialize)]
struct Picture {
    svg: Safe,
    caption: String,
}

#[derive(Serialize)]
struct Grid {
    caption: String,
    columns: Vec<String>,
    rows: Vec<Vec<Field>>,
}

#[derive(Serialize)]
struct Field {
    text: String,
    number: bool,
}

/// The page of a fit sheet.
///
/// # Errors
/// An origin of something that was not given.
pub fn sheet_page(fit: &FitSheet, inputs: &Inputs, parts: &SheetParts) -> Result<Document, ScriptError> {
    let units = &fit.units;
    let (described, asked) = (inputs.described()?, inputs.asked());
    let all: Vec<Given> = described.iter().chain(&asked).cloned().collect();
    inputs.check_sources(&all)?;
    let context = Context {
        style: Safe::from_safe_string(STYLE.to_owned()),
        title: fit.title.clone(),
        layout: if fit.axle { "live axle" } else { "double wishbone" },
        verdict: judged(fit.verdict()),
        verdict_words: fit.verdict_words(),
        checks: checks(fit),
        findings: found(fit),
        sections: sections(fit),
        pictures: parts.pictures.iter().enumerate().map(picture).collect(),
        tables: parts
            .tables
            .iter()
            .map(|(caption, table)| grid(caption, table))
            .collect(),
        described,
        asked,
        asked_units: match units.length {
            LengthUnit::Millimetre => {
                "Lengths in mm, rates in N/mm, masses in kg, forces in N, torques in N m, stresses in MPa, angles in degrees."
            }
            LengthUnit::Inch => {
                "Lengths in in, rates in the rate unit of the description, masses and forces in lb, torques in lb-ft, stresses in \
                 ksi, angles in degrees."
            }
        },
        caution: CAUTION,
    };
    Ok(Document {
        kind: DocumentKind::Page,
        text: filled(&PAGE, context)?,
    })
}

fn judged(verdict: Verdict) -> Judged {
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

fn checks(fit: &FitSheet) -> Vec<CheckLine> {
    let lines = by_check(fit).map(|(heading, verdict, findings)| CheckLine {
        heading: heading.to_owned(),
        verdict: judged(verdict),
        findings: findings.len(),
    });
    lines.collect()
}

/// All findings, what fails first; within a verdict in the order of the work.
fn found(fit: &FitSheet) -> Vec<FindingLine> {
    let mut all: Vec<(&str, &Finding)> = by_check(fit)
        .flat_map(|(heading, _, findings)| findings.into_iter().map(move |finding| (heading, finding)))
        .collect();
    all.sort_by_key(|(_, finding)| std::cmp::Reverse(finding.verdict));
    all.into_iter()
        .map(|(check, finding)| finding_line(check, finding, &fit.units))
        .collect()
}

fn finding_line(check: &str, finding: &Finding, units: &Units) -> FindingLine {
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

fn sections(fit: &FitSheet) -> Vec<Section> {
    let stroke = Section {
        heading: "Damper stroke".to_owned(),
        items: fit
            .stroke
            .iter()
            .map(|damper| stroke_item(damper, &fit.units))
            .collect(),
    };
    let answers = fit
        .answers
        .iter()
        .map(|answer| section(&answer.report, &fit.units));
    std::iter::once(stroke)
        .chain(answers)
        .filter(|section| !section.items.is_empty())
        .collect()
}

fn stroke_item(stroke: &DamperStroke, units: &Units) -> ItemRows {
    let rows = stroke_rows(stroke, units).into_iter().skip(1);
    ItemRows {
        name: stroke.damper.to_string(),
        rows: rows
            .map(|(heading, words)| (heading.to_owned(), vec![words]))
            .collect(),
        tables: Vec::new(),
    }
}

fn section(report: &Report, units: &Units) -> Section {
    let items = report.items.iter().map(|item| {
        let shown = item.entries.iter().filter(|entry| !entry.label.is_empty());
        let values = |value: &Value| match value {
            Value::List(values) => values.iter().map(|value| value_text(value, units)).collect(),
            one => vec![value_text(one, units)],
        };
        ItemRows {
            name: item.name.clone(),
            rows: shown
                .map(|entry| (entry.label.to_owned(), values(&entry.value)))
                .collect(),
            tables: item
                .tables
                .iter()
                .map(|(caption, table)| grid(caption, table))
                .collect(),
        }
    });
    Section {
        heading: report.heading.to_owned(),
        // A part that has nothing for people is there for scripts.
        items: items
            .filter(|item| !item.rows.is_empty() || !item.tables.is_empty())
            .collect(),
    }
}

fn picture((place, svg): (usize, &String)) -> Picture {
    let caption = words_of(svg, "desc").or_else(|| words_of(svg, "title"));
    Picture {
        svg: Safe::from_safe_string(inline(svg, &format!("picture-{}-", place + 1))),
        caption: caption.unwrap_or_default(),
    }
}

fn grid(caption: &str, table: &Table) -> Grid {
    let rows = (0..table.rows()).map(|row| {
        let fields = table.columns.iter().map(|column| match column.cells.get(row) {
            Some(Cell::Number(value)) => Field {
                text: fixed(*value, column.decimals),
                number: true,
            },
            Some(Cell::Text(text)) => Field {
                text: text.clone(),
                number: false,
            },
            Some(Cell::Empty) | None => Field {
                text: "-".to_owned(),
                number: true,
            },
        });
        fields.collect()
    });
    Grid {
        caption: caption.to_owned(),
        columns: table.columns.iter().map(|column| column.name.clone()).collect(),
        rows: rows.collect(),
    }
}
