//! The stroke check in words: a sheet for the terminal and for the wall.

use crate::host;
use crate::units::{LengthUnit, Units};
use kin_core::Dimension;
use kin_core::checks::{DamperStroke, Stopper, Verdict, worst};
use std::fmt::Write;

/// Sheets are read in terminals and on A4 paper.
const COLUMNS: usize = 100;

/// The caution that every stroke sheet ends with.
pub(crate) const CAUTION: &str = "Geometry and arithmetic, not approval: before drilling or welding, check with a mock-up bar on the car, on \
    stands rated for it. Springs store energy, a suspension bracket is a safety part, and local rules, the part maker's \
    instructions and a licensed mechanic's or engineer's judgement come first.";

/// The sheet of one or more dampers.
#[must_use]
pub fn stroke_sheet(title: &str, strokes: &[DamperStroke], units: &Units) -> String {
    let mut text = String::new();
    let verdict = worst(strokes.iter().flat_map(|stroke| &stroke.findings));
    let _ = writeln!(text, "Stroke check: {title}");
    let _ = writeln!(text, "Verdict: {}", verdict_words(verdict));
    stroke_section(&mut text, strokes, units);
    text.push('\n');
    text.push_str(&textwrap::fill(CAUTION, COLUMNS));
    text
}

/// The dampers one after the other, each with its findings.
pub(crate) fn stroke_section(text: &mut String, strokes: &[DamperStroke], units: &Units) {
    for stroke in strokes {
        text.push('\n');
        damper(text, stroke, units);
    }
}

fn verdict_words(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Holds => "HOLDS. Every limit holds with its margin.",
        Verdict::Tight => "TIGHT. Every limit holds, some with less than the wanted margin.",
        Verdict::Fails => "FAILS. See the findings marked [fails].",
    }
}

fn damper(text: &mut String, stroke: &DamperStroke, units: &Units) {
    let unit = units.length;
    let show = |value: f64, dimension: Dimension| units.text(value, dimension);
    let length = |value: f64| unit.text(value);
    let budget = &stroke.budget;
    let name = &stroke.damper;
    let mut line = |heading: &str, words: String| {
        let _ = writeln!(text, "  {heading:<13}{words}");
    };
    line("damper", format!("{name}, lengths between mounts"));
    if stroke.stud_allowance != 0.0 {
        line(
            "studs",
            format!(
                "catalogue lengths changed by {} to the turning points of the mounts",
                length(stroke.stud_allowance)
            ),
        );
    }
    line(
        "ride height",
        format!(
            "{} of wheel travel from the pickups as measured; {} between mounts, {:.0} % of the stroke used",
            length(stroke.ride_travel),
            length(budget.length_at_ride),
            100.0 * budget.stroke_used_at_ride
        ),
    );
    line(
        "motion ratio",
        format!(
            "{:.3} at ride height (damper travel over wheel travel, at the wheel centre)",
            budget.motion_ratio_at_ride
        ),
    );
    let far = |travel: Option<f64>| travel.map_or_else(|| "beyond the linkage's reach".to_owned(), length);
    line(
        "wheel bump",
        format!(
            "{} to the bump stop, {} to metal ({})",
            far(budget.bump_to_stop),
            far(budget.bump_to_metal),
            unit.given_text(stroke.lengths.compressed)
        ),
    );
    line(
        "wheel droop",
        format!(
            "{} to topping out ({})",
            far(budget.droop_to_top_out),
            unit.given_text(stroke.lengths.extended)
        ),
    );
    if let Some(share) = budget.bump_share() {
        line(
            "split",
            format!(
                "{:.0} % bump, {:.0} % droop",
                100.0 * share,
                100.0 * (1.0 - share)
            ),
        );
    }
    line(
        "stops first",
        format!(
            "in bump {}; in droop {}",
            stopper(&stroke.first_in_bump, unit),
            stopper(&stroke.first_in_droop, unit)
        ),
    );
    // A bar is cut with whatever tape is at hand: both units, whatever the model is in.
    let bar = |value: f64| format!("{} ({})", LengthUnit::Millimetre.text(value), sixteenth(value));
    line(
        "mock-up bar",
        format!(
            "ride {}, stop contact {}, full droop {}",
            bar(stroke.mock_up.at_ride),
            bar(stroke.mock_up.at_stop_contact),
            bar(stroke.mock_up.at_full_droop)
        ),
    );
    for finding in &stroke.findings {
        paragraph(
            text,
            &format!("  [{}] ", finding.verdict),
            &finding.statement.render(show),
        );
        for remedy in &finding.remedies {
            paragraph(text, "          - ", &remedy.sentence.render(show));
        }
    }
}

/// A paragraph with its first line marked and the others under its text.
fn paragraph(text: &mut String, mark: &str, words: &str) {
    let indent = " ".repeat(mark.len());
    let options = textwrap::Options::new(COLUMNS)
        .initial_indent(mark)
        .subsequent_indent(&indent);
    let _ = writeln!(text, "{}", textwrap::fill(words, options));
}

fn stopper((stopper, travel): &(Stopper, Option<f64>), unit: LengthUnit) -> String {
    match travel {
        Some(travel) => format!("{stopper} at {}", unit.text(*travel)),
        None => stopper.to_string(),
    }
}

/// A length to the nearest sixteenth of an inch; dampers are far from lengths that have none.
fn sixteenth(millimetres: f64) -> String {
    let inches = millimetres / LengthUnit::Inch.millimetres();
    host::nearest_sixteenth(inches).map_or_else(|_| format!("{inches:.2} in"), |text| format!("{text} in"))
}
