//! The damper: its speed, its damping at the wheel for every click, and the clicks to start from.

use super::asked::{refused, take_question};
use super::columns::numbers;
use super::report::{Item, Report, Value};
use super::{Answer, Asked, FitCheck, Typed};
use crate::host::ScriptError;
use crate::model::Suspension;
use crate::table::{Cell, Column, Table};
use crate::units::Units;
use kin_core::Dimension::{Damping, Force, Rate, Ratio, Speed};
use kin_core::checks::{
    ClickDamping, DamperSetting, DirectionSetting, axle_damper_setting, corner_damper_setting,
};
use rhai::Dynamic;

pub(super) const CHECK: FitCheck = FitCheck {
    word: "damper_setting",
    counted: "check_damper_setting",
    needs_ride_height: true,
    documentation: "The clicks to start from, as an instruction such as \"from full stiff, back off 10 of 20 clicks\", the speed of the \
        damper for a speed of the wheel, and the damping ratio at the wheel for every click that a dyno measured.\n\n\
        Keys: `bump` and `rebound` (each: `clicks` from end to end, `counted_from` \"full_stiff\" unless given or \"full_soft\", \
        `dyno`, a list of `click` with `points`, each a `speed` and a `force` of the damper, `wanted_ratio` of critical damping), \
        `wheel_speed` (100 mm/s unless given), `ride_height` (the question of that check). Where one knob sets both, give it in \
        both. Without dyno points the start is the middle of the range.\n\n\
        Can be read: `bump_start` and `rebound_start` (the instruction), `bump_click`, `rebound_click`, `bump_ratio`, \
        `rebound_ratio`, `motion_ratio`, `wheel_rate`, `critical_damping`, `wheel_speed`, `damper_speed`, `damper_speed_in_roll`, \
        and `tables`.",
    run,
};

fn run(asked: &Asked<'_>, mut question: Dynamic) -> Result<Answer, ScriptError> {
    const WHAT: &str = "the damper setting";
    const RIDE: &str = "the ride height question";
    let ride = take_question(&mut question, "ride_height");
    let question = asked.read(question, WHAT)?;
    let settings = match asked.suspension {
        Suspension::Corner(corner) => {
            corner_damper_setting(corner, &asked.read(ride, RIDE)?, &question).map(|only| vec![only])
        }
        Suspension::Axle(axle) => axle_damper_setting(axle, &asked.read_sides(ride, RIDE)?, &question),
    };
    let settings = settings.map_err(|error| refused(&error, &asked.units))?;
    let report = Report {
        check: CHECK.word,
        heading: "Damper setting",
        items: settings
            .iter()
            .map(|setting| item(setting, &asked.units))
            .collect(),
        findings: settings
            .iter()
            .flat_map(|setting| setting.findings.clone())
            .collect(),
    };
    Ok(Answer {
        report,
        typed: Typed::DamperSetting(settings),
    })
}

/// Keys and labels of bump and rebound.
const BUMP: [&str; 6] = [
    "bump_start",
    "start with, in bump",
    "bump_click",
    "bump_ratio",
    "ratio there, in bump",
    "bump, click by click",
];
const REBOUND: [&str; 6] = [
    "rebound_start",
    "start with, in rebound",
    "rebound_click",
    "rebound_ratio",
    "ratio there, in rebound",
    "rebound, click by click",
];

fn item(setting: &DamperSetting, units: &Units) -> Item {
    let mut item = Item::new(&setting.damper);
    for (direction, names) in [(&setting.bump, BUMP), (&setting.rebound, REBOUND)] {
        if let Some(direction) = direction {
            item = start(item, direction, names);
        }
    }
    item = item
        .quantity("motion_ratio", "motion ratio", setting.motion_ratio, Ratio)
        .quantity("wheel_rate", "wheel rate", setting.wheel_rate, Rate)
        .quantity(
            "critical_damping",
            "critical damping, at wheel",
            setting.critical_damping,
            Damping,
        )
        .quantity("wheel_speed", "speed of the wheel", setting.speed.wheel, Speed)
        .quantity("damper_speed", "speed of the damper", setting.speed.damper, Speed);
    if let Some(in_roll) = setting.speed.in_roll {
        item = item.quantity(
            "damper_speed_in_roll",
            "speed of the damper in roll",
            in_roll,
            Speed,
        );
    }
    for (direction, names) in [(&setting.bump, BUMP), (&setting.rebound, REBOUND)] {
        if let Some(direction) = direction.as_ref().filter(|found| !found.clicks.is_empty()) {
            item = item.table(names[5], table(&direction.clicks, units));
        }
    }
    item
}

fn start(item: Item, direction: &DirectionSetting, names: [&'static str; 6]) -> Item {
    item.text(names[0], names[1], direction.start.to_string())
        .with(names[2], "", Value::Count(i64::from(direction.start.click)))
        .maybe(
            names[3],
            names[4],
            (direction.start_ratio, Ratio),
            "not known without dyno points",
        )
}

fn table(rows: &[ClickDamping], units: &Units) -> Table {
    Table {
        columns: vec![
            Column {
                name: "click".to_owned(),
                decimals: 0,
                cells: rows
                    .iter()
                    .map(|row| Cell::Number(f64::from(row.click)))
                    .collect(),
            },
            numbers(rows, units, "force", Force, |row| Some(row.force)),
            numbers(rows, units, "at_wheel", Damping, |row| Some(row.at_wheel)),
            numbers(rows, units, "damping_ratio", Ratio, |row| Some(row.ratio)),
        ],
    }
}
