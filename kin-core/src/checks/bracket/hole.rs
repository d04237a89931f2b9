//! The hole: does the bolt go in, what must be drilled, and what edge is left.

use super::CHECK;
use super::question::BracketQuestion;
use crate::checks::bolt_data::{BoltSize, HoleClass};
use crate::checks::{Finding, Remedy, RemedyKind, Sentence, Verdict};
use crate::{Dimension, Error};

/// Least distance from the middle of a hole to the edge, in hole diameters: common practice, no source.
const LEAST_EDGE: f64 = 1.5;
/// The same with a good margin, in hole diameters: common practice, no source.
const GOOD_EDGE: f64 = 2.0;

/// A bolt with less room than this in its hole (mm) goes in with a hammer or not at all (common practice, no source).
const LEAST_ROOM_MM: f64 = 0.1;

/// The hole once it is drilled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoleAfterDrilling {
    /// Its diameter (mm).
    pub diameter: f64,
    /// Whether it must be drilled: there is none yet, or it is smaller.
    pub drilled: bool,
    /// Material left between hole and edge (mm); negative when the hole breaks through.
    pub edge_left: f64,
    /// From the middle of the hole to the edge, in hole diameters.
    pub edge_in_diameters: f64,
}

/// The hole that the bracket will have.
pub(super) fn after_drilling(
    question: &BracketQuestion,
    size: &BoltSize,
) -> Result<HoleAfterDrilling, Error> {
    let (diameter, drilled) = hole_for_bolt(size, question.hole_class, question.hole, question.drill_to)?;
    Ok(HoleAfterDrilling {
        diameter,
        drilled,
        edge_left: question.edge_distance - 0.5 * diameter,
        edge_in_diameters: question.edge_distance / diameter,
    })
}

/// Diameter of the hole that a bolt will have (mm), and whether it must be drilled: the hole there is where the bolt goes
/// in, else the one asked for, else the one for the bolt and its class.
///
/// * `present`: diameter of the hole there is (mm)
/// * `drill_to`: diameter asked for (mm)
///
/// # Errors
/// A size that the tables have no hole for.
pub fn hole_for_bolt(
    size: &BoltSize,
    class: HoleClass,
    present: Option<f64>,
    drill_to: Option<f64>,
) -> Result<(f64, bool), Error> {
    Ok(match (drill_to, present.filter(|hole| *hole >= size.diameter)) {
        (Some(asked), _) => (asked, present.is_none_or(|hole| hole < asked)),
        (None, Some(hole)) => (hole, false),
        (None, None) => (wanted(class, size)?, true),
    })
}

fn wanted(class: HoleClass, size: &BoltSize) -> Result<f64, Error> {
    size.clearance_hole(class).ok_or_else(|| Error::NotForThisLayout {
        question: format!("{} hole for {}", class.name(), size.name),
        reason: "the tables have no hole for this size; give `drill_to`".into(),
    })
}

/// Does the bolt go into the hole, and does it have more room than a loose fit?
pub(super) fn fit(question: &BracketQuestion, size: &BoltSize, hole: &HoleAfterDrilling) -> Finding {
    let room = hole.diameter - size.diameter;
    let start = Sentence::new(format!("{}: the hole ", question.name)).words(if hole.drilled {
        "is to be drilled to "
    } else {
        "has "
    });
    let mut statement = start
        .quantity(hole.diameter, Dimension::Length)
        .words(format!(" for the {} bolt, ", size.name));
    let largest = size.largest_hole();
    let mut remedies = Vec::new();
    let (verdict, limit) = match largest {
        _ if room < 0.0 => {
            statement = statement
                .words("which does not go in: it is thicker by ")
                .length(-room)
                .words(".");
            remedies.extend(larger_hole(question, size, hole));
            (Verdict::Fails, size.diameter)
        }
        Some(largest) if hole.diameter > largest + 1e-9 => {
            statement = statement
                .words("which is more than a loose fit of at most ")
                .length(largest)
                .words(": the bolt can shift and hammer the hole longer. Sleeve it, or use a thicker bolt.");
            (Verdict::Fails, largest)
        }
        _ if room < LEAST_ROOM_MM => {
            statement = statement
                .words("with room of ")
                .fine_length(room)
                .words(" for it: so close that paint or a burr keeps it out.");
            (Verdict::Tight, size.diameter)
        }
        _ => {
            statement = statement.words("with room of ").length(room).words(" for it.");
            (Verdict::Holds, largest.unwrap_or(size.diameter))
        }
    };
    let margin = if hole.diameter > limit && verdict == Verdict::Fails {
        limit - hole.diameter
    } else {
        room
    };
    Finding {
        check: CHECK,
        subject: format!("{}: bolt in its hole", question.name),
        verdict,
        dimension: Dimension::Length,
        value: hole.diameter,
        limit,
        margin,
        at_travel: None,
        statement,
        remedies,
    }
}

fn larger_hole(question: &BracketQuestion, size: &BoltSize, hole: &HoleAfterDrilling) -> Option<Remedy> {
    let wanted = size.clearance_hole(question.hole_class)?;
    let change = wanted - hole.diameter;
    (wanted >= size.diameter).then(|| Remedy {
        kind: RemedyKind::LargerHole,
        change,
        window: (change, size.largest_hole().unwrap_or(wanted) - hole.diameter),
        sentence: Sentence::new("Drill it to ")
            .length(wanted)
            .words(format!(" ({} fit).", question.hole_class.name())),
    })
}

/// Is enough edge left?
pub(super) fn edge(question: &BracketQuestion, size: &BoltSize, hole: &HoleAfterDrilling) -> Finding {
    let (least, good) = (LEAST_EDGE * hole.diameter, GOOD_EDGE * hole.diameter);
    let margin = question.edge_distance - least;
    let verdict = Verdict::from_margin(margin, good - least);
    let statement = Sentence::new(format!(
        "{}: with the hole {} ",
        question.name,
        if hole.drilled { "drilled to" } else { "of" }
    ))
    .length(hole.diameter)
    .words(", ")
    .length(hole.edge_left)
    .words(" of material are left to the edge; its middle stands ")
    .quantity(hole.edge_in_diameters, Dimension::Ratio)
    .words(" hole diameters from the edge, and the trade keeps 1.5 at least, better 2.");
    let remedies = if verdict == Verdict::Fails {
        let mut found = smaller_hole(question, size, hole);
        if found.is_empty() {
            found.push(more_edge(question, least));
        }
        found
    } else {
        Vec::new()
    };
    Finding {
        check: CHECK,
        subject: format!("{}: edge beside the hole", question.name),
        verdict,
        dimension: Dimension::Length,
        value: question.edge_distance,
        limit: least,
        margin,
        at_travel: None,
        statement,
        remedies,
    }
}

/// Material added, or the hole set farther in.
fn more_edge(question: &BracketQuestion, least: f64) -> Remedy {
    let change = least - question.edge_distance;
    Remedy {
        kind: RemedyKind::MoreEdge,
        change,
        window: (change, f64::INFINITY),
        sentence: Sentence::new("Make the tab so that its edge is at least ")
            .at_least(least, f64::INFINITY)
            .words(" from the middle of the hole."),
    }
}

/// The loosest class of hole that keeps the edge, where a hole is yet to be drilled.
fn smaller_hole(question: &BracketQuestion, size: &BoltSize, hole: &HoleAfterDrilling) -> Vec<Remedy> {
    if !hole.drilled {
        return Vec::new();
    }
    let classes = [HoleClass::Loose, HoleClass::Normal, HoleClass::Close];
    let found = classes.into_iter().find_map(|class| {
        let smaller = size
            .clearance_hole(class)
            .filter(|smaller| *smaller < hole.diameter)?;
        let other = BracketQuestion {
            drill_to: Some(smaller),
            ..question.clone()
        };
        let after = after_drilling(&other, size).ok()?;
        (edge(&other, size, &after).verdict != Verdict::Fails).then_some((class, smaller))
    });
    let remedy = found.map(|(class, smaller)| Remedy {
        kind: RemedyKind::SmallerHole,
        change: smaller - hole.diameter,
        window: (size.diameter - hole.diameter, smaller - hole.diameter),
        sentence: Sentence::new("Drill no more than ")
            .at_most(smaller, smaller - size.diameter)
            .words(format!(" ({} fit).", class.name())),
    });
    remedy.into_iter().collect()
}
