//! Calibration: readings on the car pull the pickups to where they explain the readings best.
//!
//! Every pickup was measured with an [`Uncertainty`](super::Uncertainty); every [`GaugeReading`] is an [`Outcome`](super::Outcome) with the value that was read and
//! its standard deviation. The most probable pickups make the squares of both, each in its own standard deviations, least
//! (least squares with prior knowledge). A gauge that is set to zero at one place of the travel shifts all its readings
//! alike; such a shift is found with them. Source of the formulas: A. Tarantola, Inverse Problem Theory, SIAM 2005, ch. 3 (from
//! memory).

mod candidates;
mod chance;
mod fit;
mod readings;

pub use candidates::{Alternative, AlternativeEnd, compare_alternatives};
pub use chance::{at_least_chi_square, below_normal};
pub use fit::{Calibration, ReadingEnd, calibrate, outcome_with_deviation};
pub use readings::{CalibrationError, CalibrationQuestion, Gauge, GaugeReading};
