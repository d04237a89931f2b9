//! Mistakes of the first hour: what the program answers, and that the advice is not wrong in silence.

use crate::support::Garage;
use crate::vocabulary::garage;

fn shown(script: &str) -> String {
    let text = garage().report(script).render(false);
    // A report is wrapped to the terminal: read it as one line.
    text.split_whitespace()
        .filter(|word| *word != "│")
        .collect::<Vec<_>>()
        .join(" ")
}

#[test]
fn an_unknown_unit_is_answered_with_those_there_are() {
    for unit in ["cm", "m", "mn", "feet"] {
        let text = shown(&format!("double_wishbone(#{{ unit: \"{unit}\" }});"));
        assert!(text.contains("is neither \"mm\" nor \"inch\""), "{text}");
        assert!(!text.contains("did you mean"), "{text}");
    }
    for rate in ["N/m", "kg/mm", "lbs/in"] {
        let text = shown(&format!("live_axle(#{{ unit: \"mm\", rate_unit: \"{rate}\" }});"));
        assert!(text.contains("is neither \"N/mm\" nor \"lb/in\""), "{text}");
        assert!(!text.contains("did you mean"), "{text}");
    }
}

#[test]
fn small_slips_are_told_as_what_they_are() {
    for (script, words) in [
        ("steps(0, 5, 0);", "a step of 0 leads nowhere"),
        ("save(\"\", \"text\");", "the file has no name"),
        (
            "let c = load(\"front.toml\"); draw(\" \", c);",
            "the file has no name",
        ),
        // One value and a wrong key: the key is what is wrong.
        (
            "let c = load(\"front.toml\"); c.sweep(#{ roll: 2 });",
            "a corner is not moved along `roll`",
        ),
        (
            "let c = load(\"front.toml\"); c.sweep(#{ travel: 2, bump: 2 });",
            "the same thing twice",
        ),
        (
            "let c = load(\"front.toml\"); c.sweep(#{ bump: 2 });",
            "the sweep varies nothing",
        ),
    ] {
        let text = shown(script);
        assert!(text.contains(words), "{words:?} is not in: {text}");
    }
}

#[test]
fn who_measures_in_inches_is_answered_in_inches() {
    let script = r#"
        let corner = double_wishbone(#{
            unit: "inch",
            upper_arm: #{ front_pivot: [6, 16, 17.7], rear_pivot: [-6.7, 15.6, 17], ball_joint: [-0.6, 25.7, 18.2] },
            lower_arm: #{ front_pivot: [6, 10.8, 8.1], rear_pivot: [-6.5, 10.4, 7.9], ball_joint: [0.2, 27.2, 7.5] },
            tie_rod: #{ inner: [-4.7, 11.9, 8.4], outer: [-5.5, 26.3, 8.3] },
            wheel: #{ centre: [0, 29.8, 12.6], tyre_radius: 12.6 },
        });
        corner.at(40);"#;
    let text = shown(script);
    assert!(text.contains("(asked: 40 in)"), "{text}");
    assert!(!text.contains(" mm"), "{text}");
}

#[test]
fn a_folder_is_told_from_a_script() {
    let garage = Garage::new();
    let kin = |arguments: &[&str]| {
        let mut command = assert_cmd::Command::cargo_bin("kin").unwrap();
        let output = command
            .current_dir(garage.path(""))
            .args(arguments)
            .output()
            .unwrap();
        (
            output.status.code(),
            String::from_utf8_lossy(&output.stderr).into_owned(),
        )
    };
    let (code, error) = kin(&["run", "."]);
    assert_eq!(code, Some(2));
    assert!(
        error.contains(". is a folder") && error.contains("kin start"),
        "{error}"
    );
    garage.file("car.rhai", "print(1);");
    let (code, error) = kin(&["run", "."]);
    assert_eq!(code, Some(2));
    assert!(error.contains("kin run ./car.rhai"), "{error}");
}

#[test]
fn no_zero_has_a_sign() {
    let garage = garage();
    let script = r#"
        print(mirrored([1, 0, 2])[1]);
        print(steps(-5, 5, 5));
        print(table(["toe"], [[-0.0]]));
        let panhard = load("rear.toml");
        print(panhard.sweep(#{ bump: [-1, 0, 1] }).column("lateral_shift"));"#;
    garage.run(script).unwrap();
    let text = garage.printed.text();
    for word in text.split(|letter: char| !(letter.is_ascii_digit() || "-.".contains(letter))) {
        let is_zero = word.parse::<f64>().is_ok_and(|number| number == 0.0);
        assert!(!(is_zero && word.starts_with('-')), "{text}");
    }
}
