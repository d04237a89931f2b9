//! The damper's setting, from scripts.

use super::{is_aligned, numbers, printed, refused};

const ASK: &str = r#"
    let ride = #{ load: #{ sprung_mass: 406 } };
    let question = #{ bump: #{ clicks: 20 }, rebound: #{ clicks: 20, counted_from: "full_soft" }, ride_height: ride };
    let car = load("vehicles/wagon_front.toml");
"#;

/// Common practice, no source: ten clicks back from full stiff is the middle of twenty.
#[test]
fn ten_clicks_back_from_full_stiff_is_the_middle_of_twenty() {
    let sheet = printed(&format!("{ASK} print(car.check_damper_setting(question));"));
    is_aligned(&sheet);
    assert!(
        sheet.contains("    start with, in bump           from full stiff, back off 10 of 20 clicks\n"),
        "{sheet}"
    );
    assert!(
        sheet.contains("from full soft, turn in 10 of 20 clicks"),
        "{sheet}"
    );
    let found = printed(&format!(
        "{ASK} let found = car.damper_setting(question); print(found.bump_start); print(found.bump_click);"
    ));
    assert_eq!(found, "from full stiff, back off 10 of 20 clicks\n10\n");
}

#[test]
fn dyno_points_choose_the_click_nearest_to_the_wanted_ratio() {
    // By hand: critical damping 2 sqrt(k m) at the wheel, damping c m^2 with c the force over the damper's speed.
    let script = format!(
        "{ASK}
         let dyno = [];
         for click in [0, 10, 20] {{
             dyno.push(#{{ click: click, points: [#{{ speed: 200, force: 2000 - 80 * click }}] }});
         }}
         question.bump.dyno = dyno;
         question.bump.wanted_ratio = 0.3;
         let found = car.damper_setting(question);"
    );
    let found = numbers(&format!(
        "{script} print(found.bump_click); print(found.bump_ratio); print(found.critical_damping);
         print(found.wheel_rate); print(found.motion_ratio); print(found.damper_speed);"
    ));
    let [click, ratio, critical, wheel_rate, motion_ratio, speed] = found[..] else {
        panic!("{found:?}")
    };
    let by_hand = 2.0 * (wheel_rate * 1_000.0 * 406.0).sqrt() / 1_000.0;
    assert!(
        (critical - by_hand).abs() < 1e-9,
        "{critical} instead of {by_hand}"
    );
    assert!((speed - 100.0 * motion_ratio).abs() < 1e-9);
    let at = |click: f64| (2_000.0 - 80.0 * click) / 200.0 * motion_ratio * motion_ratio / critical;
    assert!((ratio - at(click)).abs() < 1e-9, "{ratio} at click {click}");
    let nearest = (0..=20).map(f64::from).fold(f64::INFINITY, |best, click| {
        if (at(click) - 0.3).abs() < (at(best) - 0.3).abs() || best.is_infinite() {
            click
        } else {
            best
        }
    });
    assert_eq!(click, nearest);
    is_aligned(&printed(&format!("{script} print(found);")));
}

#[test]
fn an_axle_has_its_own_speed_in_roll_and_wrong_keys_are_refused() {
    let found = numbers(
        r#"let found = load("vehicles/wagon_rear.toml").damper_setting(#{
               bump: #{ clicks: 12 }, ride_height: #{ load: #{ sprung_mass: 322 } } });
           print(found.items[1].damper_speed); print(found.items[1].damper_speed_in_roll);"#,
    );
    // 0.984 with both wheels and 0.601 in roll: "tests/reference/example_vehicles.json".
    assert!(
        (found[0] - 98.4).abs() < 0.1 && (found[1] - 60.1).abs() < 0.1,
        "{found:?}"
    );
    let report = refused(&format!(
        "{ASK} question.bump.clics = 3; car.damper_setting(question);"
    ));
    assert!(report.what.contains("`bump.clics`"), "{report}");
}
