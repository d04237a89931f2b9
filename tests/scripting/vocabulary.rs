//! The words about suspensions, as scripts use them.

use crate::support::{Garage, place};
use kin_core::curves::CornerCurve;
use kin_core::{Corner, samples};
use kin_script::model::{Body, Model, ModelFile, ModelFormat};
use kin_script::units::{LengthUnit, Units};
use kin_script::vocabulary;

/// A garage with the whole vocabulary and the invented vehicles as model files.
pub(crate) fn garage() -> Garage {
    let mut garage = Garage::new();
    garage.registrars = vocabulary::REGISTRARS.to_vec();
    for (name, body) in [
        (
            "front.toml",
            Body::DoubleWishbone {
                corner: samples::wagon_front(),
                right: None,
            },
        ),
        ("rear.toml", Body::LiveAxle(samples::wagon_rear())),
        ("truck.toml", Body::LiveAxle(samples::pickup_rear())),
    ] {
        let model = Model {
            title: name.to_owned(),
            provenance: None,
            units: Units::default(),
            body,
        };
        garage.file(name, &ModelFile::write(&model, ModelFormat::Toml).unwrap());
    }
    garage
}

fn printed(script: &str) -> Vec<String> {
    let garage = garage();
    garage
        .run(script)
        .unwrap_or_else(|report| panic!("{}", report.render(false)));
    garage.printed.text().lines().map(str::to_owned).collect()
}

pub(crate) fn numbers(script: &str) -> Vec<f64> {
    printed(script)
        .iter()
        .map(|line| line.parse().unwrap_or_else(|_| panic!("{line} is no number")))
        .collect()
}

#[test]
fn a_script_reads_what_the_core_computes() {
    let corner = Corner::new(&samples::wagon_front()).unwrap();
    let position = corner.at(25.0, 10.0).unwrap();
    let expected = [
        CornerCurve::Camber.value(&position).unwrap().to_degrees(),
        CornerCurve::DamperLength.value(&position).unwrap(),
        CornerCurve::MotionRatio.value(&position).unwrap(),
        position.lower_ball_joint().z,
    ];
    let found = numbers(
        "let at = load(\"front.toml\").at(#{ travel: 25, rack: 10 });
         print(at.camber); print(at.damper_length); print(at.motion_ratio); print(at.lower_ball_joint[2]);",
    );
    assert_eq!(found, expected);
}

#[test]
fn a_column_is_the_positions_one_by_one() {
    let lines = printed(
        "let corner = load(\"front.toml\");
         let run = corner.sweep(#{ bump: steps(-50, 65, 5) });
         let travels = run.column(\"bump\");
         let camber = run.column(\"camber\");
         let gain = run.column(\"camber_gain\");
         for (travel, place) in travels {
             let at = corner.at(#{ bump: travel });
             assert_near(camber[place], at.camber, 1e-11, \"camber\");
             assert_near(gain[place], at.camber_gain, 1e-11, \"camber gain\");
         }
         print(travels.len());",
    );
    assert_eq!(lines, ["24"]);
}

#[test]
fn an_inch_script_gives_the_same_car_in_inches() {
    let script = |unit: LengthUnit| {
        let factor = unit.millimetres();
        let mut corner = samples::wagon_front();
        corner.spring = None;
        kin_core::pickups::Measured::visit(&mut corner, &mut |number, kind| {
            if kind == kin_core::pickups::Quantity::Length {
                *number /= factor;
            }
        });
        let body = Body::DoubleWishbone { corner, right: None };
        Model {
            title: "unit".into(),
            provenance: None,
            units: Units::new(unit, None),
            body,
        }
    };
    let mut all = Vec::new();
    for unit in [LengthUnit::Millimetre, LengthUnit::Inch] {
        let garage = garage();
        garage.file(
            "car.json",
            &ModelFile::write(&script(unit), ModelFormat::Json).unwrap(),
        );
        let text = format!(
            "let car = load(\"car.json\"); let at = car.at({});
             print(at.camber); print(at.damper_length); print(at.camber_gain); print(at.motion_ratio);
             print(car.stroke().bump_to_stop);",
            25.4 / unit.millimetres()
        );
        garage.run(&text).unwrap();
        let values: Vec<f64> = garage
            .printed
            .text()
            .lines()
            .map(|line| line.parse().unwrap())
            .collect();
        all.push(values);
    }
    let (metric, inch) = (&all[0], &all[1]);
    // Dividing points by 25.4 rounds them in the sixteenth digit: a billionth is far above what that does.
    let close = |a: f64, b: f64| (a - b).abs() <= 1e-9 * b.abs().max(1.0);
    assert!(close(inch[0], metric[0]), "camber: {all:?}");
    assert!(close(inch[1] * 25.4, metric[1]), "damper length: {all:?}");
    assert!(
        close(inch[2] / 25.4, metric[2]),
        "camber gain per travel: {all:?}"
    );
    assert!(close(inch[3], metric[3]), "motion ratio: {all:?}");
    assert!(close(inch[4] * 25.4, metric[4]), "bump left: {all:?}");
}

#[test]
fn a_copy_is_changed_by_itself() {
    let lines = printed(
        "let original = load(\"front.toml\");
         let other = original;
         other.coilover.upper_mount[2] += 10;
         other.title = \"other\";
         print(original.coilover.upper_mount[2]); print(other.coilover.upper_mount[2]);
         print(original.title); print(other.title);
         print(original.stroke().bump_to_stop < other.stroke().bump_to_stop);",
    );
    assert_eq!(lines, ["492.0", "502.0", "front.toml", "other", "true"]);
}

#[test]
fn a_grid_has_a_row_for_every_pair() {
    let lines = printed(
        "let run = load(\"front.toml\").sweep(#{ rack: [-20, 0, 20], travel: [0, 25] });
         print(run.table([\"toe\"]));",
    );
    assert_eq!(lines.len(), 2 + 6, "{lines:#?}");
    assert!(lines[0].contains("rack_mm") && lines[0].contains("travel_mm") && lines[0].contains("toe_deg"));
}

#[test]
fn an_axle_is_moved_in_every_way_it_has() {
    let found = numbers(
        "let axle = load(\"rear.toml\");
         print(axle.at(#{ roll: 2 }).roll_angle);
         let one = axle.at(#{ travel_left: 30, travel_right: 0 });
         print(one.travel_left); print(one.travel_right);
         print(axle.sweep(#{ roll: steps(-3, 3, 1) }).column(\"axle_steer\").len());
         print(axle.sweep(#{ travel: [0, 10], roll: [0, 1] }).column(\"lateral_shift\").len());",
    );
    assert!((found[0] - 2.0).abs() < 1e-9, "{found:?}");
    assert!(
        (found[1] - 30.0).abs() < 1e-12 && found[2].abs() < 1e-12,
        "{found:?}"
    );
    assert_eq!(found[3..], [7.0, 4.0]);
}

#[test]
fn only_the_check_counts_for_the_exit_code() {
    let code = |script: &str| garage().run(script).unwrap().exit_code();
    assert_eq!(code("load(\"truck.toml\").stroke();"), 0);
    assert_eq!(code("load(\"truck.toml\").check_stroke();"), 1);
    assert_eq!(code("load(\"front.toml\").check_stroke();"), 0);
    assert_eq!(code("load(\"front.toml\").check_stroke(#{ bump: 80 });"), 1);
}

#[test]
fn mistakes_are_shown_where_they_are() {
    for (script, words, position) in [
        (
            "let c = load(\"front.toml\");\nc.coilover.uper_mount = [1, 2, 3];",
            "upper_mount",
            (2, 12),
        ),
        (
            "let c = load(\"front.toml\");\nc.coilover.upper_mount = [1, 2];",
            "three numbers [x, y, z]",
            (2, 12),
        ),
        (
            "let c = load(\"front.toml\");\nc.wheel.camber = \"much\";",
            "expected a number",
            (2, 9),
        ),
        (
            "let c = load(\"front.toml\");\nprint(c.at(25).cambr);",
            "did you mean `camber`",
            (2, 16),
        ),
        (
            "let c = load(\"front.toml\");\nc.sweep(#{ travl: [0, 1] });",
            "did you mean `travel`",
            (2, 12),
        ),
        (
            "let c = load(\"front.toml\");\nc.sweep(#{ travel: [0, 1], bump: 2 });",
            "the same thing twice",
            (2, 28),
        ),
        (
            "let c = load(\"front.toml\");\nc.at(#{ roll: 1 });",
            "is not moved along `roll`",
            (2, 9),
        ),
        (
            "let c = load(\"front.toml\");\nc.check_stroke(#{ bumb: 1 });",
            "did you mean `bump`",
            (2, 19),
        ),
        (
            "let c = load(\"front.toml\");\nc.check_stroke(#{ bump: -1 });",
            "negative",
            (2, 19),
        ),
        (
            "let c = load(\"front.toml\");\nplot(\"a.png\", c.sweep(#{ travel: [0, 9] }), \"toe\");",
            ".svg",
            (2, 1),
        ),
        ("load(\"absent.toml\");", "absent.toml", (1, 1)),
        ("load(\"../front.toml\");", "folder", (1, 1)),
        ("live_axle(#{ unit: \"mm\" });", "links", (1, 1)),
    ] {
        let report = garage().report(script);
        let (_, line, column) = place(&report);
        let shown = report.render(false);
        assert!(shown.contains(words), "{words:?} is not in:\n{shown}");
        assert_eq!((line, column), position, "{shown}");
    }
}

#[test]
fn pictures_are_drawn_and_the_same_twice() {
    let script = "let c = load(\"front.toml\"); let a = load(\"rear.toml\");
        plot(\"one.svg\", c.sweep(#{ bump: steps(-50, 65, 5) }), [\"camber\", \"damper_length\", \"camber_gain\"]);
        plot(\"grid.svg\", c.sweep(#{ rack: [-20, 0, 20], bump: steps(-50, 65, 5) }), \"toe\");
        let d = c; d.upper_arm.ball_joint[2] += 5;
        plot(\"two.svg\", #{ original: c.sweep(#{ bump: steps(-50, 65, 5) }), taller: d.sweep(#{ bump: steps(-50, 65, 5) }) }, \"camber\");
        plot(\"roll.svg\", a.sweep(#{ roll: steps(-3, 3, 0.5) }), [\"axle_steer\", \"motion_ratio_roll_left\"]);
        draw(\"corner.svg\", c, #{ views: [\"front\", \"side\", \"top\"] });
        draw(\"axle.svg\", a, #{ views: [\"front\", \"side\", \"top\"], droop: 30, bump: 40 });
        save(\"numbers.csv\", c.sweep(#{ bump: steps(-50, 65, 5) }).table([\"camber\"]));";
    let write = || {
        let garage = garage();
        let outcome = garage
            .run(script)
            .unwrap_or_else(|report| panic!("{}", report.render(false)));
        let texts = outcome
            .files
            .iter()
            .map(|file| std::fs::read_to_string(file).unwrap());
        texts.collect::<Vec<_>>()
    };
    let first = write();
    assert_eq!(first.len(), 7);
    assert_eq!(first, write());
    for svg in first.iter().filter(|text| text.contains("<svg")) {
        let document = roxmltree::Document::parse(svg).unwrap();
        for tag in ["title", "desc"] {
            assert!(
                document.descendants().any(|node| node.has_tag_name(tag)),
                "no <{tag}>"
            );
        }
    }
}

#[test]
fn one_thread_and_two_give_the_same_bytes() {
    let garage = garage();
    garage.file(
        "grid.rhai",
        "let run = load(\"rear.toml\").sweep(#{ roll: steps(-3, 3, 0.5), travel: steps(-30, 40, 5) });
         print(run.table([\"axle_steer\", \"damper_length_left\", \"motion_ratio_roll_left\"]));
         save(\"grid.csv\", run.table([\"axle_steer\", \"damper_length_left\", \"motion_ratio_roll_left_rate\"]));",
    );
    let run = |threads: &str| {
        let output = garage.outside().join(format!("output{threads}"));
        let printed = assert_cmd::Command::new(env!("CARGO_BIN_EXE_kin"))
            .env("RAYON_NUM_THREADS", threads)
            .args([
                "run",
                garage.path("grid.rhai").to_str().unwrap(),
                "--output",
                output.to_str().unwrap(),
            ])
            .output()
            .unwrap();
        assert!(
            printed.status.success(),
            "{}",
            String::from_utf8_lossy(&printed.stderr)
        );
        std::fs::read(output.join("grid.csv")).unwrap()
    };
    assert_eq!(run("1"), run("2"));
}

#[test]
fn a_model_file_runs_on_its_own() {
    let garage = garage();
    let kin = |arguments: &[&str]| {
        let output = assert_cmd::Command::new(env!("CARGO_BIN_EXE_kin"))
            .current_dir(garage.outside())
            .args(arguments)
            .output()
            .unwrap();
        let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
        (output.status.code(), text(&output.stdout), text(&output.stderr))
    };
    let (code, printed, _) = kin(&["run", "garage/front.toml"]);
    assert_eq!(code, Some(0), "{printed}");
    assert!(
        printed.contains("Verdict: TIGHT") && printed.contains("camber_deg"),
        "{printed}"
    );
    for name in [
        "stroke.txt",
        "curves.csv",
        "curves.svg",
        "linkage.svg",
        "sheet.html",
    ] {
        assert!(
            garage.outside().join("front-output").join(name).is_file(),
            "{name}"
        );
    }
    assert_eq!(kin(&["run", "garage/truck.toml"]).0, Some(1));
    let without = std::fs::read_to_string(garage.outside().join("garage/front.toml")).unwrap();
    let without: String = without
        .split_inclusive("\n\n")
        .filter(|part| !part.contains("[coilover]") && !part.contains("[spring]"))
        .collect();
    std::fs::write(garage.outside().join("garage/bare.toml"), without).unwrap();
    assert_eq!(kin(&["run", "garage/bare.toml"]).0, Some(0));
    let page = std::fs::read_to_string(garage.outside().join("bare-output/sheet.html")).unwrap();
    assert!(
        page.contains("No damper is given, so there is no stroke check.")
            && !page.contains("give <code>wanted"),
        "{page}"
    );
    let csv = kin(&[
        "run",
        "garage/front.toml",
        "--curves",
        "camber",
        "--from",
        "-10",
        "--to",
        "10",
        "--step",
        "10",
        "--format",
        "csv",
    ]);
    assert_eq!(csv.0, Some(0), "{csv:?}");
    assert_eq!(csv.1.lines().next(), Some("bump_mm,camber_deg"));
    assert_eq!(csv.1.lines().count(), 4);
    let json = kin(&["run", "garage/front.toml", "--curves", "toe", "--format", "json"]).1;
    assert!(
        serde_json::from_str::<serde_json::Value>(&json)
            .unwrap()
            .is_array()
    );
    let wrong = kin(&["run", "garage/front.toml", "--curves", "cambr"]);
    assert!(
        wrong.0 == Some(2) && wrong.2.contains("did you mean `camber`"),
        "{wrong:?}"
    );
    let wrong = kin(&["run", "garage/front.toml", "--step", "0"]);
    assert!(wrong.0 == Some(2) && wrong.2.contains("step"), "{wrong:?}");
}

#[test]
fn every_word_is_documented_and_listed() {
    let garage = garage();
    let entries = vocabulary::entries(&garage.session());
    for word in vocabulary::words().reserved {
        let entry = entries.iter().find(|entry| entry.name == word);
        assert!(
            entry.is_some_and(|entry| !entry.documentation.is_empty()),
            "`{word}` is not documented"
        );
    }
}
