//! How close the solver must come, and why.

/// Positions and lengths (mm): the reference is exact to the last digit printed; doubles of a metre's size resolve
/// 1e-13 mm, and a pose is asked to lose no more than five digits of that.
pub(crate) const POSITION_MM: f64 = 1e-8;
/// Angles (deg): 1e-8 mm on an upright of a third of a metre is 2e-9 deg.
pub(crate) const ANGLE_DEG: f64 = 1e-9;
/// Rates: relative, see [`rate_is_close`].
pub(crate) const RATE: f64 = 1e-8;
/// Travel at the limit of reach (mm).
pub(crate) const LIMIT_MM: f64 = 1e-6;

/// Rates near zero are compared with this size instead of their own.
const SMALL: f64 = 1e-3;

/// Whether a rate agrees: relative to its size, or to [`SMALL`] near zero; near the limit of reach, where rates grow
/// like one over the root of the distance, the rounding of the printed travel adds 1e-11 per mm of distance.
pub(crate) fn rate_is_close(found: f64, expected: f64, to_limit_mm: f64) -> bool {
    (found - expected).abs() <= (RATE + 1e-11 / to_limit_mm) * expected.abs().max(SMALL)
}
