//! Ride height and spring, from scripts.

use super::{agree, is_aligned, numbers, printed, refused};

const FRONT: &str = r#"
    let question = #{
        load: #{ sprung_mass: 406 }, solid_length: 114, bind_allowance: 6,
        seat_thread: #{ shortest: 50, longest: 125, pitch: 2 },
    };
    let car = load("vehicles/wagon_front.toml");
"#;

#[test]
fn the_front_spring_has_the_figures_written_down_with_the_invented_wagon() {
    agree(
        "wagon_front",
        &format!(
            r#"{FRONT}
            let found = car.check_ride_height(question);
            assert(found.verdict == "holds", "the spring fits");
            print(`seat ${{found.needed_seat}}`);
            print(`force ${{found.needed_force}}`);
            print(`installed_length ${{found.needed_installed_length}}`);
            print(`compression ${{found.compression}}`);
            print(`preload ${{found.preload}}`);
            print(`coil_margin ${{found.coil_margin}}`);
            print(`motion_ratio ${{found.motion_ratio}}`);
            print(`wheel_rate ${{found.wheel_rate}}`);
            print(`wheel_rate_geometric ${{found.wheel_rate_geometric}}`);
            print(`frequency ${{found.frequency}}`);
            print(`bump_to_stop ${{found.bump_to_stop}}`);"#
        ),
    );
}

#[test]
fn twelve_millimetres_low_are_3_69_turns_by_the_full_solve_and_3_63_by_the_quick_rule() {
    let found = numbers(&format!(
        "{FRONT} question.sits_low = 12;
         let found = car.ride_height(question);
         print(found.correction_turns); print(found.quick_turns);"
    ));
    assert!((found[0] - 3.69).abs() < 0.005, "{found:?}");
    assert!((found[1] - 3.63).abs() < 0.005, "{found:?}");
}

#[test]
fn the_rear_spring_has_one_motion_ratio_with_both_wheels_and_another_in_roll() {
    agree(
        "wagon_rear",
        r#"let found = load("vehicles/wagon_rear.toml").ride_height(#{ load: #{ sprung_mass: 322 }, solid_length: 122 });
           let left = found.items[0];
           assert(left.name == "spring on either side", "one answer for both");
           print(`motion_ratio ${left.motion_ratio}`);
           print(`roll_motion_ratio ${left.roll_motion_ratio}`);
           print(`wheel_rate ${left.wheel_rate}`);
           print(`roll_wheel_rate ${left.roll_wheel_rate_from_spring}`);
           print(`frequency ${left.frequency}`);
           print(`force ${left.force}`);
           print(`preload ${left.preload}`);
           print(`coil_margin ${left.coil_margin}`);"#,
    );
}

#[test]
fn a_car_in_inches_and_pounds_has_the_same_spring() {
    // The front spring again: 550 lb/in and 10 in on 895 lb, thread of 2 mm.
    let found = numbers(&format!(
        r#"{FRONT}
        let mm = car.ride_height(question);
        let inch = load("vehicles/wagon_front_inches.toml");
        let found = inch.ride_height(#{{
            load: #{{ sprung_mass: 406 / 0.45359237 }}, solid_length: 114 / 25.4, bind_allowance: 6 / 25.4,
            seat_thread: #{{ shortest: 50 / 25.4, longest: 125 / 25.4, pitch: 2 / 25.4 }},
        }});
        print(25.4 * found.needed_seat - mm.needed_seat);
        print(4.4482216152605 * found.needed_force - mm.needed_force);
        print(4.4482216152605 / 25.4 * found.wheel_rate - mm.wheel_rate);"#
    ));
    for difference in found {
        assert!(difference.abs() < 1e-6, "{difference}");
    }
}

#[test]
fn the_sheet_is_aligned_and_names_what_ends_the_travel() {
    let sheet = printed(&format!("{FRONT} print(car.ride_height(question));"));
    is_aligned(&sheet);
    assert!(
        sheet.contains("    what ends the droop           the suspension's own stop\n"),
        "{sheet}"
    );
    assert!(
        sheet.contains("    what ends the bump            the damper\n"),
        "{sheet}"
    );
    assert!(
        sheet.contains("    coil margin at full bump      9.5 mm\n"),
        "{sheet}"
    );
}

#[test]
fn a_wrong_key_is_named_with_the_nearest() {
    let report = refused(&format!(
        "{FRONT} question.solid_lenght = 1; car.ride_height(question);"
    ));
    assert!(report.what.contains("`solid_lenght`"), "{report}");
    assert_eq!(report.help.as_deref(), Some("did you mean `solid_length`?"));
}
