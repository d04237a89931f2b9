//! What a script may read and write, and what it may not.

use std::time::Duration;

use kin_script::host::{Limits, Session};
use rhai::{Engine, EvalAltResult};

use crate::support::{Garage, bounded, fails, place};

#[test]
fn there_are_no_words_for_files() {
    let garage = Garage::new();
    for script in [
        "open_file(\"/etc/passwd\");",
        "read(\"x\");",
        "run(\"x\");",
        "import_file(\"x\");",
    ] {
        fails(&garage, script, "there is no function", 1, 1);
    }
}

#[test]
fn imports_that_climb_out_are_refused_at_their_line() {
    let garage = Garage::new();
    std::fs::write(garage.outside().join("secret.rhai"), "export const X = 1;").unwrap();
    garage.file("vehicles/x.rhai", "export const X = 2;");
    let absolute = garage.outside().join("secret").display().to_string();
    for name in [
        "../secret",
        "vehicles/../../secret",
        "./vehicles/x",
        "vehicles/../vehicles/x",
        &absolute,
        "",
        "C:x",
    ] {
        let report = fails(
            &garage,
            &format!("let a = 1;\nimport \"{name}\" as s;"),
            "is refused",
            2,
            8,
        );
        assert!(report.help.is_some_and(|help| help.contains("its own folder")));
    }
    fails(&garage, "import \"vehicles\\\\x\" as s;", "is refused", 1, 8);
    assert!(
        garage
            .run("import \"vehicles/x\" as x; assert(x::X == 2, \"x\");")
            .is_ok()
    );
    assert!(
        garage
            .run("import \"vehicles/x.rhai\" as x; assert(x::X == 2, \"x\");")
            .is_ok()
    );
}

#[cfg(unix)]
#[test]
fn links_that_lead_out_are_refused() {
    let garage = Garage::new();
    std::fs::write(garage.outside().join("secret.rhai"), "export const X = 1;").unwrap();
    let link = |target, name| std::os::unix::fs::symlink(target, garage.path(name)).unwrap();
    link(garage.outside().join("secret.rhai"), "near.rhai");
    link(garage.outside().to_owned(), "up");
    fails(
        &garage,
        "import \"near\" as s;",
        "leads out of the script's own folder",
        1,
        8,
    );
    fails(
        &garage,
        "import \"up/secret\" as s;",
        "leads out of the script's own folder",
        1,
        8,
    );
}

#[test]
fn imports_that_go_round_in_a_circle_are_refused() {
    let garage = Garage::new();
    garage.file("a.rhai", "import \"b\" as b;\nfn f() { 1 }");
    garage.file("b.rhai", "import \"a\" as a;\nfn g() { 2 }");
    let report = garage.report("import \"a\" as a;");
    assert!(report.what.contains("a.rhai -> b.rhai -> a.rhai"), "{report}");
    assert_eq!(place(&report), ("b.rhai".to_owned(), 1, 8));
}

#[test]
fn outputs_land_in_the_output_folder_only() {
    fn save(engine: &mut Engine, session: &Session) {
        let session = session.clone();
        engine.register_fn("save", move |name: &str| -> Result<(), Box<EvalAltResult>> {
            session.output_folder().write(name, b"text")?;
            Ok(())
        });
    }
    let garage = Garage {
        registrars: vec![save],
        ..Garage::new()
    };
    for name in ["../x.txt", "/x.txt", "vehicles/x.txt", "..", "x.rhai"] {
        fails(
            &garage,
            &format!("let a = 1;\nsave(\"{name}\");"),
            "is refused",
            2,
            1,
        );
    }
    let outcome = garage.run("save(\"x.txt\");").unwrap();
    assert_eq!(outcome.files, [garage.outside().join("output/x.txt")]);
    assert_eq!(outcome.exit_code(), 0);
    let budget = Garage {
        registrars: vec![save],
        ..bounded(Limits {
            output_files: 10,
            wall_time: Duration::from_secs(600),
            ..Limits::default()
        })
    };
    fails(
        &budget,
        "let i = 0;\nloop { save(`x${i}.txt`); i += 1; }",
        "may write 10 files",
        2,
        8,
    );
}
