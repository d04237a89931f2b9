//! The program around a script: what it prints, what it says, and its exit code.

use kin_script::host::Session;
use rhai::Engine;

use crate::support::Garage;

#[test]
fn failed_checks_decide_the_exit_code() {
    fn check(engine: &mut Engine, session: &Session) {
        let session = session.clone();
        engine.register_fn("check", move |holds: bool| {
            if !holds {
                session.record_failed_check("it does not hold");
            }
        });
    }
    let garage = Garage {
        registrars: vec![check],
        ..Garage::new()
    };
    assert_eq!(garage.run("check(true);").unwrap().exit_code(), 0);
    let outcome = garage.run("check(true); check(false); check(false);").unwrap();
    assert_eq!((outcome.failed_checks.len(), outcome.exit_code()), (2, 1));
}

#[test]
fn the_program_runs_a_script_and_says_what_is_wrong() {
    let garage = Garage::new();
    garage.file("good.rhai", "print(\"half is \" + fmt(1.0 / 2, 2));");
    garage.file("bad.rhai", "print(\"here\");\nassert(1 > 2, \"too close\");");
    let kin = |arguments: &[&str]| {
        let output = assert_cmd::Command::cargo_bin("kin")
            .unwrap()
            .current_dir(garage.path(""))
            .args(arguments)
            .output()
            .unwrap();
        let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
        (output.status.code(), text(&output.stdout), text(&output.stderr))
    };
    assert_eq!(
        kin(&["run", "good.rhai"]),
        (Some(0), "half is 0.50\n".to_owned(), String::new())
    );
    assert_eq!(
        kin(&["run", "good.rhai", "--quiet"]),
        (Some(0), String::new(), String::new())
    );
    let (code, printed, error) = kin(&["run", "bad.rhai"]);
    assert_eq!(
        (code, printed.as_str(), error.as_str()),
        (Some(2), "here\n", RECORDED_PROGRAM)
    );
    let (code, _, error) = kin(&["run", "absent.rhai"]);
    assert!(
        code == Some(2) && error.contains("there is no script file \"absent.rhai\""),
        "{error}"
    );
    let (code, _, error) = kin(&["run", "good.rhai", "--output", "."]);
    assert!(
        code == Some(2) && error.contains("holds the script itself"),
        "{error}"
    );
    let (code, _, _) = kin(&["run"]);
    assert_eq!(code, Some(2));
    let (code, help, _) = kin(&["--help"]);
    assert!(
        code == Some(0) && help.contains("Exit code: 0 when every check holds"),
        "{help}"
    );
    assert!(!garage.path("good-output").exists());
}

const RECORDED_PROGRAM: &str = "  × too close
   ╭─[bad.rhai:2:1]
 1 │ print(\"here\");
 2 │ assert(1 > 2, \"too close\");
   · ──────
   ╰────
";
