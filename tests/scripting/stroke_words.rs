//! What the stroke check writes is what the person at the bench does: bounds, units, what was not asked, and what failed.

use crate::support::Garage;
use kin_core::pickups::{Measured, Quantity};
use kin_core::samples;
use kin_script::host::inches;
use kin_script::model::{Body, Model, ModelFile, ModelFormat};
use kin_script::units::{LengthUnit, Units};
use kin_script::vocabulary;

/// A garage with the invented pickup and wagon as model files, in millimetres and in inches.
fn garage() -> Garage {
    let mut garage = Garage::new();
    garage.registrars = vocabulary::REGISTRARS.to_vec();
    for (unit, name) in [(LengthUnit::Millimetre, "mm"), (LengthUnit::Inch, "inch")] {
        let mut axle = samples::pickup_rear();
        let mut corner = samples::wagon_front();
        let mut convert = |number: &mut f64, quantity: Quantity| {
            if quantity == Quantity::Length {
                *number /= unit.millimetres();
            }
        };
        axle.visit(&mut convert);
        corner.visit(&mut convert);
        let bodies = [
            ("truck", Body::LiveAxle(axle)),
            ("front", Body::DoubleWishbone { corner, right: None }),
        ];
        for (title, body) in bodies {
            let model = Model {
                title: title.to_owned(),
                provenance: None,
                units: Units::new(unit, None),
                body,
            };
            let text = ModelFile::write(&model, ModelFormat::Toml).unwrap();
            garage.file(&format!("{title}_{name}.toml"), &text);
        }
    }
    garage
}

fn printed(script: &str) -> String {
    let garage = garage();
    garage
        .run(script)
        .unwrap_or_else(|report| panic!("{}", report.render(false)));
    garage.printed.text()
}

/// Every length in a text: 34.3 mm, 1.35 in, and 1 3/8 in.
fn lengths(text: &str) -> Vec<f64> {
    let mut found = Vec::new();
    for part in text.split([':', ',', '(', ')']) {
        let words: Vec<&str> = part.split_whitespace().collect();
        for (place, word) in words.iter().enumerate() {
            if !["mm", "in"].contains(word) || place == 0 {
                continue;
            }
            let last = words[place - 1];
            if !last.starts_with(|first: char| first.is_ascii_digit()) {
                continue;
            }
            let whole = place.checked_sub(2).map(|before| words[before]);
            let with_whole = whole.filter(|whole| last.contains('/') && whole.parse::<u32>().is_ok());
            let written = with_whole.map_or(last.to_owned(), |whole| format!("{whole} {last}"));
            found.push(inches(&written).unwrap_or_else(|_| panic!("{written} is no length in: {text}")));
        }
    }
    found
}

/// Each bound, in millimetres, in inches and in sixteenths, done as written: the check no longer fails.
#[test]
fn bounds_done_as_written_hold() {
    for (file, least) in [("truck_mm", 2), ("truck_inch", 4)] {
        let text = printed(&format!(
            "for finding in load(\"{file}.toml\").stroke().findings {{
                 if finding.verdict == \"fails\" {{
                     for remedy in finding.remedies {{
                         if remedy.kind == \"upper_mount_up\" {{ print(remedy.text); }}
                     }}
                     break;
                 }}
             }}"
        ));
        let written = lengths(&text);
        assert!(written.len() >= least, "{written:?} in {text}");
        for up in written {
            let verdict = printed(&format!(
                "let truck = load(\"{file}.toml\"); truck.coilovers.left.upper_mount[2] += {up:?};
                 print(truck.stroke().verdict);"
            ));
            assert_eq!(verdict.trim(), "tight", "{up} of {file}: {text}");
        }
    }
}

#[test]
fn errors_are_told_in_the_unit_of_the_script() {
    for (script, words) in [
        (
            "load(\"front_inch.toml\").at(#{ travel: 30 });",
            &["the linkage itself ends at 13.8", " in (asked: 30 in)"][..],
        ),
        (
            "let c = load(\"front_inch.toml\"); c.wheel.tyre_radius = 320; c.stroke();",
            &["`wheel.tyre_radius` is 320 in, but it must be between 1.969 in and 31.496 in"][..],
        ),
        (
            "let c = load(\"front_inch.toml\"); let t = c.tie_rod.inner; c.tie_rod.inner = c.tie_rod.outer;
             c.tie_rod.outer = t; c.stroke();",
            &["`tie_rod.outer` (y = 11.89 in) is not outboard of `tie_rod.inner` (y = 26.299 in)"][..],
        ),
        (
            "load(\"front_inch.toml\").bearings(#{ name: \"top\", bearing_width: 0, spacer_length: 0.3, bracket_width: 1.5 });",
            &["`bearing_width` is 0 in, but it must be between 0.004 in and 39.37 in"][..],
        ),
        (
            "load(\"front_inch.toml\").wire_spring(#{ wire_diameter: 0.5, mean_diameter: 0.4, total_coils: 9,
             ends: \"closed_ground\", free_length: 10 });",
            &["a mean diameter of 0.4 in has no room inside for wire of 0.5 in"][..],
        ),
        (
            "let c = load(\"front_mm.toml\"); c.wheel.centre[1] = 1e300; c.stroke();",
            &["`wheel.centre y` is 1.000e300 mm"][..],
        ),
    ] {
        let shown = garage().report(script).what;
        for word in words {
            assert!(shown.contains(word), "{word:?} is not in: {shown}");
        }
        assert!(!shown.contains(" mm") || script.contains("_mm"), "{shown}");
    }
}

#[test]
fn nothing_wanted_is_no_verdict_of_fit() {
    let text = printed(
        "let c = load(\"front_mm.toml\"); c.wanted = #{}; let answer = c.check_stroke();
         print(answer.verdict); print(answer);",
    );
    assert!(text.starts_with("not asked\n"), "{text}");
    assert!(text.contains("Verdict: NOT ASKED."), "{text}");
    assert!(text.contains("give `wanted` with `bump` and `droop`"), "{text}");
    assert!(!text.contains("HOLDS"), "{text}");
    // And it is no failure either.
    let outcome = garage()
        .run("let c = load(\"front_mm.toml\"); c.wanted = #{}; c.check_stroke();")
        .unwrap();
    assert_eq!(outcome.exit_code(), 0);
}

/// A check that fails in a script which prints nothing is told all the same; a what-if is not.
#[test]
fn a_failure_is_told_without_print() {
    let garage = garage();
    let outcome = garage
        .run("load(\"truck_inch.toml\").check_stroke(); load(\"truck_mm.toml\").stroke();")
        .unwrap();
    assert_eq!(outcome.exit_code(), 1);
    let [what] = &outcome.failed_checks[..] else {
        panic!("{:?}", outcome.failed_checks)
    };
    assert!(
        what.starts_with("Stroke check, truck: The coilover on either side touches its bump stop at 0.48 in")
    );
    garage.file("quiet.rhai", "load(\"truck_inch.toml\").check_stroke();");
    let run = |more: &[&str]| {
        let output = assert_cmd::Command::cargo_bin("kin")
            .unwrap()
            .current_dir(garage.path(""))
            .args(["run", "quiet.rhai"])
            .args(more)
            .output()
            .unwrap();
        (output.status.code(), String::from_utf8(output.stdout).unwrap())
    };
    let (code, shown) = run(&[]);
    assert_eq!(code, Some(1));
    assert!(
        shown.starts_with("A check fails, so the exit code is 1:\n  Stroke check, truck:"),
        "{shown}"
    );
    assert_eq!(run(&["--quiet"]), (Some(1), String::new()));
}
