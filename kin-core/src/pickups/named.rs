//! The numbers of a description by the keys that lead to them, such as `upper_arm.ball_joint.z`.

use super::Point;
use super::measured::{Measured, Quantity};

/// A walk through a description: it knows which keys it has gone through.
pub struct Walk<'a> {
    path: String,
    visitor: &'a mut dyn FnMut(&str, &mut f64, Quantity),
}

impl<'a> Walk<'a> {
    fn new(visitor: &'a mut dyn FnMut(&str, &mut f64, Quantity)) -> Self {
        Self {
            path: String::new(),
            visitor,
        }
    }

    /// Goes through the part under a key.
    pub(crate) fn within(&mut self, key: &str, part: &mut dyn Named) {
        let before = self.enter(key);
        part.walk(self);
        self.path.truncate(before);
    }

    /// Visits the number under a key.
    pub(crate) fn number(&mut self, key: &str, number: &mut f64, quantity: Quantity) {
        let before = self.enter(key);
        (self.visitor)(&self.path, number, quantity);
        self.path.truncate(before);
    }

    /// Visits lengths that may be absent.
    pub(crate) fn lengths<const N: usize>(&mut self, fields: [(&str, &mut Option<f64>); N]) {
        for (key, field) in fields {
            if let Some(number) = field {
                self.number(key, number, Quantity::Length);
            }
        }
    }

    fn enter(&mut self, key: &str) -> usize {
        let before = self.path.len();
        if before > 0 {
            self.path.push('.');
        }
        self.path.push_str(key);
        before
    }
}

/// A description whose numbers have names: the keys of a model file, joined by points.
pub trait Named {
    /// Visits every number in a fixed order.
    fn walk(&mut self, walk: &mut Walk<'_>);

    /// Calls `visitor` with the name of every number, the number and its kind.
    ///
    /// ```
    /// use kin_core::pickups::Named;
    /// let mut corner = kin_core::samples::wagon_front();
    /// corner.visit_named(&mut |name, number, _| {
    ///     if name == "coilover.upper_mount.z" {
    ///         *number += 5.0;
    ///     }
    /// });
    /// assert_eq!(corner.coilover.map(|damper| damper.upper_mount.z), Some(497.0));
    /// ```
    fn visit_named(&mut self, visitor: &mut dyn FnMut(&str, &mut f64, Quantity))
    where
        Self: Sized,
    {
        self.walk(&mut Walk::new(visitor));
    }
}

impl Named for Point {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        for (key, coordinate) in ["x", "y", "z"].into_iter().zip(self.iter_mut()) {
            walk.number(key, coordinate, Quantity::Length);
        }
    }
}

impl<T: Named> Named for Option<T> {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        if let Some(inner) = self {
            inner.walk(walk);
        }
    }
}

/// Numbers with names can be visited without them.
macro_rules! measured_as_named {
    ($($description:ty),+) => {$(
        impl Measured for $description {
            fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
                self.visit_named(&mut |_, number, quantity| visitor(number, quantity));
            }
        }
    )+};
}

measured_as_named!(
    super::Arm,
    super::DoubleWishbone,
    super::LiveAxle,
    super::Damper,
    super::Spring,
    super::RideHeight,
    super::Stops,
    super::Wanted
);
