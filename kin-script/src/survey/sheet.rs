//! An adjusted survey in words.

use super::tables::{column, text};
use crate::fit::paragraph;
use crate::table::{Cell, Table, fixed};
use crate::units::{Measure, Units};
use kin_core::Dimension;
use kin_core::survey::{Adjustment, Axis, Basis, point_words};
use std::fmt::Write;

/// Readings shown among those that fit worst.
const WORST_SHOWN: usize = 5;

/// The sheet: what was left out, the points with how sure they are, what carries the axes, and what to read next.
#[must_use]
pub fn adjustment_sheet(title: &str, adjusted: &Adjustment, units: &Units) -> String {
    let show = units.shown();
    let mut sheet = String::new();
    let _ = writeln!(sheet, "Survey: {title}");
    let (readings, rejected) = (adjusted.readings().len(), adjusted.rejected().len());
    paragraph(
        &mut sheet,
        "",
        &format!(
            "{} readings of {} points{}: {} coordinates to find, {} readings more than needed.",
            readings + rejected,
            adjusted.names().len(),
            if rejected > 0 {
                format!(", {rejected} of them left out")
            } else {
                String::new()
            },
            adjusted.unknowns(),
            adjusted.redundancy()
        ),
    );
    match adjusted.global_test() {
        Some(test) => paragraph(&mut sheet, "", &test.sentence().render(show)),
        None => paragraph(
            &mut sheet,
            "",
            "No reading is left over: nothing checks anything, and a mistake would not be seen.",
        ),
    }
    if rejected > 0 {
        let _ = writeln!(sheet, "\nRead these again:");
        for rejected in adjusted.rejected() {
            let said = adjusted.rejected_sentence(rejected).render(show);
            paragraph(&mut sheet, "  - ", &format!("{}.", capital(&short(&said, title))));
        }
    }
    let suspect = adjusted.suspect(kin_core::survey::DEFAULT_REJECTION_LIMIT);
    if let Some(suspect) = suspect {
        let _ = writeln!(sheet, "\nSuspect, and still counted:");
        let said = adjusted.suspect_sentence(&suspect).render(show);
        paragraph(&mut sheet, "  - ", &format!("{}.", capital(&short(&said, title))));
    }
    points(&mut sheet, adjusted, units);
    let _ = writeln!(sheet);
    paragraph(&mut sheet, "Axes: ", &adjusted.datum().sentence().render(show));
    if let Some(mirror) = adjusted.mirror_image().sentence() {
        paragraph(&mut sheet, "Mirror image: ", &mirror.render(show));
    }
    let unchecked: Vec<String> = adjusted
        .unchecked()
        .filter_map(|judged| adjusted.reading(judged.index))
        .map(|reading| short(&reading.words(), title))
        .collect();
    if !unchecked.is_empty() {
        let words = format!(
            "a mistake in one of these would go unseen into the points, since hardly any other reading checks it: {}.",
            unchecked.join("; ")
        );
        paragraph(&mut sheet, "Unchecked: ", &words);
    }
    worst(&mut sheet, title, adjusted, units);
    if let Some(helpful) = adjusted.most_helpful() {
        let _ = writeln!(sheet);
        paragraph(&mut sheet, "", &format!("{}.", helpful.sentence().render(show)));
    }
    for estimate in adjusted.survey().repeats() {
        paragraph(&mut sheet, "", &format!("{}.", estimate.sentence().render(show)));
    }
    sheet.truncate(sheet.trim_end().len());
    sheet
}

/// Readings are named by their line alone where they stand in the file that the sheet is of.
fn short(words: &str, title: &str) -> String {
    words.replace(&format!("({title}, line"), "(line")
}

fn points(sheet: &mut String, adjusted: &Adjustment, units: &Units) {
    let symbol = units.symbol(Measure::LENGTH);
    let sigma0 = adjusted.sigma0();
    let _ = writeln!(sheet, "\nPoints ({symbol})");
    let (coarse, fine) = (
        units.decimals(Dimension::Length),
        units.decimals(Dimension::FineLength),
    );
    let number = |value: f64, decimals| fixed(units.from_core(value, Measure::LENGTH), decimals);
    let names = adjusted
        .names()
        .map(|name| Cell::Text(point_words(name)))
        .collect();
    let mut columns = vec![text("point", names)];
    for (axis, heading) in Axis::ALL.into_iter().zip(["forward", "left", "up"]) {
        let cells = adjusted.names().map(|name| {
            adjusted.place(name).map_or(Cell::Empty, |place| {
                Cell::Text(number(place[axis.index()], coarse))
            })
        });
        columns.push(column(heading.to_owned(), coarse, right(cells.collect())));
    }
    for (axis, heading) in Axis::ALL.into_iter().zip(["sd forward", "sd left", "sd up"]) {
        let deviation = |name| adjusted.standard_deviations(name, Basis::APriori);
        let cells = adjusted.names().map(|name| {
            deviation(name).map_or(Cell::Empty, |deviations| {
                Cell::Text(number(deviations[axis.index()], fine))
            })
        });
        columns.push(column(heading.to_owned(), fine, right(cells.collect())));
    }
    for line in (Table { columns }).text().lines() {
        let _ = writeln!(sheet, "  {line}");
    }
    let scaled = sigma0.map_or_else(String::new, |sigma0| {
        format!(
            " By how the readings agreed they are {} times that (scaled by sigma0).",
            fixed(sigma0, 2)
        )
    });
    paragraph(
        sheet,
        "  ",
        &format!(
            "sd: standard deviation a priori, from those stated for the readings; two thirds of surveys come that near, 95 of \
             100 within twice as much.{scaled}"
        ),
    );
}

/// Texts of numbers padded to one width, so that they stand right-aligned.
fn right(cells: Vec<Cell>) -> Vec<Cell> {
    let width = cells
        .iter()
        .map(|cell| {
            if let Cell::Text(text) = cell {
                text.len()
            } else {
                1
            }
        })
        .max();
    let width = width.unwrap_or(0);
    let padded = cells.into_iter().map(|cell| match cell {
        Cell::Text(text) => Cell::Text(format!("{text:>width$}")),
        other => other,
    });
    padded.collect()
}

fn worst(sheet: &mut String, title: &str, adjusted: &Adjustment, units: &Units) {
    let mut judged: Vec<_> = adjusted
        .readings()
        .iter()
        .filter(|judged| judged.normalised.is_some())
        .collect();
    if judged.is_empty() {
        return;
    }
    let size = |normalised: Option<f64>| normalised.map_or(0.0, f64::abs);
    judged.sort_by(|a, b| size(b.normalised).total_cmp(&size(a.normalised)));
    let _ = writeln!(
        sheet,
        "\nReadings that fit worst among those that count (beyond 3.5 one is a mistake):"
    );
    for judged in judged.into_iter().take(WORST_SHOWN) {
        let Some(reading) = adjusted.reading(judged.index) else {
            continue;
        };
        let dimension = match reading.observed.kind() {
            kin_core::survey::Kind::Angle => Dimension::FineAngle,
            _ => Dimension::Length,
        };
        let off = units.text(judged.residual.abs(), dimension);
        let words = format!(
            "{}: off by {off}, {} standard deviations",
            short(reading.words().trim_start_matches("the "), title),
            fixed(size(judged.normalised), 1)
        );
        paragraph(sheet, "  - ", &words);
    }
}

/// With a capital at its front, as a sentence has.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}
