//! Every measured number of a description, for unit conversion and for studies that vary them.

/// What kind of number a field of a description is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quantity {
    /// A coordinate or a length (mm inside).
    Length,
    /// An angle (deg in a description).
    Angle,
    /// A spring or link rate (N/mm inside).
    Rate,
    /// A force (N inside).
    Force,
    /// A mass (kg inside).
    Mass,
    /// A torque (N mm inside).
    Torque,
    /// A stress (N/mm^2 inside, which is MPa).
    Stress,
    /// A speed (mm/s inside).
    Speed,
    /// A torque per angle (N mm per degree in a description).
    TorsionalRate,
}

/// A description whose numbers can be visited one by one, in a fixed order.
pub trait Measured {
    /// Calls `visitor` with every number and its kind.
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity));
}

impl Measured for super::Point {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        for coordinate in self.iter_mut() {
            visitor(coordinate, Quantity::Length);
        }
    }
}

impl<T: Measured> Measured for Option<T> {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        if let Some(inner) = self {
            inner.visit(visitor);
        }
    }
}

impl<T: Measured> Measured for Vec<T> {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        for inner in self {
            inner.visit(visitor);
        }
    }
}

/// Visits lengths that may be absent.
pub(crate) fn lengths<const N: usize>(
    fields: [&mut Option<f64>; N],
    visitor: &mut dyn FnMut(&mut f64, Quantity),
) {
    for length in fields.into_iter().flatten() {
        visitor(length, Quantity::Length);
    }
}
