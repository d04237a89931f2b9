//! From tape readings on a car to pickup points, with how far each can be trusted.
//!
//! Nobody in a workshop can measure coordinates. They read a tape between two bolt centres, a height above the floor, an
//! offset from a string, a station along the car, the angle of a line to level. A [`Survey`] holds such [`Reading`]s;
//! [`Survey::adjust`] finds the places that fit all of them best (weighted least squares) and says how sure it is; and
//! [`Survey::adjust_rejecting`] finds the readings that do not belong.
//!
//! Two kinds of standard deviation are told apart everywhere, see [`Basis`]: *a priori*, from the standard deviations stated for
//! the readings, and *scaled*, multiplied by sigma0, which is how much worse (or better) the readings agree than was stated.
//!
//! ```
//! use kin_core::survey::{Axis, Basis, Reading, Survey};
//!
//! # fn main() -> Result<(), kin_core::survey::SurveyError> {
//! // A point over two marks on the floor, 400 mm apart along the car: two tapes, a height, and its offset.
//! let mut survey = Survey::default();
//! for (mark, x) in [("front mark", 400.0), ("rear mark", 0.0)] {
//!     survey.fix(mark, Axis::X, x);
//!     survey.fix(mark, Axis::Y, 0.0);
//!     survey.fix(mark, Axis::Z, 0.0);
//! }
//! survey.readings = vec![
//!     Reading::tape("front mark", "pivot", 500.0),
//!     Reading::tape("rear mark", "pivot", 500.0),
//!     Reading::height("pivot", 300.0),
//!     Reading::offset("pivot", 346.4),
//! ];
//! let adjusted = survey.adjust()?;
//! let pivot = adjusted.place("pivot").unwrap_or_default();
//! assert!((pivot.x - 200.0).abs() < 0.1 && (pivot.y - 346.4).abs() < 0.1);
//! assert!(adjusted.standard_deviations("pivot", Basis::APriori).is_some_and(|sd| sd.x < 3.0));
//! # Ok(())
//! # }
//! ```

mod adjust;
mod adjustment;
mod datum;
mod error;
mod gaps;
mod helpful;
mod least_squares;
mod mirror;
mod network;
mod notebook;
mod placement;
mod plan;
mod quality;
mod reading;
mod repeats;
mod start;
mod suspect;
mod symmetry;
mod validate;
mod words;

pub use adjust::{DEFAULT_REJECTION_LIMIT, Rejected};
pub use adjustment::{Adjustment, Basis, JudgedReading};
pub use datum::Datum;
pub use error::SurveyError;
pub use helpful::Helpful;
pub use least_squares::{Equations, LeastSquares, LeastSquaresError, least_squares};
pub use mirror::MirrorImage;
pub use notebook::{DefaultDeviations, FixedCoordinate, Survey};
pub use plan::{MeasurementPlan, PlanStep};
pub use quality::GlobalTest;
pub use reading::{Axis, Kind, Observed, Reading};
pub use repeats::RepeatEstimate;
pub use suspect::Suspect;
pub use symmetry::{SidePair, Straightness, Symmetry, ThrustLine};
pub use words::point_words;
