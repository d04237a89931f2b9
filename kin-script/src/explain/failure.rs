//! From the engine's error, one wrapped in another, to a report with its places.

use rhai::{Engine, EvalAltResult};

use super::locate::{place_at, place_of_key};
use super::report::{Fault, Place, Report};
use super::running::run_error;
use crate::host::{ScriptError, Session, Stop};

/// Places a report shows at most: the innermost ones and the outermost.
const PLACES_SHOWN: usize = 4;

/// Explains an error of the script `main`.
pub(crate) fn explain(error: &EvalAltResult, main: &str, engine: &Engine, session: &Session) -> Report {
    let mut places = Vec::new();
    let mut file = main.to_owned();
    let mut innermost = error;
    loop {
        let label = match innermost {
            EvalAltResult::ErrorInFunctionCall(..) => "called from here",
            EvalAltResult::ErrorInModule(..) => "imported here",
            _ => "here",
        };
        let source = session.source(&file);
        places.extend(source.and_then(|source| place_at(&file, &source, innermost.position(), label)));
        innermost = match innermost {
            EvalAltResult::ErrorInFunctionCall(_, function_file, inner, _) => {
                if !function_file.is_empty() {
                    file.clone_from(function_file);
                }
                inner
            }
            EvalAltResult::ErrorInModule(module, inner, _) => {
                file.clone_from(module);
                inner
            }
            _ => break,
        };
    }
    places.reverse();
    if let Some(reason) = session.stop_reason() {
        return Report {
            places: shortened(places),
            ..stopped(reason)
        };
    }
    let source = session.source(&file).unwrap_or_default();
    let error = run_error(innermost, &source, engine, session);
    point_at_key(&mut places, &error);
    Report {
        fault: Fault::Script,
        what: error.what,
        help: error.help,
        places: shortened(places),
    }
}

/// The report on a run that a bound has stopped, without its place.
pub(crate) fn stopped(reason: Stop) -> Report {
    const MIB: usize = 1024 * 1024;
    let endless = "look for a loop that never ends, or work through fewer cases";
    let error = match reason {
        Stop::Operations(most) => {
            ScriptError::new(format!("the script was stopped: it took more than {most} steps"))
                .with_help(endless)
        }
        Stop::Time(most) => ScriptError::new(format!(
            "the script was stopped: it ran longer than {} s",
            most.as_secs_f64()
        ))
        .with_help(
            "look for a loop that never ends; for a long study, `kin run --time-limit SECONDS` allows more",
        ),
        Stop::Memory(most) => ScriptError::new(format!(
            "the script was stopped: it took more than {} MiB of memory",
            most as f64 / MIB as f64
        ))
        .with_help("look for a loop that keeps more and more values"),
        Stop::Printed(most) => ScriptError::new(format!(
            "the script was stopped: it printed more than {most} bytes"
        ))
        .with_help("print less, or write long tables into a file"),
    };
    Report::without_place(error)
}

/// Moves the caret of the innermost place to the key the error is about.
fn point_at_key(places: &mut [Place], error: &ScriptError) {
    if let (Some(innermost), Some(key)) = (places.first_mut(), error.key.as_deref())
        && let Some(place) = place_of_key(innermost, key)
    {
        *innermost = place;
    }
}

/// Drops the middle of a long chain of calls.
fn shortened(mut places: Vec<Place>) -> Vec<Place> {
    if places.len() > PLACES_SHOWN {
        places.drain(PLACES_SHOWN - 1..places.len() - 1);
    }
    places
}
