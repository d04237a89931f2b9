//! Reports of many parts, and many checks on one sheet.

use super::{mistake, numbers, printed};

#[test]
fn a_value_that_only_one_part_has_is_read_from_the_report() {
    let report = mistake(
        "let answer = load(\"front.toml\").joints([#{ at: \"upper_arm.ball_joint\" }, #{ at: \"lower_arm.ball_joint\" }]);
         print(answer.worst);",
    );
    assert!(report.what.contains("2 parts"), "{report}");
    let report = mistake("load(\"front.toml\").joints(#{ at: \"upper_arm.ball_joint\" }).wurst;");
    assert!(report.to_string().contains("worst"), "{report}");
}

#[test]
fn one_sheet_holds_all_that_was_asked() {
    let script = "let fit = load(\"front.toml\").check_fit(#{ wanted: #{ bump: 65, droop: 50 },
         joints: #{ at: \"upper_arm.ball_joint\", limit: 20 }, bump_steer: #{ range: 50, largest_change: 0.6 },
         bearings: #{ name: \"upper mount\", bearing_width: 22.2, spacer_length: 7.9, bracket_width: 38.1 } });";
    let worst = numbers(&format!("{script} print(fit.joints.worst);"))[0];
    assert!(worst > 18.0 && worst < 18.6, "{worst}");
    let sheet = printed(&format!("{script} print(fit);"));
    // In the order of the work, whatever the order of the keys.
    let places: Vec<usize> = ["\nBearings in brackets:", "\nSwing of joints:", "\nBump steer:"]
        .iter()
        .map(|heading| {
            sheet
                .find(heading)
                .unwrap_or_else(|| panic!("no {heading} in\n{sheet}"))
        })
        .collect();
    assert!(places.is_sorted(), "{sheet}");
}

#[test]
fn a_finding_names_the_word_that_asks_for_it() {
    let named = printed(
        "let fit = load(\"front.toml\").fit(#{ wanted: #{ bump: 65, droop: 50 },
         joints: #{ at: \"upper_arm.ball_joint\", limit: 20 }, bump_steer: #{ range: 50, largest_change: 0.6 },
         bearings: #{ name: \"upper mount\", bearing_width: 22.2, spacer_length: 7.9, bracket_width: 38.1 } });
         let words = [];
         for finding in fit.findings { if !words.contains(finding.check) { words.push(finding.check); } }
         print(words);",
    );
    for word in ["stroke", "joints", "bump_steer", "bearings"] {
        assert!(named.contains(&format!("\"{word}\"")), "no {word} in {named}");
    }
}

/// What nobody gave a limit for is told and not judged, in every check by itself and on the whole sheet.
#[test]
fn without_a_limit_nothing_is_said_to_hold() {
    let verdicts = printed(
        "let car = load(\"front.toml\");
         print(car.check_bump_steer(#{}).verdict);
         print(car.check_joints(#{ at: \"tie_rod.outer\", axis: [0, 0, 1] }).verdict);
         print(car.check_loads(#{ wheel_load: 400 }).verdict);
         print(car.check_bushings(#{ at: \"upper_arm\" }).verdict);",
    );
    assert_eq!(verdicts.lines().collect::<Vec<_>>(), ["not asked"; 4]);
    for (question, what) in [
        ("check_bump_steer(#{})", "`largest_change`"),
        (
            "check_joints(#{ at: \"tie_rod.outer\", axis: [0, 0, 1] })",
            "`limit`",
        ),
        ("check_loads(#{ wheel_load: 400 })", "`limits`"),
        ("check_bushings(#{ at: \"upper_arm\" })", "`twist_limit`"),
    ] {
        let sheet = printed(&format!("print(load(\"front.toml\").{question});"));
        let line = sheet
            .split_once("[not asked]")
            .unwrap_or_else(|| panic!("{sheet}"))
            .1;
        assert!(line.contains(what), "no {what} in\n{sheet}");
    }
    let sheet = printed(
        "let fit = load(\"front.toml\").check_fit(#{ wanted: #{ bump: 65, droop: 50 },
         bump_steer: #{}, joints: #{ at: \"tie_rod.outer\", axis: [0, 0, 1] } }); print(fit);",
    );
    let words = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(!words.contains("Every limit holds"), "{sheet}");
    assert!(words.contains("Every limit that was given holds"), "{sheet}");
    assert!(
        words.contains("Not asked, so nothing is said of fit there: Swing of joints, Bump steer."),
        "{sheet}"
    );
}
