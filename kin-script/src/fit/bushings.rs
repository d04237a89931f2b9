//! Rubber bushings: how far they are twisted, and what that costs.

use super::asked::{refused, with_list};
use super::places::place_keys;
use super::report::{Item, Report};
use super::{Answer, Asked, FitCheck, Typed};
use crate::host::ScriptError;
use crate::model::Suspension;
use kin_core::Dimension::{Force, Rate, Torque};
use kin_core::checks::{BushingTwist, BushingsQuestion, check_axle_bushings, check_corner_bushings};
use rhai::Dynamic;

pub(super) const CHECK: FitCheck = FitCheck {
    word: "bushings",
    counted: "check_bushings",
    needs_ride_height: false,
    documentation: "How far rubber bushings are twisted from where their bolts were tightened, and what they push the wheel with.\n\n\
        One bushing, a list of bushings, or `bushings` with `range` (`bump`, `droop`). Keys of a bushing: `at` (\"upper_arm\", \
        \"lower_arm\", or a link's end such as \"links.upper_left.body\"), `axis` (direction of the bolt of a link's end), \
        `torsional_rate` (N m or lb-ft per degree of twist, of all bushings named together), `twist_limit` (degrees either way), \
        `tightened_at` (travel from ride height at which the bolts are tightened; 0 is right).\n\n\
        Can be read of each: `worst` (degrees), `worst_at` (and `worst_travel`, `worst_rack`, or `worst_left`, `worst_right`), \
        `at_ride`, `at_full_bump`, `at_full_droop`, `worst_torque`, `wheel_rate`, `wheel_force_at_ride`.",
    run,
};

fn run(asked: &Asked<'_>, question: Dynamic) -> Result<Answer, ScriptError> {
    let question: BushingsQuestion = asked.read(with_list(question, "bushings"), "the bushings question")?;
    let twists = match asked.suspension {
        Suspension::Corner(corner) => check_corner_bushings(corner, &question),
        Suspension::Axle(axle) => check_axle_bushings(axle, &question),
    };
    let twists = twists.map_err(|error| refused(&error, &asked.units))?;
    let report = Report {
        check: CHECK.word,
        heading: "Rubber bushings",
        items: twists.iter().map(item).collect(),
        findings: twists.iter().flat_map(|twist| twist.findings.clone()).collect(),
    };
    Ok(Answer {
        report,
        typed: Typed::Bushings(twists),
    })
}

fn item(twist: &BushingTwist) -> Item {
    let mut item = Item::new(&twist.bushing)
        .angle("worst", "largest twist", twist.worst)
        .place(place_keys!("worst"), "  found", &twist.worst_at)
        .angle("at_ride", "twist at ride height", twist.at_ride)
        .angle("at_full_bump", "twist at full bump", twist.at_full_bump)
        .angle("at_full_droop", "twist at full droop", twist.at_full_droop);
    for (key, label, value, dimension) in [
        (
            "worst_torque",
            "torque at the largest twist",
            twist.worst_torque,
            Torque,
        ),
        ("wheel_rate", "adds to the wheel rate", twist.wheel_rate, Rate),
        (
            "wheel_force_at_ride",
            "pushes the wheel down with",
            twist.wheel_force_at_ride,
            Force,
        ),
    ] {
        let label = if value.is_some() { label } else { "" };
        item = item.maybe(key, label, (value, dimension), "no rate is given");
    }
    item
}
