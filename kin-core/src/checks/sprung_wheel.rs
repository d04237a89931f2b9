//! A wheel with its spring and damper: where they are, how they move, and what stops them.

use super::{DamperLengths, Stopper, StrokeQuestion, check_axle_stroke, check_corner_stroke};
use crate::Error;
use crate::numeric::real::Moving;
use crate::pickups::{AxleSides, Damper, Side, Spring};
use crate::pose::PoseError;
use crate::suspension::{
    Along, Axle, AxleAlong, AxlePosition, AxleTravel, Corner, CornerPosition, LengthCurve, Mounted,
};
use num_dual::Dual64;

/// A length or height with its exact rates: in heave (a corner knows no other motion) and in roll, the left wheel up
/// and the right one down.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Rates {
    /// The length or height (mm).
    pub(crate) value: f64,
    /// Per mm of travel of both wheels.
    pub(crate) heave: f64,
    /// Per mm of travel of the left wheel up and the right wheel down.
    pub(crate) roll: f64,
    /// Second rates (1/mm).
    pub(crate) heave_heave: f64,
    pub(crate) heave_roll: f64,
    pub(crate) roll_roll: f64,
}

impl Rates {
    fn in_heave(along_heave: &Moving<Dual64>) -> Self {
        Self {
            value: along_heave.re.re,
            heave: along_heave.eps.re,
            heave_heave: along_heave.eps.eps,
            ..Self::default()
        }
    }

    /// From the heave motion along heave, and the roll motion along heave and along roll.
    fn in_both(heave: &Moving<Dual64>, roll: &Moving<Dual64>, roll_along_roll: &Moving<Dual64>) -> Self {
        Self {
            roll: roll.eps.re,
            heave_roll: roll.eps.eps,
            roll_roll: roll_along_roll.eps.eps,
            ..Self::in_heave(heave)
        }
    }
}

/// How spring, damper and contact point of one wheel move at one position.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct WheelMotion {
    /// Distance between the spring's mounts.
    pub(crate) spring: Rates,
    /// Distance between the damper's mounts.
    pub(crate) damper: Rates,
    /// Height of the contact point.
    pub(crate) contact: Rates,
    /// Height of the wheel centre.
    pub(crate) centre: Rates,
}

/// What the wheel belongs to.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Mover<'a> {
    /// A corner of its own.
    Corner(&'a Corner),
    /// One side of an axle.
    Axle(&'a Axle),
}

/// A wheel with its spring and damper.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SprungWheel<'a> {
    pub(crate) mover: Mover<'a>,
    pub(crate) side: Side,
    pub(crate) spring: &'a Spring,
    pub(crate) damper: &'a Damper,
    spring_part: &'a Mounted,
    damper_part: &'a Mounted,
}

impl<'a> SprungWheel<'a> {
    /// The wheel of a corner.
    pub(crate) fn of_corner(corner: &'a Corner, question: &'static str) -> Result<Self, Error> {
        let pickups = corner.pickups();
        let (Some(damper), Some(damper_part)) = (pickups.any_damper(), corner.geometry.damper.as_ref())
        else {
            return Err(missing(question, "coilover", "give its mounts and lengths"));
        };
        let (Some(spring), Some(spring_part)) = (pickups.spring.as_ref(), corner.geometry.spring.as_ref())
        else {
            return Err(missing(
                question,
                "spring",
                "give its rate, free length and seats",
            ));
        };
        Ok(Self {
            mover: Mover::Corner(corner),
            side: corner.side(),
            spring,
            damper,
            spring_part,
            damper_part,
        })
    }

    /// The left and the right wheel of an axle.
    pub(crate) fn of_axle(axle: &'a Axle, question: &'static str) -> Result<[Self; 2], Error> {
        let pickups = axle.pickups();
        let (Some(dampers), Some(damper_parts)) =
            (both(pickups.any_dampers()), both(axle.geometry.dampers.as_ref()))
        else {
            return Err(missing(question, "coilovers", "give their mounts and lengths"));
        };
        let (Some(springs), Some(spring_parts)) = (
            both(pickups.springs.as_ref()),
            both(axle.geometry.springs.as_ref()),
        ) else {
            return Err(missing(question, "springs", "give rate, free length and seats"));
        };
        let wheel = |side, damper, damper_part, spring, spring_part| Self {
            mover: Mover::Axle(axle),
            side,
            spring,
            damper,
            spring_part,
            damper_part,
        };
        Ok([
            wheel(Side::Left, dampers.0, damper_parts.0, springs.0, spring_parts.0),
            wheel(Side::Right, dampers.1, damper_parts.1, springs.1, spring_parts.1),
        ])
    }

    /// The same wheel with another spring between the same mounts.
    pub(crate) fn with_spring<'b>(&self, spring: &'b Spring) -> SprungWheel<'b>
    where
        'a: 'b,
    {
        SprungWheel { spring, ..*self }
    }

    /// Whether the spring sits on the damper, so that the damper's lengths are the spring's as well.
    pub(crate) fn is_coilover(&self) -> bool {
        self.spring.upper_mount.is_none()
    }

    /// Travel at ride height, from the pickups as measured (mm).
    pub(crate) fn ride_travel(&self) -> Result<f64, Error> {
        match self.mover {
            Mover::Corner(corner) => corner.ride_travel(),
            Mover::Axle(axle) => axle.ride_travel(),
        }
    }

    /// Length of the spring between its mounts against travel (of both wheels, on an axle).
    pub(crate) fn spring_curve(&self) -> LengthCurve<'a> {
        self.curve_of(self.spring_part)
    }

    /// Length of the damper between its mounts against travel (of both wheels, on an axle).
    pub(crate) fn damper_curve(&self) -> LengthCurve<'a> {
        self.curve_of(self.damper_part)
    }

    fn curve_of(&self, part: &'a Mounted) -> LengthCurve<'a> {
        match self.mover {
            Mover::Corner(corner) => LengthCurve::of_corner(corner, part),
            Mover::Axle(axle) => LengthCurve::of_axle(axle, part),
        }
    }

    /// The motion at one travel of each wheel; a corner goes by its own side's travel.
    pub(crate) fn at(&self, travel: AxleTravel) -> Result<WheelMotion, Error> {
        match self.mover {
            Mover::Corner(corner) => self.in_corner(&corner.at(travel.left, 0.0)?),
            Mover::Axle(axle) => self.on_axle(&axle.at(travel)?),
        }
    }

    /// The motion of one wheel of a corner at a position.
    pub(crate) fn in_corner(&self, position: &CornerPosition<'_>) -> Result<WheelMotion, Error> {
        let state = position.state_along(Along::Travel).ok_or_else(at_the_limit)?;
        Ok(WheelMotion {
            spring: Rates::in_heave(&self.spring_part.length(&state.carrier)),
            damper: Rates::in_heave(&self.damper_part.length(&state.carrier)),
            contact: Rates::in_heave(&state.contact_point().z),
            centre: self.centre(),
        })
    }

    /// The motion of one wheel of an axle at a position.
    pub(crate) fn on_axle(&self, position: &AxlePosition<'_>) -> Result<WheelMotion, Error> {
        let heave = position.state_along(AxleAlong::Heave).ok_or_else(at_the_limit)?;
        let roll = position.state_along(AxleAlong::Roll).ok_or_else(at_the_limit)?;
        let of_part = |part: &Mounted| {
            Rates::in_both(
                &part.length(&heave.heave),
                &part.length(&heave.roll),
                &part.length(&roll.roll),
            )
        };
        let side = self.sign();
        Ok(WheelMotion {
            spring: of_part(self.spring_part),
            damper: of_part(self.damper_part),
            contact: Rates::in_both(
                &heave.contact(&heave.heave, side).z,
                &heave.contact(&heave.roll, side).z,
                &roll.contact(&roll.roll, side).z,
            ),
            centre: self.centre(),
        })
    }

    /// 1 on the left of an axle, -1 on its right: the sense in which roll moves this wheel.
    pub(crate) fn sign(&self) -> f64 {
        match (self.mover, self.side) {
            (Mover::Axle(_), Side::Right) => -1.0,
            _ => 1.0,
        }
    }

    /// Travel is counted at the wheel centre, so that its height has plain rates.
    fn centre(&self) -> Rates {
        Rates {
            heave: 1.0,
            roll: match self.mover {
                Mover::Corner(_) => 0.0,
                Mover::Axle(_) => self.sign(),
            },
            ..Rates::default()
        }
    }

    /// What stops this wheel (with both wheels together, on an axle).
    pub(crate) fn ends(&self) -> Result<TravelEnds, Error> {
        let question = StrokeQuestion::default();
        let stroke = match self.mover {
            Mover::Corner(corner) => check_corner_stroke(corner, &question)?,
            Mover::Axle(axle) => {
                let mut both = check_axle_stroke(axle, &question)?;
                // One report speaks for both sides when they are alike.
                let place = if self.side == Side::Right {
                    both.len().saturating_sub(1)
                } else {
                    0
                };
                if place >= both.len() {
                    return Err(missing(
                        "the travel of an axle",
                        "coilovers",
                        "give their mounts and lengths",
                    ));
                }
                both.swap_remove(place)
            }
        };
        let ride = stroke.ride_travel;
        Ok(TravelEnds {
            lengths: stroke.lengths,
            stop_contact: stroke.budget.bump_to_stop.map(|travel| ride + travel),
            full_bump: (
                stroke.first_in_bump.0,
                stroke.first_in_bump.1.map(|travel| ride + travel),
            ),
            full_droop: (
                stroke.first_in_droop.0,
                stroke.first_in_droop.1.map(|travel| ride - travel),
            ),
        })
    }
}

/// The ends of a wheel's travel, counted from the pickups as measured (mm).
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct TravelEnds {
    /// Lengths of the damper between its mounts.
    pub(crate) lengths: DamperLengths,
    /// Where the damper's bump stop is touched.
    pub(crate) stop_contact: Option<f64>,
    /// What ends the travel in bump, and where.
    pub(crate) full_bump: (Stopper, Option<f64>),
    /// What ends the travel in droop, and where.
    pub(crate) full_droop: (Stopper, Option<f64>),
}

fn both<T>(sides: Option<&AxleSides<T>>) -> Option<(&T, &T)> {
    sides.and_then(|sides| Some((&sides.left, sides.right.as_ref()?)))
}

fn missing(question: &'static str, field: &'static str, advice: &'static str) -> Error {
    Error::Missing {
        question,
        field,
        advice,
    }
}

/// At the very limit of reach rates are infinite.
fn at_the_limit() -> Error {
    Error::NotForThisLayout {
        question: "the force of a spring at the limit of the linkage's reach".into(),
        reason: "the wheel can go no further there, and the motion ratio has no value".into(),
    }
}

/// Positions of the wheels with both at many travels.
pub(crate) fn sweep(wheels: &[SprungWheel<'_>], travels: &[f64]) -> Result<Vec<Vec<WheelMotion>>, Error> {
    let Some(first) = wheels.first() else {
        return Ok(Vec::new());
    };
    let of_each = |motion: &dyn Fn(&SprungWheel<'_>) -> Result<WheelMotion, Error>| {
        wheels.iter().map(motion).collect::<Result<Vec<_>, Error>>()
    };
    match first.mover {
        Mover::Corner(corner) => {
            let positions: Result<Vec<_>, PoseError> = corner.sweep_travel(travels, 0.0);
            positions?
                .iter()
                .map(|position| of_each(&|wheel| wheel.in_corner(position)))
                .collect()
        }
        Mover::Axle(axle) => {
            let positions: Result<Vec<_>, PoseError> = axle.sweep_heave(travels);
            positions?
                .iter()
                .map(|position| of_each(&|wheel| wheel.on_axle(position)))
                .collect()
        }
    }
}
