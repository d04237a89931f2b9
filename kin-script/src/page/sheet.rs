//! The fit sheet as a page: the first page of paper is complete in itself, with the verdict, what was found, the numbers asked for
//! most and the drawing; behind it the curves, all numbers, the studies, and what all of it was made from.

use super::document::{Document, DocumentKind};
use super::found::{CheckLine, FindingLine, Judged, checks, findings, judged};
use super::inputs::{Given, GivenPart, Inputs, in_parts};
use super::key_numbers::{KeyNumbers, key_numbers};
use super::numbers::{Grid, Section, grid, sections};
use super::picture::{Picture, picture, take_broad};
use super::studied::{Studied, StudySection, study_section};
use super::template::{Template, filled};
use super::words::for_foot;
use crate::fit::FitSheet;
use crate::host::ScriptError;
use crate::stroke_sheet::CAUTION;
use crate::table::Table;
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
    /// Studies, in the order they are shown.
    pub studies: Vec<Studied>,
}

#[derive(Serialize)]
struct Context {
    style: Safe,
    foot: Safe,
    title: String,
    layout: &'static str,
    verdict: Judged,
    verdict_words: String,
    checks: Vec<CheckLine>,
    findings: Vec<FindingLine>,
    key_numbers: KeyNumbers,
    drawing: Option<Picture>,
    pictures: Vec<Picture>,
    sections: Vec<Section>,
    tables: Vec<Grid>,
    studies: Vec<StudySection>,
    described: Vec<GivenPart>,
    asked: Vec<GivenPart>,
    caution: &'static str,
}

/// The page of a fit sheet.
///
/// # Errors
/// An origin of something that was not given, and a picture of a study that cannot be drawn.
pub fn sheet_page(fit: &FitSheet, inputs: &Inputs, parts: &SheetParts) -> Result<Document, ScriptError> {
    let (described, asked) = (inputs.described()?, inputs.asked());
    let all: Vec<Given> = described.iter().chain(&asked).cloned().collect();
    inputs.check_sources(&all)?;
    let pictures = parts.pictures.iter().enumerate();
    let mut pictures: Vec<Picture> = pictures
        .map(|(place, svg)| picture(svg, &format!("picture-{}-", place + 1)))
        .collect();
    let tables = parts.tables.iter();
    let studies = parts.studies.iter().enumerate().map(study_section);
    let context = Context {
        style: Safe::from_safe_string(STYLE.to_owned()),
        foot: Safe::from_safe_string(for_foot(&fit.title)),
        title: fit.title.clone(),
        layout: if fit.axle { "live axle" } else { "double wishbone" },
        verdict: judged(fit.verdict()),
        verdict_words: fit.verdict_words(),
        checks: checks(fit),
        findings: findings(fit),
        key_numbers: key_numbers(fit, &inputs.model),
        drawing: take_broad(&mut pictures),
        pictures,
        sections: sections(fit),
        tables: tables
            .map(|(caption, table)| grid(caption, table, &fit.units))
            .collect(),
        studies: studies.collect::<Result<_, ScriptError>>()?,
        described: in_parts(described),
        asked: in_parts(asked),
        caution: CAUTION,
    };
    Ok(Document {
        kind: DocumentKind::Page,
        text: filled(&PAGE, context)?,
    })
}
