//! Registering a word with its documentation, and reading its plain arguments.

use rhai::{Dynamic, Engine, FuncRegistration, RhaiNativeFunc};

use super::ScriptError;
use crate::explain::value_words;

/// A word of the script language with the documentation that reference pages are made from.
#[derive(Clone, Copy, Debug)]
pub struct Word {
    /// The name scripts use.
    pub name: &'static str,
    /// Parameters and the result as `name: kind`, the result last without a name.
    pub parameters: &'static [&'static str],
    /// The documentation, plain Markdown without comment marks.
    pub documentation: &'static str,
}

impl Word {
    /// Registers `function` under this word's name.
    pub fn register<A: 'static, const N: usize, const X: bool, R, const F: bool, Function>(
        &self,
        engine: &mut Engine,
        function: Function,
    ) where
        R: Clone + Send + Sync + 'static,
        Function: RhaiNativeFunc<A, N, X, R, F> + Send + Sync + 'static,
    {
        let comments: Vec<String> = self
            .documentation
            .lines()
            .map(|line| format!("/// {line}").trim_end().to_owned())
            .collect();
        FuncRegistration::new(self.name)
            .with_params_info(self.parameters)
            .with_comments(comments)
            .register_into_engine(engine, function);
    }
}

/// Reads a plain number argument: a whole number or a number, and finite.
///
/// `name` is how the argument is called in messages, such as `the radius`.
///
/// # Errors
/// Anything that is not a number, and numbers that are infinite or not a number.
pub fn finite(value: &Dynamic, name: &str) -> Result<f64, ScriptError> {
    let number = match (value.as_float(), value.as_int()) {
        (Ok(number), _) => number,
        // Exact up to 2^53, far beyond any length in a workshop.
        (_, Ok(whole)) => whole as f64,
        _ => {
            return Err(ScriptError::new(format!(
                "{name}: expected a number, got {}",
                value_words(value)
            )));
        }
    };
    if number.is_finite() {
        Ok(number)
    } else {
        Err(
            ScriptError::new(format!("{name} is {number}, which is not a finite number"))
                .with_help("look for a division by zero or an overflow where the number was worked out"),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whole_numbers_and_numbers_are_read_and_others_refused() {
        assert_eq!(finite(&Dynamic::from_int(3), "x"), Ok(3.0));
        assert_eq!(finite(&Dynamic::from_float(2.5), "x"), Ok(2.5));
        assert_eq!(
            finite(&Dynamic::from_float(f64::NAN), "x").unwrap_err().what,
            "x is NaN, which is not a finite number"
        );
        assert_eq!(
            finite(&Dynamic::from("7"), "x").unwrap_err().what,
            "x: expected a number, got the text \"7\""
        );
    }
}
