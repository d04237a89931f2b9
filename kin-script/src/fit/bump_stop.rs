//! The bump stop: where it works, and what it adds.

use super::asked::{refused, take};
use super::columns::numbers;
use super::report::{Item, Report, Value};
use super::{Answer, Asked, FitCheck, Typed};
use crate::host::ScriptError;
use crate::model::Suspension;
use crate::table::Table;
use crate::units::Units;
use kin_core::Dimension::{Force, Length, Rate};
use kin_core::checks::{BumpStopWork, StopEnd, StopRow, check_axle_bump_stop, check_corner_bump_stop};
use rhai::Dynamic;

pub(super) const CHECK: FitCheck = FitCheck {
    word: "bump_stop",
    counted: "check_bump_stop",
    needs_ride_height: true,
    documentation: "What the bump stop does: where it is touched, its share of the bump travel, and forces and rates at the wheel \
        while it works.\n\n\
        Keys: `table` (a list of maps with `compression` and `force`, rising), `load_factor` (times the static weight to be carried \
        before metal), `ride_height` (the question of that check).",
    run,
};

fn run(asked: &Asked<'_>, mut question: Dynamic) -> Result<Answer, ScriptError> {
    const WHAT: &str = "the bump stop question";
    const RIDE: &str = "the ride height question";
    let ride = take(&mut question, "ride_height").unwrap_or_else(|| Dynamic::from_map(rhai::Map::new()));
    let question = asked.read(question, WHAT)?;
    let stops = match asked.suspension {
        Suspension::Corner(corner) => {
            check_corner_bump_stop(corner, &asked.read(ride, RIDE)?, &question).map(|only| vec![only])
        }
        Suspension::Axle(axle) => check_axle_bump_stop(axle, &asked.read_sides(ride, RIDE)?, &question),
    };
    let stops = stops.map_err(|error| refused(&error, &asked.units))?;
    Ok(Answer {
        report: Report {
            check: CHECK.word,
            heading: "Bump stop",
            items: stops.iter().map(|stop| item(stop, &asked.units)).collect(),
            findings: stops.iter().flat_map(|stop| stop.findings.clone()).collect(),
        },
        typed: Typed::None,
    })
}

fn item(stop: &BumpStopWork, units: &Units) -> Item {
    let mut item = Item::new(&stop.damper)
        .length("contact", "touched at, from ride height", stop.contact)
        .length("end", "bump ends at", stop.end)
        .text(
            "ends_at",
            "what ends it",
            match stop.ends_at {
                StopEnd::Flat => "the stop is pressed flat",
                StopEnd::Metal => "the damper meets metal",
            },
        );
    if let Some(share) = stop.share_of_bump {
        item = item.with("share_of_bump", "works over, of the bump", Value::Share(share));
    }
    item.with(
        "share_of_stroke",
        "works over, of the stroke",
        Value::Share(stop.share_of_stroke),
    )
    .maybe(
        "carries_load_factor_at",
        "carries the load factor at",
        (stop.carries_load_factor_at, Length),
        "nowhere before the end",
    )
    .table("the wheel while the stop is pressed", table(&stop.rows, units))
}

fn table(rows: &[StopRow], units: &Units) -> Table {
    Table {
        columns: vec![
            numbers(rows, units, "travel", Length, |row| Some(row.travel)),
            numbers(rows, units, "compression", Length, |row| Some(row.compression)),
            numbers(rows, units, "stop_force", Force, |row| Some(row.stop_force)),
            numbers(rows, units, "wheel_force", Force, |row| Some(row.wheel_force)),
            numbers(rows, units, "wheel_rate", Rate, |row| Some(row.wheel_rate)),
        ],
    }
}
