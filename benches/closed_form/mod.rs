//! Hand-written baselines, each for one fixed layout and nothing else: the limit the general solver is held against.
//!
//! They share no code with the library. A bench program calls [`check::all`] before it measures anything and
//! stops when a baseline does not reproduce its independent reference file, so no ratio is ever printed against
//! a baseline that computes something else.

pub(crate) mod axle;
pub(crate) mod check;
pub(crate) mod clearance;
pub(crate) mod predictor;
pub(crate) mod reference;
pub(crate) mod wishbone;

/// A position that the linkage cannot take, or that the iteration did not reach.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("the linkage cannot be brought to {travel} mm of travel (half the roll difference {half_roll} mm)")]
pub(crate) struct OutOfReach {
    /// Vertical movement of the wheel centre, or the mean of both wheels (mm), bump positive.
    pub(crate) travel: f64,
    /// Half of left minus right wheel travel (mm); 0 for a single corner.
    pub(crate) half_roll: f64,
}

/// Largest first Newton correction (mm of wheel travel, or the same as an angle on a 1 m arm) for which values and
/// rates of the predicted pose are kept and only carried over to first order; above it the pose is evaluated anew.
///
/// What first order leaves out is the square of this over the size of the linkage: 1e-12 / 300 mm, below round-off.
pub(crate) const FIRST_ORDER_LIMIT: f64 = 1e-6;

/// Newton is quadratic from a predicted start; more steps than this mean that there is no such position.
pub(crate) const MOST_ITERATIONS: usize = 12;
