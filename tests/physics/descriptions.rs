//! Questions as a file or a script gives them: every field by its name, every number in the unit it is described in.

use kin_core::checks::{
    AlignmentQuestion, AntiRollBar, BearingInBracket, BumpSteerQuestion, BushingsQuestion, Driveline,
    HosesQuestion, JointsQuestion,
};
use kin_core::pickups::{Measured, Quantity};
use serde::{Serialize, de::DeserializeOwned};
use serde_json::{Value, json};

/// Reads a question, makes sure that an unknown field is refused, and counts its numbers by kind: lengths, angles, rates,
/// forces, stresses, torsional rates.
fn counts<T: DeserializeOwned + Serialize + Measured>(text: &Value) -> [usize; 6] {
    let mut question: T = serde_json::from_value(text.clone()).expect("a question");
    let back: T = serde_json::from_value(serde_json::to_value(&question).expect("text")).expect("the same");
    assert_eq!(
        serde_json::to_value(&back).expect("text"),
        serde_json::to_value(&question).expect("text")
    );
    let mut with_more = text.clone();
    with_more["surprise"] = json!(1.0);
    assert!(
        serde_json::from_value::<T>(with_more).is_err(),
        "an unknown field was read"
    );
    let kinds = [
        Quantity::Length,
        Quantity::Angle,
        Quantity::Rate,
        Quantity::Force,
        Quantity::Stress,
        Quantity::TorsionalRate,
    ];
    let mut counts = [0; 6];
    question.visit(&mut |_, quantity| {
        let kind = kinds.iter().position(|kind| *kind == quantity);
        counts[kind.expect("no other kind of number")] += 1;
    });
    counts
}

#[test]
fn joints_bushings_and_bearings_are_read() {
    let joints = json!({
        "joints": [
            { "at": "coilover.upper_mount", "axis": [1.0, 0.0, 0.0], "limit": 15.0, "margin": 2.0 },
            { "at": "tie_rod.outer", "axis": [0.0, 0.0, 1.0], "bearing": {
                "ball_diameter": 22.0, "ball_width": 12.0, "housing_width": 9.0, "housing_diameter": 34.0,
                "housing_chamfer": 1.0, "spacer_diameter": 15.0, "spacer_length": 8.0 } },
        ],
        "range": { "bump": 70.0, "droop": 50.0, "rack": 60.0 },
    });
    assert_eq!(counts::<JointsQuestion>(&joints), [7 + 3, 2, 0, 0, 0, 0]);
    let bushings = json!({
        "bushings": [{ "at": "lower_arm", "torsional_rate": 2000.0, "twist_limit": 12.0, "tightened_at": -5.0 }],
    });
    assert_eq!(counts::<BushingsQuestion>(&bushings), [1, 1, 0, 0, 0, 1]);
    let bearing = json!({
        "bearing_width": 22.2, "spacer_length": 7.9, "bracket_width": 38.1, "bearing_tolerance": 0.1,
        "spacer_tolerance": 0.05, "bracket_tolerance": 0.2, "largest_gap": 0.5,
    });
    assert_eq!(counts::<BearingInBracket>(&bearing), [7, 0, 0, 0, 0, 0]);
}

#[test]
fn bars_drivelines_and_hoses_are_read() {
    let side = json!({
        "root": [260.0, 420.0, 230.0], "arm_end": [40.0, 470.0, 235.0], "link_end": [45.0, 560.0, 170.0],
        "rides_on": "lower_arm", "link_length": 110.0,
    });
    let bar = json!({
        "section": { "outside_diameter": 24.0, "inside_diameter": 12.0, "shear_modulus": 79e3, "young_modulus": 206e3 },
        "arm": { "blade": { "thickness": 10.0, "width": 40.0 } },
        "length": 840.0, "left": side, "other_axle_roll_stiffness": 4e5, "largest_preload": 30.0,
    });
    assert_eq!(counts::<AntiRollBar>(&bar), [2 + 2 + 1 + 10, 0, 0, 1, 2, 1]);
    let mut by_rate = bar;
    by_rate["arm"] = json!({ "rate": 120.0 });
    assert_eq!(counts::<AntiRollBar>(&by_rate), [2 + 1 + 10, 0, 1, 1, 2, 1]);
    by_rate["arm"] = json!("same_as_bar");
    assert_eq!(counts::<AntiRollBar>(&by_rate), [2 + 1 + 10, 0, 0, 1, 2, 1]);
    let driveline = json!({
        "gearbox_joint": [-1400.0, 0.0, 380.0], "output_falls": 3.0, "joint_limit": 20.0, "running_limit": 3.0,
        "largest_difference": 1.0, "slip_in": 20.0, "slip_out": 30.0, "double_joint_at_gearbox": false,
    });
    assert_eq!(counts::<Driveline>(&driveline), [5, 4, 0, 0, 0, 0]);
    let hoses = json!({
        "hoses": [{ "name": "brake hose", "upper_mount": [0.0, 500.0, 500.0], "lower_mount": [0.0, 600.0, 200.0],
            "rides_on": "upright", "length": 330.0, "slack": 10.0 }],
        "range": { "rack": 60.0 },
    });
    assert_eq!(counts::<HosesQuestion>(&hoses), [9, 0, 0, 0, 0, 0]);
}

#[test]
fn alignment_and_bump_steer_are_read() {
    let alignment = json!({
        "camber": { "angle": -1.0, "tolerance": 0.2 }, "caster": { "angle": 5.0 }, "toe": { "angle": 0.1 },
        "adjusters": [
            { "pickup": "upper_arm.front_pivot", "shim": 0.8, "least": -8.0, "most": 8.0 },
            { "pickup": "lower_arm.rear_pivot", "direction": [0.0, -1.0, 0.0], "eccentric": 6.0 },
            { "pickup": "tie_rod" },
        ],
    });
    assert_eq!(counts::<AlignmentQuestion>(&alignment), [4, 4, 0, 0, 0, 0]);
    let bump_steer = json!({
        "range": 50.0, "largest_change": 0.15,
        "shim": { "end": "inner", "thickness": 1.5, "direction": [0.0, 0.0, 1.0], "most": 6 },
    });
    assert_eq!(counts::<BumpSteerQuestion>(&bump_steer), [2, 1, 0, 0, 0, 0]);
}
