//! Swing of joints, from scripts.

use super::{agree, fails, mistake, numbers, printed, same};

#[test]
fn ball_joints_and_the_damper_swing_as_solved_elsewhere() {
    let found = numbers(
        "let car = load(\"front.toml\");
         let asked = #{ range: #{ bump: 75, droop: 50 }, joints: [
             #{ at: \"upper_arm.ball_joint\", limit: 20 }, #{ at: \"lower_arm.ball_joint\", limit: 20 },
             #{ at: \"coilover.upper_mount\", axis: [1, 0, 0], limit: 15 }] };
         let answer = car.check_joints(asked);
         let upper = answer[\"upper_arm.ball_joint\"];
         print(upper.at_full_droop); print(upper.at_full_bump);
         print(car.joints(#{ at: \"upper_arm.ball_joint\", range: #{ bump: 101.6, droop: 50 } }).worst);
         let lower = answer[\"lower_arm.ball_joint\"];
         print(lower.at_full_droop); print(lower.at_full_bump);
         let mount = answer[\"coilover.upper_mount\"];
         print(mount.at_full_droop); print(mount.at_ride); print(mount.at_full_bump);",
    );
    agree("joints", "upper_ball_joint_droop_50_bump_75_bottom", &found[..3]);
    agree("joints", "lower_ball_joint_droop_50_bump_75", &found[3..5]);
    agree("joints", "upper_mount_droop_50_ride_bump_75", &found[5..]);
}

#[test]
fn a_list_alone_takes_the_travel_of_the_description() {
    let script = "let car = load(\"front.toml\"); let one = #{ at: \"upper_arm.ball_joint\", limit: 20 };";
    let text = printed(&format!(
        "{script} print(car.joints([one]).worst == car.joints(one).worst);
         print(car.joints(one).worst == car.joints(#{{ joints: one }}).worst);
         let stroke = car.stroke();
         print(car.joints(one).worst_travel);"
    ));
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines[..2], ["true", "true"]);
    // The damper ends the bump 101.6 mm above ride height.
    let travel: f64 = lines[2].parse().unwrap();
    assert!((travel - 101.6).abs() < 0.06, "{travel}");
}

#[test]
fn a_joint_over_its_limit_fails_and_the_sheet_says_where() {
    let script = "let car = load(\"front.toml\");
         let answer = car.check_joints(#{ at: \"upper_arm.ball_joint\", limit: 12, range: #{ bump: 75, droop: 50 } });";
    assert!(fails(script));
    let sheet = printed(&format!("{script} print(answer);"));
    for line in [
        "Swing of joints: fails",
        "largest swing                 13.7 deg",
        "at 75.0 mm of bump",
    ] {
        assert!(sheet.contains(line), "no {line:?} in\n{sheet}");
    }
}

#[test]
fn inches_say_the_same() {
    let script = |car: &str, unit: f64| {
        format!(
            "let answer = load(\"{car}\").joints(#{{ at: \"coilover.upper_mount\", axis: [1, 0.05, 0],
                 range: #{{ bump: 65 / {unit:?}, droop: 50 / {unit:?} }},
                 bearing: #{{ ball_diameter: 28.6 / {unit:?}, ball_width: 22.2 / {unit:?}, housing_width: 17 / {unit:?},
                     spacer_length: 7.95 / {unit:?} }} }});
             print(answer.worst); print(answer.limit); print(answer.worst_travel * {unit:?});"
        )
    };
    same(
        &numbers(&script("front_inch.toml", 25.4)),
        &numbers(&script("front.toml", 1.0)),
    );
}

#[test]
fn wrong_names_are_told() {
    let report = mistake("load(\"front.toml\").check_joints(#{ at: \"upper_arm.bal_joint\", limit: 20 });");
    assert!(report.to_string().contains("upper_arm.ball_joint"), "{report}");
    let report = mistake("load(\"front.toml\").check_joints(#{ at: \"upper_arm.ball_joint\", limits: 20 });");
    assert!(report.what.contains("limits"), "{report}");
    let report = mistake("load(\"front.toml\").check_joints([]);");
    assert!(report.to_string().contains("joints"), "{report}");
}
