//! Mathematics that takes whole numbers as well as numbers, and answers with finite numbers only.

use rhai::{Dynamic, Engine, EvalAltResult};

use super::{ScriptError, finite};

type OfOne = fn(f64) -> f64;
type OfTwo = fn(f64, f64) -> f64;

/// Functions of one number. Angles are in radians, as in the language itself.
const OF_ONE: [(&str, OfOne); 18] = [
    ("sqrt", f64::sqrt),
    ("exp", f64::exp),
    ("ln", f64::ln),
    ("log", f64::log10),
    ("sin", f64::sin),
    ("cos", f64::cos),
    ("tan", f64::tan),
    ("asin", f64::asin),
    ("acos", f64::acos),
    ("atan", f64::atan),
    ("sinh", f64::sinh),
    ("cosh", f64::cosh),
    ("tanh", f64::tanh),
    ("asinh", f64::asinh),
    ("acosh", f64::acosh),
    ("atanh", f64::atanh),
    ("to_degrees", f64::to_degrees),
    ("to_radians", f64::to_radians),
];

/// Functions of two numbers, with the same meaning as in the language itself.
const OF_TWO: [(&str, OfTwo); 3] = [("hypot", f64::hypot), ("atan", f64::atan2), ("log", f64::log)];

/// Names of functions that leave a whole number as it is.
const ROUNDING: [&str; 5] = ["floor", "ceiling", "round", "int", "to_int"];

/// Every name registered here, and those of the language that a script must not redefine either.
pub(super) fn names() -> impl Iterator<Item = &'static str> {
    let of_one = OF_ONE.iter().map(|(name, _)| *name);
    let of_two = OF_TWO.iter().map(|(name, _)| *name);
    of_one
        .chain(of_two)
        .chain(ROUNDING)
        .chain(["abs", "min", "max", "PI", "E", "print", "debug"])
}

/// Registers the functions for whole numbers, and for numbers with the answer checked.
pub(super) fn register(engine: &mut Engine) {
    for (name, function) in OF_ONE {
        engine.register_fn(name, move |x: f64| of_one(name, function, x));
        engine.register_fn(name, move |x: i64| of_one(name, function, x as f64));
    }
    for (name, function) in OF_TWO {
        engine.register_fn(name, move |x: f64, y: f64| of_two(name, function, x, y));
        engine.register_fn(name, move |x: Dynamic, y: Dynamic| {
            of_two(
                name,
                function,
                finite(&x, "the first number")?,
                finite(&y, "the second number")?,
            )
        });
    }
    for name in ROUNDING {
        engine.register_fn(name, |x: i64| x);
    }
}

fn of_one(name: &str, function: OfOne, x: f64) -> Result<f64, Box<EvalAltResult>> {
    let result = function(x);
    if result.is_finite() {
        Ok(result)
    } else {
        Err(ScriptError::new(format!("{name}({x}) has no finite answer")).into())
    }
}

fn of_two(name: &str, function: OfTwo, x: f64, y: f64) -> Result<f64, Box<EvalAltResult>> {
    let result = function(x, y);
    if result.is_finite() {
        Ok(result)
    } else {
        Err(ScriptError::new(format!("{name}({x}, {y}) has no finite answer")).into())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn engine() -> Engine {
        let mut engine = Engine::new();
        register(&mut engine);
        engine
    }

    #[test]
    fn whole_numbers_are_taken_where_numbers_are_meant() {
        assert_eq!(engine().eval::<f64>("sqrt(4)").unwrap(), 2.0);
        assert_eq!(engine().eval::<f64>("hypot(3, 4.0)").unwrap(), 5.0);
        assert_eq!(
            engine().eval::<f64>("atan(1, 1)").unwrap(),
            std::f64::consts::FRAC_PI_4
        );
        assert_eq!(engine().eval::<i64>("abs(-4)").unwrap(), 4);
        assert_eq!(engine().eval::<f64>("max(1, 2.5)").unwrap(), 2.5);
        assert_eq!(engine().eval::<f64>("min(3.0, 2)").unwrap(), 2.0);
        assert_eq!(engine().eval::<i64>("round(7) + 7.floor()").unwrap(), 14);
    }

    #[test]
    fn numbers_keep_the_meaning_of_the_language() {
        let plain = Engine::new();
        for (name, _) in OF_ONE {
            let argument = if name == "acosh" { "1.5" } else { "0.5" };
            let script = format!("{name}({argument})");
            assert_eq!(
                engine().eval::<f64>(&script).unwrap(),
                plain.eval::<f64>(&script).unwrap(),
                "{name}"
            );
        }
        for (name, _) in OF_TWO {
            let script = format!("{name}(8.0, 2.0)");
            assert_eq!(
                engine().eval::<f64>(&script).unwrap(),
                plain.eval::<f64>(&script).unwrap(),
                "{name}"
            );
        }
    }

    #[test]
    fn answers_that_are_no_number_are_errors() {
        for script in [
            "sqrt(-4)",
            "ln(0.0)",
            "asin(2)",
            "sqrt(0.0 - 1.0)",
            "log(8.0, 1.0)",
            "exp(1000)",
        ] {
            let error = ScriptError::carried_by(&engine().eval::<f64>(script).unwrap_err())
                .unwrap()
                .what;
            assert!(error.contains("has no finite answer"), "{script}: {error}");
        }
    }
}
