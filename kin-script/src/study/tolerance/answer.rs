//! Runs a tolerance study and puts its answer together.

use super::asked::Question;
use super::measurements::Measurements;
use super::outcomes::{self, Row};
use super::{bands, checks};
use crate::fit::{Item, Value};
use crate::host::{ScriptError, Session, StudyProgress};
use crate::model::Model;
use crate::study::StudyAnswer;
use crate::study::spoken::percent;
use crate::table::{Cell, Column, Table};
use crate::vocabulary::core_error;
use kin_core::Error;
use kin_core::pickups::RightSide;
use kin_core::study::{
    Built, FindingShare, Measurement, Subject, Tolerance, ToleranceResult, measure_again, with_readings,
};
use rhai::Map;

/// Failures that are told one by one.
const MOST_FAILURES: usize = 4;

/// Runs the study on a question in the model's unit.
///
/// # Errors
/// Keys and names that are unknown, and a model that as measured lacks something asked about.
pub fn tolerance(model: &Model, question: Map, session: &Session) -> Result<StudyAnswer, ScriptError> {
    let mut question = Question::read(model, question)?;
    let units = model.units;
    let refused = |error: Error| core_error(&error, &units);
    let taken: Vec<Measurement> = question
        .readings
        .iter()
        .map(|(_, reading)| reading.clone())
        .collect();
    let (subject, uncertainty) =
        with_readings(&question.subject, &question.uncertainty, &taken).map_err(refused)?;
    (question.subject, question.uncertainty) = (subject, uncertainty);
    question.readings.retain(|(_, reading)| reading.value.is_none());
    let built = question.subject.build().map_err(refused)?;
    if let Some(asked) = &question.checks {
        // What is wrong with a question is said once, and with its place in the script.
        checks::run(&built, asked, units)?;
    }
    let check = |variant: &Built| {
        let asked = question.checks.as_ref();
        asked.map_or(Ok(Vec::new()), |asked| checks::findings(variant, asked, units))
    };
    let study = Tolerance {
        subject: &question.subject,
        uncertainty: &question.uncertainty,
        requirements: question.requirements.clone(),
        checks: question.checks.as_ref().map(|_| &check as _),
        curves: question.curves.iter().map(|(_, reading)| *reading).collect(),
        bumps: question.bumps.clone(),
        samples: question.samples,
        seed: question.seed,
    };
    let progress = StudyProgress::new(session, "Tolerance", question.samples);
    let result = study.run(&progress).map_err(refused)?;
    let read_before = taken.iter().any(|reading| reading.value.is_some());
    let mut answer = told(model, &question, &result, read_before);
    let limited = question
        .requirements
        .iter()
        .any(kin_core::study::Requirement::has_limit);
    if limited && result.samples == result.asked {
        let open: Vec<Measurement> = question
            .readings
            .iter()
            .map(|(_, reading)| reading.clone())
            .collect();
        let verified = measure_again(&study, &result, &open, question.sure, &progress).map_err(refused)?;
        let numbers = question.subject.numbers();
        Measurements {
            question: &question,
            numbers: &numbers,
            units,
            verified: &verified,
        }
        .tell(&mut answer);
    }
    Ok(answer)
}

/// Whether an axle's right side is the mirror of its left.
fn is_mirrored(subject: &Subject) -> bool {
    matches!(subject, Subject::Axle(axle) if axle.right == RightSide::Mirror)
}

fn told(model: &Model, question: &Question, result: &ToleranceResult, read_before: bool) -> StudyAnswer {
    let units = model.units;
    let mut answer = StudyAnswer::new("tolerance", format!("Tolerance: {}", model.title), units);
    if result.samples < result.asked {
        answer.stopped = Some(format!(
            "after {} of {} variants; what stands here is made from those",
            result.samples, result.asked
        ));
    }
    let limits = question
        .requirements
        .iter()
        .filter(|requirement| requirement.has_limit())
        .count();
    answer.statements.push(whole(result, limits));
    if read_before {
        answer.statements.push(
            "Readings that were given with their value have moved the pickups to where they explain them best."
                .to_owned(),
        );
    }
    if is_mirrored(&question.subject) {
        answer.statements.push(
            "The right side is described as the mirror of the left, so its errors are taken as the same: what comes from a \
             difference of the sides, such as axle steer or a sideways shift, is not in these numbers. Give the right side by \
             itself for that."
                .to_owned(),
        );
    }
    let numbers = question.subject.numbers();
    let rows: Vec<Row<'_>> = question.outcomes.iter().zip(&result.outcomes).collect();
    let statements = rows
        .iter()
        .filter_map(|row| outcomes::statement(row, &numbers, &units));
    answer.statements.extend(statements);
    answer.statements.extend(failures(result, &units));
    answer.items.push(
        Item::new("")
            .with("holds", "", Value::Share(result.shares.everything))
            .with("requirements_hold", "", Value::Share(result.shares.requirements))
            .with("requirements_hold_linear", "", Value::Share(result.shares.linear))
            .with(
                "samples",
                "",
                Value::Count(i64::try_from(result.samples).unwrap_or(i64::MAX)),
            )
            .with("seed", "", Value::Text(result.seed.to_string()))
            .with("failed", "", Value::Count(failed(result))),
    );
    answer
        .items
        .extend(rows.iter().map(|row| outcomes::item(row, &numbers)));
    if !rows.is_empty() {
        let caption =
            "To first order (linear) and as found in the variants: standard deviation, and share that holds";
        answer = answer.table("outcomes", caption, outcomes::table(&rows, &units));
    }
    if !result.findings.is_empty() {
        answer = answer.table(
            "findings",
            "Findings of the checks, and the share of the variants in which each does not fail",
            findings(&result.findings),
        );
    }
    for ((named, _), band) in question.curves.iter().zip(&result.bands) {
        answer.tables.push(bands::table(*named, band, &units));
    }
    if !question.curves.is_empty() {
        answer
            .pictures
            .push(("bands", bands::picture(model, question, result)));
    }
    answer
}

/// What it comes to.
fn whole(result: &ToleranceResult, limits: usize) -> String {
    let shares = &result.shares;
    let drawn = format!("{} variants, seed {}", result.samples, result.seed);
    let linear = format!("{} to first order", percent(shares.linear));
    match (limits, shares.findings) {
        (0, None) => format!("No limit was given: what the error of the tape does is described ({drawn})."),
        (0, Some(_)) => format!(
            "No check fails in {} of what your tape allows ({drawn}).",
            percent(shares.everything)
        ),
        (1, None) => format!(
            "The limit is kept in {} of what your tape allows ({drawn}; {linear}).",
            percent(shares.requirements)
        ),
        (limits, None) => format!(
            "{} limits are kept at once in {} of what your tape allows ({drawn}; {linear}).",
            if limits == 2 {
                "Both".to_owned()
            } else {
                format!("All {limits}")
            },
            percent(shares.requirements)
        ),
        (_, Some(findings)) => format!(
            "Every limit is kept and no check fails in {} of what your tape allows ({drawn}): limits alone in {} ({linear}), \
             checks alone in {}.",
            percent(shares.everything),
            percent(shares.requirements),
            percent(findings)
        ),
    }
}

fn failed(result: &ToleranceResult) -> i64 {
    let most = result.failed.iter().map(|failed| failed.count).max().unwrap_or(0);
    i64::try_from(most).unwrap_or(i64::MAX)
}

/// Variants of which something could not be had.
fn failures(result: &ToleranceResult, units: &crate::units::Units) -> Vec<String> {
    let told = result.failed.iter().take(MOST_FAILURES).map(|failed| {
        format!(
            "{} of {} variants have no answer for {}, and count as not holding; the first, number {}: {}",
            failed.count,
            result.samples,
            failed.what,
            failed.first,
            failed.reason.render(units.shown())
        )
    });
    told.collect()
}

fn findings(findings: &[FindingShare]) -> Table {
    let texts = |name: &str, of: &dyn Fn(&FindingShare) -> String| Column {
        name: name.to_owned(),
        decimals: 0,
        cells: findings.iter().map(|own| Cell::Text(of(own))).collect(),
    };
    let shares = |name: &str, of: &dyn Fn(&FindingShare) -> f64| Column {
        name: name.to_owned(),
        decimals: 1,
        cells: findings.iter().map(|own| Cell::Number(100.0 * of(own))).collect(),
    };
    Table {
        columns: vec![
            texts("check", &|own| own.check.to_owned()),
            texts("finding", &|own| own.subject.clone()),
            texts("as_measured", &|own| {
                own.as_measured
                    .map_or("-".to_owned(), |verdict| verdict.word().to_owned())
            }),
            shares("holds_%", &|own| own.holds),
            shares("with_margin_%", &|own| own.with_margin),
        ],
    }
}
