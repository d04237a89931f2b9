//! The assembly card, from scripts.

use super::printed;

fn card(car: &str, questions: &str) -> String {
    printed(&format!(
        "print(assembly_card(load(\"{car}\").fit(#{{ {questions} }})));"
    ))
}

const THREAD: &str = "solid_length: 114, seat_thread: #{ shortest: 50, longest: 125, pitch: 2 }";

#[test]
fn a_seat_that_stands_right_is_not_turned_and_another_is() {
    let right = card(
        "front.toml",
        &format!("ride_height: #{{ load: #{{ sprung_mass: 406 }}, {THREAD} }}"),
    );
    assert!(right.contains("(as it is set now)"), "{right}");
    let heavier = card(
        "front.toml",
        &format!("ride_height: #{{ load: #{{ sprung_mass: 420 }}, {THREAD} }}"),
    );
    assert!(
        heavier.contains("turns towards the spring from where it"),
        "{heavier}"
    );
}

#[test]
fn a_torque_is_told_in_both_units() {
    // 100 lb-ft are 135.6 N m (1 lb-ft = 1.3558 N m, from memory).
    let bolt = |torque: &str| {
        format!(
            "bolts: #{{ name: \"lower\", size: \"1/2-13\", grade: \"grade 8\", shear: \"double\", force: 1500, torque: {torque} }}"
        )
    };
    let metric = card("front.toml", &bolt("135.58"));
    assert!(
        metric.contains("1/2-13 to 136 N m (100 lb-ft), clamp"),
        "{metric}"
    );
    let inch = card("front_inch.toml", &bolt("100"));
    assert!(inch.contains("1/2-13 to 100 lb-ft (136 N m), clamp"), "{inch}");
}

#[test]
fn the_last_step_of_a_corner_is_its_alignment_in_words() {
    let set = card(
        "front.toml",
        "alignment: #{ toe: #{ angle: 0.05, tolerance: 0.02 }, adjusters: #{ pickup: \"tie_rod\" } }",
    );
    assert!(
        set.contains("    [ ] Set the tie rod 0.13 mm shorter: then camber is"),
        "{set}"
    );
    let right = card(
        "front.toml",
        "alignment: #{ toe: #{ angle: 0.1, tolerance: 0.05 } }",
    );
    assert!(
        right.contains("    [ ] camber -0.50 deg, caster 4.62 deg, toe 0.10 deg of this wheel"),
        "{right}"
    );
}

#[test]
fn the_last_step_of_a_live_axle_speaks_of_no_camber() {
    let axle = card("rear.toml", "");
    assert!(axle.contains("Check how the axle stands."), "{axle}");
    assert!(!axle.contains("camber"), "{axle}");
}

#[test]
fn what_fails_stands_at_the_head() {
    let failing = card(
        "front.toml",
        "joints: #{ at: \"upper_arm.ball_joint\", limit: 10 }",
    );
    let head = failing.lines().nth(1).unwrap_or_default();
    assert_eq!(
        head, "Do not build it like this yet. These checks fail:",
        "{failing}"
    );
    let holding = card(
        "front.toml",
        "joints: #{ at: \"upper_arm.ball_joint\", limit: 20 }",
    );
    assert!(!holding.contains("Do not build"), "{holding}");
}
