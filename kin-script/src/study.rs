//! Studies in a script: what is asked of a variant, and the answer that all studies give in the same form.

mod answer;
mod asked_outcome;
mod asked_uncertainty;
mod calibrate;
mod changes;
mod choices;
mod compare;
mod grid;
mod judged;
mod options;
mod picture;
mod search;
mod sensitivities;
mod spoken;
mod text;
mod tolerance;

pub use answer::{NamedTable, StudyAnswer};
pub(crate) use asked_outcome::in_core;
pub use asked_outcome::{AskedOutcome, Source, outcome_list};
pub use calibrate::calibrate_study;
pub use choices::{Row, choices_answer};
pub use compare::{Compared, comparison};
pub use grid::{check_grid, grid_answer};
pub use judged::{Judged, Met, Questions, how_compared, share};
pub use options::{Alternative, Dimensioned, Options};
pub use picture::StudyPicture;
pub use search::search_study;
pub use sensitivities::sensitivities;
pub use text::study_text;
pub use tolerance::tolerance;

use crate::model::{Body, Model, Suspension, in_core_units};
use kin_core::study::{Built, Subject};

/// The description of a model in core units, for a study to change copies of.
#[must_use]
pub fn subject(model: &Model) -> Subject {
    match &model.body {
        Body::DoubleWishbone { corner, .. } => in_core_units(corner, &model.units).into(),
        Body::LiveAxle(axle) => in_core_units(axle, &model.units).into(),
    }
}

/// A built suspension as the checks of scripts take it.
#[must_use]
pub fn suspension(built: Built) -> Suspension {
    match built {
        Built::Corner(corner) => Suspension::Corner(corner),
        Built::Axle(axle) => Suspension::Axle(axle),
    }
}
