//! The way out of a bolt, from scripts.

use super::{is_aligned, numbers, printed, refused};

const ASK: &str = r#"
    let axle = load("vehicles/wagon_rear.toml");
    let bolt = #{
        name: "rear lower", end: "lower_mount", towards_head: [1, 0, 0], outside_width: 51, bolt_length: 76,
        head_diameter: 22, head_height: 8, socket_length: 60, socket_diameter: 28, travel: -38,
        spring: #{ from_upper: 55, from_lower: 72.88, radius: 43 },
    };
"#;

#[test]
fn a_rod_beside_the_path_leaves_the_gap_that_a_ruler_shows() {
    // At ride height the left lower mount is at [-2912, 548, 226]; the path runs forward from it at that height.
    let found = numbers(&format!(
        r#"{ASK}
        bolt.travel = 0;
        bolt.remove("spring");
        bolt.obstacles = [#{{ name: "brake line", start: [-2880, 400, 206], end: [-2880, 700, 206], radius: 3 }}];
        let left = axle.check_bolt_withdrawal(bolt);
        print(left.head_gap); print(left.head_start[0]); print(left.head_end[0]);
        bolt.side = "right";
        bolt.obstacles[0].start = [-2880, -400, 206];
        bolt.obstacles[0].end = [-2880, -700, 206];
        print(axle.bolt_withdrawal(bolt).head_gap);"#
    ));
    // 20 mm apart, less the head's radius of 11 and the line's of 3.
    let expected = [6.0, -2912.0 + 25.5, -2912.0 + 25.5 + 84.0, 6.0];
    for (found, expected) in found.iter().zip(expected) {
        assert!((found - expected).abs() < 1e-6, "{found} instead of {expected}");
    }
}

#[test]
fn a_list_has_one_part_for_each_bolt_and_the_sheet_is_aligned() {
    let script = format!(
        r#"{ASK} let other = bolt; other.name = "rear lower, right"; other.side = "right";
        let found = axle.bolt_withdrawal([bolt, other]);"#
    );
    is_aligned(&printed(&format!("{script} print(found);")));
    let gaps = numbers(&format!(
        "{script} print(found.items[0].head_gap - found.items[1].head_gap); print(found.items[0].nut_gap);"
    ));
    assert!(gaps[0].abs() < 1e-6, "both sides are alike: {gaps:?}");
}

#[test]
fn a_bolt_with_nothing_around_it_and_wrong_keys_are_refused() {
    let report = refused(&format!(
        "{ASK} bolt.remove(\"spring\"); axle.bolt_withdrawal(bolt);"
    ));
    assert!(
        report.render(false).contains("give the body of the damper"),
        "{report}"
    );
    let report = refused(&format!(
        "{ASK} bolt.side = \"middle\"; axle.bolt_withdrawal(bolt);"
    ));
    assert!(report.what.contains("left"), "{report}");
    let report = refused(&format!(
        "{ASK} bolt.side = \"left\"; load(\"vehicles/wagon_front.toml\").bolt_withdrawal(bolt);"
    ));
    assert!(report.what.contains("`side`"), "{report}");
}
