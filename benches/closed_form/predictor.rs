//! Extrapolation along a sweep from values and exact slopes (Hermite interpolation carried one step beyond).
//!
//! With `h` the step and a prime the derivative by the swept input, newest first:
//!
//! * one point: `y0 + h·y0'`, misses `h²/2·y''`;
//! * two points: `-4 y0 + 5 y1 + h (4 y0' + 2 y1')`, misses `h⁴/6·y''''`;
//! * three points: `-18 y0 + 9 y1 + 10 y2 + h (9 y0' + 18 y1' + 3 y2')`, misses `h⁶/20·y⁽⁶⁾`.
//!
//! As a stand-alone integrator the last two would be unstable; here Newton corrects every value before it is used
//! again, so nothing can grow. The coefficients follow from exactness on the powers 1, x, … x⁵.

/// A value and its derivative by the swept input.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Sample {
    /// The value.
    pub(crate) value: f64,
    /// Its derivative by the swept input.
    pub(crate) slope: f64,
}

/// Value one step of `step` beyond `newest`.
#[inline(always)]
pub(crate) fn from_one(step: f64, newest: Sample) -> f64 {
    newest.value + step * newest.slope
}

/// Value one step beyond `newest`, with `before` one step before it.
#[inline(always)]
pub(crate) fn from_two(step: f64, newest: Sample, before: Sample) -> f64 {
    5.0 * before.value - 4.0 * newest.value + step * (4.0 * newest.slope + 2.0 * before.slope)
}

/// Value one step beyond `newest`, with `before` one step and `oldest` two steps before it.
#[inline(always)]
pub(crate) fn from_three(step: f64, newest: Sample, before: Sample, oldest: Sample) -> f64 {
    9.0 * before.value - 18.0 * newest.value
        + 10.0 * oldest.value
        + step * (9.0 * newest.slope + 18.0 * before.slope + 3.0 * oldest.slope)
}
