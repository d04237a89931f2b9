//! Static loads, from scripts.

use super::{is_aligned, numbers, printed, refused};

#[test]
fn the_coilover_carries_what_the_spring_of_the_ride_height_pushes() {
    // All of the wheel's load sprung, acting where the ground pushes.
    let found = numbers(
        r#"let car = load("vehicles/wagon_front.toml");
           let found = car.check_loads(#{ wheel_load: 406 });
           print(found.items[1].forces.coilover);
           print(car.ride_height(#{ load: #{ sprung_mass: 406 }, load_point: "contact_point" }).needed_force);
           let up = found.items[1].vectors["coilover.on_body"];
           print(sqrt(up[0] * up[0] + up[1] * up[1] + up[2] * up[2]));
           print(found.worst.coilover / found.items[1].forces.coilover);"#,
    );
    assert!((found[0] - found[1]).abs() < 1e-6, "{found:?}");
    assert!((found[2] - found[0]).abs() < 1e-6, "{found:?}");
    // Without unsprung weight the bump of three times the load is three times everything.
    assert!((found[3] - 3.0).abs() < 1e-9, "{found:?}");
}

#[test]
fn all_that_pushes_an_axle_is_in_balance_with_its_weight() {
    // Newton: what the ground gives, less the axle's own weight, goes into the body.
    let found = numbers(
        r#"let found = load("vehicles/wagon_rear.toml").loads(#{ wheel_load_left: 397, wheel_load_right: 397, unsprung: 150 });
           for item in found.items {
               if item.name == "" { continue; }
               let vectors = item.vectors;
               for axis in 0..3 {
                   let sum = vectors["ground.left"][axis] + vectors["ground.right"][axis];
                   if axis == 2 { sum -= 150 * 9.80665; }
                   for name in vectors.keys() {
                       if name.ends_with(".on_body") { sum -= vectors[name][axis]; }
                   }
                   print(sum);
               }
           }"#,
    );
    assert_eq!(found.len(), 18);
    assert!(found.iter().all(|sum| sum.abs() < 1e-6), "{found:?}");
}

#[test]
fn pounds_give_the_same_forces_and_a_limit_is_a_finding() {
    let found = printed(
        r#"let mm = load("vehicles/wagon_front.toml").loads(#{ wheel_load: 448, unsprung: 42 });
           let inch = load("vehicles/wagon_front_inches.toml").loads(#{
               wheel_load: 448 / 0.45359237, unsprung: 42 / 0.45359237, limits: #{ tie_rod: 10 } });
           assert_near(inch.worst.tie_rod * 4.4482216152605, mm.worst.tie_rod, 1e-6, "the tie rod");
           print(inch.verdict); print(inch.worst_case.coilover);"#,
    );
    assert_eq!(found, "fails\nbump\n");
}

#[test]
fn the_sheets_are_aligned_and_state_what_was_assumed() {
    let front =
        printed(r#"print(load("vehicles/wagon_front.toml").loads(#{ wheel_load: 448, unsprung: 42 }));"#);
    is_aligned(&front);
    assert!(front.contains("lower_arm.ball_joint"), "{front}");
    assert!(front.contains("multiples of the static wheel load"), "{front}");
    is_aligned(&printed(
        r#"print(load("vehicles/wagon_rear.toml").loads(#{ wheel_load_left: 397, wheel_load_right: 397, unsprung: 150 }));"#,
    ));
    let report = refused(r#"load("vehicles/wagon_front.toml").loads(#{ wheel_lod: 448 });"#);
    assert_eq!(
        report.help.as_deref(),
        Some("did you mean `wheel_load`?"),
        "{report}"
    );
}
