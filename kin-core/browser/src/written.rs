//! Numbers written one after the other.

use kin_core::pickups::Point;

pub(crate) struct Written(Vec<f64>);

impl Written {
    pub(crate) fn with_room(count: usize) -> Self {
        Self(Vec::with_capacity(count))
    }

    pub(crate) fn point(&mut self, point: &Point) {
        self.0.extend(point.iter());
    }

    /// Both ends of a part, or that there is none.
    pub(crate) fn ends(&mut self, ends: Option<(Point, Point)>) {
        let nowhere = Point::new(f64::NAN, f64::NAN, f64::NAN);
        let (upper, lower) = ends.unwrap_or((nowhere, nowhere));
        self.point(&upper);
        self.point(&lower);
    }

    pub(crate) fn numbers(&mut self, numbers: impl IntoIterator<Item = f64>) {
        self.0.extend(numbers);
    }

    pub(crate) fn done(self) -> Vec<f64> {
        self.0
    }
}

/// A list of numbers has no other word for what does not exist.
pub(crate) fn or_nan(value: Option<f64>) -> f64 {
    value.unwrap_or(f64::NAN)
}
