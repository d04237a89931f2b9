//! Suspension kinematics in three dimensions: pickup points in; curves, exact rates and findings out.
//!
//! The data flows one way:
//!
//! [`pickups`] (what was measured) become a linkage (rigid rods around one carrier); moving the wheel gives a
//! position, and a sweep gives many; [`curves`] such as camber or motion ratio are read from a position; [`checks`]
//! turn them into findings, which say whether a part fits, by how much, and what would mend it.
//!
//! Everything is pure: no files, no printing, no clock. Lengths are millimetres, forces newtons, angles radians
//! (degrees only in descriptions), see [`conventions`].
//!
//! ```
//! use kin_core::{curves::CornerCurve, samples, Along, Corner};
//!
//! # fn main() -> Result<(), kin_core::Error> {
//! let corner = Corner::new(&samples::wagon_front())?;
//! let bump = corner.at(25.0, 0.0)?;
//! let camber = CornerCurve::Camber.value(&bump).unwrap_or(f64::NAN).to_degrees();
//! assert!((camber - -1.152).abs() < 1e-3);
//! let gain = CornerCurve::Camber.rate(&bump, Along::Travel);
//! assert!(gain.is_some_and(|per_mm| per_mm < 0.0));
//! # Ok(())
//! # }
//! ```

pub mod checks;
pub mod conventions;
pub mod curves;
mod dimension;
mod error;
pub mod geometry;
mod linkage;
mod numeric;
mod parallel;
pub mod pickups;
mod pose;
mod rounding;
pub mod samples;
mod sentence;
pub mod study;
pub mod survey;
mod suspension;

pub use dimension::Dimension;
pub use error::Error;
pub use linkage::LinkageError;
pub use nalgebra;
pub use pose::{Pose, PoseError, Reach};
pub use rounding::Rounding;
pub use sentence::{Piece, Sentence};
pub use suspension::{Along, Axle, AxleAlong, AxlePosition, AxleTravel, Corner, CornerPosition};
