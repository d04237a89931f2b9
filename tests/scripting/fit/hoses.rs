//! Hoses, brake lines and straps, from scripts.

use super::{fails, mistake, numbers, printed, same};

fn hose(car: &str, unit: f64, length: f64) -> String {
    format!(
        "let car = load(\"{car}\");
         let answer = car.check_hoses(#{{ range: #{{ bump: 65 / {unit:?}, droop: 50 / {unit:?}, rack: 60 / {unit:?} }},
             hoses: #{{ name: \"brake hose\", upper_mount: [-110 / {unit:?}, 470 / {unit:?}, 440 / {unit:?}],
                 lower_mount: [-140 / {unit:?}, 668 / {unit:?}, 211 / {unit:?}], rides_on: \"upright\",
                 length: {length:?} / {unit:?} }} }});"
    )
}

#[test]
fn a_hose_on_the_steering_arm_is_as_far_as_the_joint_there() {
    let found = numbers(&format!(
        "{} print(answer.longest); print(answer.slack); print(answer.longest_travel); print(answer.longest_rack);
         let at = car.at(#{{ bump: answer.longest_travel, rack: answer.longest_rack }}).tie_rod_outer;
         print(hypot(hypot(at[0] + 110, at[1] - 470), at[2] - 440)); print(answer.at_ride);",
        hose("front.toml", 1.0, 400.0)
    ));
    assert!((found[0] - found[4]).abs() < 1e-6, "{found:?}");
    assert!((found[1] - (400.0 - found[0])).abs() < 1e-9, "{found:?}");
    // From the points as measured: (30, 198, 229) apart.
    assert!((found[5] - (30.0_f64.powi(2) + 198.0_f64.powi(2) + 229.0_f64.powi(2)).sqrt()).abs() < 1e-9);
    assert!(!fails(&hose("front.toml", 1.0, 400.0)));
}

#[test]
fn a_short_hose_fails_and_the_sheet_says_where_it_comes_taut() {
    let script = hose("front.toml", 1.0, 320.0);
    assert!(fails(&script));
    let sheet = printed(&format!("{script} print(answer);"));
    for line in ["Hoses, lines and straps: fails", "comes taut", "Fit one that is"] {
        assert!(sheet.contains(line), "no {line:?} in\n{sheet}");
    }
}

#[test]
fn without_hoses_the_straps_of_the_description_are_checked() {
    let script = "let car = load(\"front.toml\");
         car.stops.straps = [#{ name: \"strap\", upper_mount: [0, 500, 420], lower_mount: [0, 560, 185],
             rides_on: \"lower_arm\", length: 300 }];
         let answer = car.check_hoses(#{ range: #{ bump: 65, droop: 50 } });";
    let found = printed(&format!(
        "{script} print(answer[\"strap\"].length); print(answer.verdict);"
    ));
    assert_eq!(found.lines().collect::<Vec<_>>(), ["300.0", "holds"]);
    let report = mistake("load(\"front.toml\").check_hoses(#{});");
    assert!(report.to_string().contains("hoses"), "{report}");
}

#[test]
fn inches_say_the_same() {
    let values = |unit: f64| {
        format!(
            "print(answer.longest * {unit:?}); print(answer.slack * {unit:?}); print(answer.shortest * {unit:?});
             print(answer.taut_travel * {unit:?});"
        )
    };
    let metric = format!("{} {}", hose("front.toml", 1.0, 320.0), values(1.0));
    let inch = format!("{} {}", hose("front_inch.toml", 25.4, 320.0), values(25.4));
    same(&numbers(&inch), &numbers(&metric));
}

#[test]
fn a_wrong_key_is_named() {
    let report = mistake("load(\"front.toml\").check_hoses(#{ name: \"x\", top: [0, 0, 0] });");
    assert!(report.what.contains("top"), "{report}");
}
