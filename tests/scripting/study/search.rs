//! Searches, from scripts.

use crate::fit::{mistake, numbers, printed, same};

/// The shim stack of the invented wagon, in a model's own unit.
fn shims(car: &str, unit: f64) -> String {
    format!(
        "let unit = {unit:?};
         let car = load(\"{car}\");
         let found = car.search(#{{
             move: [#{{ name: \"outer end\", number: \"tie_rod.outer.z\", by: [-12.7 / unit, 0], step: 25.4 / 16 / unit }}],
             targets: [#{{ name: \"toe\", curve: \"toe\", steady: [-50 / unit, 50 / unit] }}], starts: 3 }});"
    )
}

/// Toe change of the invented wagon over 50 mm of bump and droop and from 50 mm of droop to 75 mm of bump, as found and with four
/// shims of 1/16 in under the outer tie-rod end, solved by an independent program.
#[test]
fn the_shim_stack_is_found_and_its_model_is_the_shimmed_car() {
    let script = shims("front.toml", 1.0);
    let found = numbers(&format!(
        "{script}
         print(found[\"outer end\"].change * 16 / 25.4);
         for model in [car, found.model] {{
             print(model.outcome(#{{ curve: \"toe\", from: -50, to: 50 }}));
             print(model.outcome(#{{ curve: \"toe\", from: -50, to: 75 }}));
         }}"
    ));
    let expected = [-4.0, 0.563, 0.76, 0.074, 0.15];
    let tolerances = [1e-9, 0.0006, 0.005, 0.0006, 0.005];
    for ((found, expected), tolerance) in found.iter().zip(expected).zip(tolerances) {
        assert!(
            (found - expected).abs() <= tolerance,
            "{found} instead of {expected}"
        );
    }
}

#[test]
fn inches_find_the_same_stack() {
    let values =
        "print(found[\"outer end\"].change * unit); print(found[\"outer end\"].change_anywhere * unit);
                  print(found.toe.deviation); print(found.toe.deviation_as_described);";
    let metric = numbers(&format!("{} {values}", shims("front.toml", 1.0)));
    let inch = numbers(&format!("{} {values}", shims("front_inch.toml", 25.4)));
    same(&inch, &metric);
}

#[test]
fn the_sheet_says_what_was_found_and_fits_the_page() {
    let sheet = printed(&format!("{} print(found);", shims("front.toml", 1.0)));
    for line in [
        "Search: Orvane, front",
        "Found in real steps: outer end -6.35 mm (4 steps).",
        "toe: off its targets (root mean square) by 0.195 deg as described",
        "3 of 3 starts (seed 1) came to this place",
    ] {
        assert!(sheet.contains(line), "no {line:?} in\n{sheet}");
    }
    assert!(sheet.lines().all(|line| line.chars().count() <= 100), "{sheet}");
}

#[test]
fn a_requirement_that_binds_and_one_that_cannot_be_kept_are_said() {
    let ask = |bump: f64| {
        format!(
            "print(load(\"front.toml\").search(#{{
                 move: [#{{ name: \"mount\", point: \"coilover.upper_mount\", along: [0, 0, 2], by: [-40, 40] }}],
                 targets: [#{{ name: \"length\", stroke: \"length_at_ride\", target: 290 }}],
                 keep: [#{{ name: \"bump\", stroke: \"bump_to_stop\", at_least: {bump:?} - 5, margin: 5 }}, \"wanted\"], starts: 1 }}));"
        )
    };
    let text = |bump: f64| {
        printed(&ask(bump))
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
    };
    let bound = text(66.0);
    assert!(
        bound.contains(
            "bump is at its limit of 66.00 mm: 1.00 mm less would bring length nearer to its target by 0.6"
        ),
        "{bound}"
    );
    let missed = text(100.0);
    assert!(
        missed.contains("No place in these ranges keeps every requirement. The nearest miss is at mount")
            && missed.contains("where at least 100.00 mm is required"),
        "{missed}"
    );
}

#[test]
fn holes_are_named_and_a_trade_off_is_a_table() {
    let text = printed(
        "let rear = load(\"front.toml\");
         let found = rear.search(#{
             move: [#{ name: \"bracket\", point: \"coilover.upper_mount\",
                       holes: #{ low: [-4, 478, 482], middle: [-4, 478, 492], high: [-4, 478, 502] } }],
             targets: [#{ stroke: \"length_at_ride\", target: 325 }] });
         print(found.bracket.hole);
         let both = rear.search(#{
             move: [#{ number: [\"upper_arm.front_pivot.z\", \"upper_arm.rear_pivot.z\"], by: [-15, 15], name: \"pivots\" }],
             targets: [#{ name: \"camber\", curve: \"camber\", change_through: [[50, -1.6]] },
                       #{ name: \"roll centre\", curve: \"roll_centre_height\", target: 60 }],
             starts: 2, trade_off: 5 });
         print(both.trade_off.column(\"pivots\").len() >= 3);
         plot(\"front.svg\", both, \"trade_off\");",
    );
    assert_eq!(text.lines().collect::<Vec<_>>(), ["high", "true"]);
}

#[test]
fn wrong_questions_are_told() {
    let search = |asked: &str| mistake(&format!("load(\"front.toml\").search(#{{ {asked} }});")).to_string();
    let target = "targets: [#{ curve: \"toe\", steady: [-50, 50] }]";
    for (asked, told) in [
        (
            format!("move: [#{{ number: \"tie_rod.outr.z\", by: [-1, 1] }}], {target}"),
            "did you mean `tie_rod.outer.z`?",
        ),
        (
            format!("move: [#{{ number: \"tie_rod.outer\", by: [-1, 1] }}], {target}"),
            "is not one number",
        ),
        (
            format!("move: [#{{ number: \"tie_rod.outer.z\", by: [1, -1] }}], {target}"),
            "lower end first",
        ),
        (
            format!("move: [#{{ number: \"tie_rod.outer.z\", bye: [1, -1] }}], {target}"),
            "`bye`",
        ),
        (format!("moves: [], {target}"), "`moves`"),
        (target.to_owned(), "nothing may move"),
        (
            "move: [#{ number: \"tie_rod.outer.z\", by: [-1, 1] }], targets: [\"toe\"]".to_owned(),
            "give `target`",
        ),
        (
            format!("move: [#{{ number: \"tie_rod.outer.z\", by: [-1, 1] }}], {target}, keep: [\"toe\"]"),
            "`at_least` or `at_most`",
        ),
        (
            format!("move: [#{{ number: \"tie_rod.outer.z\", by: [-1, 1] }}], {target}, trade_off: 5"),
            "between two targets",
        ),
        (
            format!("move: [#{{ number: \"tie_rod.outer.z\", by: [-1, 1] }}], {target}, starts: 0"),
            "give 1 to 1000",
        ),
    ] {
        let report = search(&asked);
        assert!(report.contains(told), "no {told:?} in\n{report}");
    }
}

/// The same question has the same bytes, whatever the number of threads.
#[test]
fn one_thread_and_two_write_the_same_bytes() {
    let written = |threads: &str| {
        let output = tempfile::tempdir().unwrap();
        let done = assert_cmd::Command::new(env!("CARGO_BIN_EXE_kin"))
            .current_dir(crate::examples::examples())
            .env("RAYON_NUM_THREADS", threads)
            .args(["run", "31_shims_by_search.rhai", "--output"])
            .arg(output.path())
            .output()
            .unwrap();
        let text = String::from_utf8(done.stdout).unwrap();
        // The last line names the folder.
        let sheet: Vec<String> = text
            .lines()
            .filter(|line| !line.starts_with("Wrote"))
            .map(str::to_owned)
            .collect();
        let files = ["shims.csv", "shims.svg", "both.svg"]
            .map(|name| std::fs::read(output.path().join(name)).unwrap());
        (sheet, files)
    };
    assert_eq!(written("1"), written("2"));
}
