//! The words of a survey.

use super::{garage, notebook, printed, printed_with};
use serde_json::Value;

fn numbers(text: &str) -> Vec<f64> {
    text.lines()
        .map(|line| line.parse().unwrap_or_else(|_| panic!("{text}")))
        .collect()
}

/// The answers of an independent adjustment (`tests/reference/front-tape-survey-answers.json`), printed to 0.01 mm, of readings in
/// millimetres rounded to 0.01; the notebook has them in sixteenths.
#[test]
fn a_notebook_in_inches_gives_the_printed_answers() {
    let path = format!(
        "{}/../tests/reference/front-tape-survey-answers.json",
        env!("CARGO_MANIFEST_DIR")
    );
    let answers: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let adjusted = &answers["adjusted"];
    for (name, key) in [
        ("lower_front_pivot", "lower_arm.front_pivot"),
        ("upper_ball_joint", "upper_arm.ball_joint"),
        ("damper_lower", "coilover.lower_mount"),
        ("wheel_center", "wheel.centre"),
    ] {
        let found = numbers(&printed(&format!(
            "let found = survey(\"front.csv\").adjust(); for axis in found.points[\"{key}\"] {{ print(axis * 25.4); }}"
        )));
        for (found, wanted) in found
            .iter()
            .zip(adjusted[name]["adjusted_mm"].as_array().unwrap())
        {
            assert!(
                (found - wanted.as_f64().unwrap()).abs() <= 0.02,
                "{name}: {found} is not {wanted}"
            );
        }
    }
    let rejected = printed("for one in survey(\"front.csv\").adjust().rejected { print(one.where); }");
    assert_eq!(rejected, "front.csv, line 25\nfront.csv, line 61\n");
}

#[test]
fn the_sheet_names_what_to_read_again_by_its_line() {
    let sheet = printed("print(survey(\"front.csv\").adjust());");
    let flat = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    for expected in [
        "The height of upper arm ball joint (line 25) disagrees with the other 58 readings by 1.03 in too much",
        "about a whole inch: read it again. It was left out.",
        "The tape from coilover lower mount to lower arm front pivot (line 61)",
        "The readings agree as well as their standard deviations say",
        "standard deviation a priori",
        "(scaled by sigma0)",
        "The one more reading that would help most is",
    ] {
        assert!(flat.contains(expected), "{expected:?} is not in\n{sheet}");
    }
    let kept = printed("print(survey(\"front.csv\").adjust(#{ reject: false }));");
    assert!(
        kept.contains("Suspect, and still counted") && kept.contains("WORSE"),
        "{kept}"
    );
}

#[test]
fn readings_are_left_out_or_loosened_by_line() {
    let both = printed(
        "let found = survey(\"front.csv\", #{ leave_out: [25, 61] }).adjust(); print(found.rejected.len()); print(found.surplus);",
    );
    assert_eq!(both, "0\n24\n");
    // A standard deviation a thousand times as large is as good as left out.
    let apart = numbers(&printed(
        "let a = survey(\"front.csv\", #{ leave_out: [25, 61] }).adjust().points;
         let b = survey(\"front.csv\", #{ loosen: [#{ line: 25, factor: 1000 }, #{ line: 61, factor: 1000 }] })
             .adjust(#{ reject: false }).points;
         for name in a.keys() { for axis in 0..3 { print(a[name][axis] - b[name][axis]); } }",
    ));
    assert!(apart.iter().all(|apart| apart.abs() < 1e-4), "{apart:?}");
}

#[test]
fn pickups_go_into_a_model_in_its_own_unit() {
    // Model in millimetres, notebook in inches.
    let found = numbers(&printed(
        "let found = survey(\"front.csv\").adjust();
         let corner = load(\"front.toml\").place_pickups(found);
         for axis in corner.upper_arm.ball_joint { print(axis); }
         for axis in found.points[\"upper_arm.ball_joint\"] { print(axis * 25.4); }
         print(corner.stroke(#{ bump: 60, droop: 50 }).bump_to_stop);",
    ));
    for axis in 0..3 {
        assert!((found[axis] - found[axis + 3]).abs() < 1e-9);
    }
    assert!((found[6] - 64.9).abs() < 0.05, "{found:?}");
}

#[test]
fn names_of_ones_own_are_mapped() {
    let own = notebook().replace("upper_arm.ball_joint", "UBJ");
    let script = "let found = survey(\"own.csv\").adjust();
         let corner = load(\"front.toml\").place_pickups(found, #{ UBJ: \"upper_arm.ball_joint\" });
         print(25.4 * found.points.UBJ[2] - corner.upper_arm.ball_joint[2]);";
    assert!(numbers(&printed_with(&own, script))[0].abs() < 1e-9);
    // What was not measured stays, and is named.
    let garage = garage();
    garage.file("own.csv", &own);
    let outcome = garage
        .run("let corner = load(\"front.toml\").place_pickups(survey(\"own.csv\").adjust());")
        .unwrap();
    assert_eq!(
        outcome.remarks,
        ["front.toml: the survey did not measure upper_arm.ball_joint: kept as described."]
    );
}

/// Scaled is a priori times sigma0 squared; the diagonal is the square of the standard deviations.
#[test]
fn covariance_is_named_and_in_both_kinds() {
    let found = numbers(&printed(
        "let found = survey(\"front.csv\").adjust();
         let names = [\"upper_arm.ball_joint\", \"wheel.centre\"];
         let plain = found.covariance(names);
         let scaled = found.covariance(#{ \"upper_arm.ball_joint\": \"a\", \"wheel.centre\": \"b\" }, \"scaled\");
         assert(plain.numbers[4] == \"wheel.centre.y\" && scaled.numbers[4] == \"b.y\", \"names\");
         assert(plain.basis == \"a priori\" && scaled.basis == \"scaled by sigma0\" && plain.unit == \"inch\", \"basis\");
         print(plain.matrix[4][4] - found.deviations[\"wheel.centre\"][1] ** 2);
         print(scaled.matrix[4][4] - found.scaled_deviations[\"wheel.centre\"][1] ** 2);
         print(scaled.matrix[1][4] - plain.matrix[1][4] * found.sigma0 ** 2);
         print(plain.matrix[1][4] - plain.matrix[4][1]);",
    ));
    assert!(found.iter().all(|miss| miss.abs() < 1e-12), "{found:?}");
}

#[test]
fn both_sides_are_compared_by_their_names() {
    let rows = [
        ("front_left", 0.0, 750.0),
        ("front_right", 0.0, -750.0),
        ("rear_left", -2700.0, 740.0),
        ("rear_right", -2690.0, -740.0),
    ];
    let mut own = "kind;point;reading;deviation\nunit;;mm;\n".to_owned();
    for (name, x, y) in rows {
        own += &format!("station;{name};{x};0,3\noffset;{name};{y};0,3\nheight;{name};320;0,3\n");
    }
    let script = "let sides = survey(\"own.csv\").adjust().symmetry(#{ wheels: [\"front_left\", \"front_right\", \"rear_left\", \"rear_right\"] });
         print(sides.verdict); print(sides.wheelbase_difference); print(sides.thrust_angle); print(sides);";
    let text = printed_with(&own, script);
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines[0], "crooked");
    assert!((lines[1].parse::<f64>().unwrap() - 10.0).abs() < 1e-9, "{text}");
    // The left rear wheel stands 10 mm further back on a track of 1480 mm: the axle pushes to the left.
    assert!(
        (lines[2].parse::<f64>().unwrap() - (10.0_f64 / 1480.0).atan().to_degrees()).abs() < 1e-6,
        "{text}"
    );
    assert!(
        text.contains("NOT straight enough for a mirrored model"),
        "{text}"
    );
    assert!(text.contains("Thrust angle 0.39 deg"), "{text}");
}

#[test]
fn two_surveys_are_compared_by_the_same_names() {
    let side = |sign: f64, up: f64| {
        format!(
            "kind,point,reading\nunit,,mm\nstation,pivot,150\noffset,pivot,{}\nheight,pivot,{}\n",
            sign * 275.0,
            205.0 + up
        )
    };
    let garage = garage();
    garage.file("left.csv", &side(1.0, 0.0));
    garage.file("right.csv", &side(-1.0, -30.0));
    garage
        .run(
            "let sides = survey(\"left.csv\").adjust().symmetry(survey(\"right.csv\").adjust(), #{ allowed: 4 });
             print(sides.differences.pivot); print(sides.verdict); print(sides.deviations.pivot[2] - sqrt(2.0) * 1.5);",
        )
        .unwrap();
    let text = garage.printed.text();
    assert!(text.starts_with("[0.0, 0.0, 30.0]\ncrooked\n"), "{text}");
    assert!(
        text.lines().last().unwrap().parse::<f64>().unwrap().abs() < 1e-12,
        "{text}"
    );
}

/// An arm measured at two travels: the tape of the ball joint is needed once only.
#[test]
fn a_rigid_arm_holds_at_any_travel() {
    let own = "kind,point,to,reading\nunit,,,mm\nrigid,front,ball,\nrigid,rear,ball,\n\
               station,front,,150\noffset,front,,275\nheight,front,,205\nstation,rear,,-165\noffset,rear,,265\nheight,rear,,200\n\
               station,ball,,6\noffset,ball,,690\nheight,ball,,190\nheight,ball@hanging,,110\nside,ball@hanging,,left\n";
    let found = numbers(&printed_with(
        own,
        "let p = survey(\"own.csv\", #{ side: \"left\" }).adjust().points; print(p[\"ball@hanging\"][0]); print(p[\"ball@hanging\"][1]);",
    ));
    // On the circle about the pivots, by hand: the same distances to both, 80 mm lower.
    let distance =
        |a: [f64; 3], b: [f64; 3]| (0..3).map(|axis| (a[axis] - b[axis]).powi(2)).sum::<f64>().sqrt();
    let hanging = [found[0], found[1], 110.0];
    for pivot in [[150.0, 275.0, 205.0], [-165.0, 265.0, 200.0]] {
        assert!(
            (distance(hanging, pivot) - distance([6.0, 690.0, 190.0], pivot)).abs() < 1e-6,
            "{found:?}"
        );
    }
}

#[test]
fn offsets_lead_from_where_the_tape_touches_to_the_centre() {
    // A height read to the top of a bolt head of 18 mm across, and tapes over two heads.
    let own = "kind,point,to,reading,offset\nunit,,,mm,\nheight,a,,209,-9\nheight,b,,200,\nstation,a,,0,\nstation,b,,300,\n\
               offset,a,,100,\noffset,b,,100,\ntape,a,b,318,-18\n";
    let found = printed_with(
        own,
        "let f = survey(\"own.csv\").adjust(); print(f.points.a); print(f.agrees);",
    );
    assert_eq!(found, "[0.0, 100.0, 200.0]\ntrue\n");
}

#[test]
fn a_plan_gives_a_notebook_that_reads_back() {
    let garage = garage();
    garage
        .run("let plan = load(\"rear.toml\").measurement_plan(); print(plan.count); print(plan.notebook);")
        .unwrap();
    let text = garage.printed.text();
    let (count, notebook) = text.split_once('\n').unwrap();
    let back = printed_with(
        notebook,
        "let empty = survey(\"own.csv\"); print(empty.count); print(empty.unread); print(empty);",
    );
    let lines: Vec<&str> = back.lines().collect();
    assert_eq!((lines[0], lines[1]), ("0", count));
    // Numbers in inches for a model in inches, and the sheet says so.
    let sheet = printed("print(load(\"front.toml\").measurement_plan(#{ tape: 2 }).sheet);");
    assert!(
        sheet.contains("Unit: mm") && sheet.contains("stands rated for it"),
        "{sheet}"
    );
    assert!(sheet.lines().all(|line| line.chars().count() <= 100), "{sheet}");
}
