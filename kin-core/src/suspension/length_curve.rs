//! The length of a mounted part against wheel travel, and the travel at which it has a given length.

use super::{Axle, AxleTravel, Corner, Mounted};
use crate::Error;
use crate::numeric::bracketed_root;
use crate::numeric::real::{WithRate, value};
use crate::pickups::Side;
use crate::pose::{PoseError, Reach};
use nalgebra::Vector3;

/// Travel between looks at the length (mm). Lengths of dampers and straps bend over hundreds of millimetres, and
/// where the length turns round between two looks, the turning point is found as well.
const LOOK_MM: f64 = 2.0;
/// How far a search goes where the linkage has no end of its own (mm).
const FARTHEST_MM: f64 = 400.0;
/// How close to the limit of reach a search goes (mm). Rates grow without bound towards the limit, and so do the steps
/// it takes to come nearer; no part is set to a thousandth of a millimetre.
const SHORT_OF_LIMIT_MM: f64 = 1e-3;
/// This far (mm) past the travel at which a strap goes slack it is taken for slack.
const SLACK_MM: f64 = 1e-3;
/// How often the end of a search is taken back before it is given up.
const MOST_RETREATS: usize = 20;
/// Roots are found to this travel (mm): a thousandth of what a person could set.
const TRAVEL_TOLERANCE_MM: f64 = 1e-9;

/// What moves: a corner, or both wheels of an axle together.
#[derive(Debug, Clone, Copy)]
enum Mover<'a> {
    Corner(&'a Corner),
    Axle(&'a Axle),
}

/// Length of one part against wheel travel.
#[derive(Debug, Clone, Copy)]
pub(crate) struct LengthCurve<'a> {
    mover: Mover<'a>,
    part: &'a Mounted,
}

impl<'a> LengthCurve<'a> {
    pub(crate) fn of_corner_damper(corner: &'a Corner) -> Option<Self> {
        corner
            .geometry
            .damper
            .as_ref()
            .map(|part| Self::of_corner(corner, part))
    }

    pub(crate) fn of_axle_damper(axle: &'a Axle, side: Side) -> Option<Self> {
        let both = axle.geometry.dampers.as_ref()?;
        let part = match side {
            Side::Left => Some(&both.left),
            Side::Right => both.right.as_ref(),
        };
        part.map(|part| Self::of_axle(axle, part))
    }

    pub(crate) fn of_corner(corner: &'a Corner, part: &'a Mounted) -> Self {
        Self {
            mover: Mover::Corner(corner),
            part,
        }
    }

    pub(crate) fn of_axle(axle: &'a Axle, part: &'a Mounted) -> Self {
        Self {
            mover: Mover::Axle(axle),
            part,
        }
    }

    /// Length at a travel (mm), with its rate per mm of travel.
    pub(crate) fn at(&self, travel: f64) -> Result<WithRate, PoseError> {
        Ok(match self.mover {
            Mover::Corner(corner) => self.part.length(&corner.at(travel, 0.0)?.state().carrier),
            Mover::Axle(axle) => self.part.length(&axle.at(AxleTravel::both(travel))?.in_heave()),
        })
    }

    /// From the upper end to the lower one at a travel (mm).
    pub(crate) fn span_at(&self, travel: f64) -> Result<Vector3<f64>, PoseError> {
        let lower = match self.mover {
            Mover::Corner(corner) => self.part.lower(&corner.at(travel, 0.0)?.state().carrier),
            Mover::Axle(axle) => self.part.lower(&axle.at(AxleTravel::both(travel))?.in_heave()),
        };
        Ok(value(&lower) - self.part.upper)
    }

    /// The part with its upper end moved (mm).
    pub(crate) fn with_upper_moved(&self, change: &Vector3<f64>) -> Mounted {
        Mounted {
            upper: self.part.upper + change,
            ..self.part.clone()
        }
    }

    /// The same wheel travel with another part.
    pub(crate) fn of<'b>(&self, part: &'b Mounted) -> LengthCurve<'b>
    where
        'a: 'b,
    {
        LengthCurve {
            mover: self.mover,
            part,
        }
    }

    /// The travel, if the linkage reaches it.
    pub(crate) fn within_reach(&self, travel: f64) -> Option<f64> {
        let (lowest, highest) = self.searchable();
        (lowest..=highest).contains(&travel).then_some(travel)
    }

    /// Lengths at many travels, in the order given.
    fn along(&self, travels: &[f64]) -> Result<Vec<WithRate>, PoseError> {
        Ok(match self.mover {
            Mover::Corner(corner) => {
                let positions = corner.sweep_travel(travels, 0.0)?;
                positions
                    .iter()
                    .map(|position| self.part.length(&position.state().carrier))
                    .collect()
            }
            Mover::Axle(axle) => {
                let positions = axle.sweep_heave(travels)?;
                positions
                    .iter()
                    .map(|position| self.part.length(&position.in_heave()))
                    .collect()
            }
        })
    }

    /// Where the linkage itself ends (mm of travel from the pickups as measured).
    pub(crate) fn reach(&self) -> Reach {
        match self.mover {
            Mover::Corner(corner) => corner.reach(),
            Mover::Axle(axle) => axle.reach(),
        }
    }

    /// The travels between which a search makes sense (mm): within reach, and as far as positions can be trusted.
    pub(crate) fn searchable(&self) -> (f64, f64) {
        let found = match self.mover {
            Mover::Corner(corner) => &corner.searchable,
            Mover::Axle(axle) => &axle.searchable,
        };
        *found.get_or_init(|| {
            let (lowest, highest) = bounds(&self.reach());
            (self.trusted(lowest), self.trusted(highest))
        })
    }

    /// The travel farthest out, up to `end`, at which there is a position (mm).
    ///
    /// Farther steps than those that found the reach may end sooner.
    fn trusted(&self, mut end: f64) -> f64 {
        for _ in 0..MOST_RETREATS {
            let found = match self.mover {
                Mover::Corner(corner) => corner.at(end, 0.0).err(),
                Mover::Axle(axle) => axle.at(AxleTravel::both(end)).err(),
            };
            let good = match found {
                None => return end,
                Some(PoseError::NotConverged { good_mm, .. }) => good_mm,
                Some(PoseError::OutOfReach { limit_mm, .. }) => limit_mm,
                Some(_) => break,
            };
            // On the way to a nearer place other steps are taken; a millimetre is room enough for them.
            end = (end.abs().min(good.abs()) - 1.0).max(0.0).copysign(end);
        }
        0.0
    }

    /// The first travel from `from` towards `to` at which the part has this length (mm); none if it never has.
    ///
    /// Where it has that length at `from` already, the answer is `from`.
    pub(crate) fn first_travel_at(&self, length: f64, from: f64, to: f64) -> Result<Option<f64>, PoseError> {
        let count = ((to - from).abs() / LOOK_MM).ceil().max(1.0);
        let travels: Vec<f64> = (0..=count as usize)
            .map(|place| from + (to - from) * (place as f64 / count))
            .collect();
        let lengths = self.along(&travels)?;
        let looks: Vec<(f64, WithRate)> = travels.into_iter().zip(lengths).collect();
        for pair in looks.windows(2) {
            let [(here, now), (there, then)] = *pair else {
                continue;
            };
            let (miss, next) = (now.re - length, then.re - length);
            if miss == 0.0 {
                return Ok(Some(here));
            }
            if miss * next <= 0.0 {
                return self.root(length, (here, miss), (there, next)).map(Some);
            }
            // Turned round in between: the length may have been there and gone back.
            let heading = (there - here).signum();
            if now.eps * then.eps < 0.0 && miss * now.eps * heading < 0.0 {
                let turn = self.turning_point((here, now.eps), (there, then.eps))?;
                let at_turn = self.at(turn)?.re - length;
                if miss * at_turn <= 0.0 {
                    return self.root(length, (here, miss), (turn, at_turn)).map(Some);
                }
            }
        }
        Ok(None)
    }

    /// The first travel from `from` towards `to` at which a strap of this length is pulled taut (mm); none if it never is.
    ///
    /// A strap that is taut already goes slack where its ends come nearer, and stops nothing until it is taut again.
    pub(crate) fn first_travel_taut(
        &self,
        length: f64,
        from: f64,
        to: f64,
    ) -> Result<Option<f64>, PoseError> {
        let here = self.at(from)?;
        if here.re < length {
            return self.first_travel_at(length, from, to);
        }
        let heading = (to - from).signum();
        if here.eps * heading > 0.0 {
            return Ok(Some(from));
        }
        let Some(slack) = self.first_travel_at(length, from, to)? else {
            return Ok(None);
        };
        let beyond = slack + heading * SLACK_MM;
        if (to - beyond) * heading <= 0.0 {
            return Ok(None);
        }
        self.first_travel_at(length, beyond, to)
    }

    fn root(&self, length: f64, first: (f64, f64), second: (f64, f64)) -> Result<f64, PoseError> {
        let (low, high) = if first.0 < second.0 {
            (first, second)
        } else {
            (second, first)
        };
        let miss = |travel: f64| self.at(travel).map(|now| (now.re - length, now.eps));
        bracketed_root::find(miss, low, high, TRAVEL_TOLERANCE_MM)
    }

    fn turning_point(&self, first: (f64, f64), second: (f64, f64)) -> Result<f64, PoseError> {
        let (low, high) = if first.0 < second.0 {
            (first, second)
        } else {
            (second, first)
        };
        // Without the slope of the slope this bisects, which is quick enough for so rare a case.
        let slope = |travel: f64| self.at(travel).map(|now| (now.eps, f64::NAN));
        bracketed_root::find(slope, low, high, TRAVEL_TOLERANCE_MM)
    }

    /// The travel nearest to 0 at which the part has this length (mm).
    pub(crate) fn nearest_travel_at(&self, length: f64) -> Result<f64, Error> {
        let (lowest, highest) = self.searchable();
        let up = self.first_travel_at(length, 0.0, highest)?;
        let down = self.first_travel_at(length, 0.0, lowest)?;
        match (up, down) {
            (Some(up), Some(down)) => Ok(if up.abs() <= down.abs() { up } else { down }),
            (Some(only), None) | (None, Some(only)) => Ok(only),
            (None, None) => {
                let (at_lowest, at_highest) = (self.at(lowest)?.re, self.at(highest)?.re);
                Err(Error::LengthNeverReached {
                    length_mm: length,
                    shortest_mm: at_lowest.min(at_highest),
                    longest_mm: at_lowest.max(at_highest),
                })
            }
        }
    }
}

fn bounds(reach: &Reach) -> (f64, f64) {
    let lowest = reach.lowest.map_or(-FARTHEST_MM, |limit| {
        (limit + SHORT_OF_LIMIT_MM).max(-FARTHEST_MM)
    });
    let highest = reach
        .highest
        .map_or(FARTHEST_MM, |limit| (limit - SHORT_OF_LIMIT_MM).min(FARTHEST_MM));
    (lowest, highest)
}
