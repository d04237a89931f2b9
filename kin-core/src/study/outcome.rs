//! One number read from a suspension: what studies compare, propagate and search for.

use super::travel_range::extremes;
use super::{Built, Reading, Station};
use crate::checks::{
    ClearanceQuestion, StrokePlace, TravelBudget, axle_budget, axle_travel_near, check_axle_clearance,
    check_corner_clearance, corner_budget, corner_travel_near,
};
use crate::pickups::Side;
use crate::suspension::LengthCurve;
use crate::{Dimension, Error, Sentence};

/// A number of the stroke check.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StrokeReading {
    /// Wheel bump from ride height to the bump stop.
    BumpToStop,
    /// Wheel bump from ride height to metal.
    BumpToMetal,
    /// Wheel droop from ride height to topping out.
    DroopToTopOut,
    /// Distance between the mounts at ride height.
    LengthAtRide,
}

impl StrokeReading {
    /// Every one, in the order of tables.
    pub const ALL: [Self; 4] = [
        Self::BumpToStop,
        Self::BumpToMetal,
        Self::DroopToTopOut,
        Self::LengthAtRide,
    ];

    /// Its name in scripts.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::BumpToStop => "bump_to_stop",
            Self::BumpToMetal => "bump_to_metal",
            Self::DroopToTopOut => "droop_to_top_out",
            Self::LengthAtRide => "length_at_ride",
        }
    }

    /// Its name on sheets.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::BumpToStop => "bump to the bump stop",
            Self::BumpToMetal => "bump to metal",
            Self::DroopToTopOut => "droop to topping out",
            Self::LengthAtRide => "damper length at ride height",
        }
    }

    pub(super) fn of_budget(self, budget: &TravelBudget) -> Option<f64> {
        match self {
            Self::BumpToStop => budget.bump_to_stop,
            Self::BumpToMetal => budget.bump_to_metal,
            Self::DroopToTopOut => budget.droop_to_top_out,
            Self::LengthAtRide => Some(budget.length_at_ride),
        }
    }
}

/// One number of a suspension.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// A reading at one place.
    At(Reading, Station),
    /// How much a reading changes from one bump to another (mm from ride height): value at the second minus value at
    /// the first.
    Change(Reading, f64, f64),
    /// The greatest value minus the least between two bumps (mm from ride height).
    Spread(Reading, f64, f64),
    /// The least value between two bumps (mm from ride height).
    Least(Reading, f64, f64),
    /// The greatest value between two bumps (mm from ride height).
    Greatest(Reading, f64, f64),
    /// A number of the stroke check. Where the damper never meets the limit it is the travel that was looked at, as in the
    /// check itself, and no sensitivity is counted.
    Stroke(StrokeReading, Side),
    /// The least gap of a clearance question, over all its pairs and motions.
    Gap(Box<ClearanceQuestion>),
}

impl Outcome {
    /// What the number is; that of a rate is per mm of travel.
    #[must_use]
    pub fn dimension(&self) -> Dimension {
        match self {
            Self::At(reading, _)
            | Self::Change(reading, ..)
            | Self::Spread(reading, ..)
            | Self::Least(reading, ..)
            | Self::Greatest(reading, ..) => reading.dimension(),
            Self::Stroke(..) | Self::Gap(_) => Dimension::Length,
        }
    }

    /// Whether the number is a rate per travel.
    #[must_use]
    pub fn is_rate(&self) -> bool {
        match self {
            Self::At(reading, _)
            | Self::Change(reading, ..)
            | Self::Spread(reading, ..)
            | Self::Least(reading, ..)
            | Self::Greatest(reading, ..) => reading.is_rate(),
            Self::Stroke(..) | Self::Gap(_) => false,
        }
    }

    /// What it is, in a few words.
    ///
    /// ```
    /// use kin_core::curves::CornerCurve;
    /// use kin_core::study::{Outcome, Reading};
    /// let bump_steer = Outcome::Spread(Reading::Corner(CornerCurve::Toe, None), -50.0, 50.0);
    /// assert_eq!(bump_steer.words().to_string(), "spread of toe from -50 mm to 50 mm of bump");
    /// ```
    #[must_use]
    pub fn words(&self) -> Sentence {
        let named = |reading: &Reading| {
            let key = reading.info().key.replace('_', " ");
            if reading.is_rate() {
                format!("{key} per travel")
            } else {
                key
            }
        };
        let over = |what: &str, reading: &Reading, from: f64, to: f64| {
            Sentence::new(format!("{what}{} from ", named(reading)))
                .given_length(from)
                .words(" to ")
                .given_length(to)
                .words(" of bump")
        };
        match self {
            Self::At(reading, station) => {
                let mut words = Sentence::new(named(reading));
                words = if station.bump == 0.0 {
                    words.words(" at ride height")
                } else {
                    words.words(" at ").given_length(station.bump).words(" of bump")
                };
                if station.rack != 0.0 {
                    words = words.words(", rack ").given_length(station.rack);
                }
                if station.roll != 0.0 {
                    words = words.words(", roll ").angle(station.roll);
                }
                words
            }
            Self::Change(reading, from, to) => over("change of ", reading, *from, *to),
            Self::Spread(reading, from, to) => over("spread of ", reading, *from, *to),
            Self::Least(reading, from, to) => over("least ", reading, *from, *to),
            Self::Greatest(reading, from, to) => over("greatest ", reading, *from, *to),
            Self::Stroke(stroke, Side::Left) => stroke.title().into(),
            Self::Stroke(stroke, Side::Right) => format!("{}, right", stroke.title()).into(),
            Self::Gap(_) => "least gap".into(),
        }
    }

    /// The number of a suspension (core units).
    ///
    /// # Errors
    /// What keeps the number from existing: a place out of reach, a curve of the other layout, a missing part.
    pub fn value(&self, built: &Built) -> Result<f64, Error> {
        match self {
            Self::At(reading, station) => reading.at(built, *station),
            Self::Change(reading, from, to) => {
                Ok(reading.at(built, Station::bump(*to))? - reading.at(built, Station::bump(*from))?)
            }
            Self::Spread(reading, from, to) => {
                let found = extremes(reading, built, *from, *to)?;
                Ok(found.greatest.1 - found.least.1)
            }
            Self::Least(reading, from, to) => Ok(extremes(reading, built, *from, *to)?.least.1),
            Self::Greatest(reading, from, to) => Ok(extremes(reading, built, *from, *to)?.greatest.1),
            Self::Stroke(reading, side) => {
                let budget = stroke_budget(built, *side)?;
                reading
                    .of_budget(&budget)
                    .map_or_else(|| stroke_farthest(built, *reading, *side), Ok)
            }
            Self::Gap(question) => {
                let clearance = match built {
                    Built::Corner(corner) => check_corner_clearance(corner, question)?,
                    Built::Axle(axle) => check_axle_clearance(axle, question)?,
                };
                let gaps = clearance.pairs.iter().map(|pair| pair.least.gap);
                let least = gaps.fold(f64::INFINITY, f64::min);
                Some(least)
                    .filter(|gap| gap.is_finite())
                    .ok_or(Error::NoValue { what: "gap" })
            }
        }
    }
}

/// The travel from ride height (mm) that a damper which never meets a limit has at least: as far as the linkage goes, or is
/// looked at, as in the stroke check.
pub(super) fn stroke_farthest(built: &Built, reading: StrokeReading, side: Side) -> Result<f64, Error> {
    let curve = match built {
        Built::Corner(corner) => LengthCurve::of_corner_damper(corner),
        Built::Axle(axle) => LengthCurve::of_axle_damper(axle, side),
    };
    let (lowest, highest) = curve.ok_or(Error::NoValue { what: reading.key() })?.searchable();
    let ride = built.ride_travel()?;
    Ok(match reading {
        StrokeReading::DroopToTopOut => ride - lowest,
        _ => highest - ride,
    })
}

/// The travel budget of one damper.
pub(super) fn stroke_budget(built: &Built, side: Side) -> Result<TravelBudget, Error> {
    match built {
        Built::Corner(corner) => corner_budget(corner),
        Built::Axle(axle) => axle_budget(axle, side),
    }
}

/// The same number of the stroke check, looked for up to a travel from ride height (mm) only: none where it is not there,
/// and all of the reach is to be searched.
pub(super) fn stroke_near(built: &Built, reading: StrokeReading, side: Side, farthest: f64) -> Option<f64> {
    let limit = match reading {
        StrokeReading::BumpToStop => StrokePlace::StopContact,
        StrokeReading::BumpToMetal => StrokePlace::Compressed,
        StrokeReading::DroopToTopOut => StrokePlace::Extended,
        StrokeReading::LengthAtRide => StrokePlace::Ride,
    };
    match built {
        Built::Corner(corner) => corner_travel_near(corner, limit, farthest),
        Built::Axle(axle) => axle_travel_near(axle, side, limit, farthest),
    }
    .ok()
    .flatten()
}
