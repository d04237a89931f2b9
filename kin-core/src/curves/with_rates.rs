//! A value together with its exact rates.

use crate::numeric::real::Moving;

/// A value and its exact rate per mm of travel.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ValueAndRate {
    /// The value (mm or rad).
    pub value: f64,
    /// Its rate (mm/mm or rad/mm).
    pub rate: f64,
}

impl From<Moving<f64>> for ValueAndRate {
    fn from(moving: Moving<f64>) -> Self {
        Self {
            value: moving.re,
            rate: moving.eps,
        }
    }
}

/// A value of an axle and its exact rates in both its motions.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ValueAndRates {
    /// The value (mm or rad).
    pub value: f64,
    /// Its rate per mm of travel of both wheels together.
    pub in_heave: f64,
    /// Its rate per mm of the left wheel up, with the right wheel down by as much.
    pub in_roll: f64,
}

impl ValueAndRates {
    pub(crate) fn new(heave: Moving<f64>, roll: Moving<f64>) -> Self {
        Self {
            value: heave.re,
            in_heave: heave.eps,
            in_roll: roll.eps,
        }
    }

    /// Its rates per mm of travel of the left wheel alone and of the right wheel alone.
    #[must_use]
    pub fn by_wheel(&self) -> [f64; 2] {
        [
            0.5 * (self.in_heave + self.in_roll),
            0.5 * (self.in_heave - self.in_roll),
        ]
    }
}
