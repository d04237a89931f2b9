//! The choice of a spring, from scripts.

use super::{is_aligned, numbers, printed, refused};

/// The invented pickup with its coilovers in the one hole that serves, and the springs of its owner's list.
const TRUCK: &str = r#"
    let truck = load("vehicles/pickup_rear.toml");
    truck.coilovers.left.upper_mount = [-2966.0, 438.0, 578.1];
    let list = [];
    for rate in [150, 175, 200, 225, 250] {
        list.push(#{ name: `${rate} lb/in`, rate: rate * 4.4482216152605 / 25.4, free_length: 304.8, solid_length: 124 });
    }
    let ride = #{ load: #{ sprung_mass: 255 }, wanted_frequency: 1.75 };
"#;

#[test]
fn unladen_every_spring_serves_and_the_nearest_frequency_leads() {
    // Compression at ride height and frequency, by the rate: the invented pickup's own figures.
    let found = printed(&format!(
        "{TRUCK} let found = truck.check_springs(#{{ list: list, ride_height: ride }});
         print(found.fitting); print(found.first_choice);
         let first = found.items[1];
         print(first.name); print(first.serves); print(fmt(first.frequency, 2)); assert_near(first.wheel_rate, 30.25, 0.02, \"wheel rate\");"
    ));
    assert_eq!(found, "5\n175 lb/in\n175 lb/in\ntrue\n1.73\n");
}

#[test]
fn laden_no_listed_spring_keeps_the_wanted_bump_travel_and_the_sheet_says_so() {
    let script = format!(
        "{TRUCK} ride.laden = #{{ mass: 180, bump: 20 }};
         let found = truck.springs(#{{ list: list, ride_height: ride }});"
    );
    let sheet = printed(&format!("{script} print(found);"));
    is_aligned(&sheet);
    let words = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        sheet.contains(
            "[fails] None of the 5 listed springs keeps every limit; each is listed with its reason."
        ),
        "{sheet}"
    );
    assert!(
        sheet.contains("first choice                  none serves"),
        "{sheet}"
    );
    assert_eq!(words.matches("20.0 mm are wanted").count(), 5, "{sheet}");
    // Bump left to the stop once laden, by the wheel rate at ride height: -19.3, -9.7, -2.4, 3.3 and 7.8 mm for 150 to 250 lb/in.
    let expected = [
        ("150", -19.3),
        ("175", -9.7),
        ("200", -2.4),
        ("225", 3.3),
        ("250", 7.8),
    ];
    for (rate, bump) in expected {
        let found = numbers(&format!(
            "{script} for spring in found.items {{
                 if spring.name == \"{rate} lb/in\" {{ print(spring.laden_bump_to_stop); }}
             }}"
        ));
        // Over 70 mm the wheel rate of this axle changes by less than 1.5 %.
        assert!((found[0] - bump).abs() < 1.1, "{rate}: {found:?}");
    }
}

#[test]
fn a_failing_choice_counts_for_the_exit_code_and_one_spring_is_a_list_of_one() {
    let garage = super::garage();
    let outcome = garage
        .run(&format!(
            "{TRUCK} ride.laden = #{{ mass: 180, bump: 20 }};
             print(truck.check_springs(#{{ list: list[0], ride_height: ride }}).fitting);"
        ))
        .unwrap();
    assert_eq!(garage.printed.text(), "0\n");
    assert!(!outcome.failed_checks.is_empty());
}

#[test]
fn mistakes_in_the_list_are_named() {
    let report = refused(&format!(
        "{TRUCK} truck.springs(#{{ lst: list, ride_height: ride }});"
    ));
    assert_eq!(report.help.as_deref(), Some("did you mean `list`?"), "{report}");
    let report = refused(&format!(
        "{TRUCK} list[2].solid_length = 400; truck.springs(#{{ list: list, ride_height: ride }});"
    ));
    assert!(report.what.contains("springs[2] (200 lb/in)"), "{report}");
    let report = refused(&format!(
        "{TRUCK} truck.springs(#{{ list: [], ride_height: ride }});"
    ));
    assert!(report.what.contains("empty"), "{report}");
}

#[test]
fn the_fit_sheet_hands_its_ride_height_to_the_list() {
    let sheet = printed(&format!(
        "{TRUCK} print(truck.fit(#{{ ride_height: ride, springs: #{{ list: list }} }}));"
    ));
    is_aligned(&sheet);
    assert!(sheet.contains("  Choice of a spring            "), "{sheet}");
}
