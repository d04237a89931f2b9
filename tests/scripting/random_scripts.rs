//! Scripts of pieces thrown together: any of them may fail, none may make the program fail.

use kin_script::explain::Fault;
use proptest::prelude::*;

use crate::support::few_steps;

/// Pieces that scripts are made of, thrown together.
fn any_script() -> impl Strategy<Value = String> {
    let pieces = vec![
        "let a = ",
        "a",
        "b",
        "1",
        "2.5",
        "\"é\"",
        "`${",
        "}`",
        "#{",
        "{",
        "}",
        "(",
        ")",
        "[",
        "]",
        ";",
        ",",
        ":",
        ".",
        "fn f(x) { x }",
        "f(",
        "|x| ",
        "x",
        "+",
        "-",
        "/",
        "==",
        "?.",
        "??",
        "if ",
        "else ",
        "while ",
        "loop ",
        "for i in ",
        "0..3",
        "import \"a\" as a;",
        "a::f(",
        "throw ",
        "try ",
        "catch (e) ",
        "switch a { 1 => 2, _ => 3 }",
        "print(",
        "sqrt(",
        "inches(\"14 5/8\")",
        "fmt(a, 2)",
        "this",
        "\n",
        "/*",
        "*/",
        "//",
        "'",
        "\"",
        "7/8.inch",
        "a.push(",
        "a.map(",
        ".call(",
        "Fn(\"f\")",
        "const B = ",
        "export ",
        "return ",
        "break;",
        "private ",
        "a[0] = ",
    ];
    proptest::collection::vec(proptest::sample::select(pieces), 0..25).prop_map(|chosen| chosen.concat())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_script_makes_the_program_itself_fail(script in any_script()) {
        let garage = few_steps();
        garage.file("a.rhai", "fn f(x) { x / 3 }");
        if let Err(report) = garage.run(&script) {
            prop_assert!(report.fault == Fault::Script, "{script}\n{report}");
            prop_assert!(!report.what.is_empty());
        }
    }
}
