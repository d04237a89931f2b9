//! The alignment card: how the wheel stands, how it should stand, and what to set.

use super::asked::{listed, refused};
use super::columns::{numbers, rates, words};
use super::report::{Item, Report, Value};
use super::{Answer, Asked, FitCheck, Typed};
use crate::host::ScriptError;
use crate::model::Suspension;
use crate::table::{Cell, Column, Table};
use crate::units::Units;
use kin_core::Dimension::{Angle, FineAngle, FineLength};
use kin_core::Error;
use kin_core::checks::{AdjusterSetting, Alignment, AlignmentQuestion, WantedAngle, check_alignment};
use rhai::Dynamic;

pub(super) const CHECK: FitCheck = FitCheck {
    word: "alignment",
    counted: "check_alignment",
    needs_ride_height: false,
    documentation: "Camber, caster and toe at ride height against what is wanted, and what to set at the pickups to get there, \
        checked by a full solve of the corner so set.\n\n\
        Keys: `camber`, `caster`, `toe` of this wheel (each with `angle` and `tolerance` in degrees), `adjusters` (one map or a \
        list): `pickup` (\"upper_arm.front_pivot\", \"upper_arm.rear_pivot\", \"upper_arm\" for both, \"upper_arm.ball_joint\", the \
        same of `lower_arm`, or \"tie_rod\" for its length), `direction` (forward, left, up; inboard unless given), `shim` (thickness \
        of one), `eccentric` (offset of its cam), `least`, `most` (20 mm either way unless given).\n\n\
        Can be read, in degrees: `camber`, `caster`, `toe`, each also with `wanted_` before its name, and with `_after` after it; \
        `reached`, `ride_travel`; and each adjuster by its pickup, `answer[\"tie_rod\"]`: `amount`, `shims`, `eccentric_turn`, \
        `camber_per_length`, `caster_per_length`, `toe_per_length`.",
    run,
};

fn run(asked: &Asked<'_>, mut question: Dynamic) -> Result<Answer, ScriptError> {
    listed(&mut question, "adjusters");
    let question: AlignmentQuestion = asked.read(question, "the alignment question")?;
    let alignment = match asked.suspension {
        Suspension::Corner(corner) => check_alignment(corner, &question),
        Suspension::Axle(_) => Err(Error::NotForThisLayout {
            question: "the alignment check".to_owned(),
            reason: "the wheels of a live axle stand as the axle was made; ask it of a corner".into(),
        }),
    };
    let alignment = alignment.map_err(|error| refused(&error, &asked.units))?;
    let mut items = vec![card(&alignment, &question, &asked.units)];
    items.extend(alignment.settings.iter().map(setting));
    Ok(Answer {
        report: Report {
            check: CHECK.word,
            heading: "Alignment at ride height",
            items,
            findings: alignment.findings.clone(),
        },
        typed: Typed::Alignment(alignment),
    })
}

/// One angle as it is, as it is wanted and as it will be.
struct Row {
    name: &'static str,
    keys: [&'static str; 3],
    now: f64,
    wanted: Option<WantedAngle>,
    after: f64,
}

macro_rules! row {
    ($angle:ident, $alignment:expr, $question:expr) => {
        Row {
            name: stringify!($angle),
            keys: [
                stringify!($angle),
                concat!("wanted_", stringify!($angle)),
                concat!(stringify!($angle), "_after"),
            ],
            now: $alignment.found.$angle,
            wanted: $question.$angle,
            after: $alignment.after.$angle,
        }
    };
}

fn card(alignment: &Alignment, question: &AlignmentQuestion, units: &Units) -> Item {
    let rows = [
        row!(camber, alignment, question),
        row!(caster, alignment, question),
        row!(toe, alignment, question),
    ];
    let mut item = Item::new("").length("ride_travel", "", alignment.ride_travel);
    for row in &rows {
        let wanted = row.wanted.map(|wanted| wanted.angle.to_radians());
        item = item
            .quantity(row.keys[0], "", row.now, FineAngle)
            .maybe(row.keys[1], "", (wanted, FineAngle), "not asked for")
            .quantity(row.keys[2], "", row.after, FineAngle);
    }
    if alignment.settings.is_empty() {
        item = item.with("reached", "", Value::Truth(alignment.reached));
    } else {
        item = item.with(
            "reached",
            "reached by what can be set",
            Value::Truth(alignment.reached),
        );
    }
    let angle = |name, of: fn(&Row) -> Option<f64>| numbers(&rows, units, name, FineAngle, of);
    let mut columns = vec![
        words(&rows, "angle", |row| row.name.to_owned()),
        angle("now", |row| Some(row.now)),
        angle("wanted", |row| row.wanted.map(|wanted| wanted.angle.to_radians())),
    ];
    if alignment.settings.is_empty() {
        return item.table("of one wheel", Table { columns });
    }
    columns.push(angle("after", |row| Some(row.after)));
    item.table("of one wheel", Table { columns })
        .table("what to set", settings(&alignment.settings, units))
        .table(
            "what each does, as things are",
            effects(&alignment.settings, units),
        )
}

fn settings(rows: &[AdjusterSetting], units: &Units) -> Table {
    let mut columns = vec![
        words(rows, "pickup", |setting| setting.pickup.clone()),
        numbers(rows, units, "amount", FineLength, |setting| Some(setting.amount)),
    ];
    if rows.iter().any(|setting| setting.shims.is_some()) {
        let cell = |setting: &AdjusterSetting| {
            setting
                .shims
                .map_or(Cell::Empty, |shims| Cell::Number(shims as f64))
        };
        columns.push(Column {
            name: "shims".to_owned(),
            decimals: 0,
            cells: rows.iter().map(cell).collect(),
        });
    }
    if rows.iter().any(|setting| setting.eccentric_turn.is_some()) {
        columns.push(numbers(rows, units, "cam_turn", Angle, |setting| {
            setting.eccentric_turn
        }));
    }
    Table { columns }
}

fn effects(rows: &[AdjusterSetting], units: &Units) -> Table {
    let per_length = |name, of: fn(&AdjusterSetting) -> f64| {
        rates(rows, units, name, FineAngle, move |setting| Some(of(setting)))
    };
    Table {
        columns: vec![
            words(rows, "pickup", |setting| setting.pickup.clone()),
            per_length("camber", |setting| setting.per_mm.camber),
            per_length("caster", |setting| setting.per_mm.caster),
            per_length("toe", |setting| setting.per_mm.toe),
        ],
    }
}

/// One adjuster for scripts: people read the table.
fn setting(setting: &AdjusterSetting) -> Item {
    let per_length = |angle| Value::PerTravel(angle, FineAngle);
    Item::new(&setting.pickup)
        .quantity("amount", "", setting.amount, FineLength)
        .with(
            "shims",
            "",
            setting.shims.map_or(Value::Absent("none"), Value::Count),
        )
        .maybe("eccentric_turn", "", (setting.eccentric_turn, Angle), "none")
        .with("camber_per_length", "", per_length(setting.per_mm.camber))
        .with("caster_per_length", "", per_length(setting.per_mm.caster))
        .with("toe_per_length", "", per_length(setting.per_mm.toe))
}
