//! Slopes by differences, as witnesses for exact rates.

/// Two estimates of a slope at 0, the second from steps twice as long.
pub(crate) struct Slope {
    /// The better of them.
    pub(crate) fine: f64,
    pub(crate) coarse: f64,
}

impl Slope {
    /// Over five points each, 0.25 and 0.5 mm apart: `(8 (f(h) - f(-h)) - (f(2h) - f(-2h))) / 12 h`.
    ///
    /// None where the curve has no value.
    pub(crate) fn of(curve: impl Fn(f64) -> Option<f64>) -> Option<Self> {
        let over = |distance: f64| Some(curve(distance)? - curve(-distance)?);
        let (quarter, half, whole) = (over(0.25)?, over(0.5)?, over(1.0)?);
        Some(Self {
            fine: (8.0 * quarter - half) / 3.0,
            coarse: (8.0 * half - whole) / 6.0,
        })
    }

    /// Both extrapolated: the error of five points goes with the fourth power of the step, what is left with the sixth.
    ///
    /// On linkages of some hundred millimetres that is far below round-off: a pose is good to about 1e-13 mm, which
    /// over 0.25 mm is 1e-12 of slope on a length.
    pub(crate) fn extrapolated(&self) -> f64 {
        self.fine + (self.fine - self.coarse) / 15.0
    }
}
