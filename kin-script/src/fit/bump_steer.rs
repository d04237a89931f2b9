//! Bump steer about ride height, and the shims that make it least.

use super::asked::refused;
use super::columns::{numbers, rates};
use super::report::{Item, Report, Value};
use super::{Answer, Asked, FitCheck, Typed};
use crate::host::ScriptError;
use crate::model::Suspension;
use crate::table::{Cell, Column, Table};
use crate::units::Units;
use kin_core::Dimension::{FineAngle, FineLength};
use kin_core::Error;
use kin_core::checks::{BumpSteer, ShimRow, check_bump_steer};
use rhai::Dynamic;

pub(super) const CHECK: FitCheck = FitCheck {
    word: "bump_steer",
    counted: "check_bump_steer",
    needs_ride_height: false,
    documentation: "How much the wheel steers by itself in bump and droop about ride height, and the whole shims under an end of the \
        tie rod that make it least.\n\n\
        Keys: `range` (bump and droop watched; 50 mm unless given), `largest_change` (of toe, degrees), `shim` (`end`: \"outer\" \
        unless given, or \"inner\"; `thickness`, `direction` in which one moves the joint, down unless given; `most`, 8 unless \
        given).\n\n\
        Can be read, angles in degrees: `toe_change`, `slope` (per travel at ride height, positive when bump toes in), `at_ride`, \
        `most_toe_in`, `most_toe_in_at`, `most_toe_out`, `most_toe_out_at` (travel), `best_shims`, `best_moved`, `best_toe_change`, \
        `best_slope`, `best_offset` (of all, not only whole shims), `best_offset_toe_change`; all rows in `.items[0].tables[0]`.",
    run,
};

fn run(asked: &Asked<'_>, question: Dynamic) -> Result<Answer, ScriptError> {
    let question = asked.read(question, "the bump steer question")?;
    let steer = match asked.suspension {
        Suspension::Corner(corner) => check_bump_steer(corner, &question),
        Suspension::Axle(_) => Err(Error::NotForThisLayout {
            question: "the bump-steer check".to_owned(),
            reason: "a live axle has no tie rods; ask it of a corner".into(),
        }),
    };
    let steer = steer.map_err(|error| refused(&error, &asked.units))?;
    Ok(Answer {
        report: Report {
            check: CHECK.word,
            heading: "Bump steer",
            items: vec![item(&steer, &asked.units)],
            findings: steer.findings.clone(),
        },
        typed: Typed::BumpSteer(steer),
    })
}

fn item(steer: &BumpSteer, units: &Units) -> Item {
    let fine = |item: Item, key, label, value| item.quantity(key, label, value, FineAngle);
    let mut item = fine(Item::new(""), "toe_change", "toe changes by", steer.toe_change).with(
        "slope",
        "bump steer, toe-in positive",
        Value::PerTravel(steer.slope, FineAngle),
    );
    item = fine(item, "at_ride", "toe at ride height", steer.at_ride);
    item = fine(item, "most_toe_in", "most toe-in", steer.most_toe_in.0);
    item = item.length("most_toe_in_at", "  at the travel", steer.most_toe_in.1);
    item = fine(item, "most_toe_out", "least toe-in", steer.most_toe_out.0);
    item = item.length("most_toe_out_at", "  at the travel", steer.most_toe_out.1);
    if let Some(best) = &steer.best {
        item = item
            .with(
                "best_shims",
                "shims that serve best",
                Value::Count(i64::from(best.shims)),
            )
            .quantity("best_moved", "  they move the joint by", best.moved, FineLength);
        item = fine(item, "best_toe_change", "  toe then changes by", best.toe_change).with(
            "best_slope",
            "",
            Value::PerTravel(best.slope, FineAngle),
        );
    }
    if let Some((offset, change)) = steer.best_offset {
        item = item.quantity("best_offset", "best move of the joint", offset, FineLength);
        item = fine(item, "best_offset_toe_change", "  toe then changes by", change);
    }
    if steer.rows.is_empty() {
        return item;
    }
    item.table(
        "with shims, toe at ride height set anew",
        table(&steer.rows, units),
    )
}

fn table(rows: &[ShimRow], units: &Units) -> Table {
    Table {
        columns: vec![
            Column {
                name: "shims".to_owned(),
                decimals: 0,
                cells: rows
                    .iter()
                    .map(|row| Cell::Number(f64::from(row.shims)))
                    .collect(),
            },
            numbers(rows, units, "moved", FineLength, |row| Some(row.moved)),
            numbers(rows, units, "toe_change", FineAngle, |row| Some(row.toe_change)),
            rates(rows, units, "slope", FineAngle, |row| Some(row.slope)),
        ],
    }
}
