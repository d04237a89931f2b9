//! One formula for a value and for its rates: numbers that may carry derivatives.

use nalgebra::Vector3;
use num_dual::{Dual, Dual2_64, DualNum, DualNumCopy};

/// A number a formula can be evaluated with: `f64`, or a dual number that carries exact derivatives along.
pub trait Real: DualNum<Primitive = f64> + DualNumCopy {
    /// Of which order its derivatives are.
    const ORDER: u32;

    /// Angle from the x axis to the point (`x`, `self`), as `f64::atan2`.
    #[must_use]
    fn angle(self, x: Self) -> Self {
        self.atan2(x)
    }
}

impl Real for f64 {
    const ORDER: u32 = 0;
}

impl Real for Dual2_64 {
    const ORDER: u32 = 2;
}

impl<T: Real> Real for Dual<T> {
    const ORDER: u32 = T::ORDER + 1;

    /// The rate `(y' x - y x') / (x^2 + y^2)` holds at x = 0 as well, and costs no second arc tangent.
    #[inline]
    fn angle(self, x: Self) -> Self {
        let square = x.re * x.re + self.re * self.re;
        Self::new(self.re.angle(x.re), (self.eps * x.re - self.re * x.eps) / square)
    }
}

/// A number that goes together with numbers of a plainer type, which carry fewer derivatives: those of a geometry that
/// stands still, or that varies without moving.
pub(crate) trait Over<F>: Real {
    /// The plainer number in this type.
    #[must_use]
    fn of(plain: F) -> Self;

    /// Sum with a plainer number.
    #[must_use]
    fn plus(self, plain: F) -> Self;

    /// Difference from a plainer number.
    #[must_use]
    fn minus(self, plain: F) -> Self;

    /// Product with a plainer number.
    #[must_use]
    fn times(self, plain: F) -> Self;
}

impl<T: Real> Over<f64> for T {
    #[inline(always)]
    fn of(plain: f64) -> Self {
        T::from(plain)
    }

    #[inline(always)]
    fn plus(self, plain: f64) -> Self {
        self + plain
    }

    #[inline(always)]
    fn minus(self, plain: f64) -> Self {
        self - plain
    }

    #[inline(always)]
    fn times(self, plain: f64) -> Self {
        self * plain
    }
}

impl<T: Real> Over<Self> for Dual<T> {
    fn of(plain: Self) -> Self {
        plain
    }

    fn plus(self, plain: Self) -> Self {
        self + plain
    }

    fn minus(self, plain: Self) -> Self {
        self - plain
    }

    fn times(self, plain: Self) -> Self {
        self * plain
    }
}

impl<T: Real> Over<Dual<T>> for Dual<Dual<T>> {
    fn of(plain: Dual<T>) -> Self {
        Self::from_re(plain)
    }

    fn plus(self, plain: Dual<T>) -> Self {
        Self::new(self.re + plain, self.eps)
    }

    fn minus(self, plain: Dual<T>) -> Self {
        Self::new(self.re - plain, self.eps)
    }

    fn times(self, plain: Dual<T>) -> Self {
        Self::new(self.re * plain, self.eps * plain)
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
