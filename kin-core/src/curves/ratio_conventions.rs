//! One motion ratio in the three forms that the trade uses.

/// The motion ratio in the three forms in use. Which one a book, a spring maker or a colleague means is often not said;
/// a ratio below one is the first or the third, one above one the second.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RatioConventions {
    /// Damper travel over wheel travel (-): the form used everywhere in this library.
    pub damper_over_wheel: f64,
    /// Wheel travel over damper travel (-).
    pub wheel_over_damper: f64,
    /// The first form squared (-): wheel rate over spring rate, but for the part that the change of the ratio adds.
    pub squared: f64,
}

impl RatioConventions {
    /// The three forms of a motion ratio; none where the damper does not move, since the second form has no value there.
    ///
    /// * `motion_ratio`: damper travel over wheel travel (-)
    ///
    /// Source of the three forms: common practice, no source.
    /// ```
    /// let forms = kin_core::curves::RatioConventions::of(0.5).unwrap();
    /// assert_eq!((forms.wheel_over_damper, forms.squared), (2.0, 0.25));
    /// ```
    #[must_use]
    pub fn of(motion_ratio: f64) -> Option<Self> {
        let forms = Self {
            damper_over_wheel: motion_ratio,
            wheel_over_damper: motion_ratio.recip(),
            squared: motion_ratio * motion_ratio,
        };
        (forms.wheel_over_damper.is_finite() && forms.squared.is_finite()).then_some(forms)
    }
}
