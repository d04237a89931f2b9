//! What was read on the car.

use crate::Error;
use crate::study::{Built, Outcome, Reading, Station, Uncertainty};
use crate::suspension::{Along, AxleAlong};

/// One reading.
#[derive(Debug, Clone, PartialEq)]
pub struct GaugeReading {
    /// What it is called.
    pub name: String,
    /// What was read.
    pub outcome: Outcome,
    /// The value that was read (core units).
    pub value: f64,
    /// Its standard deviation (core units), above zero.
    pub deviation: f64,
    /// Standard deviation of the place it was read at (mm of wheel travel); only of a curve at one place. It counts through
    /// the slope of the curve there.
    pub place_deviation: f64,
    /// Which gauge it was read on, by its place in the question; none for one whose zero is sure.
    pub gauge: Option<usize>,
}

/// A gauge whose zero is not sure: the same unknown shift is in all its readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Gauge {
    /// What it is called.
    pub name: String,
    /// Standard deviation of its zero (core units of its readings); none when nothing is known of it.
    pub zero_deviation: Option<f64>,
}

/// A calibration.
#[derive(Debug, Clone, PartialEq)]
pub struct CalibrationQuestion {
    /// How well each number of the description is known.
    pub uncertainty: Uncertainty,
    /// What was read.
    pub readings: Vec<GaugeReading>,
    /// The gauges with an unknown zero.
    pub gauges: Vec<Gauge>,
}

/// A calibration that cannot be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum CalibrationError {
    /// Nothing was read.
    #[error("there is no reading: give at least one")]
    NoReading,
    /// Nothing is uncertain.
    #[error("no number of the description is uncertain, so that no reading can move it")]
    NothingUncertain,
    /// A deviation or value that cannot be.
    #[error("the reading `{name}` has a {what} of {value}: {wanted}")]
    Number {
        /// Which reading.
        name: String,
        /// Which of its numbers.
        what: &'static str,
        /// What was given.
        value: f64,
        /// What may be given.
        wanted: &'static str,
    },
    /// A gauge that is not there.
    #[error("the reading `{name}` names a gauge that is not described")]
    NoGauge {
        /// Which reading.
        name: String,
    },
    /// A place deviation of what is not read at a place.
    #[error("the reading `{name}` is not read at one place, so it has no deviation of its place")]
    NoPlace {
        /// Which reading.
        name: String,
    },
    /// A reading that the described suspension does not have.
    #[error("the reading `{name}` does not exist on the described suspension: {error}")]
    NoValue {
        /// Which reading.
        name: String,
        /// Why.
        error: Box<Error>,
    },
    /// The description cannot be built.
    #[error(transparent)]
    Subject(Box<Error>),
}

impl GaugeReading {
    /// Standard deviation with that of its place (core units).
    pub(super) fn whole_deviation(&self, built: &Built) -> Result<f64, CalibrationError> {
        if self.place_deviation == 0.0 {
            return Ok(self.deviation);
        }
        let slope = match &self.outcome {
            Outcome::At(Reading::Corner(curve, None), station) => {
                slope(Reading::Corner(*curve, Some(Along::Travel)), built, *station)
            }
            Outcome::At(Reading::Axle(curve, None), station) => {
                slope(Reading::Axle(*curve, Some(AxleAlong::Heave)), built, *station)
            }
            _ => {
                return Err(CalibrationError::NoPlace {
                    name: self.name.clone(),
                });
            }
        };
        let slope = slope.map_err(|error| CalibrationError::NoValue {
            name: self.name.clone(),
            error: Box::new(error),
        })?;
        Ok(self.deviation.hypot(slope * self.place_deviation))
    }

    fn check(&self, gauges: usize) -> Result<(), CalibrationError> {
        let refuse = |what, value, wanted| CalibrationError::Number {
            name: self.name.clone(),
            what,
            value,
            wanted,
        };
        if !self.value.is_finite() {
            return Err(refuse("value", self.value, "give a finite number"));
        }
        if !(self.deviation.is_finite() && self.deviation > 0.0) {
            let wanted = "give a number above zero, such as half of what the gauge is divided into";
            return Err(refuse("standard deviation", self.deviation, wanted));
        }
        if !(self.place_deviation.is_finite() && self.place_deviation >= 0.0) {
            let wanted = "give a number from zero up";
            return Err(refuse(
                "standard deviation of its place",
                self.place_deviation,
                wanted,
            ));
        }
        if self.gauge.is_some_and(|gauge| gauge >= gauges) {
            return Err(CalibrationError::NoGauge {
                name: self.name.clone(),
            });
        }
        Ok(())
    }
}

fn slope(reading: Reading, built: &Built, station: Station) -> Result<f64, Error> {
    reading.at(built, station)
}

impl CalibrationQuestion {
    pub(super) fn check(&self) -> Result<(), CalibrationError> {
        if self.readings.is_empty() {
            return Err(CalibrationError::NoReading);
        }
        if self
            .uncertainty
            .deviations()
            .iter()
            .all(|deviation| *deviation == 0.0)
        {
            return Err(CalibrationError::NothingUncertain);
        }
        for gauge in &self.gauges {
            if let Some(value) = gauge
                .zero_deviation
                .filter(|value| !(value.is_finite() && *value > 0.0))
            {
                return Err(CalibrationError::Number {
                    name: gauge.name.clone(),
                    what: "standard deviation of its zero",
                    value,
                    wanted: "give a number above zero, or none",
                });
            }
        }
        self.readings
            .iter()
            .try_for_each(|reading| reading.check(self.gauges.len()))
    }
}
