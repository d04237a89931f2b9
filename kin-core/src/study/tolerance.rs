//! What the error of the measurement does to results: to first order, and by building many variants.
//!
//! The linear answer takes each result's exact derivatives and the covariance of the numbers; the Monte Carlo answer
//! builds variants with random errors and looks at them. Where the problem is nearly linear both agree, and where they do
//! not, the variants are right.

mod linear;
mod measure_again;
mod monte_carlo;
mod normal;
mod question;
mod random;
mod read_variant;
mod reasons;
mod result;
mod streamed;
mod turning_point;

pub use measure_again::{MeasureAgain, Measurement, MeasurementRanking, measure_again, with_readings};
pub use question::{CheckVariant, Requirement, Tolerance};
pub use reasons::FailedVariants;
pub use result::{
    BandPoint, CurveBand, FindingShare, LinearResult, OutcomeTolerance, SampledResult, Shares,
    ToleranceResult,
};
pub use turning_point::TurningPoint;
