//! The driveline of a live axle: pinion, joints and slip.

use super::asked::refused;
use super::columns::{numbers, words};
use super::places::place_keys;
use super::report::{Item, Report};
use super::{Answer, Asked, FitCheck, Typed};
use crate::host::ScriptError;
use crate::model::Suspension;
use crate::table::Table;
use crate::units::Units;
use kin_core::Dimension::Angle;
use kin_core::Error;
use kin_core::checks::{DrivelineAngles, DrivelineTravel, check_driveline};
use rhai::Dynamic;

pub(super) const CHECK: FitCheck = FitCheck {
    word: "driveline",
    counted: "check_driveline",
    needs_ride_height: false,
    documentation: "Pinion angle, joint angles and slip of the propeller shaft of a live axle, from full droop to full bump of \
        either wheel.\n\n\
        The pinion is the model's. Keys: `gearbox_joint` (centre of the joint at the gearbox), `output_falls` (slope of the gearbox's \
        output shaft, degrees, positive falling towards the rear), `double_joint_at_gearbox`, `joint_limit` (degrees, over all \
        travel), `running_limit` (at ride height; 3 unless given), `largest_difference` (of both joints at ride height; 1 unless \
        given), `slip_in`, `slip_out` (slip left at ride height), `range` (`bump`, `droop`).\n\n\
        Can be read, angles in degrees, at ride height: `pinion` (nose up positive), `shaft_falls`, `gearbox_joint`, `pinion_joint`, \
        `difference`, `equivalent` (of one joint that would shake as much as both), `shaft_length`; each of them also with \
        `_at_full_droop` and `_at_full_bump` after its name; over the travel: `largest_gearbox_joint`, `largest_pinion_joint`, \
        `plunge_in`, `plunge_out` (each with `_at`, and `_left` and `_right`).",
    run,
};

fn run(asked: &Asked<'_>, question: Dynamic) -> Result<Answer, ScriptError> {
    let question = asked.read(question, "the driveline question")?;
    let driveline = match asked.suspension {
        Suspension::Axle(axle) => check_driveline(axle, &question),
        Suspension::Corner(_) => Err(Error::NotForThisLayout {
            question: "the driveline check".to_owned(),
            reason: "a corner carries no pinion; ask it of a live axle".into(),
        }),
    };
    let driveline = driveline.map_err(|error| refused(&error, &asked.units))?;
    Ok(Answer {
        report: Report {
            check: CHECK.word,
            heading: "Driveline",
            items: vec![item(&driveline, &asked.units)],
            findings: driveline.findings,
        },
        typed: Typed::None,
    })
}

/// The keys of the angles at one place of the axle.
macro_rules! angle_keys {
    ($end:literal) => {
        [
            concat!("pinion", $end),
            concat!("shaft_falls", $end),
            concat!("gearbox_joint", $end),
            concat!("pinion_joint", $end),
            concat!("difference", $end),
            concat!("equivalent", $end),
            concat!("shaft_length", $end),
        ]
    };
}

fn item(driveline: &DrivelineTravel, units: &Units) -> Item {
    let mut item = Item::new("");
    for (keys, label, angles) in [
        (angle_keys!(""), "shaft at ride height", &driveline.at_ride),
        (angle_keys!("_at_full_droop"), "", &driveline.at_full_droop),
        (angle_keys!("_at_full_bump"), "", &driveline.at_full_bump),
    ] {
        item = standing(item, keys, label, angles);
    }
    let (gearbox, gearbox_at) = &driveline.largest_gearbox_joint;
    let (pinion, pinion_at) = &driveline.largest_pinion_joint;
    let (plunge_in, plunge_in_at) = &driveline.plunge_in;
    let (plunge_out, plunge_out_at) = &driveline.plunge_out;
    item.angle("largest_gearbox_joint", "gearbox joint, largest", *gearbox)
        .place(place_keys!("largest_gearbox_joint"), "  found", gearbox_at)
        .angle("largest_pinion_joint", "pinion joint, largest", *pinion)
        .place(place_keys!("largest_pinion_joint"), "  found", pinion_at)
        .length("plunge_in", "slip goes in by", *plunge_in)
        .place(place_keys!("plunge_in"), "  found", plunge_in_at)
        .length("plunge_out", "slip comes out by", *plunge_out)
        .place(place_keys!("plunge_out"), "  found", plunge_out_at)
        .table("both wheels together", table(driveline, units))
}

/// Angles for scripts: people read the table.
fn standing(
    item: Item,
    keys: [&'static str; 7],
    length_label: &'static str,
    angles: &DrivelineAngles,
) -> Item {
    let [
        pinion,
        falls,
        gearbox_joint,
        pinion_joint,
        difference,
        equivalent,
        length,
    ] = keys;
    item.angle(pinion, "", angles.pinion)
        .angle(falls, "", angles.shaft_falls)
        .angle(gearbox_joint, "", angles.gearbox_joint)
        .angle(pinion_joint, "", angles.pinion_joint)
        .angle(difference, "", angles.difference())
        .angle(equivalent, "", angles.equivalent)
        .length(length, length_label, angles.shaft_length)
}

/// One angle at full droop, ride height and full bump.
struct Row {
    name: &'static str,
    at: [f64; 3],
}

fn table(driveline: &DrivelineTravel, units: &Units) -> Table {
    let places = [
        &driveline.at_full_droop,
        &driveline.at_ride,
        &driveline.at_full_bump,
    ];
    let row = |name, of: fn(&DrivelineAngles) -> f64| Row {
        name,
        at: places.map(of),
    };
    let rows = [
        row("pinion, nose up", |angles| angles.pinion),
        row("joint at the gearbox", |angles| angles.gearbox_joint),
        row("joint at the pinion", |angles| angles.pinion_joint),
        row("difference", DrivelineAngles::difference),
        row("equivalent angle", |angles| angles.equivalent),
    ];
    let mut columns = vec![words(&rows, "angle", |row| row.name.to_owned())];
    for (place, name) in ["full_droop", "ride_height", "full_bump"].into_iter().enumerate() {
        columns.push(numbers(&rows, units, name, Angle, |row| Some(row.at[place])));
    }
    Table { columns }
}
