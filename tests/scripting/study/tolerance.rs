//! How sure results are, and what moves them, as scripts ask it.
//!
//! Vehicles and their figures are invented; the figures come from an independent solver (`tests/reference/README.md`).

use crate::support::{Garage, bounded, fails};
use crate::vocabulary::{garage, numbers};
use kin_script::host::Limits;

/// The pickup with its coilovers in the only bracket hole that serves.
const BEST_HOLE: &str = "let truck = load(\"truck.toml\"); truck.coilovers.left.upper_mount[2] = 578.1; ";

fn printed(garage: &Garage, script: &str) -> String {
    garage
        .run(script)
        .unwrap_or_else(|report| panic!("{}", report.render(false)));
    garage.printed.text()
}

/// A sheet's words without its line ends.
fn unwrapped(sheet: &str) -> String {
    sheet.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_best_hole_of_the_pickup_and_one_reading_of_a_bar() {
    let garage = garage();
    let sheet = printed(
        &garage,
        &format!(
            "{BEST_HOLE} let study = truck.tolerance(#{{ deviation: 1.5, samples: 2000, seed: 3, \
             readings: [#{{ outcome: \"length_at_ride\", deviation: 0.8 }}] }}); print(study);
             assert_near(study.holds, 0.92, 0.02, \"both limits\");
             assert_near(study.requirements_hold_linear, study.holds, 0.02, \"to first order\");
             assert(study.measure_again == \"damper length at ride height\", \"what decides\");
             assert(study.readings_verified[0] > 0.999, \"one reading of a bar\");
             assert(study.verified > 0.98, \"as well as needed\");
             let bump = study[\"bump to the bump stop\"];
             assert_near(bump.value, 48.7, 0.05, \"bump as measured\");
             assert(bump.turns_with.ends_with(\"_mount.z\") && abs(bump.turns_at) < 5, \"what makes it fail\");"
        ),
    );
    for words in [
        "of what your tape allows",
        "2000 variants, seed 3",
        "it fails when the left coilover",
        "read directly the damper length at ride height",
    ] {
        assert!(unwrapped(&sheet).contains(words), "no {words:?} in\n{sheet}");
    }
    assert!(sheet.lines().all(|line| line.chars().count() <= 100), "{sheet}");
}

#[test]
fn a_design_that_fails_by_far_gets_no_advice_to_measure() {
    let garage = garage();
    let sheet = printed(
        &garage,
        "let study = load(\"truck.toml\").tolerance(#{ deviation: 1.5, samples: 500,
             readings: [#{ outcome: \"length_at_ride\", deviation: 0.8 }] });
         print(study); assert(study.sure_now < 0.001, \"it fails by 33 mm\");",
    );
    let sheet = unwrapped(&sheet);
    assert!(
        sheet.contains("Change the design; measuring again does not mend it."),
        "{sheet}"
    );
    assert!(
        !sheet.contains("What to measure again") && !sheet.contains("read directly"),
        "{sheet}"
    );
}

#[test]
fn a_reading_that_was_taken_moves_the_result() {
    let with = |value: f64| {
        numbers(&format!(
            "{BEST_HOLE} let study = truck.tolerance(#{{ deviation: 1.5, samples: 200, \
             readings: #{{ outcome: \"length_at_ride\", deviation: 0.2, value: {value:?} }} }});
             print(study[\"bump to the bump stop\"].value); print(study[\"bump to the bump stop\"].deviation_linear);"
        ))
    };
    // Motion ratio 0.99: two millimetres more of damper at ride height are two more of bump.
    let (long, short) = (with(331.4), with(327.4));
    assert!(
        (long[0] - 50.7).abs() < 0.2 && (short[0] - 46.7).abs() < 0.2,
        "{long:?} {short:?}"
    );
    assert!(long[1] < 0.4, "{long:?}");
}

#[test]
fn the_same_seed_gives_the_same_sheet_and_files() {
    let script = "let study = load(\"front.toml\").tolerance(#{ deviation: 1.5, samples: 300, seed: 5, curves: [\"toe\", \"camber\"], \
        bump: steps(-40, 40, 10), outcomes: [#{ name: \"toe change\", curve: \"toe\", from: -50, to: 50, at_most: 0.6 }], \
        checks: #{ ride_height: #{ load: #{ sprung_mass: 406 }, solid_length: 114 } } });
        print(study); save(\"all.json\", study); plot(\"bands.svg\", study, \"bands\");
        assert(study.findings.column(\"finding\").len() > 0, \"findings are counted\");
        assert(study.toe.column(\"low_5_deg\")[0] < study.toe.column(\"measured_deg\")[0], \"a band\");";
    let once = || {
        let garage = garage();
        let sheet = printed(&garage, script);
        let file = |name: &str| std::fs::read_to_string(garage.outside().join("output").join(name)).unwrap();
        (sheet, file("all.json"), file("bands.svg"))
    };
    let first = once();
    assert!(
        unwrapped(&first.0).contains("The tape alone cannot decide this"),
        "{}",
        first.0
    );
    assert_eq!(first, once());
}

#[test]
fn the_band_of_the_damper_is_drawn_between_its_limits() {
    let garage = garage();
    let script = format!(
        "{BEST_HOLE} let study = truck.tolerance(#{{ deviation: 1.5, samples: 200, bump: steps(-40, 50, 10), \
         curves: [\"damper_length_left\", \"roll_centre_height\"] }}); plot(\"bands.svg\", study, \"bands\");"
    );
    printed(&garage, &script);
    let picture = std::fs::read_to_string(garage.outside().join("output/bands.svg")).unwrap();
    let times = |words: &str| picture.matches(words).count();
    // One panel of two has limits; the wanted travel goes across both.
    for words in [
        "topped out, 370.84 mm",
        "metal to metal, 259.08 mm",
        "on the bump stop from 281.08 mm",
    ] {
        assert_eq!(times(words), 1, "{words}");
    }
    assert!(
        times("bump wanted") == 1 && times("droop wanted") == 1,
        "{picture}"
    );
}

#[test]
fn sensitivities_of_bump_steer_are_ranked_and_said() {
    let garage = garage();
    let sheet = printed(
        &garage,
        "let study = load(\"front.toml\").sensitivities(#{ of: #{ name: \"bump steer\", curve: \"bump_steer\" }, per: 25.4 });
         print(study); plot(\"bars.svg\", study, \"bars\");
         let changes = study.sensitivities.column(\"change_deg_per_25_4_mm\");
         assert_near(changes[0], 0.026, 0.0005, \"inner end\"); assert_near(changes[1], -0.0221, 0.0005, \"outer end\");",
    );
    // 1 mm more of height at the inner end: 0.0260 deg/in, from whole-millimetre steps of the independent solver.
    assert!(
        sheet.contains("1 mm higher at the tie rod inner end: +0.026")
            && sheet.contains("deg/25.4 mm of bump steer"),
        "{sheet}"
    );
    assert!(sheet.lines().all(|line| line.chars().count() <= 100), "{sheet}");
}

#[test]
fn inches_and_millimetres_say_the_same() {
    // The same corner in inches: its coordinates divided by 25.4.
    let asked = |unit: &str, scale: f64, deviation: f64| {
        let point = |x: f64, y: f64, z: f64| format!("[{}, {}, {}]", x / scale, y / scale, z / scale);
        numbers(&format!(
            "let corner = double_wishbone(#{{ unit: \"{unit}\",
                upper_arm: #{{ front_pivot: {}, rear_pivot: {}, ball_joint: {} }},
                lower_arm: #{{ front_pivot: {}, rear_pivot: {}, ball_joint: {} }},
                tie_rod: #{{ inner: {}, outer: {} }}, wheel: #{{ centre: {}, tyre_radius: {}, camber: -0.5, toe: 0.1 }} }});
             let study = corner.tolerance(#{{ deviation: {deviation}, samples: 50, outcomes: [#{{ name: \"gain\", curve: \"camber_gain\" }}] }});
             print(study.gain.deviation_linear / {}); print(study.gain.deviation / {});",
            point(150.0, 400.0, 449.0),
            point(-170.0, 395.0, 433.0),
            point(-16.0, 652.0, 462.0),
            point(150.0, 275.0, 205.0),
            point(-165.0, 265.0, 200.0),
            point(6.0, 690.0, 190.0),
            point(-120.0, 302.0, 214.0),
            point(-140.0, 668.0, 211.0),
            point(0.0, 757.0, 320.0),
            320.0 / scale,
            scale,
            scale,
        ))
    };
    let (metric, inch) = (asked("mm", 1.0, 1.5), asked("inch", 25.4, 1.5 / 25.4));
    for (metric, inch) in metric.iter().zip(&inch) {
        assert!(
            (metric - inch).abs() < 1e-9 * metric.abs().max(1e-3),
            "{metric} and {inch}"
        );
    }
    // 0.0377 deg/in with 1.5 mm on every coordinate (independent solver).
    assert!((metric[0] * 25.4 - 0.0377).abs() < 4e-4, "{metric:?}");
}

#[test]
fn what_is_misspelt_or_missing_is_said_at_its_place() {
    let garage = garage();
    let front = "let front = load(\"front.toml\");\n";
    for (question, what, column) in [
        (
            "front.tolerance(#{ samples: 10 });",
            "how well the pickups were measured is not said",
            7,
        ),
        ("front.tolerance(#{ deviation: 1.5, sample: 10 });", "sample", 36),
        (
            "front.tolerance(#{ deviation: 1.5, samples: 0 });",
            "give a whole number from 50",
            36,
        ),
        ("front.tolerance(#{ deviation: -1 });", "from zero up", 20),
        ("front.sensitivities(#{ });", "the key `of` is missing", 7),
    ] {
        fails(&garage, &format!("{front}{question}"), what, 2, column);
    }
    let report = garage.report(&format!(
        "{front}front.tolerance(#{{ deviations: #{{ \"coilover.uper_mount\": 1 }} }});"
    ));
    assert!(
        report.what.contains("did you mean `coilover.upper_mount"),
        "{report}"
    );
}

#[test]
fn a_study_that_takes_too_long_is_stopped_with_the_run() {
    let mut slow = bounded(Limits {
        wall_time: std::time::Duration::from_millis(1500),
        grace: std::time::Duration::from_secs(60),
        ..Limits::default()
    });
    let whole = garage();
    slow.registrars.clone_from(&whole.registrars);
    slow.file(
        "front.toml",
        &std::fs::read_to_string(whole.path("front.toml")).unwrap(),
    );
    let report = slow
        .report("load(\"front.toml\").tolerance(#{ deviation: 1.5, samples: 10000000 }); print(\"done\");");
    assert!(report.what.contains("ran longer than 1.5 s"), "{report}");
    assert_eq!(slow.printed.text(), "");
}
