//! Choices and grids, and functions of the script in them.

use std::time::Duration;

use crate::fit::{garage, mistake, numbers, printed};
use kin_script::host::Limits;

const TWO: &str = "let front = load(\"front.toml\");
    let study = front.choices(#{ options: #{ \"coilover.upper_mount.z\": [482, 492, 502], \"spring.rate\": [80, 96.32] } });";

#[test]
fn every_combination_is_a_row_and_the_best_comes_first() {
    let values = numbers(&format!(
        "{TWO} print(study.variants); print(study.holding); print(study.best_margin);
         for margin in study.ranking.column(\"margin_percent\") {{ print(margin); }}"
    ));
    assert_eq!(values[0], 6.0);
    assert!(values[1] >= 1.0 && values[1] < 6.0, "{values:?}");
    let margins = &values[3..];
    assert_eq!(margins.len(), 6);
    assert!(margins.windows(2).all(|pair| pair[0] >= pair[1]), "{margins:?}");
    assert!((values[2] - margins[0] / 100.0).abs() < 1e-12);
}

#[test]
fn a_choice_equals_the_what_if_asked_by_hand() {
    let values = numbers(
        "let front = load(\"front.toml\");
         let study = front.choices(#{ options: #{ \"coilover.upper_mount.z\": [482, 502] }, outcomes: \"bump_to_stop\" });
         let found = study.outcomes.column(\"bump_to_the_bump_stop_mm\");
         let places = study.outcomes.column(\"upper_mount_z_mm\");
         for place in 0..2 {
             let other = front;
             other.coilover.upper_mount[2] = places[place];
             print(found[place] - other.stroke().bump_to_stop);
         }",
    );
    assert_eq!(values, [0.0, 0.0]);
}

#[test]
fn what_fails_in_one_variant_is_a_row_with_its_place_and_number() {
    let sheet = printed(
        "let front = load(\"front.toml\");
         let study = front.choices(#{ options: #{ hole: [1, 2, 3, 4] }, variant: |front, at| {
             front.coilover.upper_mount[2] = 480.0 + 6.0 * at.hole;
             if at.hole == 3 { front.nothing }
             if at.hole == 4 { return 7; }
             front
         } });
         print(study); print(study.unjudged);",
    );
    assert!(sheet.trim_end().ends_with("\n2"), "{sheet}");
    let flat = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("variant 3: line 4, column 38"), "{sheet}");
    assert!(flat.contains("variant 4: the function"), "{sheet}");
    assert!(sheet.lines().all(|line| line.chars().count() <= 100), "{sheet}");
}

#[test]
fn functions_by_name_with_captures_and_as_goals_work_on_every_thread() {
    let values = numbers(
        "fn raised(front, at) { front.coilover.upper_mount[2] += at.by; front }
         let front = load(\"front.toml\");
         let shift = 3.0;
         let all = [];
         for by in 0..40 { all.push(by * 0.25); }
         let named = front.choices(#{ options: #{ by: all }, variant: Fn(\"raised\"), outcomes: [
             #{ name: \"height\", function: |front| front.coilover.upper_mount[2] + shift } ] });
         let heights = named.outcomes.column(\"height\");
         print(heights.len());
         let by = named.outcomes.column(\"by\");
         let off = 0.0;
         for row in 0..heights.len() { off = max(off, abs(heights[row] - 492.0 - by[row] - shift)); }
         print(off);",
    );
    assert_eq!(values, [40.0, 0.0]);
}

#[test]
fn a_runaway_function_is_stopped_by_the_limits_of_the_run() {
    let mut garage = garage();
    garage.limits = Limits {
        operations: 100_000,
        wall_time: Duration::from_secs(600),
        ..Limits::default()
    };
    let report = garage.report(
        "let front = load(\"front.toml\");
         front.choices(#{ options: #{ by: [1, 2, 3] }, variant: |front, at| { loop { } front } });",
    );
    assert!(report.what.contains("more than 100000 steps"), "{report}");
}

#[test]
fn misspelt_keys_are_said_at_once_with_what_was_meant() {
    let report = mistake("load(\"front.toml\").choices(#{ options: #{ \"coilovr.upper_mount.z\": [1] } });");
    assert!(
        report.to_string().contains("did you mean `coilover`?"),
        "{report}"
    );
    let report = mistake("load(\"front.toml\").choices(#{ option: #{ \"spring.rate\": [80] } });");
    assert!(report.what.contains("needs `options`"), "{report}");
    let report = mistake(
        "load(\"front.toml\").choices(#{ options: #{ \"spring.rate\": [80] }, outcome: \"camber\" });",
    );
    assert!(
        report.to_string().contains("did you mean `outcomes`?"),
        "{report}"
    );
    let report = mistake("load(\"front.toml\").choices(#{ options: #{ \"spring.rate\": 80 } });");
    assert!(
        report.what.contains("expected a list of alternatives"),
        "{report}"
    );
    let report = mistake("load(\"front.toml\").grid(#{ over: #{ \"spring.rate\": [80, 70] } });");
    assert!(report.what.contains("rising numbers"), "{report}");
}

/// A limit on a height that is the sum of two numbers fails on one side of a straight line: by hand.
#[test]
fn a_grid_marks_where_every_limit_holds() {
    let values = numbers(
        "let front = load(\"front.toml\");
         let grid = front.grid(#{ over: [#{ name: \"a\", of: steps(0, 4, 1) }, #{ name: \"b\", of: steps(0, 4, 1) }],
             variant: |front, at| { front.coilover.upper_mount[2] = 490.0 + at.a + at.b; front },
             fit: #{ wanted: #{ bump: 1, droop: 1 } },
             outcomes: #{ name: \"sum\", function: |front| front.coilover.upper_mount[2] - 490.0, at_most: 4 } });
         print(grid.variants); print(grid.holding);
         plot(\"map.svg\", grid);",
    );
    // Pairs of 0 to 4 whose sum is 4 at most: 5 + 4 + 3 + 2 + 1.
    assert_eq!(values, [25.0, 15.0]);
}
