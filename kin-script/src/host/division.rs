//! Division that never drops a remainder and never makes an infinity.
//!
//! In Rhai `7 / 8` is 0. A fabricator who writes it means seven eighths, so whole numbers are divided only when
//! the answer is whole. This works because the engine runs without its built-in operators.

use rhai::{Engine, EvalAltResult};

use super::ScriptError;

/// Registers `/` and `/=` for all pairs of whole numbers and numbers.
pub(super) fn register(engine: &mut Engine) {
    engine
        .register_fn("/", whole)
        .register_fn("/", |a: f64, b: f64| real(a, b))
        .register_fn("/", |a: i64, b: f64| real(a as f64, b))
        .register_fn("/", |a: f64, b: i64| real(a, b as f64))
        .register_fn("/=", |a: &mut i64, b: i64| {
            whole(*a, b).map(|quotient| *a = quotient)
        })
        .register_fn("/=", |a: &mut f64, b: f64| {
            real(*a, b).map(|quotient| *a = quotient)
        })
        .register_fn("/=", |a: &mut f64, b: i64| {
            real(*a, b as f64).map(|quotient| *a = quotient)
        });
}

fn whole(a: i64, b: i64) -> Result<i64, Box<EvalAltResult>> {
    if b == 0 {
        return Err(by_zero(&a.to_string()));
    }
    match (a.checked_div(b), a.checked_rem(b)) {
        (Some(quotient), Some(0)) => Ok(quotient),
        (None, _) => Err(ScriptError::new(format!("{a} / {b} is too large for a whole number")).into()),
        _ => Err(ScriptError::new(format!(
            "{a} / {b} has no whole answer, and whole numbers divide to whole numbers only"
        ))
        .with_help(format!(
            "write {a}.0 / {b} to get a number, or inches(\"{a}/{b}\") for a fraction of an inch"
        ))
        .into()),
    }
}

fn real(a: f64, b: f64) -> Result<f64, Box<EvalAltResult>> {
    if b == 0.0 {
        return Err(by_zero(&a.to_string()));
    }
    Ok(a / b)
}

fn by_zero(a: &str) -> Box<EvalAltResult> {
    ScriptError::new(format!("{a} is divided by zero"))
        .with_help("check that the divisor is not zero before dividing")
        .into()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn engine() -> Engine {
        let mut engine = Engine::new();
        engine.set_fast_operators(false);
        register(&mut engine);
        engine
    }

    fn message(script: &str) -> String {
        let error = engine().eval::<rhai::Dynamic>(script).unwrap_err();
        ScriptError::carried_by(&error).unwrap().what
    }

    #[test]
    fn exact_division_of_whole_numbers_stays_whole() {
        assert_eq!(engine().eval::<i64>("24 / 8").unwrap(), 3);
        assert_eq!(engine().eval::<i64>("let a = 24; a /= -8; a").unwrap(), -3);
    }

    #[test]
    fn inexact_division_of_whole_numbers_is_refused_even_between_constants() {
        for script in [
            "7 / 8",
            "let a = 7; let b = 8; a / b",
            "let a = 7; a /= 8; a",
            "const A = 7; A / 8",
        ] {
            let error = message(script);
            assert!(error.contains("7 / 8 has no whole answer"), "{script}: {error}");
        }
    }

    #[test]
    fn numbers_divide_as_numbers() {
        assert_eq!(engine().eval::<f64>("7.0 / 8").unwrap(), 0.875);
        assert_eq!(engine().eval::<f64>("7 / 8.0").unwrap(), 0.875);
        assert_eq!(engine().eval::<f64>("let a = 7.0; a /= 8; a").unwrap(), 0.875);
    }

    #[test]
    fn division_by_zero_is_an_error_of_its_own() {
        for script in [
            "1 / 0",
            "1.0 / 0.0",
            "0.0 / 0",
            "1 / 0.0",
            "let a = 1.0; a /= 0; a",
        ] {
            let error = message(script);
            assert!(error.contains("divided by zero"), "{script}: {error}");
        }
        let smallest = message("(-9223372036854775807 - 1) / -1");
        assert!(smallest.contains("too large"), "{smallest}");
    }
}
