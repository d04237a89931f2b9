//! Exact sensitivities: how an outcome changes with any number of the description.
//!
//! The position is solved once. For each number it is then evaluated again in numbers that carry two derivatives: one with
//! respect to the number, and one along the motion of the wheel, from which rates and ride height follow.

mod axle;
mod corner;
mod ride;
mod stroke;

pub(super) use ride::derivative as ride_derivative;

use super::travel_range::extremes;
use super::{Built, Outcome, Reading, Station, Subject};
use crate::Error;
use crate::pickups::{DoubleWishbone, LiveAxle, Side};
use crate::suspension::{Along, AxleAlong};
use num_dual::{Dual, Dual64};

/// A number with its rate along the wheel's motion, both with their derivatives with respect to one number of the
/// description.
type Varied = Dual<Dual64>;

/// A suspension, and the way its description changes.
pub(super) enum Change<'a> {
    Corner(&'a crate::Corner, Box<DoubleWishbone>),
    Axle(&'a crate::Axle, Box<LiveAxle>),
}

impl Outcome {
    /// How this outcome of a suspension changes with numbers of its description: the exact derivative per core unit of
    /// each (per mm, per N/mm, per degree), all other numbers staying as they are.
    ///
    /// Ride height is part of it: where it is given as a damper's length, it moves with the mounts. A least or greatest
    /// value is followed where it is; where two places tie, one of them counts.
    ///
    /// * `subject`: the description that `built` was made from
    /// * `places`: places of numbers, as in [`Subject::numbers`]
    ///
    /// # Errors
    /// What keeps the outcome from existing.
    ///
    /// ```
    /// use kin_core::samples;
    /// use kin_core::study::{Outcome, StrokeReading, Subject};
    /// use kin_core::pickups::Side;
    ///
    /// # fn main() -> Result<(), Box<dyn std::error::Error>> {
    /// let subject = Subject::from(samples::wagon_front());
    /// let bump = Outcome::Stroke(StrokeReading::BumpToStop, Side::Left);
    /// let upper_mount = subject.places("coilover.upper_mount.z")?;
    /// let gain = bump.gradient(&subject, &subject.build()?, &upper_mount)?;
    /// // Invented wagon: a mount 1 mm higher gives 1.585 mm more bump before the stop.
    /// assert!((gain[0] - 1.585).abs() < 1e-3);
    /// # Ok(())
    /// # }
    /// ```
    pub fn gradient(&self, subject: &Subject, built: &Built, places: &[usize]) -> Result<Vec<f64>, Error> {
        let changes: Vec<Change<'_>> = places
            .iter()
            .map(|place| Change::new(subject, built, *place))
            .collect::<Result<_, _>>()?;
        match self {
            Self::At(reading, station) => at(reading, built, *station, &changes),
            Self::Change(reading, from, to) => {
                let start = at(reading, built, Station::bump(*from), &changes)?;
                let end = at(reading, built, Station::bump(*to), &changes)?;
                Ok(difference(&end, &start))
            }
            Self::Spread(reading, from, to) => {
                let found = extremes(reading, built, *from, *to)?;
                let least = at(reading, built, Station::bump(found.least.0), &changes)?;
                let greatest = at(reading, built, Station::bump(found.greatest.0), &changes)?;
                Ok(difference(&greatest, &least))
            }
            Self::Least(reading, from, to) => {
                let found = extremes(reading, built, *from, *to)?;
                at(reading, built, Station::bump(found.least.0), &changes)
            }
            Self::Greatest(reading, from, to) => {
                let found = extremes(reading, built, *from, *to)?;
                at(reading, built, Station::bump(found.greatest.0), &changes)
            }
            Self::Stroke(reading, side) => {
                let value = self.value(built)?;
                each(&changes, |change| {
                    stroke::derivative(change, *reading, *side, value)
                })
            }
            Self::Gap(question) => super::gap_gradient::derivatives(&changes, question),
        }
    }
}

impl<'a> Change<'a> {
    fn new(subject: &Subject, built: &'a Built, place: usize) -> Result<Self, Error> {
        match (subject.direction(&[(place, 1.0)]), built) {
            (Subject::Corner(direction), Built::Corner(corner)) => {
                // A right corner is solved as its mirror image, and so are its changes.
                let direction = match corner.side() {
                    Side::Left => direction,
                    Side::Right => direction.mirrored(),
                };
                Ok(Self::Corner(corner, Box::new(direction)))
            }
            (Subject::Axle(direction), Built::Axle(axle)) => {
                Ok(Self::Axle(axle, Box::new(direction.with_both_sides())))
            }
            _ => Err(Error::NotForThisLayout {
                question: "a sensitivity".to_owned(),
                reason: "the description and the suspension are of different layouts".into(),
            }),
        }
    }
}

fn difference(end: &[f64], start: &[f64]) -> Vec<f64> {
    end.iter().zip(start).map(|(end, start)| end - start).collect()
}

pub(super) fn each(
    changes: &[Change<'_>],
    derivative: impl Fn(&Change<'_>) -> Result<f64, Error> + Send + Sync,
) -> Result<Vec<f64>, Error> {
    crate::parallel::map(changes, derivative).into_iter().collect()
}

/// The derivatives of a reading at one place.
fn at(reading: &Reading, built: &Built, station: Station, changes: &[Change<'_>]) -> Result<Vec<f64>, Error> {
    let travel = built.ride_travel()? + station.bump;
    let rate = reading.is_rate();
    let found = match (reading, built) {
        (Reading::Corner(curve, along), Built::Corner(corner)) => {
            let position = corner.at(travel, station.rack)?;
            let along = along.unwrap_or(Along::Travel);
            each(changes, |change| {
                let Change::Corner(_, direction) = change else {
                    return Err(reading.other_layout());
                };
                let ride = ride::derivative(change)?;
                let varied = corner::evaluate(*curve, &position, direction, ride, along);
                varied
                    .map(|value| picked(value, rate))
                    .ok_or_else(|| reading.no_value())
            })
        }
        (Reading::Axle(curve, along), Built::Axle(axle)) => {
            let half = axle.half_difference_for_roll(station.roll);
            let position = axle.at(crate::AxleTravel::from_heave(travel, half))?;
            let along = along.unwrap_or(AxleAlong::Heave);
            each(changes, |change| {
                let Change::Axle(_, direction) = change else {
                    return Err(reading.other_layout());
                };
                let ride = ride::derivative(change)?;
                let varied = axle::evaluate(*curve, &position, direction, (ride, station.roll), along);
                varied
                    .map(|value| picked(value, rate))
                    .ok_or_else(|| reading.no_value())
            })
        }
        _ => Err(reading.other_layout()),
    };
    let found = found?;
    if found.iter().all(|derivative| derivative.is_finite()) {
        Ok(found)
    } else {
        Err(reading.no_value())
    }
}

/// The derivative of the value, or that of its rate.
fn picked(varied: Varied, rate: bool) -> f64 {
    if rate { varied.eps.eps } else { varied.re.eps }
}

/// A number and its derivative, standing still.
fn standing(number: Dual64) -> Varied {
    Varied::from_re(number)
}
