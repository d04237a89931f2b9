//! What a script may say, topic by topic.

mod calibrate;
mod checks;
mod choices;
mod compare;
mod curve_reference;
mod described;
mod findings;
mod fit;
mod fit_file;
mod gauge;
mod keys;
mod marked;
mod output;
mod pages;
mod pictures;
mod reference;
mod rows;
mod search;
mod study;
mod survey;
mod survey_points;
mod survey_results;
mod swap;
mod swept;
mod teaching;
mod template;
mod tolerance;

pub(crate) use checks::{stroke_of, stroke_question};
pub use curve_reference::{CurveEntry, curve_entries};
pub use keys::{Key, Kind, all as all_keys};
pub use reference::{Entry, entries};

use crate::host::{Registrar, ScriptError, Words};
use crate::units::Units;
use kin_core::Error;

/// Registers every topic on an engine.
pub const REGISTRARS: [Registrar; 17] = [
    described::register,
    swept::register,
    checks::register,
    fit::register,
    study::register,
    choices::register,
    compare::register,
    swap::register,
    survey::register,
    tolerance::register,
    search::register,
    calibrate::register,
    pictures::register,
    teaching::register,
    pages::register,
    template::register,
    output::register,
];

/// The names a script must not define itself, and the keys to suggest when one is misspelt.
#[must_use]
pub fn words() -> Words {
    let topics = [
        described::NAMES,
        swept::NAMES,
        checks::NAMES,
        study::NAMES,
        choices::NAMES,
        compare::NAMES,
        swap::NAMES,
        survey::NAMES,
        tolerance::NAMES,
        search::NAMES,
        calibrate::NAMES,
        pictures::NAMES,
        teaching::NAMES,
        pages::NAMES,
        template::NAMES,
        output::NAMES,
    ];
    let topics = topics.concat().into_iter().map(str::to_owned);
    let reserved = topics.chain(fit::names()).collect();
    let keys = keys::of_descriptions()
        .chain(swept::KEYS.iter().copied())
        .chain(checks::KEYS.iter().copied())
        .chain(teaching::KEYS.iter().copied())
        .chain(pages::KEYS.iter().copied())
        .chain(survey_results::KEYS.iter().copied())
        .chain(search::KEYS.iter().copied())
        .chain(calibrate::KEYS.iter().copied())
        .map(str::to_owned);
    let curves = crate::readings::Reading::corner_names()
        .into_iter()
        .chain(crate::readings::Reading::axle_names());
    Words {
        reserved,
        keys: keys.chain(curves).collect(),
    }
}

/// A core error as a script's error in the script's units, with the key it is about where there is one.
pub(crate) fn core_error(error: &Error, units: &Units) -> ScriptError {
    let script_error = ScriptError::new(error.sentence().render(units.shown()));
    let Error::Pickups(error) = error else {
        return script_error;
    };
    // A coordinate is named behind its point: the key is the point's.
    let field = error.field();
    script_error.with_key(field.split(' ').next().unwrap_or(field))
}
