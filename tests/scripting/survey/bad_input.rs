//! Notebooks that cannot be: each row refused by file and line.

use super::{garage, notebook};

/// The report of a script that reads `own.csv`.
fn refused(own: &str, script: &str) -> kin_script::explain::Report {
    let garage = garage();
    garage.file("own.csv", own);
    garage.report(script)
}

const ADJUST: &str = "print(survey(\"own.csv\").adjust());";

#[test]
fn every_row_is_refused_by_its_line() {
    for (rows, what, help) in [
        (
            "tape,a,b,14 5/7x",
            "own.csv, line 3: the reading \"14 5/7x\" cannot be read as inches",
            "14 5/8",
        ),
        ("tape,a,b,0", "the tape from a to b (own.csv, line 3) is 0 in", ""),
        (
            "tape,a,a,5",
            "the tape from a to a (own.csv, line 3): both ends are the same point",
            "",
        ),
        (
            "tape,a,,5",
            "own.csv, line 3: the column `to` is empty",
            "name the point",
        ),
        (
            "tap,a,b,5",
            "own.csv, line 3: there is no kind \"tap\"",
            "did you mean \"tape\"?",
        ),
        (
            "side,a,,up",
            "own.csv, line 3: the side \"up\" is neither left nor right",
            "",
        ),
        (
            "sketch,a,,1 2",
            "own.csv, line 3: \"1 2\" is no place",
            "three numbers",
        ),
        (
            "same,a,b,5",
            "own.csv, line 3: a row of kind same has no reading",
            "",
        ),
        (
            "rigid,a,b,",
            "own.csv, line 3: a and b were measured at one travel only",
            "@hanging",
        ),
        (
            "angle,a,b,steep",
            "own.csv, line 3: the reading \"steep\" cannot be read as an angle",
            "2.5",
        ),
        (
            "tape,a,b,5,6",
            "own.csv, line 3: 5 cells stand under 4 columns",
            "quotes",
        ),
        (
            "fixed_height,a,,5\nfixed_height,a,,6\nheight,a,,5",
            "the height of a is stated twice: 5 in (own.csv, line 3), 6 in (own.csv, line 4). Keep the one that holds",
            "",
        ),
        (
            "tape,a,b,10\ntape,b,c,8\ntape,a,c,20",
            "three tapes make no triangle: the tape from a to c (own.csv, line 5) is 20 in, but the tape from a to b (own.csv, \
             line 3) and the tape from b to c (own.csv, line 4) are together only 18 in",
            "",
        ),
        (
            "height,a,,5\noffset,a,,5\nstation,a,,5\nheight,b,,9\noffset,b,,9",
            "the 5 readings are too few for 6 coordinates: nothing fixes the station of b: measure it from the axle line, or tape b \
             to two more points",
            "",
        ),
    ] {
        let report = refused(&format!("kind,point,to,reading\nunit,,,inch\n{rows}\n"), ADJUST);
        assert!(report.what.contains(what), "{rows}\n{report}");
        assert!(
            report.help.as_deref().unwrap_or("").contains(help),
            "{rows}\n{report}"
        );
    }
}

#[test]
fn a_file_that_is_no_notebook_is_told_apart() {
    for (text, what) in [
        ("", "own.csv has no readings"),
        ("# only words\n\n", "own.csv has no readings"),
        (
            "kind,point,reading\nheight,a,5\n",
            "own.csv does not state its unit",
        ),
        (
            "kind,point,value,length\n",
            "own.csv, line 1: there is no column \"length\"",
        ),
        (
            "kind,reading\n",
            "own.csv, line 1: the column \"point\" is missing",
        ),
        (
            "kind,point,from,reading\n",
            "own.csv, line 1: there are two columns \"point\"",
        ),
        (
            "kind,point,reading\nunit,,cubit\n",
            "own.csv, line 2: the unit \"cubit\" is neither",
        ),
        ("kind,point,reading\nunit,,mm\n", "the survey has no readings"),
    ] {
        let report = refused(text, ADJUST);
        assert!(report.what.contains(what), "{text:?}\n{report}");
    }
}

#[test]
fn options_and_names_are_checked() {
    for (script, what) in [
        (
            "survey(\"front.csv\", #{ leave_out: [3] });",
            "front.csv has no reading in line 3",
        ),
        ("survey(\"front.csv\", #{ units: \"mm\" });", "has no key `units`"),
        (
            "survey(\"front.csv\", #{ unit: \"mm\" });",
            "the unit here is another than the script asks for",
        ),
        (
            "survey(\"front.csv\", #{ deviations: #{ taps: 1 } });",
            "there is no kind of reading `taps`",
        ),
        (
            "survey(\"front.csv\", #{ deviations: #{ station: -1 } }).adjust();",
            "standard deviation",
        ),
        (
            "survey(\"front.csv\").adjust(#{ reject: 0 });",
            "a limit greater than zero",
        ),
        (
            "survey(\"front.csv\").adjust(#{ rejct: 3 });",
            "no option `rejct`",
        ),
        ("survey(\"front.csv\").adjust().pints;", "has no `pints`"),
        (
            "survey(\"front.csv\").adjust().covariance([\"wheel.center\"]);",
            "the survey has no point `wheel.center`",
        ),
        (
            "load(\"front.toml\").place_pickups(survey(\"front.csv\").adjust(), #{ \"wheel.centre\": \"weel.centre\" });",
            "the model has no pickup `weel.centre`",
        ),
        (
            "load(\"rear.toml\").place_pickups(survey(\"front.csv\").adjust());",
            "no point of the survey front.csv has the name of a pickup of rear.toml",
        ),
        ("survey(\"../front.csv\");", "front.csv"),
        (
            "load(\"front.toml\").measurement_plan(#{ tape: 0 });",
            "standard deviation is 0",
        ),
    ] {
        let report = refused("", script);
        assert!(report.what.contains(what), "{script}\n{report}");
    }
}

/// A survey whose axes were chosen puts no pickups into a car.
#[test]
fn tapes_alone_place_no_pickups() {
    let tapes: Vec<String> = notebook()
        .lines()
        .filter(|line| !line.starts_with(['h', 'o', 's']))
        .map(str::to_owned)
        .collect();
    let script = "load(\"front.toml\").place_pickups(survey(\"own.csv\").adjust());";
    let report = refused(&tapes.join("\n"), script);
    let refusals = [
        "does not fix where its points lie",
        "can still move together",
        "nothing fixes",
    ];
    assert!(
        refusals.iter().any(|refusal| report.what.contains(refusal)),
        "{report}"
    );
}

/// No text of a notebook does anything but give an answer or a refusal.
#[test]
fn any_row_ends_in_an_answer_or_a_refusal() {
    let cells = [
        "",
        "tape",
        "a",
        "b",
        "-1",
        "1e9",
        "\u{221e}",
        "999999999 in",
        "0.000001",
        "same",
        "\"",
        "a@b",
        "unit",
    ];
    for first in cells {
        for second in cells {
            for third in cells {
                let own = format!(
                    "kind,point,to,reading\nunit,,,mm\n{first},{second},{third},10\ntape,a,b,{third}\n"
                );
                let garage = garage();
                garage.file("own.csv", &own);
                let _ = garage.run(ADJUST);
            }
        }
    }
}
