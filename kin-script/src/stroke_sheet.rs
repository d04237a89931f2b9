//! The stroke check in words: a sheet for the terminal and for the wall.

use crate::fit::{COLUMNS, failed_words, findings, paragraph};
use crate::host;
use crate::table::fixed;
use crate::units::{LengthUnit, Units};
use kin_core::checks::{DamperStroke, Stopper, Verdict};
use std::fmt::Write;

/// The caution that every stroke sheet ends with.
pub(crate) const CAUTION: &str = "Geometry and arithmetic, not approval: before drilling or welding, check with a mock-up bar on the car, on \
    stands rated for it. Springs store energy, a suspension bracket is a safety part, and local rules, the part maker's \
    instructions and a licensed mechanic's or engineer's judgement come first.";

/// The sheet of one or more dampers.
#[must_use]
pub fn stroke_sheet(title: &str, strokes: &[DamperStroke], units: &Units) -> String {
    let mut text = String::new();
    let _ = writeln!(text, "Stroke check: {title}");
    paragraph(&mut text, "Verdict: ", &verdict_words(strokes));
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

/// The verdict over all dampers.
#[must_use]
pub fn stroke_verdict(strokes: &[DamperStroke]) -> Verdict {
    let verdicts = strokes.iter().map(DamperStroke::verdict);
    verdicts.max().unwrap_or(Verdict::NotAsked)
}

/// What fails, in a sentence; none where nothing does.
#[must_use]
pub fn failed_stroke(title: &str, strokes: &[DamperStroke], units: &Units) -> Option<String> {
    let findings = strokes.iter().flat_map(|stroke| &stroke.findings);
    failed_words("Stroke check", title, findings, units)
}

/// What is left open because nobody said how much travel is wanted; nothing where everything was asked.
pub(crate) fn unasked_words(strokes: &[DamperStroke]) -> &'static str {
    let asked =
        |given: fn(&DamperStroke) -> Option<f64>| strokes.iter().any(|stroke| given(stroke).is_some());
    match (
        asked(|stroke| stroke.asked_bump),
        asked(|stroke| stroke.asked_droop),
    ) {
        (true, true) => "",
        (true, false) => " How much droop is wanted was not said, so nothing is said of it.",
        (false, true) => " How much bump is wanted was not said, so nothing is said of it.",
        (false, false) => {
            " How much wheel travel is wanted was not said, so nothing is said of the damper's fit: give `wanted` with \
             `bump` and `droop`, the travel you need from ride height."
        }
    }
}

fn verdict_words(strokes: &[DamperStroke]) -> String {
    let verdict = crate::fit::verdict_words(stroke_verdict(strokes), &[]);
    format!("{verdict}{}", unasked_words(strokes))
}

fn damper(text: &mut String, stroke: &DamperStroke, units: &Units) {
    for (heading, words) in stroke_rows(stroke, units) {
        paragraph(text, &format!("  {heading:<13}"), &words);
    }
    findings(text, &stroke.findings, units);
}

/// The numbers of a damper, each with its heading.
pub(crate) fn stroke_rows(stroke: &DamperStroke, units: &Units) -> Vec<(&'static str, String)> {
    let unit = units.length;
    let length = |value: f64| unit.text(value);
    let budget = &stroke.budget;
    let far = |travel: Option<f64>| travel.map_or_else(|| "beyond the linkage's reach".to_owned(), length);
    let mut rows = vec![("damper", format!("{}, lengths between mounts", stroke.damper))];
    if stroke.stud_allowance != 0.0 {
        rows.push((
            "studs",
            format!(
                "catalogue lengths changed by {} to the turning points of the mounts",
                length(stroke.stud_allowance)
            ),
        ));
    }
    rows.push((
        "ride height",
        format!(
            "{} of wheel travel from the pickups as measured; {} between mounts, {} of the stroke used",
            length(stroke.ride_travel),
            length(budget.length_at_ride),
            percent(budget.stroke_used_at_ride)
        ),
    ));
    rows.push((
        "motion ratio",
        format!(
            "{:.3} at ride height (damper travel over wheel travel, at the wheel centre)",
            budget.motion_ratio_at_ride
        ),
    ));
    rows.push((
        "wheel bump",
        format!(
            "{} to the bump stop, {} to metal ({})",
            far(budget.bump_to_stop),
            far(budget.bump_to_metal),
            unit.given_text(stroke.lengths.compressed)
        ),
    ));
    rows.push((
        "wheel droop",
        format!(
            "{} to topping out ({})",
            far(budget.droop_to_top_out),
            unit.given_text(stroke.lengths.extended)
        ),
    ));
    if let Some(share) = budget.bump_share() {
        rows.push((
            "split",
            format!("{} bump, {} droop", percent(share), percent(1.0 - share)),
        ));
    }
    rows.push((
        "stops bump",
        format!(
            "{}{}",
            stopper(&stroke.first_in_bump, bump_end(stroke), unit),
            rubber(stroke, unit)
        ),
    ));
    rows.push((
        "stops droop",
        stopper(&stroke.first_in_droop, droop_end(stroke), unit),
    ));
    rows.push((
        "mock-up bar",
        format!(
            "ride {}, stop contact {}, full droop {}",
            bar_text(stroke.mock_up.at_ride, unit),
            bar_text(stroke.mock_up.at_stop_contact, unit),
            bar_text(stroke.mock_up.at_full_droop, unit)
        ),
    ));
    rows
}

/// What ends the travel, and where.
///
/// * `damper_end`: what the damper does if it is the one
fn stopper((stopper, travel): &(Stopper, Option<f64>), damper_end: &str, unit: LengthUnit) -> String {
    let at = travel.map_or_else(String::new, |travel| format!(" at {}", unit.text(travel)));
    match stopper {
        Stopper::Damper => format!("{stopper}, {damper_end},{at}"),
        _ => format!("{stopper}{at}"),
    }
}

fn bump_end(stroke: &DamperStroke) -> &'static str {
    if stroke.first_in_bump.1 == stroke.budget.bump_to_metal {
        "metal to metal"
    } else {
        "topped out"
    }
}

fn droop_end(stroke: &DamperStroke) -> &'static str {
    if stroke.first_in_droop.1 == stroke.budget.droop_to_top_out {
        "topped out"
    } else {
        "metal to metal"
    }
}

/// The bump stop, which is touched before anything ends the travel: it gives way, so it stops nothing by itself.
fn rubber(stroke: &DamperStroke, unit: LengthUnit) -> String {
    let has_one = stroke.lengths.stop_contact > stroke.lengths.compressed;
    match stroke.budget.bump_to_stop {
        Some(touched) if has_one && stroke.first_in_bump.1.is_none_or(|end| touched < end) => {
            let at = unit.text(touched);
            format!(" (its bump stop, touched at {at}, gives way until then)")
        }
        _ => String::new(),
    }
}

/// A share in whole percent.
fn percent(share: f64) -> String {
    format!("{} %", fixed(100.0 * share, 0))
}

/// The length of a mock-up bar: it is cut with whatever tape is at hand, so in both units, the reader's own first.
pub(crate) fn bar_text(millimetres: f64, unit: LengthUnit) -> String {
    let metric = LengthUnit::Millimetre.text(millimetres);
    let sixteenth = sixteenth(millimetres);
    match unit {
        LengthUnit::Millimetre => format!("{metric} ({sixteenth})"),
        LengthUnit::Inch => format!("{} ({sixteenth}, {metric})", unit.text(millimetres)),
    }
}

/// A length to the nearest sixteenth of an inch; dampers are far from lengths that have none.
fn sixteenth(millimetres: f64) -> String {
    let inches = millimetres / LengthUnit::Inch.millimetres();
    host::nearest_sixteenth(inches).map_or_else(|_| format!("{inches:.2} in"), |text| format!("{text} in"))
}
