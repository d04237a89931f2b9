//! The words every script has, whatever the vocabulary on top: assertions, rounding, inches.

use rhai::{Dynamic, Engine, EvalAltResult};

use super::{ScriptError, Word, finite, inches, nearest_sixteenth};
use crate::arguments::to_value;
use crate::explain::value_words;

/// Names a script must not define functions under.
pub(super) const NAMES: [&str; 8] = [
    "assert",
    "assert_near",
    "fmt",
    "round_to",
    "inches",
    "nearest_sixteenth",
    "sleep",
    "timestamp",
];

type Answer<T> = Result<T, Box<EvalAltResult>>;

/// Registers the fixed words, and closes the words of the language that a bounded, repeatable run cannot have.
pub(super) fn register(engine: &mut Engine) {
    register_assertions(engine);
    register_rounding(engine);
    register_inches(engine);
    close(engine);
    engine
        .register_type_with_name::<ScriptError>("ScriptError")
        .register_fn("to_string", |error: &mut ScriptError| error.what.clone())
        .register_fn("to_debug", |error: &mut ScriptError| error.what.clone());
}

fn register_assertions(engine: &mut Engine) {
    Word {
        name: "assert",
        parameters: &["condition: true/false", "message: text"],
        documentation: "Ends the script with `message` unless `condition` is true.",
    }
    .register(engine, |condition: Dynamic, message: &str| {
        assert(&condition, message)
    });
    engine.register_fn("assert", |condition: Dynamic| {
        assert(&condition, "the assertion does not hold")
    });
    Word {
        name: "assert_near",
        parameters: &[
            "value: number",
            "expected: number",
            "tolerance: number",
            "message: text",
        ],
        documentation: "Ends the script unless `value` is within `tolerance` of `expected`.",
    }
    .register(
        engine,
        |value: Dynamic, expected: Dynamic, tolerance: Dynamic, message: &str| {
            assert_near(&value, &expected, &tolerance, message)
        },
    );
}

fn register_rounding(engine: &mut Engine) {
    Word {
        name: "fmt",
        parameters: &["x: number", "digits: integer", "text"],
        documentation: "Writes `x` with that many digits after the decimal point: `fmt(2.0 / 3, 2)` is `0.67`.",
    }
    .register(engine, |x: Dynamic, digits: i64| -> Answer<String> { Ok(rounded(&x, digits)?) });
    Word {
        name: "round_to",
        parameters: &["x: number", "digits: integer", "number"],
        documentation: "Rounds `x` to that many digits after the decimal point.",
    }
    .register(engine, |x: Dynamic, digits: i64| -> Answer<f64> {
        let text = rounded(&x, digits)?;
        text.parse()
            .map_err(|_| ScriptError::new(format!("{text} cannot be read back as a number")).into())
    });
}

fn register_inches(engine: &mut Engine) {
    Word {
        name: "inches",
        parameters: &["text: text", "number"],
        documentation: "Reads inches as a tape shows them, into a number of inches: `inches(\"14 5/8\")` is \
                        14.625.\nFeet may stand before them: `inches(\"5' 2 1/2\\\"\")` is 62.5.",
    }
    .register(engine, |text: &str| -> Answer<f64> { Ok(inches(text)?) });
    Word {
        name: "nearest_sixteenth",
        parameters: &["inches: number", "text"],
        documentation: "Writes a number of inches to the nearest sixteenth: `nearest_sixteenth(14.6)` is `14 5/8`.",
    }
    .register(engine, |x: Dynamic| -> Answer<String> {
        Ok(nearest_sixteenth(finite(&x, "the length in inches")?)?)
    });
}

fn close(engine: &mut Engine) {
    let sleep = || ScriptError::new("a script cannot sleep").with_help("leave the sleep out");
    engine
        .register_fn("sleep", move |_seconds: i64| -> Answer<()> {
            Err(sleep().into())
        })
        .register_fn("sleep", move |_seconds: f64| -> Answer<()> {
            Err(sleep().into())
        })
        .register_fn("timestamp", || -> Answer<()> {
            Err(ScriptError::new(
                "a script cannot read the clock, so that it gives the same answer every time",
            )
            .into())
        })
        // The language's own version waits for ever on a map that holds a closure which captured the map.
        .register_fn("to_json", |map: rhai::Map| -> Answer<String> {
            Ok(to_value(Dynamic::from_map(map), "the map")?.to_string())
        });
}

fn assert(condition: &Dynamic, message: &str) -> Answer<()> {
    match condition.as_bool() {
        Ok(true) => Ok(()),
        Ok(false) => Err(ScriptError::new(message).into()),
        Err(_) => Err(ScriptError::new(format!(
            "assert: expected true or false, got {}",
            value_words(condition)
        ))
        .with_help("write a comparison, such as assert(margin > 5.0, \"less than 5 mm left\")")
        .into()),
    }
}

fn assert_near(value: &Dynamic, expected: &Dynamic, tolerance: &Dynamic, message: &str) -> Answer<()> {
    let tolerance = finite(tolerance, "the tolerance")?;
    if tolerance < 0.0 {
        return Err(ScriptError::new(format!("the tolerance is {tolerance}, below zero")).into());
    }
    let (value, expected) = (
        finite(value, "the value")?,
        finite(expected, "the expected value")?,
    );
    let off = (value - expected).abs();
    if off <= tolerance {
        return Ok(());
    }
    Err(ScriptError::new(format!(
        "{message}: got {value}, expected {expected} within {tolerance}, off by {off}"
    ))
    .into())
}

fn rounded(x: &Dynamic, digits: i64) -> Result<String, ScriptError> {
    let x = finite(x, "the number")?;
    let digits = usize::try_from(digits)
        .ok()
        .filter(|digits| *digits <= 17)
        .ok_or_else(|| ScriptError::new(format!("{digits} digits after the point: expected 0 to 17")))?;
    let text = format!("{x:.digits$}");
    let is_zero = text.bytes().all(|byte| matches!(byte, b'-' | b'0' | b'.'));
    Ok(if is_zero {
        text.trim_start_matches('-').to_owned()
    } else {
        text
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn engine() -> Engine {
        let mut engine = Engine::new();
        register(&mut engine);
        engine
    }

    fn message(script: &str) -> String {
        ScriptError::carried_by(&engine().eval::<Dynamic>(script).unwrap_err())
            .unwrap()
            .what
    }

    #[test]
    fn numbers_are_written_rounded_and_without_a_negative_zero() {
        assert_eq!(engine().eval::<String>("fmt(0.1 + 0.2, 2)").unwrap(), "0.30");
        assert_eq!(engine().eval::<String>("fmt(-0.001, 2)").unwrap(), "0.00");
        assert_eq!(engine().eval::<String>("fmt(7, 1)").unwrap(), "7.0");
        assert_eq!(
            engine().eval::<f64>("round_to(76.19999999999999, 3)").unwrap(),
            76.2
        );
        assert!(message("fmt(1.0, -1)").contains("expected 0 to 17"));
        assert!(message("fmt(1.0, 18)").contains("expected 0 to 17"));
    }

    #[test]
    fn assertions_say_what_was_found() {
        assert!(
            engine()
                .run("assert(true, \"a\"); assert_near(1, 1.05, 0.1, \"b\");")
                .is_ok()
        );
        assert!(message("assert(1 > 2, \"too close\")").contains("too close"));
        assert!(message("assert(1, \"x\")").contains("expected true or false, got the whole number 1"));
        assert!(
            message("assert_near(1.5, 1, 0.1, \"gain\")")
                .contains("gain: got 1.5, expected 1 within 0.1, off by 0.5")
        );
        assert!(message("assert_near(1, 1, -0.1, \"gain\")").contains("below zero"));
    }

    #[test]
    fn sleep_and_the_clock_are_closed() {
        assert!(message("sleep(2)").contains("cannot sleep"));
        assert!(message("sleep(0.5)").contains("cannot sleep"));
        assert!(message("timestamp()").contains("cannot read the clock"));
    }

    #[test]
    fn a_map_that_holds_a_closure_over_itself_is_refused_as_json() {
        assert!(message("let m = #{}; let f = || m; m.f = f; m.to_json()").contains("`f`"));
        assert_eq!(
            engine()
                .eval::<String>("#{a: 1, b: [2.5, \"x\"]}.to_json()")
                .unwrap(),
            r#"{"a":1,"b":[2.5,"x"]}"#
        );
    }

    #[test]
    fn an_error_that_is_caught_can_be_printed() {
        let script =
            "let text = \"\"; try { assert(false, \"too close\") } catch (e) { text = `caught: ${e}`; } text";
        let text = engine().eval::<String>(script);
        assert_eq!(text.unwrap(), "caught: too close");
    }
}
