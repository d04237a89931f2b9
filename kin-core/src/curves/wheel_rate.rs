//! Wheel rate.

/// Wheel rate in its two parts (N/mm), taken at the wheel centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WheelRate {
    /// From the spring: rate times the square of the motion ratio.
    pub from_spring: f64,
    /// From the change of the motion ratio: spring force times its slope. None when the force is not known.
    pub geometric: Option<f64>,
}

impl WheelRate {
    /// The sum of both parts; without a known force, the spring's part alone.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.from_spring + self.geometric.unwrap_or(0.0)
    }
}

/// Wheel rate: the vertical stiffness that a spring gives at the wheel centre, without the tyre.
///
/// `k m^2 + F dm/dz`: the derivative of the wheel force `F m` with respect to travel. The second term is often left
/// out in the shop; it matters when the spring leans a lot or works on a short arm.
///
/// * `spring_rate` k (N/mm), `motion_ratio` m (-), `slope` dm/dz (1/mm)
/// * `spring_force` F (N), compression positive, if it is known
///
/// Source of the first term: D. C. Barton, J. D. Fieldhouse, Automotive Chassis Engineering, Springer 2018,
/// pp. 178-179; the second follows by the product rule.
/// ```
/// let rate = kin_core::curves::wheel_rate(50.0, 0.75, 0.0, Some(4_000.0));
/// assert!((rate.total() - 28.125).abs() < 1e-12);
/// ```
#[must_use]
pub fn wheel_rate(spring_rate: f64, motion_ratio: f64, slope: f64, spring_force: Option<f64>) -> WheelRate {
    WheelRate {
        // k m^2
        from_spring: spring_rate * motion_ratio * motion_ratio,
        // F dm/dz
        geometric: spring_force.map(|force| force * slope),
    }
}
