//! Studies: what happens to the curves and findings when pickups or parts change.
//!
//! A [`Subject`] is a description whose numbers have names; a changed copy of it is a variant, and a [`Outcome`] is one
//! number read from a variant. Every study is made of these three.

mod gap_gradient;
mod gradient;
mod outcome;
mod progress;
mod reading;
mod sensitivity;
mod subject;
mod tolerance;
mod travel_range;
mod uncertainty;

pub use outcome::{Outcome, StrokeReading};
pub use progress::{Progress, Unwatched};
pub use reading::{Reading, Station};
pub use sensitivity::Sensitivity;
pub use subject::{Built, Number, NumberError, Subject};
pub use tolerance::{
    BandPoint, CheckVariant, CurveBand, FailedVariants, FindingShare, LinearResult, MeasureAgain,
    Measurement, MeasurementRanking, OutcomeTolerance, Requirement, SampledResult, Shares, Tolerance,
    ToleranceResult, TurningPoint, measure_again, with_readings,
};
pub use uncertainty::{Uncertainty, UncertaintyError};
