//! Bump steer, from scripts.

use super::{agree, fails, mistake, numbers, printed, same};

fn shims(car: &str, unit: f64) -> String {
    format!(
        "let car = load(\"{car}\");
         let answer = car.check_bump_steer(#{{ range: 50 / {unit:?}, largest_change: 0.15,
             shim: #{{ end: \"outer\", thickness: 25.4 / 16 / {unit:?} }} }});"
    )
}

#[test]
fn four_shims_take_it_out_as_solved_elsewhere() {
    let script = shims("front.toml", 1.0);
    let found = numbers(&format!(
        "{script} let rows = answer.items[0].tables[0].column(\"toe_change_deg\");
         for row in 8..17 {{ print(rows[row]); }}
         print(answer.slope * 25.4); print(answer.best_slope * 25.4); print(answer.best_shims); print(answer.toe_change);"
    ));
    agree("bump_steer", "toe_change_by_shims", &found[..9]);
    agree("bump_steer", "slope_deg_per_in_none_and_four", &found[9..11]);
    assert_eq!(found[11], 4.0);
    assert_eq!(found[12], found[0]);
    assert!(fails(&script));
}

#[test]
fn the_sheet_tells_the_shims() {
    let sheet = printed(&format!("{} print(answer);", shims("front_inch.toml", 25.4)));
    for line in [
        "Bump steer: fails",
        "toe changes by                0.56 deg",
        "bump steer, toe-in positive   -0.145 deg/in",
        "shims that serve best         4",
        "Put 4 shims of 0.062 in at the outer tie-rod end",
    ] {
        assert!(sheet.contains(line), "no {line:?} in\n{sheet}");
    }
}

#[test]
fn inches_say_the_same() {
    let values = |unit: f64| {
        format!(
            "print(answer.toe_change); print(answer.slope / {unit:?}); print(answer.most_toe_in);
             print(answer.most_toe_in_at * {unit:?}); print(answer.best_offset_toe_change); print(answer.best_moved * {unit:?});"
        )
    };
    let metric = format!("{} {}", shims("front.toml", 1.0), values(1.0));
    let inch = format!("{} {}", shims("front_inch.toml", 25.4), values(25.4));
    same(&numbers(&inch), &numbers(&metric));
}

#[test]
fn wrong_questions_are_told() {
    let report = mistake("load(\"rear.toml\").check_bump_steer(#{});");
    assert!(report.to_string().contains("corner"), "{report}");
    let report = mistake("load(\"front.toml\").check_bump_steer(#{ shim: #{ thicknes: 1 } });");
    assert!(report.what.contains("shim.thicknes"), "{report}");
}
