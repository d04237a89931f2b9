//! Files for spreadsheets and drawing programs.

use crate::vocabulary::garage;

fn written(script: &str, name: &str) -> String {
    let garage = garage();
    if let Err(report) = garage.run(script) {
        panic!("{}", report.render(false));
    }
    std::fs::read_to_string(garage.outside().join("output").join(name)).unwrap()
}

#[test]
fn a_table_with_decimal_commas_has_semicolons_and_units_in_its_headings() {
    let script = "let t = load(\"front.toml\").sweep(#{ bump: steps(-20, 20, 20) }).table([\"camber\", \"motion_ratio\"]);
        save(\"comma.csv\", t, #{ decimal: \"comma\" });
        save(\"point.csv\", t, #{ decimal: \"point\" });
        save(\"usual.csv\", t);";
    let comma = written(script, "comma.csv");
    let point = written(script, "point.csv");
    assert_eq!(comma.lines().next(), Some("bump_mm;camber_deg;motion_ratio"));
    assert_eq!(point, written(script, "usual.csv"));
    // No cell of this table holds a text, so the two marks are all that differs.
    assert_eq!(comma.replace(',', ".").replace(';', ","), point);
    assert!(comma.lines().nth(1).unwrap().matches(',').count() == 2, "{comma}");
}

#[test]
fn a_choice_of_mark_that_means_nothing_is_refused() {
    let refused = |how: &str| {
        let report = garage().report(&format!("save({how});"));
        report.to_string()
    };
    let model = "load(\"front.toml\")";
    assert!(refused(&format!("\"x.toml\", {model}, #{{ decimal: \"comma\" }}")).contains("end in .csv"));
    assert!(refused(&format!("\"x.csv\", {model}, #{{ decimals: \"comma\" }}")).contains("decimal"));
    assert!(refused(&format!("\"x.csv\", {model}, #{{ decimal: \"dot\" }}")).contains("dot"));
    assert!(refused(&format!("\"x.txt\", {model}")).contains(".toml, .json or .csv"));
}

#[test]
fn the_pickups_of_a_model_are_a_table_of_points_and_numbers() {
    let csv = written("save(\"pickups.csv\", load(\"front.toml\"));", "pickups.csv");
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let headings: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
    assert_eq!(headings, ["name", "x_mm", "y_mm", "z_mm", "number", "unit"]);
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let row = |name: &str| {
        rows.iter()
            .find(|row| &row[0] == name)
            .unwrap_or_else(|| panic!("no {name} in {csv}"))
    };
    // As the invented wagon is described.
    let expected = kin_core::samples::wagon_front().lower_arm.ball_joint;
    let point = row("lower_arm.ball_joint");
    for (cell, expected) in [1, 2, 3].into_iter().zip(expected.iter()) {
        assert_eq!(point[cell].parse::<f64>().unwrap(), *expected);
    }
    assert_eq!(&row("spring.rate")[5], "N/mm");
    assert_eq!(&row("wheel.camber")[5], "deg");
    let axle = written(
        "save(\"p.csv\", load(\"rear.toml\"), #{ decimal: \"comma\" });",
        "p.csv",
    );
    assert!(
        axle.lines()
            .any(|line| line.starts_with("links.lower_left.body;-2330;455;262;;")),
        "{axle}"
    );
}

#[test]
fn a_fit_sheet_as_json_holds_what_a_script_reads() {
    let script = "let corner = load(\"front.toml\");
        let fit = corner.fit(#{ wanted: #{ bump: 65, droop: 50 }, ride_height: #{ load: #{ sprung_mass: 406 } },
            joints: #{ at: \"upper_arm.ball_joint\", limit: 15 } });
        save(\"fit.json\", fit); save(\"joints.json\", fit.joints); save(\"stroke.json\", fit.stroke);
        save(\"read.csv\", `${fit.stroke.bump_to_stop},${fit.findings[0].margin},${fit.joints.items[0].worst}`);";
    let parsed = |name: &str| -> serde_json::Value {
        serde_json::from_str(&written(script, name)).unwrap_or_else(|error| panic!("{name}: {error}"))
    };
    let fit = parsed("fit.json");
    assert_eq!(fit["verdict"], "fails");
    assert_eq!(fit["units"]["rate"], "N/mm");
    assert_eq!(fit["asked"]["wanted"]["bump"], 65);
    let read = written(script, "read.csv");
    let read: Vec<f64> = read
        .trim()
        .split(',')
        .map(|number| number.parse().unwrap())
        .collect();
    assert_eq!(fit["stroke"][0]["bump_to_stop"].as_f64(), Some(read[0]));
    assert_eq!(fit["findings"][0]["margin"].as_f64(), Some(read[1]));
    let checks = fit["checks"].as_array().unwrap();
    let joints = checks.iter().find(|check| check["check"] == "joints").unwrap();
    assert_eq!(joints["items"][0]["worst"].as_f64(), Some(read[2]));
    // A finding says in which unit its numbers are.
    let units: Vec<&str> = fit["findings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|finding| finding["unit"].as_str().unwrap())
        .collect();
    assert!(units.contains(&"mm") && units.contains(&"deg"), "{units:?}");
    assert_eq!(parsed("joints.json")["items"], joints["items"]);
    assert_eq!(parsed("stroke.json")["stroke"], fit["stroke"]);
}
