//! What to take along: the plan with its expected accuracy, the sheet to write on, and the empty notebook.

use crate::fit::paragraph;
use crate::table::fixed;
use crate::units::{Measure, Units};
use kin_core::Dimension;
use kin_core::survey::{Axis, Basis, Kind, MeasurementPlan, Observed, point_words};
use std::fmt::Write;

/// Width of the names of readings on the sheet.
const NAMES: usize = 62;
const BOX: &str = "____________";

const CAUTION: &str = "Caution: support the vehicle on stands rated for it, on hard level ground; never lie under a car that a jack holds up.";

/// The plan in words: how many readings, and the standard deviation to expect of every pickup before anything is measured.
#[must_use]
pub fn plan_sheet(title: &str, plan: &MeasurementPlan, units: &Units) -> String {
    let mut sheet = String::new();
    let expected = &plan.expected;
    let _ = writeln!(sheet, "Measurement plan: {title}");
    paragraph(
        &mut sheet,
        "",
        &format!(
            "{} readings of {} points in {} steps, {} more than needed: so that a mistake shows.",
            plan.readings().count(),
            expected.names().len(),
            plan.steps.len(),
            expected.redundancy()
        ),
    );
    let symbol = units.symbol(Measure::LENGTH);
    let _ = writeln!(
        sheet,
        "\nStandard deviation to expect a priori ({symbol}):    forward     left       up"
    );
    let decimals = units.decimals(Dimension::FineLength);
    for name in expected.names() {
        let Some(deviations) = expected.standard_deviations(name, Basis::APriori) else {
            continue;
        };
        let numbers = deviations.iter().map(|value| {
            let shown = fixed(units.from_core(*value, Measure::LENGTH), decimals);
            format!("{shown:>9}")
        });
        let _ = writeln!(
            sheet,
            "  {:<44}{}",
            point_words(name),
            numbers.collect::<String>()
        );
    }
    let deviations = &expected.survey().deviations;
    let stated = [Kind::Tape, Kind::Height, Kind::Offset, Kind::Station].map(|kind| {
        format!(
            "{} {}",
            kind.word(),
            units.text(deviations.of(kind), Dimension::FineLength)
        )
    });
    paragraph(
        &mut sheet,
        "  ",
        &format!(
            "With standard deviations of the readings of: {}.",
            stated.join(", ")
        ),
    );
    if let Some(helpful) = expected.most_helpful() {
        paragraph(
            &mut sheet,
            "  ",
            &format!("{}.", helpful.sentence().render(units.shown())),
        );
    }
    sheet.truncate(sheet.trim_end().len());
    sheet
}

/// The sheet to print and write on.
#[must_use]
pub fn blank_sheet(title: &str, plan: &MeasurementPlan, units: &Units) -> String {
    let mut sheet = String::new();
    let symbol = units.symbol(Measure::LENGTH);
    let _ = writeln!(sheet, "Survey of: {title}");
    let _ = writeln!(
        sheet,
        "Date: {BOX}   Measured by: {BOX}{BOX}   Unit: {symbol}   Tape: {BOX}\n"
    );
    paragraph(&mut sheet, "", CAUTION);
    let _ = writeln!(sheet, "\nFirst");
    for line in [
        "Level floor, or a straightedge shimmed level: heights count from it. Tyres at their pressure, wheel straight ahead.",
        "A string on the floor along the middle of the car: offsets count from it, to the left positive.",
        "A string across, under the front wheel centres (or wherever you choose, once): stations count from it, forward positive.",
        "Plumb each point down to the floor and mark it with its name. Read tapes from centre to centre, tight and straight.",
        "Where the tape touches a bolt head, a tube or a nut, write down in `add` what leads to the centre, with its sign.",
    ] {
        paragraph(&mut sheet, "  [ ] ", line);
    }
    for (number, step) in plan.steps.iter().enumerate() {
        let _ = writeln!(sheet, "\n{}. {}", number + 1, step.heading);
        paragraph(&mut sheet, "   ", step.advice);
        for reading in &step.readings {
            let words = words(&reading.observed);
            let _ = writeln!(sheet, "   {words:<NAMES$}{BOX}  add ______");
        }
    }
    let _ = writeln!(sheet);
    paragraph(
        &mut sheet,
        "",
        "Read a few tapes twice, from the other end: that tells how good the tape is.",
    );
    sheet.truncate(sheet.trim_end().len());
    sheet
}

/// The notebook with empty readings, for a phone or a spreadsheet.
#[must_use]
pub fn blank_notebook(plan: &MeasurementPlan, units: &Units) -> String {
    let unit = if units.symbol(Measure::LENGTH) == "in" {
        "inch"
    } else {
        "mm"
    };
    let mut text = format!("kind,point,to,reading,deviation,offset,note\nunit,,,{unit},,,\n");
    for step in &plan.steps {
        let _ = writeln!(text, "# {}", step.heading);
        for reading in &step.readings {
            let (point, to) = match &reading.observed {
                Observed::Coordinate { of, .. } => (of.as_str(), ""),
                Observed::Distance { from, to } => (from.as_str(), to.as_str()),
                _ => continue,
            };
            let _ = writeln!(text, "{},{point},{to},,,,", reading.observed.kind().word());
        }
    }
    text
}

fn words(observed: &Observed) -> String {
    match observed {
        Observed::Coordinate { of, axis, .. } => {
            let from = match axis {
                Axis::X => "from the string across",
                Axis::Y => "from the middle string",
                Axis::Z => "above the floor",
            };
            format!("{} {} {from}", point_words(of), axis.word())
        }
        Observed::Distance { from, to } => format!("tape: {} to {}", point_words(from), point_words(to)),
        other => other.words(),
    }
}
