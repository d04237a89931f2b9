//! Does a bearing with its spacers go between the cheeks of its bracket?

use super::SphericalBearing;
use crate::checks::{Finding, Remedy, RemedyKind, Sentence, Verdict};
use crate::pickups::{Measured, Quantity, length_within};
use crate::{Dimension, Error, Rounding};
use serde::{Deserialize, Serialize};

const CHECK: &str = "bearings";

/// Gap that tightening a bolt closes without bending the cheeks for good (mm), 1/32 in (common practice, no source).
const USUAL_LARGEST_GAP_MM: f64 = 0.8;
/// Widths that add up to the bracket's but for the rounding of a sum (mm) fit it.
const ROUNDING_MM: f64 = 1e-9;

/// A bearing with its spacers, and the bracket that holds it (mm).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BearingInBracket {
    /// What the mount is called in findings.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// Width of the ball, or of the sleeve of a bushing.
    pub bearing_width: f64,
    /// Length of the spacer on either side.
    #[serde(default)]
    pub spacer_length: f64,
    /// Inside width of the bracket.
    pub bracket_width: f64,
    /// What the width of the bearing may be off, either way.
    #[serde(default)]
    pub bearing_tolerance: f64,
    /// What the length of each spacer may be off, either way.
    #[serde(default)]
    pub spacer_tolerance: f64,
    /// What the width of the bracket may be off, either way.
    #[serde(default)]
    pub bracket_tolerance: f64,
    /// The largest gap that tightening may close; 0.8 mm when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub largest_gap: Option<f64>,
}

impl BearingInBracket {
    /// A bearing of known sizes in a bracket of this inside width (mm), all as stated.
    #[must_use]
    pub fn of(bearing: &SphericalBearing, bracket_width: f64) -> Self {
        Self {
            name: String::new(),
            bearing_width: bearing.ball_width,
            spacer_length: bearing.spacer_length,
            bracket_width,
            bearing_tolerance: 0.0,
            spacer_tolerance: 0.0,
            bracket_tolerance: 0.0,
            largest_gap: None,
        }
    }
}

impl Measured for BearingInBracket {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        for length in [
            &mut self.bearing_width,
            &mut self.spacer_length,
            &mut self.bracket_width,
            &mut self.bearing_tolerance,
            &mut self.spacer_tolerance,
            &mut self.bracket_tolerance,
        ] {
            visitor(length, Quantity::Length);
        }
        if let Some(gap) = &mut self.largest_gap {
            visitor(gap, Quantity::Length);
        }
    }
}

/// What is left between bearing, spacers and bracket (mm); negative when they do not go in.
#[derive(Debug, Clone, PartialEq)]
pub struct BracketFit {
    /// Width of the bearing with both spacers.
    pub stack_width: f64,
    /// Clearance with every width as stated.
    pub clearance: f64,
    /// Clearance with every width at the wrong end of its tolerance.
    pub least_clearance: f64,
    /// Clearance with every width at the other end.
    pub largest_clearance: f64,
    /// The answer.
    pub findings: Vec<Finding>,
}

/// Adds up bearing and spacers and compares them with the bracket, tolerances at their worst.
///
/// # Errors
/// Widths that cannot be right.
pub fn check_bearing_in_bracket(question: &BearingInBracket) -> Result<BracketFit, Error> {
    let most = (0.0, 1_000.0);
    for (value, field, range) in [
        (question.bearing_width, "bearing_width", (0.1, 1_000.0)),
        (question.bracket_width, "bracket_width", (0.1, 1_000.0)),
        (question.spacer_length, "spacer_length", most),
        (question.bearing_tolerance, "bearing_tolerance", most),
        (question.spacer_tolerance, "spacer_tolerance", most),
        (question.bracket_tolerance, "bracket_tolerance", most),
        (question.largest_gap.unwrap_or(0.0), "largest_gap", most),
    ] {
        length_within(value, field, range, "give a width; is the unit right?")?;
    }
    let stack_width = question.bearing_width + 2.0 * question.spacer_length;
    let tolerance = question.bearing_tolerance + 2.0 * question.spacer_tolerance + question.bracket_tolerance;
    let rounded = |clearance: f64| {
        if clearance.abs() < ROUNDING_MM {
            0.0
        } else {
            clearance
        }
    };
    let clearance = rounded(question.bracket_width - stack_width);
    let (least, largest) = (rounded(clearance - tolerance), rounded(clearance + tolerance));
    let largest_gap = question.largest_gap.unwrap_or(USUAL_LARGEST_GAP_MM);
    let too_wide = clearance < 0.0;
    // A gap as large as allowed is allowed, whatever rounding adds to it.
    let too_loose = largest > largest_gap + ROUNDING_MM;
    let verdict = if least < 0.0 || too_loose {
        Verdict::Fails
    } else {
        Verdict::Holds
    };
    let name = &question.name;
    let (start, subject) = if name.is_empty() {
        ("Bearing".to_owned(), String::new())
    } else {
        (format!("{name}: bearing"), format!("{name}: "))
    };
    let mut statement = Sentence::new(start)
        .words(" and spacers are ")
        .fine_length(stack_width)
        .words(" wide, the bracket ")
        .fine_length(question.bracket_width)
        .words(" inside: ")
        .fine_length(clearance.abs())
        .words(if too_wide { " too wide" } else { " of clearance" });
    if tolerance > 0.0 {
        statement = statement
            .words(", from ")
            .fine_length(least)
            .words(" to ")
            .fine_length(largest)
            .words(" with the tolerances at their worst");
    }
    statement = statement.words(if too_wide {
        ": they do not go in."
    } else if least < 0.0 {
        ": at worst, with the parts at the wrong end of their tolerance, they do not go in."
    } else if too_loose && clearance <= largest_gap {
        ": at worst, with the parts at the wrong end of their tolerance, tightening the bolt would bend the bracket, so \
         fill the gap with a washer."
    } else if too_loose {
        ": tightening the bolt would bend the bracket, so fill the gap with a washer."
    } else {
        "."
    });
    let room = largest_gap - 2.0 * tolerance;
    if verdict == Verdict::Fails && room < 0.0 {
        statement = statement
            .words(" Tolerances that let the gap vary by ")
            .fine_length(2.0 * tolerance)
            .words(" are more than the ")
            .fine_length(largest_gap)
            .words(" that tightening may close: no width serves until they are held closer.");
    }
    let remedies = match verdict {
        Verdict::Fails if room < 0.0 => Vec::new(),
        Verdict::Fails if least < 0.0 => narrower(question, least, room),
        Verdict::Fails => wider(question, (largest - largest_gap, least)),
        _ => Vec::new(),
    };
    let finding = Finding {
        check: CHECK,
        subject: format!("{subject}bearing with its spacers in the bracket"),
        verdict,
        dimension: Dimension::FineLength,
        value: stack_width,
        limit: question.bracket_width,
        margin: clearance,
        at_travel: None,
        statement,
        remedies,
    };
    Ok(BracketFit {
        stack_width,
        clearance,
        least_clearance: least,
        largest_clearance: largest,
        findings: vec![finding],
    })
}

/// Whether the widths hold at worst.
fn holds(question: &BearingInBracket) -> bool {
    check_bearing_in_bracket(question).is_ok_and(|fit| {
        fit.findings
            .iter()
            .all(|finding| finding.verdict == Verdict::Holds)
    })
}

/// Spacers shortened to suit, both by the same, or the bracket opened; at worst nothing is left.
///
/// * `room`: how much more may be taken away before the gap is too large at worst (mm)
fn narrower(question: &BearingInBracket, least: f64, room: f64) -> Vec<Remedy> {
    let change = 0.5 * least;
    let shortened = BearingInBracket {
        spacer_length: question.spacer_length + change,
        ..question.clone()
    };
    let opened = BearingInBracket {
        bracket_width: question.bracket_width - least,
        ..question.clone()
    };
    let spacers = holds(&shortened).then(|| Remedy {
        kind: RemedyKind::ShorterSpacers,
        change,
        window: (change - 0.5 * room, change),
        sentence: between(Sentence::new("Shorten each spacer by "), -change, 0.5 * room).words("."),
    });
    let bracket = holds(&opened).then(|| Remedy {
        kind: RemedyKind::WiderBracket,
        change: -least,
        window: (-least, room - least),
        sentence: between(
            Sentence::new(if spacers.is_some() {
                "Or open the bracket by "
            } else {
                "Open the bracket by "
            }),
            -least,
            room,
        )
        .words("."),
    });
    spacers.into_iter().chain(bracket).collect()
}

/// Spacers lengthened, or washers added, both sides by the same.
///
/// * `more`: the least and the most that both sides together may add (mm)
fn wider(question: &BearingInBracket, more: (f64, f64)) -> Vec<Remedy> {
    let (change, most) = (0.5 * more.0, 0.5 * more.1);
    let longer = BearingInBracket {
        spacer_length: question.spacer_length + change,
        ..question.clone()
    };
    let start = Sentence::new(if question.spacer_length > 0.0 {
        "Lengthen each spacer, or put a washer on either side, by "
    } else {
        "Put a spacer or washer on either side, each of "
    });
    let remedy = holds(&longer).then(|| Remedy {
        kind: RemedyKind::LongerSpacers,
        change,
        window: (change, most),
        sentence: between(start, change, most - change).words("."),
    });
    remedy.into_iter().collect()
}

/// "0.3 mm to 0.5 mm", both ends on the safe side.
fn between(start: Sentence, least: f64, room: f64) -> Sentence {
    start
        .rounded(least, Dimension::FineLength, Rounding::Up { room })
        .words(" at least and ")
        .rounded(least + room, Dimension::FineLength, Rounding::Down { room })
        .words(" at most")
}
