//! The least and the greatest value of a reading over a stretch of travel.

use super::{Built, Reading, Station};
use crate::Error;
use crate::numeric::bracketed_root;
use crate::suspension::{Along, AxleAlong};

/// Between looks this far apart (mm) a curve turns round at most once: suspension curves bend over hundreds of
/// millimetres.
const LOOK_MM: f64 = 2.5;
/// Turning points are found to this travel (mm); there the value changes with its square.
const TURN_TOLERANCE_MM: f64 = 1e-7;

/// Where a reading is least and greatest: bump from ride height (mm), and value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Extremes {
    pub(crate) least: (f64, f64),
    pub(crate) greatest: (f64, f64),
}

/// Extremes of a reading between two places in bump, turning points between the looks included.
pub(crate) fn extremes(reading: &Reading, built: &Built, from: f64, to: f64) -> Result<Extremes, Error> {
    let looks = ((to - from).abs() / LOOK_MM).ceil().max(1.0);
    let bump = |look: usize| from + (to - from) * (look as f64 / looks);
    let slope = along_travel(reading);
    let at = |bump: f64| reading.at(built, Station::bump(bump));
    let slope_at = |bump: f64| match &slope {
        Some(slope) => slope.at(built, Station::bump(bump)).map(Some),
        None => Ok(None),
    };
    let mut before = (from, slope_at(from)?);
    let start = (from, at(from)?);
    let mut found = Extremes {
        least: start,
        greatest: start,
    };
    let mut take = |place: (f64, f64)| {
        if place.1 < found.least.1 {
            found.least = place;
        }
        if place.1 > found.greatest.1 {
            found.greatest = place;
        }
    };
    for look in 1..=looks as usize {
        let here = bump(look);
        let now = slope_at(here)?;
        if let (Some(slope), Some(then), Some(now)) = (&slope, before.1, now)
            && then * now < 0.0
        {
            let value = |place: f64| -> Result<(f64, f64), Error> {
                Ok((slope.at(built, Station::bump(place))?, f64::NAN))
            };
            let turn = bracketed_root::find(value, (before.0, then), (here, now), TURN_TOLERANCE_MM)?;
            take((turn, at(turn)?));
        }
        take((here, at(here)?));
        before = (here, now);
    }
    Ok(found)
}

/// The rate of a reading along travel; none for what is a rate already, and for wheel rates.
fn along_travel(reading: &Reading) -> Option<Reading> {
    if reading.dimension() == crate::Dimension::Rate {
        return None;
    }
    match reading {
        Reading::Corner(curve, None) => Some(Reading::Corner(*curve, Some(Along::Travel))),
        Reading::Axle(curve, None) => Some(Reading::Axle(*curve, Some(AxleAlong::Heave))),
        _ => None,
    }
}
