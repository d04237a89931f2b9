//! `kin words`: everything a script may say can be found and is explained.

fn words(arguments: &[&str]) -> (Option<i32>, String) {
    let mut command = assert_cmd::Command::cargo_bin("kin").unwrap();
    let output = command.arg("words").args(arguments).output().unwrap();
    let text = if output.status.success() {
        output.stdout
    } else {
        output.stderr
    };
    (output.status.code(), String::from_utf8(text).unwrap())
}

#[test]
fn a_name_is_explained_as_every_thing_it_is() {
    let (code, text) = words(&["camber"]);
    assert_eq!(code, Some(0));
    for expected in [
        "camber (key of wheel): an angle in degrees",
        "minus when its top leans in",
        "camber: -0.5",
        "camber (curve of a corner): deg",
        "Lower: top leans in. Higher: top leans out.",
        "See also: camber_gain",
    ] {
        assert!(text.contains(expected), "{expected:?} is not in:\n{text}");
    }
}

#[test]
fn all_keys_and_curves_are_listed_and_explained() {
    let (_, listed) = words(&[]);
    let (_, keys) = words(&["keys"]);
    let (_, curves) = words(&["curves"]);
    for name in [
        "tyre_radius",
        "rides_on",
        "hub_to_lip_as_measured",
        "rate_unit",
        "nose_up",
    ] {
        assert!(
            listed.contains(name) && keys.contains(&format!("{name} (key of ")),
            "{name}"
        );
    }
    for name in ["motion_ratio", "bump_steer", "roll_steer", "anti_squat_slope"] {
        assert!(
            listed.contains(name) && curves.contains(&format!("{name} (curve of a ")),
            "{name}"
        );
    }
    assert!(keys.contains("N/mm beside unit \"mm\""));
}

#[test]
fn a_part_of_a_name_and_what_a_word_gives_are_found() {
    assert!(words(&["pivot"]).1.contains("front_pivot (key of"));
    assert!(words(&["bump_to_stop"]).1.contains("check_stroke("));
    let at = words(&["at"]).1.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(at.contains("it counts from the pickups as measured"), "{at}");
    let (code, text) = words(&["cambr"]);
    assert!(
        code == Some(2) && text.contains("did you mean \"camber\""),
        "{text}"
    );
    assert_eq!(words(&["qqqq"]).0, Some(2));
}
