//! Drawings and marked curves, as scripts ask for them.

use crate::support::Garage;
use crate::vocabulary::garage;

/// Runs a script; gives back the garage with what it wrote.
fn ran(script: &str) -> Garage {
    let garage = garage();
    if let Err(report) = garage.run(script) {
        panic!("{}", report.render(false));
    }
    garage
}

fn picture(garage: &Garage, name: &str) -> String {
    std::fs::read_to_string(garage.outside().join("output").join(name)).unwrap()
}

#[test]
fn construction_lines_tell_instant_and_roll_centre() {
    let garage = ran("let c = load(\"front.toml\");\n\
        draw(\"plain.svg\", c); draw(\"taught.svg\", c, #{ construction: true });\n\
        draw(\"axle.svg\", load(\"rear.toml\"), #{ construction: true });");
    let (plain, taught) = (picture(&garage, "plain.svg"), picture(&garage, "taught.svg"));
    assert!(!plain.contains("roll centre") && taught.contains("roll centre"));
    assert!(taught.contains("instant centre") && taught.contains("contact point to"));
    assert!(picture(&garage, "axle.svg").contains("anti-squat line"));
}

#[test]
fn findings_are_marked_where_they_happen() {
    let garage = ran("let c = load(\"front.toml\");\n\
        let stroke = c.stroke(#{ bump: 65, droop: 50, margin: 5 });\n\
        plot(\"marked.svg\", c.sweep(#{ bump: steps(-60, 75, 5) }), \"damper_length\", #{ findings: stroke });\n\
        plot(\"listed.svg\", c.sweep(#{ bump: steps(-60, 75, 5) }), \"camber\", #{ findings: stroke.findings });\n\
        print(stroke.droop_to_top_out);");
    let out: f64 = garage.printed.text().trim().parse().unwrap();
    let marked = picture(&garage, "marked.svg");
    assert!(
        marked.contains(&format!("tight: tops out, {out:.1} mm droop")),
        "{out}"
    );
    assert!(marked.contains("touches the bump stop"));
    assert!(picture(&garage, "listed.svg").contains("droop travel to topping out"));
}

#[test]
fn places_of_ones_own_are_marked() {
    let garage = ran("let c = load(\"front.toml\");\n\
        plot(\"marked.svg\", c.sweep(#{ bump: steps(-50, 60, 5) }), [\"camber\", \"toe\"], #{ mark: #{ \"in a bend\": 40 } });");
    let marked = picture(&garage, "marked.svg");
    assert!(
        marked.contains(">\nin a bend\n<") || marked.contains("in a bend</text>"),
        "{marked}"
    );
    assert!(marked.contains("marked: in a bend"));
}

#[test]
fn ghosts_say_what_the_damper_cannot_do_there() {
    let garage = ran("let c = load(\"front.toml\"); let s = c.stroke();\n\
        draw(\"far.svg\", c, #{ droop: s.droop_to_top_out + 10, bump: s.bump_to_metal + 10 });\n\
        draw(\"within.svg\", c, #{ droop: s.droop_to_top_out - 5, bump: s.bump_to_stop - 5 });\n\
        draw(\"stop.svg\", c, #{ views: [\"side\"], droop: 10, bump: s.bump_to_stop + 10 });");
    let far = picture(&garage, "far.svg");
    assert_eq!(
        (
            far.matches("topped out:").count(),
            far.matches("metal to metal:").count()
        ),
        (1, 1)
    );
    let stop = picture(&garage, "stop.svg");
    // The words may stand on two lines.
    assert!(stop.contains("! ") && stop.contains("bump stop"), "{stop}");
    let within = picture(&garage, "within.svg");
    assert!(!within.contains("topped out") && !within.contains("into the bump") && !within.contains("metal"));
}

#[test]
fn links_are_named_in_the_view_that_shows_them_best() {
    let garage = ran("draw(\"axle.svg\", load(\"rear.toml\")); \
        draw(\"above.svg\", load(\"rear.toml\"), #{ views: [\"front\", \"top\"] });");
    let named = |name: &str| picture(&garage, name).matches("lower link").count();
    // Seen from above the joints are named instead.
    assert_eq!((named("axle.svg"), named("above.svg")), (1, 0));
}

#[test]
fn what_does_not_go_together_is_said() {
    let cases = [
        (
            "plot(\"a.svg\", c.sweep(#{ bump: steps(-20, 20, 5) }), \"toe\", #{ mark: #{ far: 90 } });",
            "`far`: no curve reaches 90",
        ),
        (
            "plot(\"a.svg\", c.sweep(#{ bump: steps(-20, 20, 5) }), \"toe\", #{ mark: #{ far: \"off\" } });",
            "`mark`: the place of `far` is no number",
        ),
        (
            "plot(\"a.svg\", c.sweep(#{ bump: steps(-20, 20, 5) }), \"toe\", #{ mark: 40 });",
            "`mark`: expected a map of words and places",
        ),
        (
            "draw(\"a.svg\", c, #{ close_up: true });",
            "`close_up` shows a gap: it goes with `obstacles`",
        ),
        (
            "draw(\"a.svg\", c, #{ construction: true, obstacles: #{ parts: [], obstacles: [] } });",
            "`construction` does not go with `obstacles`",
        ),
        (
            "plot(\"a.svg\", c.sweep(#{ rack: steps(-20, 20, 5) }), \"toe\", #{ findings: c.stroke() });",
            "findings have no place on this picture",
        ),
        (
            "plot(\"a.svg\", c.sweep(#{ bump: steps(-20, 20, 5) }), \"toe\", #{ finding: 1 });",
            "the plot has no key `finding`",
        ),
        (
            "plot(\"a.svg\", c.sweep(#{ bump: steps(-20, 20, 5) }), \"toe\", #{ findings: 7 });",
            "`findings`: expected a check",
        ),
        (
            "bracket_drawing(\"a.svg\", #{ name: \"x\", width: 50, height: 30, edge_distance: 20 });",
            "nobody says how large the holes are",
        ),
        (
            "bracket_drawing(\"a.svg\", #{ name: \"x\", width: 50, bolt: \"M12\" });",
            "the bracket has no hole",
        ),
        (
            "bracket_drawing(\"a.svg\", #{ name: \"x\", width: 250, length: 250, bolt: \"M12\", holes: [#{ at: [90, 90] }] });",
            "does not fit on A4 at full size",
        ),
    ];
    for (script, expected) in cases {
        let report = garage().report(&format!("let c = load(\"front.toml\");\n{script}"));
        assert!(report.what.contains(expected), "{script}\n{report}");
    }
}

#[test]
fn a_bracket_takes_the_map_of_its_check() {
    let garage = ran(
        "let tab = #{ name: \"mount\", tabs: 2, thickness: 6, width: 50, height: 38, edge_distance: 18,\n\
        bolt: \"M12\", yielding: 250, force: #{ outward: 3000 } };\n\
        print(load(\"front.toml\").brackets(tab)); bracket_drawing(\"tab.svg\", tab);",
    );
    let sheet = picture(&garage, "tab.svg");
    // The normal hole for M12 of the check's table; 18 mm are 1.29 of it.
    assert!(sheet.contains("Drill to 14 mm for bolts M12"), "{sheet}");
    assert!(sheet.contains("nearer to an edge than the 1.5 hole diameters"));
}
