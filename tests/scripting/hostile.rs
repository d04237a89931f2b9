//! Scripts that try to run for ever or to eat the memory.

use std::time::Duration;

use kin_script::explain::Fault;
use kin_script::host::{Limits, Session};
use rhai::{Dynamic, Engine, EvalAltResult, FnPtr, NativeCallContext};

use crate::support::{Garage, bounded, fails, few_steps, place};

#[test]
fn endless_loops_are_stopped() {
    for script in [
        "let x = 0;\nloop { x += 1; }",
        "let x = 0;\nwhile true { }",
        "let x = 0;\nloop { }",
        "let x = 0;\ndo { } while true;",
        "let x = 0;\nfor i in 0..9000000000000000000 { x += i % 2; }",
    ] {
        let report = few_steps().report(script);
        assert_eq!(
            report.what, "the script was stopped: it took more than 100000 steps",
            "{script}"
        );
        assert_eq!(report.places[0].line, 2, "{report}");
    }
}

#[test]
fn a_loop_that_catches_the_stop_is_stopped_again() {
    let script = "fn spin() { loop { let x = 1; } }\nloop { try { spin(); } catch { } }";
    assert!(few_steps().report(script).what.contains("more than 100000 steps"));
}

#[test]
fn the_clock_stops_a_script_at_its_line() {
    let garage = bounded(Limits {
        wall_time: Duration::ZERO,
        grace: Duration::from_secs(600),
        ..Limits::default()
    });
    let report = garage.report("let x = 0;\nloop { x += 1; }");
    assert!(report.what.contains("ran longer than 0 s"), "{report}");
    assert_eq!(report.places[0].line, 2);
}

#[test]
fn a_native_step_that_never_ends_is_given_up() {
    fn hang(engine: &mut Engine, _: &Session) {
        engine.register_fn("hang", || {
            loop {
                std::thread::park();
            }
        });
    }
    let limits = Limits {
        wall_time: Duration::ZERO,
        grace: Duration::from_millis(100),
        ..Limits::default()
    };
    let garage = Garage {
        registrars: vec![hang],
        ..bounded(limits)
    };
    assert!(garage.report("hang();").what.contains("ran longer than"));
}

#[test]
fn calls_of_closures_from_native_words_add_up() {
    fn repeat(engine: &mut Engine, _: &Session) {
        engine.register_fn(
            "repeat",
            |context: NativeCallContext, count: i64, f: FnPtr| -> Result<(), Box<EvalAltResult>> {
                (0..count).try_for_each(|_| f.call_within_context::<Dynamic>(&context, ()).map(|_| ()))
            },
        );
    }
    let garage = Garage {
        registrars: vec![repeat],
        ..few_steps()
    };
    assert!(
        garage
            .run("repeat(10, || { for i in 0..100 { let x = i; } });")
            .is_ok()
    );
    let report = garage.report("repeat(100000, || { for i in 0..100 { let x = i; } });");
    assert!(report.what.contains("more than 100000 steps"), "{report}");
}

#[test]
fn runaway_recursion_is_stopped_at_the_call_that_began_it() {
    let garage = Garage::new();
    let script = "fn deeper(n) {\n    deeper(n + 1)\n}\nlet a = 1; deeper(1);";
    let report = fails(&garage, script, "more than 64 levels deep", 4, 12);
    assert!(report.help.is_some_and(|help| help.contains("calls itself")));
    let mutual = "fn a(n) { b(n) }\nfn b(n) { a(n) }\na(1);";
    assert!(garage.report(mutual).what.contains("levels deep"));
}

#[test]
fn values_that_grow_without_end_are_stopped() {
    let garage = bounded(Limits {
        text_bytes: 10_000,
        list_items: 1000,
        map_keys: 500,
        wall_time: Duration::from_secs(600),
        ..Limits::default()
    });
    for (script, what) in [
        (
            "let s = \"x\";\nloop { s += s; }",
            "a text grows over 10000 bytes",
        ),
        ("let a = [];\nloop { a.push(1); }", "a list grows over 1000 items"),
        ("let a = [1];\nloop { a += a; }", "a list grows over 1000 items"),
        (
            "let a = [1];\nloop { a = [a, a]; }",
            "a list grows over 1000 items",
        ),
        (
            "let a = [1];\nloop { a.push(a); }",
            "a list grows over 1000 items",
        ),
        ("let a = [];\nloop { a = [a]; }", "a list grows over 1000 items"),
        (
            "let m = #{}; let i = 0;\nloop { m[`k${i}`] = i; i += m.len() / m.len(); }",
            "a map grows over 500 keys",
        ),
        (
            "let m = #{};\nloop { m = #{a: m, b: m}; }",
            "a map grows over 500 keys",
        ),
        (
            "let s = \"x\";\nloop { s.pad(1000000000, \"y\"); }",
            "a text grows over 10000 bytes",
        ),
        (
            "let a = [];\nloop { a.pad(1000000000, 0); }",
            "a list grows over 1000 items",
        ),
        (
            "let b = 0;\nlet a = blob(1000000000, 7);",
            "a list grows over 1000 items",
        ),
    ] {
        let report = garage.report(script);
        assert_eq!(report.what, what, "{script}");
        assert_eq!(report.places[0].line, 2, "{report}");
    }
}

/// The engine looks at the size of a map only when the map is read, so steps and memory have to bound the rest.
#[test]
fn a_map_that_is_only_written_to_is_bounded_by_steps() {
    let report = few_steps().report("let m = #{}; let i = 0;\nloop { m[`k${i}`] = i; i += 1; }");
    assert!(report.what.contains("more than 100000 steps"), "{report}");
    assert_eq!(report.places[0].line, 2, "{report}");
}

/// The memory is counted for the whole program, so these run as programs of their own.
#[test]
fn memory_hidden_from_the_size_limits_is_bounded() {
    for script in [
        // Many values, each within its limit.
        "let all = [];\nlet i = 0;\nloop { let kept = []; kept.pad(90000, i); let f = || kept; all.push(f); i += 1; }",
        // Keys count as one each, however long they are.
        "let key = \"x\";\nkey.pad(4000000, \"x\");\nlet m = #{};\nlet i = 0;\nloop { m[key + i] = 1; i += 1; }",
        // Each copy holds two of the one before.
        "let f = Fn(\"x\");\nloop { f = f.curry(f); }",
        // A chain of closures, each holding the one before; dropping it goes as deep as it is long.
        "let f = || 1;\nloop { let g = f; f = || g.call(); }",
        // A value that holds itself is never freed.
        "loop { let a = [0];\na.pad(10000, 7); let f = || a; a[0] = f; }",
    ] {
        let garage = Garage::new();
        garage.file("bomb.rhai", script);
        let output = assert_cmd::Command::cargo_bin("kin")
            .unwrap()
            .current_dir(garage.outside())
            .arg("run")
            .arg(garage.path("bomb.rhai"))
            .output()
            .unwrap();
        let shown = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{script}\n{shown}");
        assert!(shown.contains("more than 192 MiB of memory"), "{script}\n{shown}");
        assert!(shown.contains("bomb.rhai:"), "{shown}");
    }
}

#[test]
fn deeply_nested_values_can_be_printed_and_dropped() {
    // The meter counts the whole program, and other tests run in it at the same time.
    let garage = bounded(Limits {
        memory_bytes: 1 << 30,
        ..Limits::default()
    });
    let script = "let a = []; for i in 0..2000 { a = [a]; } let m = #{}; for i in 0..1000 { m = #{m: m}; }\n\
                  let b = a; print(`${a}`.len); print(a == b); print(`${m}`.len);\n\
                  let f = || 1; for i in 0..100000 { let g = f; f = || g.call(); } debug(f); f = 0;";
    assert!(garage.run(script).is_ok());
}

#[test]
fn too_much_print_is_stopped() {
    let garage = bounded(Limits {
        print_bytes: 1000,
        wall_time: Duration::from_secs(600),
        ..Limits::default()
    });
    let report = garage.report("let x = 0;\nloop { print(\"0123456789\"); }");
    assert!(report.what.contains("printed more than 1000 bytes"), "{report}");
    assert_eq!(report.places[0].line, 2);
    assert_eq!(garage.printed.text().len(), 990);
    let last = garage.report(&format!("print(\"{}\");", "x".repeat(3000)));
    assert!(last.what.contains("printed more than 1000 bytes"));
}

#[test]
fn too_many_variables_functions_and_imports_are_stopped() {
    let garage = bounded(Limits {
        variables: 20,
        functions: 5,
        modules: 3,
        ..Limits::default()
    });
    let many = (0..30).map(|i| format!("let v{i} = {i};\n")).collect::<String>();
    assert!(garage.report(&many).what.contains("more than 20 variables"));
    let many = (0..30)
        .map(|i| format!("fn f{i}() {{ {i} }}\n"))
        .collect::<String>();
    assert!(garage.report(&many).what.contains("too many functions"));
    for (name, text) in [
        ("a", "import \"b\" as b;"),
        ("b", "import \"c\" as c;"),
        ("c", "\n  import \"d\" as d;"),
        ("d", "fn f() { 1 }"),
    ] {
        garage.file(&format!("{name}.rhai"), text);
    }
    let one_by_one = "import \"d\" as a;\nimport \"d\" as b;\nimport \"d\" as c;\nimport \"d\" as d;";
    fails(&garage, one_by_one, "more than 3 imports", 4, 1);
    let report = garage.report("import \"a\" as a;");
    assert!(report.what.contains("more than 3 files are imported"), "{report}");
    assert_eq!(place(&report), ("c.rhai".to_owned(), 2, 10));
}

#[test]
fn sleep_eval_and_the_clock_are_closed() {
    let garage = Garage::new();
    fails(&garage, "let a = 1;\nsleep(2);", "a script cannot sleep", 2, 1);
    fails(&garage, "sleep(0.5);", "a script cannot sleep", 1, 1);
    fails(
        &garage,
        "let a = 1; eval(\"1 + 1\");",
        "`eval` is switched off",
        1,
        12,
    );
    fails(&garage, "let t = timestamp();", "cannot read the clock", 1, 9);
}

#[test]
fn an_imported_file_is_bounded_like_the_script() {
    let garage = few_steps();
    garage.file("spin.rhai", "fn f() { 1 }\nloop { let x = 1; }");
    let report = garage.report("import \"spin\" as spin;");
    assert!(report.what.contains("more than 100000 steps"), "{report}");
    assert_eq!((place(&report).0.as_str(), place(&report).1), ("spin.rhai", 2));
    garage.file("hides.rhai", "fn sqrt(x) { x }");
    let report = garage.report("import \"hides\" as hides;");
    assert!(report.what.contains("`sqrt` is a word of the language"));
    assert_eq!(place(&report), ("hides.rhai".to_owned(), 1, 4));
}

#[test]
fn a_panic_in_a_word_is_a_defect_of_the_program() {
    fn trip(engine: &mut Engine, _: &Session) {
        engine.register_fn("trip", || {
            let empty: [i64; 0] = std::hint::black_box([]);
            assert!(!empty.is_empty(), "tripped");
        });
    }
    let garage = Garage {
        registrars: vec![trip],
        ..Garage::new()
    };
    let report = garage.report("trip();");
    assert_eq!(report.fault, Fault::Program);
    assert!(
        report
            .what
            .contains("a defect in it and not in the script: tripped"),
        "{report}"
    );
}

#[test]
fn a_number_that_is_not_finite_is_refused_by_words() {
    let garage = Garage::new();
    for script in [
        "let x = 1e308 * 10.0;\nlet t = fmt(x - x, 2);",
        "let x = 1e308 * 10.0;\nlet t = round_to(x, 2);",
        "let x = 1e308 * 10.0;\nlet t = nearest_sixteenth(x);",
        "let x = 1e308 * 10.0;\nlet t = assert_near(x - x, 1.0, 1.0, \"gain\");",
        "let x = 1e308 * 10.0;\nlet t = hypot(x, 1);",
    ] {
        fails(&garage, script, "not a finite number", 2, 9).help.unwrap();
    }
}
