//! One formula for a value and for its rates: numbers that may carry derivatives.

use nalgebra::Vector3;
use num_dual::{Dual, Dual2_64, DualNum, DualNumCopy};

/// A number a formula can be evaluated with: `f64`, or a dual number that carries exact derivatives along.
pub trait Real: DualNum<Primitive = f64> + DualNumCopy {
    /// Angle from the x axis to the point (`x`, `self`), as `f64::atan2`.
    #[must_use]
    fn angle(self, x: Self) -> Self {
        self.atan2(x)
    }
}

impl Real for f64 {}

impl Real for Dual2_64 {}

impl<T: Real> Real for Dual<T> {
    /// The rate `(y' x - y x') / (x^2 + y^2)` holds at x = 0 as well, and costs no second arc tangent.
    #[inline]
    fn angle(self, x: Self) -> Self {
        let square = x.re * x.re + self.re * self.re;
        Self::new(self.re.angle(x.re), (self.eps * x.re - self.re * x.eps) / square)
    }
}

/// A number together with its rate along the motion of the carrier: `re` is the value, `eps` the rate.
pub(crate) type Moving<T> = Dual<T>;

/// A value and its exact rate along one motion.
pub(crate) type WithRate = Dual<f64>;

/// The value of a moving vector, without its rate.
pub(crate) fn value<T: Real>(vector: &Vector3<Moving<T>>) -> Vector3<T> {
    Vector3::new(vector.x.re, vector.y.re, vector.z.re)
}

/// The rate of a moving vector.
pub(crate) fn rate<T: Real>(vector: &Vector3<Moving<T>>) -> Vector3<T> {
    Vector3::new(vector.x.eps, vector.y.eps, vector.z.eps)
}

/// A vector from its value and its rate.
pub(crate) fn moving<T: Real>(value: &Vector3<T>, rate: &Vector3<T>) -> Vector3<Moving<T>> {
    Vector3::new(
        Dual::new(value.x, rate.x),
        Dual::new(value.y, rate.y),
        Dual::new(value.z, rate.z),
    )
}

/// A vector that does not move, in the number type of the formula.
pub(crate) fn fixed<T: Real>(vector: &Vector3<f64>) -> Vector3<T> {
    vector.map(T::from)
}

/// Length of a vector of any number type.
pub(crate) fn length<T: Real>(vector: &Vector3<T>) -> T {
    vector.dot(vector).sqrt()
}
