//! The alignment card, from scripts.

use super::{agree, fails, mistake, numbers, printed, same};

fn card(car: &str, unit: f64) -> String {
    format!(
        "let car = load(\"{car}\");
         let asked = #{{ camber: #{{ angle: -1.0, tolerance: 0.1 }}, caster: #{{ angle: 5.0, tolerance: 0.25 }},
             toe: #{{ angle: 0.05, tolerance: 0.02 }}, adjusters: [
                 #{{ pickup: \"upper_arm.front_pivot\", shim: 1 / {unit:?} }},
                 #{{ pickup: \"upper_arm.rear_pivot\", shim: 1 / {unit:?} }}, #{{ pickup: \"tie_rod\" }}] }};
         let answer = car.check_alignment(asked);"
    )
}

#[test]
fn the_card_finds_the_wagon_as_solved_elsewhere_and_whole_shims_bring_it_there() {
    let script = card("front.toml", 1.0);
    let found = numbers(&format!(
        "{script} print(answer.camber); print(answer.caster); print(answer.toe);
         print(answer.camber_after); print(answer.caster_after); print(answer.toe_after); print(answer.wanted_camber);
         let front = answer[\"upper_arm.front_pivot\"]; print(front.amount); print(front.shims);"
    ));
    agree("alignment", "camber_caster_toe_at_ride", &found[..3]);
    assert!(
        (found[3] + 1.0).abs() <= 0.1 && (found[4] - 5.0).abs() <= 0.25 && (found[5] - 0.05).abs() <= 0.02
    );
    assert_eq!(found[6], -1.0);
    assert!((found[7] - found[8]).abs() < 1e-9 && found[8] != 0.0, "{found:?}");
    assert_eq!(
        printed(&format!("{script} print(answer.reached);")).trim(),
        "true"
    );
    // Out of tolerance as it stands: the check fails until it is set.
    assert!(fails(&script));
}

#[test]
fn sensitivities_are_those_of_a_car_so_set() {
    let found = numbers(
        "let car = load(\"front.toml\");
         let little = car.alignment(#{ toe: #{ angle: 5, tolerance: 0.01 },
             adjusters: #{ pickup: \"tie_rod\", least: 0, most: 0.01 } });
         print((little.toe_after - little.toe) / 0.01); print(little.toe_per_length);",
    );
    assert!((found[0] - found[1]).abs() < 1e-3 * found[1].abs(), "{found:?}");
    // A tie rod behind the axle line, about 147 mm behind the steering axis: a longer one toes in by 1 / 147 rad per mm.
    assert!(found[1] > 0.3 && found[1] < 0.5, "{found:?}");
}

#[test]
fn the_sheet_is_a_card() {
    let sheet = printed(&format!("{} print(answer);", card("front.toml", 1.0)));
    for line in [
        "Alignment at ride height: fails",
        "reached by what can be set    yes",
        "now_deg",
        "wanted_deg",
        "after_deg",
        "amount_mm",
        "toe_deg_per_mm",
        "upper_arm.rear_pivot",
    ] {
        assert!(sheet.contains(line), "no {line:?} in\n{sheet}");
    }
}

#[test]
fn inches_say_the_same() {
    let values = |unit: f64| {
        format!(
            "print(answer.camber_after); print(answer.caster_after); print(answer.toe_after);
             let rod = answer[\"tie_rod\"]; print(rod.amount * {unit:?}); print(rod.toe_per_length / {unit:?});"
        )
    };
    let metric = format!("{} {}", card("front.toml", 1.0), values(1.0));
    let inch = format!("{} {}", card("front_inch.toml", 25.4), values(25.4));
    same(&numbers(&inch), &numbers(&metric));
}

#[test]
fn wrong_questions_are_told() {
    let report = mistake("load(\"rear.toml\").check_alignment(#{ toe: #{ angle: 0 } });");
    assert!(report.to_string().contains("corner"), "{report}");
    let report = mistake("load(\"front.toml\").check_alignment(#{ toe: #{ angel: 0 } });");
    assert!(report.what.contains("toe.angel"), "{report}");
    let report = mistake("load(\"front.toml\").check_alignment(#{});");
    assert!(report.to_string().contains("camber"), "{report}");
}
