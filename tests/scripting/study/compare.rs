//! Models side by side, and swapped parts.

use crate::fit::{mistake, numbers, printed};

const BOTH: &str = "let fresh = load(\"front.toml\");
    let old = fresh; old.upper_arm.ball_joint = [3, 661, 431]; old.wheel.camber = 0.25; old.title = \"old\";";

/// Figures of the invented wagon by an independent solver, printed to the digits shown.
#[test]
fn the_table_holds_the_numbers_of_both_and_their_differences() {
    let values = numbers(&format!(
        "{BOTH} let study = compare(#{{ models: [#{{ name: \"old\", model: old }}, #{{ name: \"new\", model: fresh }}],
             outcomes: [\"motion_ratio\", \"caster\"] }});
         let table = study.comparison;
         print(table.column(\"old\")[0]); print(table.column(\"new\")[0]); print(table.column(\"new_difference\")[0]);
         print(study[\"new\"].values[\"caster at ride height\"]);"
    ));
    for (found, expected, off) in [
        (values[0], 0.6234, 1e-4),
        (values[1], 0.6050, 1e-4),
        (values[2], -0.0184, 2e-4),
        (values[3], 4.624, 1e-3),
    ] {
        assert!((found - expected).abs() < off, "{found} {expected}");
    }
}

#[test]
fn findings_that_change_are_told_and_the_sheet_keeps_its_width() {
    let sheet = printed(&format!(
        "{BOTH} let worse = fresh; worse.coilover.upper_mount[2] -= 20;
         print(compare(#{{ models: [#{{ name: \"as it is\", model: fresh }}, #{{ name: \"lower mount\", model: worse }}] }}));"
    ));
    assert!(
        sheet.contains("tight -> fails") || sheet.contains("holds -> fails"),
        "{sheet}"
    );
    assert!(sheet.contains("bump travel to the bump stop"), "{sheet}");
    assert!(sheet.lines().all(|line| line.chars().count() <= 100), "{sheet}");
}

/// With the wheel centre of one car described 20 mm higher, one height on the body is 20 mm of droop for it.
#[test]
fn one_wheel_height_is_kept_where_it_is_asked() {
    let values = numbers(
        "let here = load(\"front.toml\");
         let there = here; there.ride_height = #{ travel: 20 };
         let study = compare(#{ models: #{ a: here, b: there }, keep: \"ride_height\", outcomes: \"camber\" });
         print(study.comparison.column(\"b_difference\")[0]);
         let study = compare(#{ models: #{ a: here, b: there }, outcomes: \"camber\" });
         print(study.comparison.column(\"b_difference\")[0] - (here.at(#{ bump: 20 }).camber - here.at(#{ bump: 0 }).camber));",
    );
    assert!(values.iter().all(|value| value.abs() < 1e-9), "{values:?}");
}

/// The car rests where the spring force over the motion ratio carries the same weight: the ride height check itself says so.
#[test]
fn on_the_same_spring_each_model_rests_where_its_ride_height_check_says() {
    let values = numbers(&format!(
        "{BOTH} let ride = #{{ load: #{{ sprung_mass: 406 }} }};
         let study = compare(#{{ models: [#{{ name: \"old\", model: old }}, #{{ name: \"new\", model: fresh }}], keep: \"spring\",
             fit: #{{ ride_height: ride }}, outcomes: \"camber\" }});
         for name in [\"old\", \"new\"] {{ print(study[name].values[\"ride height, from the pickups as measured\"]); }}
         print(old.ride_height(ride).low); print(fresh.ride_height(ride).low);"
    ));
    // Both are described at travel 0 with the same spring and seats; what sits low is travel.
    assert!(
        (values[0] - values[2]).abs() < 1e-6 && (values[1] - values[3]).abs() < 1e-6,
        "{values:?}"
    );
    assert!(
        values[1] - values[0] > 1.0 || values[0] - values[1] > 1.0,
        "{values:?}"
    );
}

#[test]
fn both_springs_of_an_axle_are_kept() {
    let travels = numbers(
        "let first = load(\"rear.toml\"); let ride = #{ load: #{ sprung_mass: 350 } };
         let other = first; other.springs.left.lower_seat += 8; other.springs.right = other.springs.left;
         let study = compare(#{ models: #{ first: first, other: other }, keep: \"spring\", fit: #{ ride_height: ride },
             outcomes: \"damper_length_left\" });
         for name in [\"first\", \"other\"] { print(study[name].values[\"ride height, from the pickups as measured\"]); }
         print(other.ride_height(ride).low);",
    );
    assert!((travels[0] - travels[1]).abs() < 1e-9, "{travels:?}");
    assert!(
        (travels[1] - travels[2]).abs() > 5.0,
        "with its own seats it stands higher: {travels:?}"
    );
}

#[test]
fn a_right_corner_given_apart_gets_the_same_parts() {
    let wheels = numbers(
        "let car = load(\"front.toml\");
         let other = car.right_corner(); other.wheel.centre[1] -= 4;
         car.right = #{ upper_arm: other.upper_arm, lower_arm: other.lower_arm, tie_rod: other.tie_rod, wheel: other.wheel,
             coilover: other.coilover };
         let after = car.swap(#{ upper_arm: #{ longer: 12.7 }, upright: #{ taller: 25.4 } });
         let alone = car.right_corner().swap(#{ upper_arm: #{ longer: 12.7 }, upright: #{ taller: 25.4 } });
         for model in [car, after] { for corner in [model, model.right_corner()] { print(corner.wheel.centre[1]);
             print(corner.wheel.camber); } }
         print(alone.wheel.centre[1]); print(alone.wheel.camber);",
    );
    let (left, right) = (wheels[4] - wheels[0], wheels[6] - wheels[2]);
    // The wheels differ by 4 mm of track, and turn with their uprights by nearly the same.
    assert!(
        left.abs() > 0.5 && (left + right).abs() < 0.2 * left.abs(),
        "{wheels:?}"
    );
    // With its centre 4 mm farther out the upright turns a little less until the wheel stands at the same height.
    assert!(
        (wheels[5] - wheels[7]).abs() < 0.01,
        "nearly the same camber: {wheels:?}"
    );
    assert_eq!(wheels[6..8], wheels[8..10], "a right corner swapped by itself");
}

#[test]
fn swapped_parts_come_in_the_units_of_the_model() {
    let values = numbers(
        "let metric = load(\"front.toml\").swap(#{ upper_arm: #{ longer: 12.7 }, upright: #{ taller: 25.4 } });
         let inches = load(\"front_inch.toml\").swap(#{ upper_arm: #{ longer: 0.5 }, upright: #{ taller: 1 } });
         print(metric.wheel.camber - inches.wheel.camber);
         print(metric.tie_rod.outer[2] - 25.4 * inches.tie_rod.outer[2]);
         print(metric.wheel.camber);",
    );
    assert!(values[0].abs() < 1e-9 && values[1].abs() < 1e-9, "{values:?}");
    assert!((values[2] - -0.5).abs() > 0.5, "{values:?}");
}

#[test]
fn what_does_not_go_together_is_refused() {
    let report = mistake("load(\"front.toml\").swap(#{ upper_arm: #{ langer: 3 } });");
    assert!(report.to_string().contains("did you mean `longer`?"), "{report}");
    let report = mistake("load(\"rear.toml\").swap(#{});");
    assert!(report.what.contains("this is an axle"), "{report}");
    let report =
        mistake("let a = load(\"front.toml\"); compare(#{ models: #{ a: a, b: load(\"rear.toml\") } });");
    assert!(report.what.contains("differ in layout or units"), "{report}");
    let report =
        mistake("let a = load(\"front.toml\"); compare(#{ models: #{ a: a, b: a }, keep: \"springs\" });");
    assert!(
        report.to_string().contains("did you mean \"spring\"?"),
        "{report}"
    );
    let report =
        mistake("let a = load(\"front.toml\"); compare(#{ models: #{ a: a, b: a }, keep: \"spring\" });");
    assert!(report.what.contains("`ride_height`"), "{report}");
}
