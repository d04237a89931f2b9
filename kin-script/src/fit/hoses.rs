//! Hoses, brake lines and straps: are they long enough?

use super::asked::{refused, with_list};
use super::places::place_keys;
use super::report::{Item, Report, Value};
use super::{Answer, Asked, FitCheck, Typed};
use crate::host::ScriptError;
use crate::model::Suspension;
use kin_core::checks::{HoseReach, HosesQuestion, check_axle_hoses, check_corner_hoses};
use rhai::Dynamic;

pub(super) const CHECK: FitCheck = FitCheck {
    word: "hoses",
    counted: "check_hoses",
    needs_ride_height: false,
    documentation: "Whether hoses, brake lines and straps are long enough over all travel and steering.\n\n\
        One hose, a list of hoses, or `hoses` with `range` (`bump`, `droop`, `rack`); without hoses, the straps of the description. \
        Keys of a hose: `name`, `upper_mount` (its end on the body), `lower_mount` (its end on the moving part), `rides_on` \
        (\"upright\", \"lower_arm\", \"upper_arm\", \"axle\" or a link's name), `length` (between its ends when taut), `slack` (that it \
        must keep; 15 mm unless given).\n\n\
        Can be read of each by its name: `longest`, `longest_at` (and `longest_travel`, `longest_rack`, or `longest_left`, \
        `longest_right`), `slack` (left there), `length`, `at_ride`, `shortest`, `shortest_at` (and its numbers), `taut_at` (and its \
        numbers).",
    run,
};

fn run(asked: &Asked<'_>, question: Dynamic) -> Result<Answer, ScriptError> {
    let question: HosesQuestion = asked.read(with_list(question, "hoses"), "the hoses question")?;
    let hoses = match asked.suspension {
        Suspension::Corner(corner) => check_corner_hoses(corner, &question),
        Suspension::Axle(axle) => check_axle_hoses(axle, &question),
    };
    let hoses = hoses.map_err(|error| refused(&error, &asked.units))?;
    Ok(Answer {
        report: Report {
            check: CHECK.word,
            heading: "Hoses, lines and straps",
            items: hoses.iter().map(item).collect(),
            findings: hoses.iter().flat_map(|hose| hose.findings.clone()).collect(),
        },
        typed: Typed::Hoses(hoses),
    })
}

fn item(hose: &HoseReach) -> Item {
    let item = Item::new(&hose.hose)
        .length("longest", "ends farthest apart", hose.longest)
        .place(place_keys!("longest"), "  found", &hose.longest_at)
        .length("length", "its length, taut", hose.length)
        .length("slack", "slack left", hose.length - hose.longest)
        .length("at_ride", "ends apart at ride height", hose.at_ride)
        .length("shortest", "ends nearest", hose.shortest)
        .place(place_keys!("shortest"), "  found", &hose.shortest_at);
    match &hose.taut_at {
        Some(place) => item.place(place_keys!("taut"), "comes taut", place),
        None => item.with("taut_at", "comes taut", Value::Absent("nowhere")),
    }
}
