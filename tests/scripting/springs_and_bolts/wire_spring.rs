//! A spring from its wire, from scripts.

use super::{is_aligned, numbers, printed, refused};

/// R. G. Budynas, J. K. Nisbett, Shigley's Mechanical Engineering Design, problem 10-3: 1.314 N/mm, solid at 35 mm.
const BOOK: &str = r#"
    let car = load("vehicles/wagon_front.toml");
    let spring = #{ wire_diameter: 2.5, outside_diameter: 31, total_coils: 14, ends: "plain_ground", shear_modulus: 81000 };
"#;

#[test]
fn a_spring_of_a_book_has_its_rate_in_both_units() {
    let found = numbers(&format!(
        r#"{BOOK}
        let found = car.check_wire_spring(spring);
        print(found.rate); print(found.solid_length); print(found.index); print(found.active_coils);
        let inch = load("vehicles/wagon_front_inches.toml").wire_spring(#{{ wire_diameter: 2.5 / 25.4, outside_diameter: 31 / 25.4,
            total_coils: 14, ends: "plain_ground", shear_modulus: 81000 / 6.894757293168361 }});
        print(inch.rate * 4.4482216152605 / 25.4); print(inch.solid_length * 25.4);"#
    ));
    let expected = [1.314, 35.0, 11.4, 13.0, 1.314, 35.0];
    for (found, expected) in found.iter().zip(expected) {
        assert!((found - expected).abs() < 5e-4, "{found} instead of {expected}");
    }
}

#[test]
fn the_sheet_is_aligned_and_mistakes_are_named() {
    is_aligned(&printed(&format!("{BOOK} print(car.wire_spring(spring));")));
    let report = refused(&format!("{BOOK} spring.coils = 3; car.wire_spring(spring);"));
    assert!(report.what.contains("`coils`"), "{report}");
    let report = refused(&format!(
        "{BOOK} spring.mean_diameter = 28; car.wire_spring(spring);"
    ));
    assert!(report.render(false).contains("exactly one of"), "{report}");
}
