//! Clearance: the least gap of every pair over every motion of the wheels.

use super::asked::{listed, refused};
use super::columns::{numbers, words};
use super::places::{place_columns, place_keys};
use super::report::{Item, Report, Value};
use super::{Answer, Asked, FitCheck, Typed};
use crate::host::ScriptError;
use crate::model::Suspension;
use crate::table::Table;
use crate::units::Units;
use kin_core::Dimension::{FineLength, Length, Ratio};
use kin_core::checks::{
    Clearance, LeastGap, MotionKind, MoveGain, Overlap, PairClearance, Verdict, check_axle_clearance,
    check_corner_clearance,
};
use rhai::Dynamic;

pub(super) const CHECK: FitCheck = FitCheck {
    word: "clearance",
    counted: "check_clearance",
    needs_ride_height: false,
    documentation: "The least gap between what moves and what stands, and between moving parts, over bump and droop, one wheel \
        alone, roll and steering: how much, in which motion, and where the wheels are then.\n\n\
        Keys: `parts` (what moves: one map or a list), `obstacles` (what the parts must stay clear of), `except` (pairs of names \
        not to compare, [[\"spring\", \"axle tube\"]]), `gap` (wanted; 6.35 mm unless given), `margin` (room beyond it below which a \
        pair is tight), `bump`, `droop` (the wanted travel unless given), `lock` (rack to either side).\n\n\
        A part or obstacle: `name`, `shape`, `fixed_to` (\"body\" unless given, \"upper_arm\", \"lower_arm\", \"upright\", \"axle\" or \
        a link's name), `mirror` (also on the other side), `gap`. A shape is one of: `along_damper` (`radius` and two of \
        `from_upper`, `from_lower`, `length`; `side`, `on_spring`), `rod` (`from`, `to`: a pickup's name such as \
        \"upper_arm.ball_joint\" or a point; `short_of_from`, `short_of_to`, `radius`), `tube` (`points`, `radius`), `box` \
        (`centre`, `size`, `yaw`, `pitch`, `roll`), `sphere` (`centre`, `radius`), `plane` (`point`, `normal` to the free side), \
        `tyre` (`width`, `radius`, `side`). Points are those of the pickups as measured.\n\n\
        Can be read: `least_gap`, and each pair by its name, `answer[\"spring to tailpipe\"]`: `part`, `other`, `gap`, `wanted`, \
        `at_ride`, `cores_meet` (the overlap is deeper than the gap says), `motion`, `gap_at` (and `gap_travel`, `gap_rack`, or \
        `gap_left`, `gap_right`), `on_part`, `on_other`, `moving_other_gain`, `moving_other_direction`, `moving_mount_gain`, \
        `moving_mount_direction`, and the least gap of each motion: `gap_bump_and_droop`, `gap_steer`, `gap_bump_and_steer`, or \
        `gap_both_wheels`, `gap_left_wheel`, `gap_right_wheel`, `gap_left_up_right_down`, `gap_left_down_right_up`, \
        `gap_any_wheels`.",
    run,
};

/// The clearance check that a script asks for, in the core's own terms.
///
/// # Errors
/// A question that cannot be right.
pub fn clearance_of(asked: &Asked<'_>, mut question: Dynamic) -> Result<Clearance, ScriptError> {
    listed(&mut question, "parts");
    listed(&mut question, "obstacles");
    let question = asked.read(question, "the clearance question")?;
    let clearance = match asked.suspension {
        Suspension::Corner(corner) => check_corner_clearance(corner, &question),
        Suspension::Axle(axle) => check_axle_clearance(axle, &question),
    };
    clearance.map_err(|error| refused(&error, &asked.units))
}

fn run(asked: &Asked<'_>, question: Dynamic) -> Result<Answer, ScriptError> {
    let clearance = clearance_of(asked, question)?;
    let mut items = vec![overview(&clearance, &asked.units)];
    let judged = clearance.pairs.iter().zip(&clearance.findings);
    items.extend(judged.map(|(pair, finding)| item(pair, finding.verdict, &asked.units)));
    Ok(Answer {
        report: Report {
            check: CHECK.word,
            heading: "Clearance",
            items,
            findings: clearance.findings,
        },
        typed: Typed::None,
    })
}

/// All pairs in one table.
fn overview(clearance: &Clearance, units: &Units) -> Item {
    let rows = &clearance.pairs;
    let least = rows.iter().map(|pair| pair.least.gap).reduce(f64::min);
    let item = Item::new("").maybe(
        "least_gap",
        "least gap of all",
        (least, Length),
        "nothing to compare",
    );
    if rows.is_empty() {
        return item;
    }
    let mut columns = vec![
        words(rows, "part", |pair| pair.part.clone()),
        words(rows, "other", |pair| pair.other.clone()),
        numbers(rows, units, "gap", Length, |pair| Some(pair.least.gap)),
        numbers(rows, units, "ride", Length, |pair| Some(pair.at_ride)),
        words(rows, "motion", |pair| short(pair.least.motion).to_owned()),
    ];
    columns.extend(place_columns(rows, units, |pair| pair.least.wheels));
    item.table("the least gap of every pair, and where it is", Table { columns })
}

/// One pair: for people only what the table of all pairs does not say, and only where it matters.
fn item(pair: &PairClearance, verdict: Verdict, units: &Units) -> Item {
    let shown = |label| if verdict == Verdict::Holds { "" } else { label };
    let least = &pair.least;
    let mut item = Item::new(format!("{} to {}", pair.part, pair.other))
        .text("part", "", &pair.part)
        .text("other", "", &pair.other)
        .length("gap", "", least.gap)
        .quantity("wanted", shown("gap wanted"), pair.wanted, FineLength)
        .length("at_ride", "", pair.at_ride)
        .with("cores_meet", "", Value::Truth(least.cores_meet))
        .text("motion", "", least.motion.words())
        .place(place_keys!("gap"), "", &least.wheels)
        .with(
            "on_part",
            shown("nearest point of the part"),
            Value::Vector(least.on_part.into(), Length),
        )
        .with(
            "on_other",
            shown("nearest point of the other"),
            Value::Vector(least.on_other.into(), Length),
        );
    let other = ["moving_other_gain", "moving_other_direction"];
    item = gain(
        item,
        other,
        shown("best way to move the other"),
        &pair.moving_other,
    );
    let mount = ["moving_mount_gain", "moving_mount_direction"];
    item = gain(
        item,
        mount,
        shown("best way to move the mount"),
        &pair.moving_upper_mount,
    );
    for least in &pair.by_motion {
        item = item.length(key(least.motion), "", least.gap);
    }
    if verdict != Verdict::Holds && pair.by_motion.len() > 1 {
        item = item.table("the least gap of each motion", by_motion(&pair.by_motion, units));
    }
    if !pair.overlaps.is_empty() {
        item = item.table("where they overlap", overlaps(&pair.overlaps, units));
    }
    item
}

/// The direction that gains most, and what it gains.
fn gain(
    item: Item,
    [gain, direction]: [&'static str; 2],
    label: &'static str,
    found: &Option<MoveGain>,
) -> Item {
    let Some(found) = found else { return item };
    let gain_label = if label.is_empty() {
        ""
    } else {
        "  gap gained, of the move"
    };
    item.with(direction, label, Value::Vector(found.direction.into(), Ratio))
        .with(gain, gain_label, Value::Share(found.gain))
}

fn by_motion(rows: &[LeastGap], units: &Units) -> Table {
    let mut columns = vec![
        words(rows, "motion", |least| short(least.motion).to_owned()),
        numbers(rows, units, "gap", Length, |least| Some(least.gap)),
    ];
    columns.extend(place_columns(rows, units, |least| least.wheels));
    Table { columns }
}

fn overlaps(rows: &[Overlap], units: &Units) -> Table {
    let mut columns = vec![words(rows, "motion", |overlap| short(overlap.motion).to_owned())];
    let ends = [
        ("from_", place_columns(rows, units, |overlap| overlap.from)),
        ("to_", place_columns(rows, units, |overlap| overlap.to)),
    ];
    for (end, places) in ends {
        columns.extend(places.into_iter().map(|mut column| {
            column.name.insert_str(0, end);
            column
        }));
    }
    Table { columns }
}

/// A motion in a table.
fn short(motion: MotionKind) -> &'static str {
    match motion {
        MotionKind::Steer => "steering",
        MotionKind::BumpAndSteer => "with steering",
        MotionKind::BothWheels => "both wheels",
        MotionKind::LeftWheel => "left wheel",
        MotionKind::RightWheel => "right wheel",
        MotionKind::AnyWheels => "each wheel",
        other => other.words(),
    }
}

/// The key of the least gap of a motion.
fn key(motion: MotionKind) -> &'static str {
    match motion {
        MotionKind::BumpAndDroop => "gap_bump_and_droop",
        MotionKind::Steer => "gap_steer",
        MotionKind::BumpAndSteer => "gap_bump_and_steer",
        MotionKind::BothWheels => "gap_both_wheels",
        MotionKind::LeftWheel => "gap_left_wheel",
        MotionKind::RightWheel => "gap_right_wheel",
        MotionKind::LeftUpRightDown => "gap_left_up_right_down",
        MotionKind::LeftDownRightUp => "gap_left_down_right_up",
        _ => "gap_any_wheels",
    }
}
