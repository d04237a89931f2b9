//! How the least gap changes with the description.

use super::{Built, Subject};
use crate::Error;
use crate::checks::ClearanceQuestion;

pub(super) fn derivatives(
    _subject: &Subject,
    _built: &Built,
    _question: &ClearanceQuestion,
    _places: &[usize],
) -> Result<Vec<f64>, Error> {
    Err(Error::NoValue { what: "gap" })
}
