//! The sheet.

use super::{is_accessible, names_are_sound, run, stands_alone, written};

/// A sheet with everything on it that a sheet can have.
pub(super) const SHEET: &str = r##"
let corner = load("vehicles/wagon_front.toml");
let fit = corner.fit(#{ wanted: #{ bump: 65, droop: 50 }, ride_height: #{ load: #{ sprung_mass: 406 } },
    joints: #{ at: "upper_arm.ball_joint", limit: 15 } });
save("sheet.html", page(fit, #{
    pictures: [draw("front.svg", corner), plot("camber.svg", corner.sweep(#{ bump: steps(-50, 65, 5) }), ["camber"])],
    tables: #{ "In bump": corner.sweep(#{ bump: [0, 25] }).table(["camber"]) },
    sources: #{ coilover: "catalogue", "coilover.upper_mount": "measured", ride_height: "assumed" } }));
"##;

/// The page as words, tags dropped.
fn words(page: &str) -> String {
    let body = page.split("<body>").nth(1).unwrap();
    let mut text = String::new();
    let mut rest = body;
    while let Some((before, after)) = rest.split_once('<') {
        text.push_str(before);
        text.push(' ');
        rest = after.split_once('>').map_or("", |(_, after)| after);
    }
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_sheet_says_verdict_findings_margins_fixes_numbers_and_origins_in_that_order() {
    let page = written(SHEET, "sheet.html");
    let text = words(&page);
    let mut after = 0;
    for expected in [
        "Orvane wagon, front, replacement arms Fit sheet, double wishbone Date:",
        "\u{2716} FAILS. See the findings marked [fails].",
        "What was found Damper stroke ! tight Ride height and spring \u{2714} holds Swing of joints \u{2716} fails",
        "\u{2716} fails Swing of joints The joint upper_arm.ball_joint swings",
        "What mends it:",
        "Short by 3.3 deg at 101.6 mm",
        "of bump",
        "! tight Damper stroke The coilover touches its bump stop at 69.2 mm of bump",
        "Margin 4.2 mm at 69.2 mm of bump",
        "Key numbers part damper at ride height bump left",
        "coilover 316.2 mm (12 7&#x2f;16 in), 35 % of the stroke used 69.2 mm to the bump stop, 101.6 mm to metal",
        "54.8 mm to topping out 0.605 96.32 N&#x2f;mm, 254 mm free 35.75 N&#x2f;mm 75.5 mm from its mount",
        "Before you drill, weld or drive Geometry and arithmetic, not approval",
        "Linkage at ride height",
        "Curves and other pictures",
        "Camber against wheel travel from ride height",
        "The numbers Damper stroke coilover what value ride height 0.0 mm of wheel travel",
        "mock-up bar ride 316.2 mm (12 7&#x2f;16 in)",
        "In bump bump (mm) camber (deg) 0.00 -0.500",
        "What it was made from The description what value where from",
        "upper arm invented front pivot forward 150, left 400, up 449 mm",
        "wheel invented",
        "camber -0.5 deg",
        "coilover catalogue upper mount forward -4, left 478, up 492 mm measured",
        "extended 349.25 mm",
        "spring invented rate 96.32 N&#x2f;mm",
        "What was asked what value where from",
        "joints asked here at upper_arm.ball_joint limit 15 deg",
        "ride height assumed load, sprung mass 406 kg",
        "wanted asked here bump 65 mm droop 50 mm",
    ] {
        let found = text.get(after..).and_then(|rest| rest.find(expected));
        after +=
            found.unwrap_or_else(|| panic!("{expected:?} is not there, or not in its place, in:\n{text}"));
    }
}

#[test]
fn the_sheet_stands_alone_is_accessible_and_prints() {
    let page = written(SHEET, "sheet.html");
    stands_alone(&page);
    is_accessible(&page);
    names_are_sound(&page);
    assert!(!page.contains("<script"));
    assert!(page.contains("@page") && page.contains("@media print"));
    assert!(page.contains("@bottom-left { content: \"Orvane wagon, front, replacement arms\";"));
    assert!(page.contains("\"page \" counter(page) \" of \" counter(pages)"));
    // What stands in back quotes is code, and no quote is left over.
    assert!(page.contains("The joint <code>upper_arm.ball_joint</code> swings") && !page.contains('`'));
    assert_eq!(page.matches("<svg").count(), 2);
}

#[test]
fn the_same_sheet_is_the_same_bytes() {
    assert_eq!(written(SHEET, "sheet.html"), written(SHEET, "sheet.html"));
}

#[test]
fn hostile_names_are_shown_as_text() {
    let hostile = "<script>alert(1)</script>\\\"'&";
    let page = written(
        &format!(
            "let corner = load(\"vehicles/wagon_front.toml\"); corner.title = \"{hostile}\"; corner.provenance = \"{hostile}\";
             let caption = #{{}}; caption[\"{hostile}\"] = table([\"{hostile}\"], [[\"{hostile}\"]]);
             let fit = corner.fit(#{{ bolts: #{{ name: \"{hostile}\", size: \"1/2-13\", grade: \"grade 8\", shear: \"double\", force: 6581,
                 tab: #{{ thickness: 6.35 }} }} }});
             save(\"sheet.html\", page(fit, #{{ pictures: [draw(\"front.svg\", corner)], tables: caption, sources: #{{ coilover: \"{hostile}\" }} }}));"
        ),
        "sheet.html",
    );
    assert!(!page.contains("<script"), "a name became a tag");
    assert!(page.matches("&lt;script&gt;alert(1)").count() >= 8);
}

#[test]
fn inches_are_told_in_inches() {
    let page = written(
        "let corner = load(\"vehicles/wagon_front.toml\"); let inch = 25.4;
         let small = double_wishbone(#{ unit: \"inch\", upper_arm: #{ front_pivot: [6, 15.75, 17.7], rear_pivot: [-6.7, 15.55, 17.05], \
             ball_joint: [-0.6, 25.7, 18.2] }, lower_arm: #{ front_pivot: [6, 10.8, 8.1], rear_pivot: [-6.5, 10.4, 7.9], ball_joint: \
             [0.25, 27.2, 7.5] }, tie_rod: #{ inner: [-4.7, 11.9, 8.4], outer: [-5.5, 26.3, 8.3] }, wheel: #{ centre: [0, 29.8, 12.6], \
             tyre_radius: 12.6 }, coilover: #{ upper_mount: [-0.15, 18.8, 19.4], lower_mount: [0, 21.25, 7.2], rides_on: \"lower_arm\", \
             extended: 13.75, compressed: 10 }, spring: #{ rate: 550 } });
         save(\"sheet.html\", page(small.fit(#{})));",
        "sheet.html",
    );
    let text = words(&page);
    assert!(
        text.contains("coilover not stated upper mount forward -0.15"),
        "{text}"
    );
    assert!(text.contains("extended 13.75 in"), "{text}");
    assert!(text.contains("spring not stated rate 550 lb&#x2f;in"));
    // A bar is cut with either tape, and the reader's own comes first; nothing else speaks of millimetres.
    assert!(
        text.contains("mock-up bar ride 12.44 in (12 7&#x2f;16 in, 316.1 mm)"),
        "{text}"
    );
    assert_eq!(
        text.matches(" mm").count(),
        4,
        "three bars, and one among the key numbers: {text}"
    );
}

#[test]
fn studies_stand_in_sections_of_their_own_with_what_they_were_asked() {
    let page = written(
        r##"let corner = load("vehicles/wagon_front.toml");
            let tape = corner.tolerance(#{ deviation: 1.5, samples: 50, seed: 7, curves: ["camber"], bump: [-20, 0, 20] });
            let moves = corner.sensitivities(#{ of: "camber_gain", numbers: ["upper_arm"] });
            let sides = compare(#{ models: #{ one: corner, other: corner }, outcomes: ["camber"], curves: "toe" });
            let all = corner.choices(#{ options: #{ "spring.rate": [88, 96] }, variant: |model, chosen| model,
                fit: #{ wanted: #{ bump: 60 } } });
            save("sheet.html", page(corner.fit(#{}), #{ studies: [tape, moves, sides, all] }));"##,
        "sheet.html",
    );
    stands_alone(&page);
    is_accessible(&page);
    names_are_sound(&page);
    let text = words(&page);
    for expected in [
        "Tolerance: Orvane wagon, front, replacement arms",
        "(50 variants, seed 7;",
        "What the study was asked what value bump -20, 0, 20 curves camber deviation 1.5 samples 50 seed 7",
        "What moves camber per travel at ride height",
        "numbers upper_arm of camber_gain",
        "curves toe models one Orvane wagon, front, replacement arms other Orvane wagon",
        "options spring, rate 88, 96 variant a function of the script",
    ] {
        assert!(text.contains(expected), "{expected:?} is not in:\n{text}");
    }
    // The band, the bars and the curves of the comparison; a table that a picture shows is not told again.
    assert_eq!(page.matches("<svg").count(), 3);
    assert!(!page.contains("sd_found_deg"));
}

#[test]
fn a_survey_stands_on_the_sheet_in_its_own_words() {
    let page = written(
        r##"let notebook = survey("surveys/wagon_front.csv", #{ side: "left" });
            save("sheet.html", page(load("vehicles/wagon_front.toml").fit(#{}), #{ studies: notebook.adjust() }));"##,
        "sheet.html",
    );
    assert!(page.contains("<h2>Survey: surveys&#x2f;wagon_front.csv</h2>") && page.contains("<pre>"));
}

#[test]
fn what_cannot_be_is_refused_with_advice() {
    for (script, expected) in [
        (
            "page(load(\"vehicles/wagon_front.toml\").fit(#{}), #{ sources: #{ coilovr: \"catalogue\" } })",
            "did you mean `coilover`?",
        ),
        (
            "page(load(\"vehicles/wagon_front.toml\").fit(#{}), #{ pictures: [\"../secret.svg\"] })",
            "is no picture that was written in this run",
        ),
        (
            "page(load(\"vehicles/wagon_front.toml\").fit(#{}), #{ picture: [] })",
            "did you mean `pictures`?",
        ),
        (
            "page(load(\"vehicles/wagon_front.toml\").fit(#{}), #{ tables: [1] })",
            "expected a map of tables by caption",
        ),
        (
            "page(load(\"vehicles/wagon_front.toml\").fit(#{}), #{ studies: [7] })",
            "expected answers of studies such as `tolerance` gives",
        ),
        (
            "save(\"sheet.txt\", page(load(\"vehicles/wagon_front.toml\").fit(#{})))",
            "a page is saved in a file that ends in .html",
        ),
        (
            "moving_page(load(\"vehicles/wagon_rear.toml\"), #{ droop: 0, bump: 0 })",
            "goes nowhere",
        ),
    ] {
        let ran = run(script);
        assert_eq!(ran.exit, 2, "{script}");
        let told = ran
            .complaint
            .split_whitespace()
            .filter(|word| *word != "\u{2502}");
        let told = told.collect::<Vec<_>>().join(" ");
        assert!(told.contains(expected), "{script}\n{}", ran.complaint);
    }
}
