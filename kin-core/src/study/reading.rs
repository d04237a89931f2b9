//! A curve or its rate, read at a place in the travel.

use super::Built;
use crate::curves::{AxleCurve, CornerCurve, CurveInfo};
use crate::suspension::{Along, AxleAlong, AxleTravel};
use crate::{Dimension, Error};

/// A curve, or its exact rate along one motion.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reading {
    /// Of a corner.
    Corner(CornerCurve, Option<Along>),
    /// Of an axle.
    Axle(AxleCurve, Option<AxleAlong>),
}

/// A place in the travel, counted from ride height.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Station {
    /// Wheel travel from ride height (mm), bump positive; of both wheels of an axle.
    pub bump: f64,
    /// Rack displacement (mm), +Y positive; a corner's.
    pub rack: f64,
    /// Roll of an axle relative to the body (rad), positive with the left wheel up.
    pub roll: f64,
}

impl Station {
    /// A place in bump alone (mm).
    #[must_use]
    pub fn bump(bump: f64) -> Self {
        Self {
            bump,
            ..Self::default()
        }
    }
}

impl Reading {
    /// Name and meaning of the curve.
    #[must_use]
    pub fn info(&self) -> CurveInfo {
        match self {
            Self::Corner(curve, _) => curve.info(),
            Self::Axle(curve, _) => curve.info(),
        }
    }

    /// What its numbers are; those of a rate are per mm of travel.
    #[must_use]
    pub fn dimension(&self) -> Dimension {
        self.info().dimension
    }

    /// Whether it is a rate.
    #[must_use]
    pub fn is_rate(&self) -> bool {
        matches!(self, Self::Corner(_, Some(_)) | Self::Axle(_, Some(_)))
    }

    /// The value of a suspension at a place (core units).
    ///
    /// # Errors
    /// A place out of reach, a layout that has no such curve, and a curve that has no value there.
    pub fn at(&self, built: &Built, station: Station) -> Result<f64, Error> {
        let travel = built.ride_travel()? + station.bump;
        let value = match (self, built) {
            (Self::Corner(curve, along), Built::Corner(corner)) => {
                let position = corner.at(travel, station.rack)?;
                match along {
                    None => curve.value(&position),
                    Some(along) => curve.rate(&position, *along),
                }
            }
            (Self::Axle(curve, along), Built::Axle(axle)) => {
                let half = axle.half_difference_for_roll(station.roll);
                let position = axle.at(AxleTravel::from_heave(travel, half))?;
                match along {
                    None => curve.value(&position),
                    Some(along) => curve.rate(&position, *along),
                }
            }
            _ => return Err(self.other_layout()),
        };
        value.ok_or_else(|| self.no_value())
    }

    pub(crate) fn other_layout(&self) -> Error {
        Error::NotForThisLayout {
            question: format!("the curve `{}`", self.info().key),
            reason: match self {
                Self::Corner(..) => "it is one of a corner, and this is an axle".into(),
                Self::Axle(..) => "it is one of an axle, and this is a corner".into(),
            },
        }
    }

    pub(crate) fn no_value(&self) -> Error {
        Error::NoValue {
            what: self.info().key,
        }
    }
}
