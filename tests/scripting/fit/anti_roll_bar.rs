//! The anti-roll bar, from scripts.

use super::{fails, mistake, numbers, printed, same};
use std::f64::consts::PI;

fn bar(car: &str, unit: f64, link: &str) -> String {
    format!(
        "let car = load(\"{car}\");
         let asked = #{{ section: #{{ outside_diameter: 24 / {unit:?} }}, range: #{{ bump: 65 / {unit:?}, droop: 50 / {unit:?} }},
             left: #{{ root: [260 / {unit:?}, 420 / {unit:?}, 230 / {unit:?}], arm_end: [40 / {unit:?}, 470 / {unit:?}, 235 / {unit:?}],
                 link_end: [45 / {unit:?}, 560 / {unit:?}, 170 / {unit:?}], rides_on: \"lower_arm\" {link} }} }};
         let answer = car.check_anti_roll_bar(asked);"
    )
}

#[test]
fn the_bar_twists_as_a_round_rod_and_equal_links_preload_nothing() {
    let script = bar("front.toml", 1.0, "");
    let found = numbers(&format!(
        "{script} print(answer.torsional_rate); print(answer.preload_twist); print(answer.left_link_length);
         print(answer.left_link_without_preload); print(answer.left_motion_ratio - answer.right_motion_ratio);
         print(answer.share_of_axle - answer.roll_stiffness / (answer.roll_stiffness + answer.spring_roll_stiffness));"
    ));
    // G J / L with 79 300 N/mm^2, J = pi D^4 / 32 and 840 mm between the roots (formula from memory), in N m per degree.
    let torsion = 79_300.0 * PI * 24.0_f64.powi(4) / 32.0 / 840.0 * PI / 180.0 / 1000.0;
    assert!((found[0] - torsion).abs() < 1e-9 * torsion, "{found:?}");
    assert!(found[1].abs() < 1e-9, "{found:?}");
    // (5, 90, -65) between the joints of the link as measured.
    assert!(
        (found[2] - (25.0_f64 + 8100.0 + 4225.0).sqrt()).abs() < 1e-9,
        "{found:?}"
    );
    assert!((found[3] - found[2]).abs() < 1e-6, "{found:?}");
    assert!(found[4].abs() < 1e-9 && found[5].abs() < 1e-12, "{found:?}");
    assert!(!fails(&script));
}

#[test]
fn a_long_link_preloads_and_the_length_that_is_told_frees_it() {
    let script = bar("front.toml", 1.0, ", link_length: 116");
    assert!(fails(&script));
    let found = numbers(&format!(
        "{script} print(answer.left_link_without_preload); print(answer.preload_at_left_wheel);"
    ));
    assert!(found[1].abs() > 20.0, "{found:?}");
    let freed = bar("front.toml", 1.0, &format!(", link_length: {:?}", found[0]));
    let force = numbers(&format!("{freed} print(answer.preload_at_left_wheel);"))[0];
    assert!(force.abs() < 1e-3, "{force}");
    let sheet = printed(&format!("{script} print(answer);"));
    for line in [
        "Anti-roll bar: fails",
        "left link, as set             116.00 mm",
        "Set the left link to",
    ] {
        assert!(sheet.contains(line), "no {line:?} in\n{sheet}");
    }
}

#[test]
fn inches_say_the_same() {
    let values = |unit: f64, torque: f64, rate: f64| {
        format!(
            "print(answer.roll_stiffness * {torque:?}); print(answer.left_wheel_rate_in_roll * {rate:?});
             print(answer.left_link_length * {unit:?}); print(answer.least_link_angle);"
        )
    };
    // 1 lbf ft in N m, and 1 lbf/in in N/mm, exact by the definitions of pound and inch.
    let (torque, rate) = (1.355_817_948_331_400_4, 4.448_221_615_260_5 / 25.4);
    let metric = format!("{} {}", bar("front.toml", 1.0, ""), values(1.0, 1.0, 1.0));
    let inch = format!(
        "{} {}",
        bar("front_inch.toml", 25.4, ""),
        values(25.4, torque, rate)
    );
    same(&numbers(&inch), &numbers(&metric));
}

#[test]
fn arms_bend_in_the_forms_that_the_documentation_names() {
    for arm in [
        "\"same_as_bar\"",
        "#{ blade: #{ thickness: 12, width: 40 } }",
        "#{ rate: 120 }",
    ] {
        let lost = numbers(&format!(
            "{} asked.arm = {arm}; print(car.anti_roll_bar(asked).lost_to_arm_bending);",
            bar("front.toml", 1.0, "")
        ))[0];
        assert!(lost > 0.01 && lost < 1.0, "{arm}: {lost}");
    }
}

#[test]
fn a_wrong_key_is_named() {
    let report = mistake(&bar("front.toml", 1.0, ", link_lenght: 116"));
    assert!(report.what.contains("left.link_lenght"), "{report}");
}
