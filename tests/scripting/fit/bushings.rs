//! Rubber bushings, from scripts.

use super::{fails, mistake, numbers, printed, same};

const LIMITED: &str = "let car = load(\"front.toml\");
     let asked = #{ at: \"lower_arm\", torsional_rate: 2, twist_limit: 12, range: #{ bump: 65, droop: 50 } };";

#[test]
fn bushings_tightened_at_ride_height_are_free_there_and_twist_with_the_arm() {
    let found = numbers(&format!(
        "{LIMITED} let answer = car.check_bushings(asked);
         print(answer.at_ride); print(answer.wheel_force_at_ride); print(answer.at_full_bump);
         print(answer.worst); print(answer.worst_torque / (2 * answer.worst));
         print(load(\"front.toml\").at(#{{ bump: 65 }}).lower_ball_joint[2]);"
    ));
    assert!(found[0].abs() < 1e-9 && found[1].abs() < 1e-6, "{found:?}");
    // The lower arm's ball joint goes up on a circle of about 420 mm about its pivots.
    let rise = found[5] - 190.0;
    assert!(
        (found[2].to_radians().sin() * 420.0 - rise).abs() < 0.02 * rise,
        "{found:?}"
    );
    assert!((found[3] - found[2].abs()).abs() < 1e-6, "{found:?}");
    // Torque is rate times twist; the rate went in as N m per degree.
    assert!((found[4] - 1.0).abs() < 1e-9, "{found:?}");
}

#[test]
fn tightened_hanging_they_push_the_wheel_and_the_sheet_says_so() {
    let script = format!("{LIMITED} asked.tightened_at = -50; let answer = car.check_bushings(asked);");
    let force = numbers(&format!("{script} print(answer.wheel_force_at_ride);"))[0];
    assert!(force > 0.0, "{force}");
    assert!(fails(&script));
    let sheet = printed(&format!("{script} print(answer);"));
    for line in [
        "Rubber bushings: fails",
        "pushes the wheel down with",
        "at ride height",
    ] {
        assert!(sheet.contains(line), "no {line:?} in\n{sheet}");
    }
}

#[test]
fn inches_say_the_same() {
    let script = |car: &str, unit: f64, torque: f64, force: f64| {
        format!(
            "let answer = load(\"{car}\").bushings(#{{ at: \"upper_arm\", torsional_rate: 2 / {torque:?},
                 tightened_at: -20 / {unit:?}, range: #{{ bump: 65 / {unit:?}, droop: 50 / {unit:?} }} }});
             print(answer.worst); print(answer.worst_torque * {torque:?}); print(answer.wheel_force_at_ride * {force:?});"
        )
    };
    // 1 lbf = 4.4482216152605 N and 1 lbf ft = 1.3558179483314004 N m, exact by the definitions of pound and foot.
    same(
        &numbers(&script(
            "front_inch.toml",
            25.4,
            1.355_817_948_331_400_4,
            4.448_221_615_260_5,
        )),
        &numbers(&script("front.toml", 1.0, 1.0, 1.0)),
    );
}

#[test]
fn a_wrong_key_is_named() {
    let report = mistake("load(\"front.toml\").check_bushings([#{ at: \"lower_arm\", twist: 12 }]);");
    assert!(report.what.contains("twist"), "{report}");
}
