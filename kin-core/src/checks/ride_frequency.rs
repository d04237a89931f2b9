//! Ride frequency and critical damping of a mass on a wheel rate.

use std::f64::consts::TAU;

/// Ride frequency (Hz), without the tyre: `sqrt(K/m) / 2 pi`.
///
/// * `wheel_rate` K (N/mm), `sprung_mass` m (kg)
///
/// None when the wheel rate is not positive.
///
/// Source: D. C. Barton, J. D. Fieldhouse, Automotive Chassis Engineering, Springer 2018, pp. 178-179.
/// ```
/// let frequency = kin_core::checks::ride_frequency(28.125, 350.0).unwrap_or(f64::NAN);
/// assert!((frequency - 1.426699).abs() < 1e-6);
/// ```
#[must_use]
pub fn ride_frequency(wheel_rate: f64, sprung_mass: f64) -> Option<f64> {
    // 1000: N/mm to N/m
    let frequency = (1_000.0 * wheel_rate / sprung_mass).sqrt() / TAU;
    (frequency > 0.0 && frequency.is_finite()).then_some(frequency)
}

/// Wheel rate (N/mm) that gives a mass a ride frequency: the inverse of [`ride_frequency`].
///
/// * `frequency` (Hz), `sprung_mass` (kg)
#[must_use]
pub fn wheel_rate_for_frequency(frequency: f64, sprung_mass: f64) -> f64 {
    (TAU * frequency).powi(2) * sprung_mass / 1_000.0
}

/// Critical damping at the wheel (N s/mm): `2 sqrt(K m)`.
///
/// * `wheel_rate` K (N/mm), `sprung_mass` m (kg)
///
/// None when the wheel rate is not positive.
///
/// Source: Barton and Fieldhouse, as for [`ride_frequency`].
#[must_use]
pub fn critical_damping(wheel_rate: f64, sprung_mass: f64) -> Option<f64> {
    // K in N/m gives N s/m; a thousandth of that is N s/mm.
    let damping = 2.0 * (1_000.0 * wheel_rate * sprung_mass).sqrt() / 1_000.0;
    (damping > 0.0 && damping.is_finite()).then_some(damping)
}
