//! The driveline, from scripts.

use super::{agree, fails, mistake, numbers, printed, same};

fn driveline(car: &str, unit: f64, falls: f64) -> String {
    format!(
        "let answer = load(\"{car}\").check_driveline(#{{ gearbox_joint: [-1400 / {unit:?}, 0, 380 / {unit:?}],
             output_falls: {falls:?}, joint_limit: 25, slip_in: 20 / {unit:?}, slip_out: 20 / {unit:?},
             range: #{{ bump: 40 / {unit:?}, droop: 40 / {unit:?} }} }});"
    )
}

#[test]
fn the_pinion_turns_as_solved_elsewhere() {
    let found = numbers(&format!(
        "{} print(answer.pinion_at_full_droop); print(answer.pinion); print(answer.pinion_at_full_bump);
         print(answer.shaft_length); print(answer.difference - (answer.pinion_joint - answer.gearbox_joint));",
        driveline("rear.toml", 1.0, 2.0)
    ));
    agree("driveline", "pinion_droop_40_ride_bump_40", &found[..3]);
    // From (-2580, 0, 339) to (-1400, 0, 380).
    assert!((found[3] - 1180.0_f64.hypot(41.0)).abs() < 1e-9, "{found:?}");
    assert!(found[4].abs() < 1e-12, "{found:?}");
}

#[test]
fn parallel_shafts_hold_and_others_fail() {
    assert!(!fails(&driveline("rear.toml", 1.0, 2.0)));
    assert!(fails(&driveline("rear.toml", 1.0, 6.0)));
    let sheet = printed(&format!("{} print(answer);", driveline("rear.toml", 1.0, 2.0)));
    for line in [
        "Driveline: holds",
        "full_droop_deg",
        "ride_height_deg",
        "full_bump_deg",
        "slip goes in by",
    ] {
        assert!(sheet.contains(line), "no {line:?} in\n{sheet}");
    }
}

#[test]
fn inches_say_the_same() {
    let values = |unit: f64| {
        format!(
            "print(answer.largest_pinion_joint); print(answer.equivalent_at_full_bump); print(answer.plunge_in * {unit:?});
             print(answer.plunge_out * {unit:?}); print(answer.shaft_length * {unit:?});"
        )
    };
    let metric = format!("{} {}", driveline("rear.toml", 1.0, 2.0), values(1.0));
    let inch = format!("{} {}", driveline("rear_inch.toml", 25.4, 2.0), values(25.4));
    same(&numbers(&inch), &numbers(&metric));
}

#[test]
fn a_corner_has_none_and_a_wrong_key_is_named() {
    let report = mistake(&driveline("front.toml", 1.0, 2.0));
    assert!(report.to_string().contains("live axle"), "{report}");
    let report =
        mistake("load(\"rear.toml\").check_driveline(#{ gearbox_joint: [-1400, 0, 380], output_fall: 2 });");
    assert!(report.what.contains("output_fall"), "{report}");
}
