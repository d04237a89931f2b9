//! The bump stop, from scripts.

use super::{is_aligned, numbers, printed, refused};

const ASK: &str = r#"
    let question = #{
        table: [#{ compression: 8, force: 400 }, #{ compression: 16, force: 2600 }, #{ compression: 20, force: 9000 }],
        ride_height: #{ load: #{ sprung_mass: 406 } },
    };
    let car = load("vehicles/wagon_front.toml");
"#;

#[test]
fn the_stop_is_touched_where_the_stroke_check_says_and_ends_at_metal() {
    // 69.2 mm of bump to the stop: "tests/reference/example_vehicles.json"; the stop is 20 mm long, pressed flat there.
    let found = numbers(&format!(
        "{ASK} let found = car.check_bump_stop(question); print(found.contact); print(found.end);
         print(car.stroke().bump_to_stop);"
    ));
    assert!((found[0] - 69.2).abs() < 0.1, "{found:?}");
    assert!((found[0] - found[2]).abs() < 0.1, "{found:?}");
    assert!((found[1] - 101.6).abs() < 0.1, "{found:?}");
}

#[test]
fn the_sheet_is_aligned_and_a_wrong_key_is_refused() {
    is_aligned(&printed(&format!("{ASK} print(car.bump_stop(question));")));
    let report = refused(&format!("{ASK} question.tabel = 1; car.bump_stop(question);"));
    assert!(report.what.contains("`tabel`"), "{report}");
    let report = refused(&format!(
        "{ASK} question.remove(\"ride_height\"); car.bump_stop(question);"
    ));
    assert!(report.what.contains("`load`"), "{report}");
}
