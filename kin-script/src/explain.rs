//! Turns any failure into a report: what happened, where, and what to try.

mod failure;
mod locate;
mod parsing;
mod report;
mod running;
pub(crate) mod scan;
mod suggestion;
mod wording;

pub use report::{Fault, Place, Report};
pub use suggestion::suggest;

pub(crate) use failure::{explain, stopped};
pub(crate) use wording::{joined, value_words};
