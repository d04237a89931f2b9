//! Brackets, from scripts.

use super::{agree, is_aligned, numbers, printed, refused};

/// The front lower bracket of the invented wagon.
const ASK: &str = r#"
    let car = load("vehicles/wagon_front.toml");
    let bracket = #{
        name: "front lower", tabs: 2, thickness: 6.35, width: 50, height: 30, edge_distance: 25, bolt: "1/2-13",
        yielding: 250, force: #{ outward: 6581 }, weld: #{ leg: 5, length_per_tab: 60 },
    };
"#;

#[test]
fn the_throat_of_the_weld_has_the_stress_written_down_with_the_invented_wagon() {
    agree(
        "wagon_brackets",
        &format!("{ASK} print(`weld_throat_direct ${{car.check_brackets(bracket).weld_direct}}`);"),
    );
}

/// Common practice, no source: a 3/8 in bolt goes where a 5/16 in one was loose only when the hole is drilled to suit.
#[test]
fn a_thicker_bolt_goes_in_once_the_hole_is_drilled_to_suit() {
    let script = format!(
        r#"{ASK} bracket.bolt = "3/8-16"; bracket.hole = 25.4 * 11 / 32;
        let as_it_is = car.brackets(bracket);
        print(as_it_is.drilled); print(as_it_is.hole >= 25.4 * 3 / 8);
        bracket.drill_to = 25.4 * 11 / 32;
        print(car.brackets(bracket).verdict);
        print(car.brackets(bracket).findings[0].remedies[0].kind);"#
    );
    assert_eq!(printed(&script), "true\ntrue\nfails\nlarger_hole\n");
}

#[test]
fn inches_give_the_same_stresses_and_several_brackets_are_told_apart() {
    let found = numbers(&format!(
        r#"{ASK}
        let other = bracket;
        other.name = "front upper";
        let both = car.brackets([bracket, other]);
        print(both.items[0].stress - both.items[1].stress);
        let inch = load("vehicles/wagon_front_inches.toml").brackets(#{{
            name: "front lower", tabs: 2, thickness: 0.25, width: 50 / 25.4, height: 30 / 25.4, edge_distance: 25 / 25.4,
            bolt: "1/2-13", yielding: 250 / 6.894757293168361, force: #{{ outward: 6581 / 4.4482216152605 }},
            weld: #{{ leg: 5 / 25.4, length_per_tab: 60 / 25.4 }},
        }});
        print(inch.stress * 6.894757293168361 - both.items[0].stress);
        print(inch.edge_left * 25.4 - both.items[0].edge_left);"#
    ));
    assert!(
        found.iter().all(|difference| difference.abs() < 1e-9),
        "{found:?}"
    );
}

#[test]
fn the_sheet_is_aligned_named_an_estimate_and_refuses_wrong_keys() {
    let sheet = printed(&format!("{ASK} print(car.brackets(bracket));"));
    is_aligned(&sheet);
    assert!(sheet.contains("Brackets (estimate): "), "{sheet}");
    let report = refused(&format!("{ASK} bracket.thicknes = 1; car.brackets(bracket);"));
    assert_eq!(
        report.help.as_deref(),
        Some("did you mean `thickness`?"),
        "{report}"
    );
}
