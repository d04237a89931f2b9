//! Joints: how far they swing over all travel and steering.

use super::asked::{refused, with_list};
use super::places::place_keys;
use super::report::{Item, Report, Value};
use super::{Answer, Asked, FitCheck, Typed};
use crate::host::ScriptError;
use crate::model::Suspension;
use kin_core::Dimension::{Angle, Ratio};
use kin_core::checks::{
    Finding, JointSwing, JointsQuestion, Verdict, check_axle_joints, check_corner_joints,
};
use rhai::Dynamic;

pub(super) const CHECK: FitCheck = FitCheck {
    word: "joints",
    counted: "check_joints",
    needs_ride_height: false,
    documentation: "How far damper mounts, rod ends and ball joints swing over all travel and steering, against what they can \
        swing, and the direction of bolt or socket with which they swing least.\n\n\
        One joint, a list of joints, or `joints` with `range` (`bump`, `droop`, `rack`: the travel that the description ends unless \
        given). Keys of a joint: `at` (such as \"coilover.upper_mount\", \"upper_arm.ball_joint\", \"tie_rod.outer\", \
        \"coilovers.left.lower_mount\", \"links.upper_left.axle\"), `axis` (direction of the bolt, pin or stud as measured: forward, \
        left, up), `socket` (direction of a ball joint's socket; centred at ride height unless given), `axial` (the stud points along \
        its rod), `limit` (swing either way in degrees) or `bearing` to find it from (`ball_diameter`, `ball_width`, \
        `housing_width`, `housing_diameter`, `housing_chamfer`, `spacer_diameter`, `spacer_length`), `margin` (degrees).\n\n\
        Can be read, in degrees, of each joint by its name, `answer[\"tie_rod.outer\"]`: `worst`, `worst_at` (and `worst_travel`, \
        `worst_rack`, or `worst_left`, `worst_right`), `limit`, `at_ride`, `at_full_bump`, `at_full_droop`, \
        `worst_with_best_axis`, `best_axis`.",
    run,
};

fn run(asked: &Asked<'_>, question: Dynamic) -> Result<Answer, ScriptError> {
    let question: JointsQuestion = asked.read(with_list(question, "joints"), "the joints question")?;
    let swings = match asked.suspension {
        Suspension::Corner(corner) => check_corner_joints(corner, &question),
        Suspension::Axle(axle) => check_axle_joints(axle, &question),
    };
    let swings = swings.map_err(|error| refused(&error, &asked.units))?;
    Ok(Answer {
        report: Report {
            check: CHECK.word,
            heading: "Swing of joints",
            items: swings.iter().map(item).collect(),
            findings: swings.iter().flat_map(|swing| swing.findings.clone()).collect(),
        },
        typed: Typed::None,
    })
}

fn item(swing: &JointSwing) -> Item {
    // The best direction is of use where the one given is not good enough, or nothing says whether it is.
    let holds = |finding: &Finding| finding.verdict == Verdict::Holds;
    let enough = !swing.findings.is_empty() && swing.findings.iter().all(holds);
    let shown = |label| if enough { "" } else { label };
    Item::new(&swing.joint)
        .angle("worst", "largest swing", swing.worst)
        .place(place_keys!("worst"), "  found", &swing.worst_at)
        .maybe("limit", "it can swing", (swing.limit, Angle), "not given")
        .angle("at_ride", "swing at ride height", swing.at_ride)
        .angle("at_full_bump", "swing at full bump", swing.at_full_bump)
        .angle("at_full_droop", "swing at full droop", swing.at_full_droop)
        .angle(
            "worst_with_best_axis",
            shown("largest swing, best set"),
            swing.worst_with_best_axis,
        )
        .with(
            "best_axis",
            shown("  bolt or socket then along"),
            Value::Vector(swing.best_axis.into(), Ratio),
        )
}
