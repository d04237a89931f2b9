//! Bolts, from scripts.

use super::{agree, is_aligned, numbers, printed, refused};

/// The front lower bolt of the invented wagon.
const ASK: &str = r#"
    let car = load("vehicles/wagon_front.toml");
    let bolt = #{ name: "front lower", size: "1/2-13", grade: "grade 8", shear: "double", force: 6581,
                  tab: #{ thickness: 6.35 }, torque: 75 * 1.3558179483314004 };
"#;

#[test]
fn stresses_are_those_written_down_with_the_invented_wagon() {
    agree(
        "wagon_brackets",
        &format!(
            r#"{ASK}
            let double = car.check_bolts(bolt);
            print(`bolt_double_shear ${{double.shear_stress}}`);
            print(`tab_bearing ${{double.bearing_stress}}`);
            bolt.shear = "single";
            bolt.lever = 25;
            let single = car.bolts(bolt);
            print(`single_shear ${{single.shear_stress}}`);
            print(`single_bending ${{single.bending_stress}}`);"#
        ),
    );
}

/// Common practice, no source: 75 lb-ft on 1/2 in hardware that mounts dampers, dry.
#[test]
fn seventy_five_pound_feet_on_half_inch_hardware_stay_within_proof() {
    for grade in ["grade 5", "grade 8"] {
        for condition in ["plain", "zinc_plated"] {
            let found = numbers(&format!(
                "{ASK} bolt.grade = \"{grade}\"; bolt.condition = \"{condition}\";
                 let found = car.check_bolts(bolt);
                 print(found.share_of_proof); print(found.clamp); print(found.torque);"
            ));
            assert!(
                found[0] > 0.3 && found[0] < 1.0,
                "{grade}, {condition}: {found:?}"
            );
            // T = K d F with d = 12.7 mm and K of the condition.
            let coefficient = if condition == "plain" { 0.30 } else { 0.20 };
            assert!(
                (found[1] * coefficient * 0.0127 - found[2]).abs() < 1e-9,
                "{found:?}"
            );
        }
    }
}

#[test]
fn pounds_and_inches_give_the_same_clamp() {
    let found = numbers(&format!(
        r#"{ASK}
        let inch = load("vehicles/wagon_front_inches.toml").bolts(#{{ name: "front lower", size: "1/2-13", grade: "grade 8",
            shear: "double", force: 6581 / 4.4482216152605, tab: #{{ thickness: 0.25 }}, torque: 75 }});
        print(inch.clamp * 4.4482216152605 - car.bolts(bolt).clamp);
        print(inch.torque - 75);"#
    ));
    assert!(
        found.iter().all(|difference| difference.abs() < 1e-6),
        "{found:?}"
    );
}

#[test]
fn the_sheet_says_once_that_it_is_an_estimate_and_refuses_wrong_keys() {
    let sheet = printed(&format!("{ASK} print(car.bolts(bolt));"));
    is_aligned(&sheet);
    assert_eq!(sheet.matches("(estimate)").count(), 1, "{sheet}");
    assert_eq!(sheet.matches("judgement").count(), 1, "{sheet}");
    let report = refused(&format!("{ASK} bolt.grad = 1; car.bolts(bolt);"));
    assert_eq!(report.help.as_deref(), Some("did you mean `grade`?"), "{report}");
}

/// A card must not read like a permission for a bolt that holds nothing together.
#[test]
fn a_card_gives_no_torque_that_is_far_too_low() {
    let card = |torque: f64| {
        printed(&format!(
            "{ASK} bolt.torque = {torque:.1}; print(car.check_fit(#{{ bolts: bolt }}).assembly_card());"
        ))
    };
    let loose = card(7.0);
    assert!(loose.contains("is no torque for 1/2-13"), "{loose}");
    assert!(!loose.contains("1/2-13 to 7"), "{loose}");
    assert!(card(102.0).contains("1/2-13 to 102"));
    let asked = printed(&format!("{ASK} print(car.check_bolts(bolt).not_judged);"));
    assert!(asked.contains("bearing on the tab"), "{asked}");
}
