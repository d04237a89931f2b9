//! Bearings in brackets, from scripts.

use super::{fails, mistake, numbers, printed};

/// Common practice, no source: a bearing with spacers 1.5 in wide goes into a bracket 1.5 in wide.
#[test]
fn an_inch_and_a_half_fits_an_inch_and_a_half_with_its_clearance_stated() {
    for (car, unit, clearance) in [
        ("front.toml", 25.4, "0.00 mm"),
        ("front_inch.toml", 1.0, "0.000 in"),
    ] {
        let script = format!(
            "let answer = load(\"{car}\").check_bearings(#{{ name: \"upper mount\", bearing_width: 0.875 * {unit:?},
                 spacer_length: 0.3125 * {unit:?}, bracket_width: 1.5 * {unit:?} }});"
        );
        assert!(!fails(&script));
        let found = numbers(&format!(
            "{script} print(answer.clearance); print(answer.stack_width / {unit:?});"
        ));
        assert_eq!(found[0], 0.0);
        assert!((found[1] - 1.5).abs() < 1e-12, "{found:?}");
        let sheet = printed(&format!("{script} print(answer);"));
        assert!(
            sheet.contains("[holds] upper mount: bearing and spacers are"),
            "{sheet}"
        );
        assert!(
            sheet.contains(&format!("    clearance                     {clearance}\n")),
            "{sheet}"
        );
    }
}

#[test]
fn tolerances_at_their_worst_are_told_and_too_wide_fails() {
    let script = "let answer = load(\"front.toml\").check_bearings([
         #{ name: \"upper\", bearing_width: 22.2, spacer_length: 7.8, bracket_width: 38.1,
            bearing_tolerance: 0.1, spacer_tolerance: 0.05, bracket_tolerance: 0.2 },
         #{ name: \"lower\", bearing_width: 22.2, spacer_length: 8.2, bracket_width: 38.1 }]);";
    let found = numbers(&format!(
        "{script} let upper = answer[\"upper\"]; print(upper.clearance); print(upper.least_clearance);
         print(upper.largest_clearance); print(answer[\"lower\"].clearance); print(answer.findings[1].remedies[0].change);"
    ));
    // 38.1 - (22.2 + 2 x 7.8) = 0.3, give or take 0.1 + 2 x 0.05 + 0.2; 38.1 - (22.2 + 2 x 8.2) = -0.5
    for (found, expected) in found.iter().zip([0.3, -0.1, 0.7, -0.5, -0.25]) {
        assert!((found - expected).abs() < 1e-9, "{found} instead of {expected}");
    }
    assert!(fails(script));
    let verdicts = printed(&format!(
        "{script} for finding in answer.findings {{ print(finding.verdict); }}"
    ));
    assert_eq!(verdicts.lines().collect::<Vec<_>>(), ["fails", "fails"]);
}

#[test]
fn a_wrong_key_is_named() {
    let report =
        mistake("load(\"front.toml\").check_bearings(#{ bearing_with: 22.2, bracket_width: 38.1 });");
    assert!(report.what.contains("bearing_with"), "{report}");
    assert!(report.to_string().contains("bearing_width"), "{report}");
}
