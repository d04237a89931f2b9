//! What a study varies: a description, the names of its numbers, and the suspension it makes.

use crate::Error;
use crate::pickups::{DoubleWishbone, LiveAxle, Named, Quantity};
use crate::suspension::{Axle, Corner};
use strsim::jaro_winkler;

/// Names this alike are offered to a person who has misspelt one.
const ALIKE: f64 = 0.75;

/// A description that a study changes copies of.
#[derive(Debug, Clone, PartialEq)]
#[allow(clippy::large_enum_variant, reason = "a handful exist at a time")]
pub enum Subject {
    /// A double-wishbone corner.
    Corner(DoubleWishbone),
    /// A live axle. Where its right side is the mirror of the left, both change together.
    Axle(LiveAxle),
}

/// A description made into a suspension.
#[derive(Debug, Clone)]
#[allow(clippy::large_enum_variant, reason = "a handful exist at a time")]
pub enum Built {
    /// A corner.
    Corner(Corner),
    /// An axle.
    Axle(Axle),
}

/// One number of a description.
#[derive(Debug, Clone, PartialEq)]
pub struct Number {
    /// The keys that lead to it, such as `upper_arm.ball_joint.z`.
    pub name: String,
    /// What kind of number it is.
    pub quantity: Quantity,
    /// Its value (mm, N/mm, degrees).
    pub value: f64,
}

impl Number {
    /// Whether it is a coordinate of a point.
    #[must_use]
    pub fn is_coordinate(&self) -> bool {
        [".x", ".y", ".z"].iter().any(|axis| self.name.ends_with(axis))
    }
}

/// A name that leads to no number of a description.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the description has no number `{name}`{}", nearest.as_ref().map_or_else(String::new, |nearest| format!(": did you mean `{nearest}`?")))]
pub struct NumberError {
    /// The name that was given.
    pub name: String,
    /// The name most like it.
    pub nearest: Option<String>,
}

impl From<DoubleWishbone> for Subject {
    fn from(corner: DoubleWishbone) -> Self {
        Self::Corner(corner)
    }
}

impl From<LiveAxle> for Subject {
    fn from(axle: LiveAxle) -> Self {
        Self::Axle(axle)
    }
}

impl Subject {
    /// Validates the description and makes it ready to be moved.
    ///
    /// # Errors
    /// Pickups that cannot be right, or that do not hold the wheel.
    pub fn build(&self) -> Result<Built, Error> {
        Ok(match self {
            Self::Corner(corner) => Built::Corner(Corner::new(corner)?),
            Self::Axle(axle) => Built::Axle(Axle::new(axle)?),
        })
    }

    /// Calls `visitor` with every number, by name, in a fixed order.
    pub fn visit(&mut self, visitor: &mut dyn FnMut(&str, &mut f64, Quantity)) {
        match self {
            Self::Corner(corner) => corner.visit_named(visitor),
            Self::Axle(axle) => axle.visit_named(visitor),
        }
    }

    /// Every number in the order of [`Subject::visit`]; its place there is how studies refer to it.
    #[must_use]
    pub fn numbers(&self) -> Vec<Number> {
        let mut numbers = Vec::new();
        self.clone().visit(&mut |name, value, quantity| {
            numbers.push(Number {
                name: name.to_owned(),
                quantity,
                value: *value,
            });
        });
        numbers
    }

    /// The places of all coordinates of points.
    #[must_use]
    pub fn coordinates(&self) -> Vec<usize> {
        let numbers = self.numbers().into_iter().enumerate();
        numbers
            .filter_map(|(place, number)| number.is_coordinate().then_some(place))
            .collect()
    }

    /// The places of the numbers that a name stands for: one number by its whole name, or all below a key, such as the
    /// three coordinates of `upper_arm.ball_joint` or all of `coilover`.
    ///
    /// The spelling `center` and `tire` is read as well.
    ///
    /// # Errors
    /// When the name leads to no number.
    ///
    /// ```
    /// use kin_core::{samples, study::Subject};
    /// let corner = Subject::from(samples::wagon_front());
    /// assert_eq!(corner.places("tie_rod.outer").map(|places| places.len()), Ok(3));
    /// let misspelt = corner.places("tie_rod.outre.z").map_err(|error| error.to_string());
    /// assert_eq!(
    ///     misspelt,
    ///     Err("the description has no number `tie_rod.outre.z`: did you mean `tie_rod.outer.z`?".to_owned())
    /// );
    /// ```
    pub fn places(&self, name: &str) -> Result<Vec<usize>, NumberError> {
        let wanted = name.replace("center", "centre").replace("tire_", "tyre_");
        let numbers = self.numbers();
        let below = format!("{wanted}.");
        let places: Vec<usize> = numbers
            .iter()
            .enumerate()
            .filter(|(_, number)| number.name == wanted || number.name.starts_with(&below))
            .map(|(place, _)| place)
            .collect();
        if !places.is_empty() {
            return Ok(places);
        }
        let likeness = |other: &str| jaro_winkler(&wanted, other);
        let nearest = numbers
            .into_iter()
            .map(|number| number.name)
            .max_by(|a, b| likeness(a).total_cmp(&likeness(b)))
            .filter(|nearest| likeness(nearest) > ALIKE);
        Err(NumberError {
            name: name.to_owned(),
            nearest,
        })
    }

    /// A copy with changes added to the numbers at some places.
    #[must_use]
    pub fn changed(&self, changes: &[(usize, f64)]) -> Self {
        let mut variant = self.clone();
        let mut next = 0;
        variant.visit(&mut |_, value, _| {
            for (_, change) in changes.iter().filter(|(place, _)| *place == next) {
                *value += change;
            }
            next += 1;
        });
        variant
    }

    /// A copy with the changes of [`Subject::changed`] for every number, by place.
    ///
    /// * `changes`: one for each number; what is missing is not changed
    #[must_use]
    pub fn changed_by(&self, changes: &[f64]) -> Self {
        let mut variant = self.clone();
        let mut changes = changes.iter();
        variant.visit(&mut |_, value, _| {
            if let Some(change) = changes.next() {
                *value += change;
            }
        });
        variant
    }

    /// A direction in which the description may change: the rate of each number, all zero but those given.
    pub(crate) fn direction(&self, rates: &[(usize, f64)]) -> Self {
        let mut direction = self.clone();
        let mut next = 0;
        direction.visit(&mut |_, value, _| {
            let here = rates.iter().filter(|(place, _)| *place == next);
            *value = here.map(|(_, rate)| rate).sum();
            next += 1;
        });
        direction
    }
}

impl Built {
    /// Wheel travel at ride height (mm), counted from the pickups as measured.
    ///
    /// # Errors
    /// When the ride height is given as a damper length that the damper never has.
    pub fn ride_travel(&self) -> Result<f64, Error> {
        match self {
            Self::Corner(corner) => corner.ride_travel(),
            Self::Axle(axle) => axle.ride_travel(),
        }
    }
}
