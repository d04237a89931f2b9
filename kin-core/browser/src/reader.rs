//! Numbers read one after the other.

use kin_core::pickups::{Damper, Point, Spring};

pub(crate) struct Reader<'a>(std::slice::Iter<'a, f64>);

impl<'a> Reader<'a> {
    pub(crate) fn new(numbers: &'a [f64]) -> Self {
        Self(numbers.iter())
    }

    /// The next number; NaN behind the last.
    pub(crate) fn number(&mut self) -> f64 {
        self.0.next().copied().unwrap_or(f64::NAN)
    }

    pub(crate) fn point(&mut self) -> Point {
        let (x, y, z) = (self.number(), self.number(), self.number());
        Point::new(x, y, z)
    }

    /// A count of things.
    pub(crate) fn count(&mut self) -> usize {
        // A number that is no count becomes the nearest one.
        self.number() as usize
    }

    /// A damper, if there is one.
    pub(crate) fn damper(&mut self, carrier: &dyn Fn(f64) -> String) -> Option<Damper> {
        let damper = Damper {
            upper_mount: self.point(),
            lower_mount: self.point(),
            rides_on: carrier(self.number()),
            extended: self.number(),
            compressed: self.number(),
            bump_stop: self.number(),
            upper_stud: None,
            lower_stud: None,
        };
        given(damper.extended).map(|_| damper)
    }

    /// A spring, if there is one.
    pub(crate) fn spring(&mut self, carrier: &dyn Fn(f64) -> String) -> Option<Spring> {
        let (rate, free_length) = (self.number(), given(self.number()));
        let (upper_seat, lower_seat) = (self.number(), self.number());
        let (upper, lower, rides_on) = (self.point(), self.point(), carrier(self.number()));
        let apart = !upper.x.is_nan();
        let spring = Spring {
            rate,
            free_length,
            upper_seat,
            lower_seat,
            upper_mount: apart.then_some(upper),
            lower_mount: apart.then_some(lower),
            rides_on: apart.then_some(rides_on),
        };
        given(rate).map(|_| spring)
    }
}

pub(crate) fn given(value: f64) -> Option<f64> {
    (!value.is_nan()).then_some(value)
}
