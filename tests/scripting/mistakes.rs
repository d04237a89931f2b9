//! Honest mistakes: each gets a message with its line, its column and what to try.

use kin_script::arguments;
use kin_script::host::{ScriptError, Session};
use rhai::{Dynamic, Engine, EvalAltResult, FnPtr, Map, NativeCallContext};
use serde::Deserialize;

use crate::support::{Garage, fails, place};

#[test]
fn misspelt_names_are_suggested() {
    let garage = Garage::new();
    for (script, what, help, line, column) in [
        (
            "let travel = 1;\nprint(travle);",
            "there is no variable `travle`",
            "did you mean `travel`?",
            2,
            7,
        ),
        (
            "let x = sqrtt(4.0);",
            "there is no function `sqrtt`",
            "did you mean `sqrt`?",
            1,
            9,
        ),
        (
            "fn half(x) { x / 2.0 }\nlet y = haalf(4.0);",
            "there is no function `haalf`",
            "did you mean `half`?",
            2,
            9,
        ),
        (
            "let m = #{ extended: 371 };\nprint(m.extnded);",
            "the map has no key `extnded`",
            "did you mean `extended`?",
            2,
            9,
        ),
        (
            "import \"vehicles/wagn\" as w;",
            "there is no file",
            "did you mean \"wagon.rhai\"?",
            1,
            8,
        ),
    ] {
        garage.file("vehicles/wagon.rhai", "fn front() { 1 }");
        let report = fails(&garage, script, what, line, column);
        assert_eq!(report.help.as_deref(), Some(help), "{report}");
    }
}

#[test]
fn values_of_the_wrong_kind_are_named_in_plain_words() {
    let garage = Garage::new();
    let report = fails(
        &garage,
        "let a = 1;\nsqrt(\"4\");",
        "`sqrt` does not take a text",
        2,
        1,
    );
    assert_eq!(
        report.help.as_deref(),
        Some("it is used as sqrt(number) or sqrt(whole number)")
    );
    fails(
        &garage,
        "let a = [1] - #{};",
        "`-` cannot be used between a list [ ] and a map #{ }",
        1,
        13,
    );
    fails(&garage, "if 1 { }", "expected true or false, got a number", 1, 4);
    fails(
        &garage,
        "let a = [1, 2];\na[2];",
        "there is no [2]: the list has 2 items",
        2,
        3,
    );
    fails(
        &garage,
        "for i in 7 { }",
        "`for` needs something to go through",
        1,
        10,
    );
    fails(
        &garage,
        "const A = 1;\nA = 2;",
        "cannot assign to constant A",
        2,
        1,
    );
}

#[test]
fn fractions_of_whole_numbers_are_caught() {
    let garage = Garage::new();
    let report = fails(
        &garage,
        "let x = 1;\nlet y = 7/8;",
        "7 / 8 has no whole answer",
        2,
        10,
    );
    assert_eq!(
        report.help.as_deref(),
        Some("write 7.0 / 8 to get a number, or inches(\"7/8\") for a fraction of an inch")
    );
    fails(
        &garage,
        "let a = 10; let b = 4; let c = a / b;",
        "10 / 4 has no whole answer",
        1,
        34,
    );
    fails(
        &garage,
        "let x = 7/8.inch;",
        "`7/8.inch` divides 7 by 8.inch",
        1,
        9,
    );
    fails(&garage, "let x = 1.0 / 0.0;", "1 is divided by zero", 1, 13);
    fails(
        &garage,
        "let x = inches(\"14 5/7x\");",
        "\"14 5/7x\" cannot be read as inches",
        1,
        9,
    );
    assert!(
        garage
            .run("assert(8 / 4 == 2, \"a\"); assert(inches(\"7/8\") == 7.0 / 8, \"b\");")
            .is_ok()
    );
}

#[test]
fn captured_variables_and_integers_do_what_they_seem_to() {
    let garage = Garage::new();
    let script = "let offset = 5; let add = |x| x + offset; offset = 7;
        assert(add.call(1) == 8, \"a closure sees the variable as it is now\");
        assert([1, 2].map(|x| x * offset) == [7, 14], \"map\");
        assert(sqrt(4) == 2, \"sqrt\"); assert(max(1, 2.5) == 2.5, \"max\");
        print(fmt(2.0 / 3, 2)); debug(nearest_sixteenth(14.6));";
    garage.run(script).unwrap();
    assert_eq!(garage.printed.text(), "0.67\nscript.rhai:5: \"14 5/8\"\n");
}

#[test]
fn reserved_words_cannot_be_redefined() {
    let garage = Garage::new();
    for name in ["sqrt", "inches", "assert", "fmt", "round_to", "max"] {
        fails(
            &garage,
            &format!("let a = 1;\nfn {name}(x) {{ x }}"),
            "is a word of the language",
            2,
            4,
        );
    }
}

#[test]
fn texts_that_cannot_be_read_as_a_script_are_explained() {
    let garage = Garage::new();
    fails(
        &garage,
        "let a = 1;\nlet b = \"open;\nlet c = 2;",
        "a text is opened here and never closed",
        2,
        9,
    );
    fails(&garage, "let a = 1\nlet b = 2;", "`;` is missing here", 2, 1);
    fails(&garage, "let a = 3.5 inch;", "`;` is missing here", 1, 13);
    fails(&garage, "let a = (1 + 2;", "`)` is missing here", 1, 15);
    fails(
        &garage,
        "let a = #{ x: 1, x: 2 };",
        "the key `x` is written twice",
        1,
        18,
    );
    let report = garage.report("fn f() {\n    let a = 1;");
    assert!(
        report.what.contains('}') || report.what.contains("middle"),
        "{report}"
    );
}

#[test]
fn empty_and_huge_scripts_are_refused() {
    let garage = Garage::new();
    fails(&garage, "", "the script is empty", 1, 1);
    fails(&garage, "// only a comment\n", "the script is empty", 1, 1);
    let huge = "let x = 1;\n".repeat(800_000);
    let report = garage.report(&huge);
    assert!(report.what.contains("larger than 1048576 bytes"), "{report}");
    garage.file("huge.rhai", &huge);
    fails(
        &garage,
        "import \"huge\" as h;",
        "larger than 1048576 bytes",
        1,
        8,
    );
}

#[test]
fn a_script_of_one_long_line_is_reported_without_showing_it() {
    let garage = Garage::new();
    let long = format!("let a = [{}];print(b);", "1,".repeat(3000));
    let shown = garage.shown(&fails(&garage, &long, "there is no variable `b`", 1, 6018));
    assert!(
        shown.contains("script.rhai:1:6018") && shown.len() < 400,
        "{shown}"
    );
    let many_lines = format!("{}print(b);", "\n".repeat(70_000));
    assert!(
        garage
            .report(&many_lines)
            .what
            .contains("there is no variable `b`")
    );
    let nested = format!("let a = {}1{};", "(".repeat(5000), ")".repeat(5000));
    assert!(garage.report(&nested).what.contains("inside one another"));
}

#[test]
fn an_error_in_an_imported_function_shows_both_places() {
    let garage = Garage::new();
    garage.file(
        "vehicles/wagon.rhai",
        "// A wagon.\nfn front(width) {\n    let hub = width / \"two\";\n    hub\n}\n",
    );
    let report = garage.report("import \"vehicles/wagon\" as wagon;\nlet corner = wagon::front(1500.0);\n");
    assert_eq!(place(&report), ("wagon.rhai".to_owned(), 3, 21));
    assert_eq!(report.places.len(), 2);
    assert_eq!(
        (report.places[1].file.as_str(), report.places[1].line),
        ("script.rhai", 2)
    );
    assert_eq!(garage.shown(&report), RECORDED_IMPORT);
}

const RECORDED_IMPORT: &str = "  × `/` cannot be used between a number and a text
   ╭─[vehicles/wagon.rhai:3:21]
 2 │ fn front(width) {
 3 │     let hub = width / \"two\";
   ·                     ─
 4 │     hub
   ╰────
  ☞ called from here
   ╭─[script.rhai:2:21]
 1 │ import \"vehicles/wagon\" as wagon;
 2 │ let corner = wagon::front(1500.0);
   ·                     ─────
   ╰────
";

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(dead_code, reason = "only the reading is tested")]
struct Corner {
    coilover: Coilover,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(dead_code, reason = "only the reading is tested")]
struct Coilover {
    upper_mount: [f64; 3],
    extended: f64,
}

fn corner_word(engine: &mut Engine, _: &Session) {
    engine.register_fn("corner", |map: Map| -> Result<i64, Box<EvalAltResult>> {
        arguments::read::<Corner>(map.into(), "the corner")
            .map(|_| 1)
            .map_err(ScriptError::into)
    });
}

#[test]
fn a_mistake_in_a_key_is_shown_at_the_key() {
    let garage = Garage {
        registrars: vec![corner_word],
        ..Garage::new()
    };
    let script = "let front = corner(#{\n    coilover: #{\n        uper_mount: [1, 2, 3],\n        extended: 371,\n    },\n});";
    let report = fails(
        &garage,
        script,
        "the corner has no key `coilover.uper_mount`",
        3,
        9,
    );
    assert_eq!(report.help.as_deref(), Some("did you mean `upper_mount`?"));
    assert_eq!(garage.shown(&report), RECORDED_KEY);
    let changed = "let map = #{ coilover: #{ upper_mount: [1, 2, 3], extended: 371 } };\nmap.coilover.extended = \"14.6\";\nlet front = corner(map);";
    fails(
        &garage,
        changed,
        "`coilover.extended`: expected a number, got the text \"14.6\"",
        2,
        14,
    );
    let elsewhere = "let front = corner(#{ coilover: 7 });";
    fails(
        &garage,
        elsewhere,
        "`coilover`: expected a map #{ }, got the whole number 7",
        1,
        23,
    );
}

const RECORDED_KEY: &str = "  × the corner has no key `coilover.uper_mount`
   ╭─[script.rhai:3:9]
 2 │     coilover: #{
 3 │         uper_mount: [1, 2, 3],
   ·         ──────────
 4 │         extended: 371,
   ╰────
  help: did you mean `upper_mount`?
";

#[derive(Clone)]
struct Sheet;

fn sheet_words(engine: &mut Engine, _: &Session) {
    engine
        .register_type_with_name::<Sheet>("Sheet")
        .register_fn("sheet", || Sheet)
        .register_get("camber", |_: &mut Sheet| 1.5)
        .register_fn("column", |_: &mut Sheet, _name: &str| 2.5)
        .register_fn("each", |context: NativeCallContext, f: FnPtr| {
            f.call_within_context::<Dynamic>(&context, (1_i64,))
        });
}

#[test]
fn misspelt_properties_and_methods_of_our_own_objects_are_suggested() {
    let garage = Garage {
        registrars: vec![sheet_words],
        ..Garage::new()
    };
    let report = fails(
        &garage,
        "let s = sheet();\nprint(s.cambr);",
        "a Sheet has no property `cambr`",
        2,
        9,
    );
    assert_eq!(report.help.as_deref(), Some("did you mean `camber`?"));
    let report = fails(
        &garage,
        "let s = sheet();\ns.camber = 2.0;",
        "`camber` of a Sheet cannot be set to a number",
        2,
        3,
    );
    assert_eq!(report.help, None);
    let report = fails(
        &garage,
        "sheet().colum(\"toe\");",
        "there is no function `colum`",
        1,
        9,
    );
    assert_eq!(report.help.as_deref(), Some("did you mean `column`?"));
    let report = fails(
        &garage,
        "sheet().column(3);",
        "`column` does not take a Sheet and a whole number",
        1,
        9,
    );
    assert_eq!(report.help.as_deref(), Some("it is used as column(Sheet, text)"));
}

#[test]
fn an_error_in_a_closure_called_by_a_word_shows_both_places() {
    let garage = Garage {
        registrars: vec![sheet_words],
        ..Garage::new()
    };
    let script = "let n = 8;\neach(|x| {\n    x / n\n});";
    let report = fails(&garage, script, "1 / 8 has no whole answer", 3, 7);
    assert_eq!(report.places.last().map(|place| place.line), Some(2), "{report}");
}
