//! The fit of a coilover: every check as a report, all of them as one sheet, and the card for putting it together.

mod alignment;
mod answer;
mod anti_roll_bar;
mod asked;
mod bearings;
mod bolt_withdrawal;
mod bolts;
mod brackets;
mod bump_steer;
mod bump_stop;
mod bushings;
mod card;
mod clearance;
mod columns;
mod damper_setting;
mod driveline;
mod heard;
mod hoses;
mod joints;
mod loads;
mod places;
mod report;
mod ride_height;
mod sheet;
mod springs;
mod text;
mod wire_spring;

pub use answer::{Answer, Typed};
pub use asked::Asked;
pub use card::assembly_card;
pub use clearance::clearance_of;
pub use heard::{Heard, Kinds, kind_of};
pub use report::{Entry, Item, Report, Value};
pub use sheet::FitSheet;
pub(crate) use text::{COLUMNS, failed_words, findings, item_lines, paragraph, verdict_words};
pub use text::{report_text, value_text};

use crate::host::ScriptError;
use rhai::Dynamic;

/// A check that a script can ask for by its word, and the fit sheet by its key.
#[derive(Clone, Copy)]
pub struct FitCheck {
    /// Its word and key.
    pub word: &'static str,
    /// The word with `check_` before it: the check that counts for the exit code.
    pub counted: &'static str,
    /// Whether it also asks for ride height's question under `ride_height`.
    pub needs_ride_height: bool,
    /// What it answers and which keys it takes, for `kin words`.
    pub documentation: &'static str,
    /// Runs it on a question in the user's unit.
    pub run: fn(&Asked<'_>, Dynamic) -> Result<Answer, ScriptError>,
}

/// All checks in the order of the work.
pub const CHECKS: &[FitCheck] = &[
    ride_height::CHECK,
    springs::CHECK,
    wire_spring::CHECK,
    bump_stop::CHECK,
    damper_setting::CHECK,
    bearings::CHECK,
    joints::CHECK,
    clearance::CHECK,
    hoses::CHECK,
    loads::CHECK,
    brackets::CHECK,
    bolts::CHECK,
    bolt_withdrawal::CHECK,
    driveline::CHECK,
    anti_roll_bar::CHECK,
    bushings::CHECK,
    alignment::CHECK,
    bump_steer::CHECK,
];
