//! Does a mount's bolt come out with damper, spring and frame in place?

use super::asked::{refused, take};
use super::report::{Item, Report};
use super::{Answer, Asked, FitCheck, Typed};
use crate::arguments;
use crate::host::ScriptError;
use crate::model::Suspension;
use kin_core::Dimension::Length;
use kin_core::checks::{
    Withdrawal, WithdrawalPath, WithdrawalQuestion, WorkPlace, check_axle_withdrawal, check_corner_withdrawal,
};
use kin_core::pickups::Side;
use rhai::{Array, Dynamic};

pub(super) const CHECK: FitCheck = FitCheck {
    word: "bolt_withdrawal",
    counted: "check_bolt_withdrawal",
    needs_ride_height: false,
    documentation: "One bolt of a damper's mount, or a list: does its straight path out of its hole stay clear of damper, spring and \
        whatever stands around, and is there room for nut and socket?\n\n\
        Keys of a bolt: `name`, `side` (of an axle: \"left\" unless given, or \"right\"), `end` (\"upper_mount\" or \"lower_mount\"), \
        `towards_head` (direction from nut to head, [forward, left, up]), `outside_width` of the bracket, `bolt_length` under the \
        head, `head_diameter`, `head_height`, `socket_length` and `socket_diameter` on the nut's side, `travel` (of the wheel from ride \
        height while you work; full droop unless given, as the car hangs on stands, where a damper, a stop or `wanted` says how far \
        that is, and else ride height), `damper` and `spring` (each `from_upper`, `from_lower`, `radius`: a round part \
        that begins and ends that far from the mounts), `obstacles` (a list: `name`, `start`, `end`, `radius`), `wanted_gap` (3 mm \
        unless given).\n\n\
        Can be read: `travel` (from ride height, that was looked at), `head_gap`, `head_nearest`, `nut_gap`, `nut_nearest` (negative gaps overlap), `head_start`, `head_end`.",
    run,
};

fn run(asked: &Asked<'_>, question: Dynamic) -> Result<Answer, ScriptError> {
    let questions = match question.try_cast_result::<Array>() {
        Ok(list) => list,
        Err(one) => vec![one],
    };
    let mut items = Vec::new();
    let mut findings = Vec::new();
    for question in questions {
        let (name, found) = one(asked, question)?;
        items.push(item(&name, &found));
        findings.extend(found.findings);
    }
    Ok(Answer {
        report: Report {
            check: CHECK.word,
            heading: "Bolts out and in",
            items,
            findings,
        },
        typed: Typed::None,
    })
}

fn one(asked: &Asked<'_>, mut question: Dynamic) -> Result<(String, Withdrawal), ScriptError> {
    const WHAT: &str = "the bolt";
    let found = match asked.suspension {
        // A corner has no other side: a key `side` is refused with the others that are unknown.
        Suspension::Corner(corner) => {
            let question: WithdrawalQuestion = asked.read(question, WHAT)?;
            check_corner_withdrawal(corner, &question).map(|found| (question.name, found))
        }
        Suspension::Axle(axle) => {
            let side: Side = match take(&mut question, "side") {
                Some(side) => arguments::read(side, "the bolt, `side`")?,
                None => Side::Left,
            };
            let question: WithdrawalQuestion = asked.read(question, WHAT)?;
            check_axle_withdrawal(axle, side, &question).map(|found| (question.name, found))
        }
    };
    found.map_err(|error| refused(&error, &asked.units))
}

fn item(name: &str, found: &Withdrawal) -> Item {
    let head = &found.head_side;
    let place = match found.work_place {
        WorkPlace::Given => "as given",
        WorkPlace::FullDroop => "full droop, as the car hangs on stands",
        WorkPlace::RideHeight => "ride height: how far the wheel hangs down is not known",
    };
    let looked = Item::new(name)
        .length("travel", "looked at the travel", found.travel)
        .text("work_place", "  which is", place);
    let mut item = path(
        looked,
        head,
        ["head_gap", "head_nearest"],
        ["gap on the head's side", "nearest there"],
    )
    .vector("head_start", "", head.start, Length)
    .vector("head_end", "", head.end, Length);
    if let Some(nut) = &found.nut_side {
        let labels = ["gap for nut and socket", "nearest there"];
        item = path(item, nut, ["nut_gap", "nut_nearest"], labels);
    }
    item
}

fn path(item: Item, path: &WithdrawalPath, keys: [&'static str; 2], labels: [&'static str; 2]) -> Item {
    item.length(keys[0], labels[0], path.gap)
        .text(keys[1], labels[1], path.nearest.as_str())
}
