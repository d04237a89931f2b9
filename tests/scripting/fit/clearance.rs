//! Clearance, from scripts.

use super::{agree, fails, mistake, numbers, printed, same};

/// The wagon's front corner with the legs of its upper arm, its spring, and the lip of its frame.
fn front(droop: f64, height: f64) -> String {
    format!(
        "let car = load(\"front.toml\");
         let leg = |end| #{{ name: `upper arm ${{end}} leg`, shape: #{{ rod: #{{ from: `upper_arm.${{end}}_pivot`,
             to: \"upper_arm.ball_joint\", short_of_to: 45, radius: 15 }} }} }};
         let asked = #{{
             bump: 65, droop: {droop},
             parts: [leg.call(\"rear\"), leg.call(\"front\"),
                 #{{ name: \"spring\", shape: #{{ along_damper: #{{ from_lower: 75.46, from_upper: 55, radius: 43 }} }} }}],
             obstacles: #{{ name: \"frame lip\", shape: #{{ tube: #{{
                 points: [[-150, 462, {height}], [-60, 462, {height}]], radius: 3 }} }} }},
         }};
         let answer = car.check_clearance(asked);
         let lip = answer[\"upper arm rear leg to frame lip\"];"
    )
}

/// The wagon's rear axle with its left spring, its axle tube and the tailpipe.
const REAR: &str = "let car = load(\"rear.toml\");
     let asked = #{
         bump: 50, droop: 38, except: [[\"spring\", \"axle tube\"]],
         parts: [
             #{ name: \"spring\", shape: #{ along_damper: #{ side: \"left\", from_lower: 72.88, from_upper: 55, radius: 43 } } },
             #{ name: \"axle tube\", fixed_to: \"axle\",
                shape: #{ rod: #{ from: [-2860, -700, 324], to: [-2860, 700, 324], radius: 38 } } },
         ],
         obstacles: [#{ name: \"tailpipe\", shape: #{ tube: #{ radius: 31.75, points: [[-2560, 378.5, 300],
             [-2745, 375.5, 470], [-2855, 371.5, 528], [-2960, 409.5, 405], [-3120, 419.5, 330]] } } }],
     };
     let answer = car.clearance(asked);
     let pipe = answer[\"spring to tailpipe\"];";

#[test]
fn the_frame_lip_is_met_at_41_8_mm_of_droop_and_its_trim_frees_it() {
    let script = front(50.0, 412.0);
    let found = numbers(&format!(
        "{script} print(lip.gap); print(lip.gap_travel); print(lip.at_ride);
         print(lip.tables[0].column(\"to_travel_mm\")[0]); print(answer.findings[0].remedies[0].change);"
    ));
    agree("clearance", "lip_gap_at_50_droop", &found[..1]);
    assert!((found[1] + 50.0).abs() < 1e-9, "{}", found[1]);
    agree("clearance", "lip_met_at_travel", &found[3..4]);
    // A trim is told as the next tenth of a millimetre above what is needed.
    agree(
        "clearance",
        "lip_trim_for_the_gap",
        &[(10.0 * found[4]).ceil() / 10.0],
    );
    assert!(fails(&script));
    let trimmed = front(50.0, 412.0 - found[4] - 1e-5);
    assert!(!fails(&trimmed));
    let gap = numbers(&format!("{trimmed} print(lip.gap);"))[0];
    assert!((gap - 6.35).abs() < 1e-4, "{gap}");
}

#[test]
fn single_droops_agree_with_an_independent_program() {
    let found: Vec<f64> = [54.0, 45.0, 30.0]
        .map(|droop| numbers(&format!("{} print(lip.gap);", front(droop, 412.0)))[0])
        .into();
    let ride = numbers(&format!("{} print(lip.at_ride);", front(50.0, 412.0)));
    agree("clearance", "lip_gap", &[&found[..], &ride[..]].concat());
}

#[test]
fn the_tailpipe_clears_with_both_wheels_but_not_in_roll() {
    let found = numbers(&format!(
        "{REAR} print(pipe.gap_both_wheels); print(pipe.gap_left_down_right_up); print(pipe.at_ride); print(pipe.gap);
         print(pipe.gap_left); print(pipe.gap_right); print(answer.least_gap);"
    ));
    agree("clearance", "tailpipe_gap_both_wheels", &found[..1]);
    agree("clearance", "tailpipe_gap_roll", &found[1..2]);
    agree("clearance", "tailpipe_gap_at_ride", &found[2..3]);
    assert!(found[3] <= found[1]);
    same(&found[4..6], &[-38.0, 50.0]);
    assert_eq!(found[6], found[3]);
    // A what-if does not count for the exit code, the check does.
    assert!(!fails(REAR));
    assert!(fails(&format!("{REAR} car.check_clearance(asked);")));
}

#[test]
fn the_sheet_shows_every_pair_once_and_the_tight_ones_in_full() {
    let sheet = printed(&format!("{REAR} print(answer);"));
    for line in [
        "Clearance: fails",
        "least gap of all              4.6 mm",
        "spring to tailpipe",
        "gap wanted                    6.35 mm",
        "the least gap of each motion",
        "roll, right wheel up",
        "[holds] The axle tube clears the tailpipe",
    ] {
        assert!(sheet.contains(line), "no {line:?} in\n{sheet}");
    }
    assert!(!sheet.contains("axle tube to tailpipe\n"), "{sheet}");
    assert!(sheet.lines().all(|line| line.chars().count() <= 100), "{sheet}");
}

#[test]
fn inches_say_the_same() {
    let script = |car: &str, unit: f64| {
        format!(
            "let car = load(\"{car}\");
             let answer = car.clearance(#{{
                 bump: 65 / {unit:?}, droop: 50 / {unit:?},
                 parts: #{{ name: \"leg\", shape: #{{ rod: #{{ from: \"upper_arm.rear_pivot\", to: \"upper_arm.ball_joint\",
                     short_of_to: 45 / {unit:?}, radius: 15 / {unit:?} }} }} }},
                 obstacles: #{{ name: \"post\", shape: #{{ box: #{{ centre: [-100 / {unit:?}, 462 / {unit:?}, 380 / {unit:?}],
                     size: [40 / {unit:?}, 40 / {unit:?}, 60 / {unit:?}], yaw: 10 }} }} }},
             }});
             print(answer.gap * {unit:?}); print(answer.gap_travel * {unit:?}); print(answer.moving_other_gain);
             print(answer.findings[0].margin * {unit:?});"
        )
    };
    let metric = numbers(&script("front.toml", 1.0));
    same(&numbers(&script("front_inch.toml", 25.4)), &metric);
}

#[test]
fn wrong_keys_are_named_with_their_place() {
    let report = mistake(
        "load(\"front.toml\").check_clearance(#{ parts: [#{ name: \"x\", shape: #{ sphere: #{ center: [0, 0, 0], radios: 3 } } }] });",
    );
    assert!(report.what.contains("radios"), "{report}");
    let report = mistake(
        "load(\"front.toml\").check_clearance(#{ parts: [#{ name: \"x\", shape: #{ ball: #{ radius: 3 } } }] });",
    );
    assert!(report.what.contains("ball"), "{report}");
    let report = mistake("load(\"rear.toml\").check_clearance(#{ parts: [], lock: 30 });");
    assert!(report.what.contains("steer"), "{report}");
}
