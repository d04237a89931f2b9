//! Travel from ride height and from the pickups as measured, and ride height that moves with a what-if.

use crate::vocabulary::{garage, numbers};

/// The front corner with its ride height given as a length of the damper, 20 mm of travel above the pickups as measured.
const BY_DAMPER: &str = "let c = load(\"front.toml\");
    c.ride_height = #{ damper_length: c.at(20).damper_length };\n";

fn remarks(script: &str) -> Vec<String> {
    let outcome = garage().run(&format!("{BY_DAMPER}{script}"));
    outcome
        .unwrap_or_else(|report| panic!("{}", report.render(false)))
        .remarks
}

#[test]
fn bump_counts_from_ride_height_and_a_plain_number_from_the_pickups_as_measured() {
    let found = numbers(&format!(
        "{BY_DAMPER} print(c.ride_travel());
        print(c.at(25).travel); print(c.at(#{{ bump: 25 }}).travel);
        print(c.at(0).camber - c.wheel.camber);
        print(c.stroke().bump_to_stop);
        let contact = c.coilover.compressed + c.coilover.bump_stop;
        print(c.at(#{{ bump: c.stroke().bump_to_stop }}).damper_length - contact);"
    ));
    assert!((found[0] - 20.0).abs() < 1e-9, "{found:?}");
    assert!(
        (found[1] - 25.0).abs() < 1e-9 && (found[2] - 45.0).abs() < 1e-9,
        "{found:?}"
    );
    assert!(found[3].abs() < 1e-9, "{found:?}");
    // The check's travel to the stop, asked as bump, is where the damper has the length of stop contact.
    assert!(found[4] > 0.0 && found[5].abs() < 1e-6, "{found:?}");
}

#[test]
fn a_ride_height_by_damper_moves_with_the_mount_unless_it_is_held() {
    let found = numbers(&format!(
        "{BY_DAMPER} let free = c; free.coilover.upper_mount[2] += 10; print(free.ride_travel());
        let held = c; held.hold_ride_height(); held.coilover.upper_mount[2] += 10; print(held.ride_travel());
        print(c.ride_travel());
        print(held.stroke().length_at_ride - c.stroke().length_at_ride);
        print(free.stroke().length_at_ride - c.stroke().length_at_ride);"
    ));
    assert!(found[0] > 30.0, "the wheel rises with the mount: {found:?}");
    assert!(
        (found[1] - 20.0).abs() < 1e-9 && (found[2] - 20.0).abs() < 1e-9,
        "{found:?}"
    );
    assert!(
        found[3] > 8.0 && found[3] <= 10.0,
        "the held wheel has a longer damper: {found:?}"
    );
    assert!(found[4].abs() < 1e-9, "{found:?}");
}

#[test]
fn a_moved_ride_height_is_remarked_on_once() {
    let raised = "for up in [5, 10] { let other = c; other.coilover.upper_mount[2] += up; other.stroke(); }";
    let found = remarks(raised);
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(
        found[0].contains("from 20.0 mm") && found[0].contains("hold_ride_height()"),
        "{found:?}"
    );
    let swept = "c.coilover.upper_mount[2] += 5; c.sweep(#{ bump: [0, 5] });";
    assert_eq!(remarks(swept).len(), 1);
}

#[test]
fn what_does_not_move_the_wheel_is_not_remarked_on() {
    for script in [
        "c.stroke();",
        "c.coilover.upper_mount[2] += 5; c.sweep(#{ travel: [0, 5] }); c.at(5).camber;",
        "c.title = \"mine\"; c.wanted = #{ bump: 50 }; c.check_stroke();",
        "let other = c; other.hold_ride_height(); other.coilover.upper_mount[2] += 5; other.stroke();",
        "c.coilover.upper_mount[2] += 5; c.ride_height = #{ damper_length: 310 }; c.stroke();",
        "let other = load(\"front.toml\"); other.coilover.upper_mount[2] += 5; other.stroke();",
    ] {
        assert!(remarks(script).is_empty(), "{script}");
    }
}
