//! From springs and weights to where the car sits.

use super::super::balance::{Balance, Carrying, lifted};
use super::super::spring::SpringStack;
use super::super::sprung_load::GRAVITY;
use super::super::sprung_wheel::{Mover, SprungWheel, TravelEnds, WheelMotion};
use super::super::{Stopper, Verdict, ride_frequency, wheel_rate_for_frequency};
use super::answer::{
    AtContactPoint, NeededSeat, RateForFrequency, RollMotion, SeatCorrection, SpringRide, SpringState,
    Standing,
};
use super::question::{RideHeightQuestion, SeatPosition};
use super::{QUESTION, finding, remedies, room};
use crate::curves::wheel_rate;
use crate::suspension::AxleTravel;
use crate::{Error, Sentence};

/// Seat moves are verified when the car then sits this near to where it shall (mm).
pub(super) const VERIFIED_MM: f64 = 1e-6;

/// One wheel of a case.
#[derive(Debug, Clone)]
pub(in crate::checks) struct Wheel<'a> {
    pub(in crate::checks) name: String,
    pub(in crate::checks) part: SprungWheel<'a>,
    pub(in crate::checks) question: RideHeightQuestion,
    pub(in crate::checks) stack: SpringStack,
    pub(in crate::checks) mass: f64,
    pub(in crate::checks) ends: TravelEnds,
    /// What lies between the mounts besides springs and adjustable seat (mm).
    pub(in crate::checks) fixed: f64,
    /// The seat that is judged (mm).
    pub(in crate::checks) seat: f64,
    pub(in crate::checks) needed: NeededSeat,
}

impl<'a> Wheel<'a> {
    pub(in crate::checks) fn carrying(&self, seat: f64, added: f64) -> Carrying<'a> {
        Carrying {
            wheel: self.part,
            stack: self.stack,
            between: self.fixed + seat,
            weight: (self.mass + added) * GRAVITY,
        }
    }

    fn added_mass(&self) -> f64 {
        self.question.laden.map_or(0.0, |laden| laden.mass)
    }

    /// The seat that puts the stack under a force at a length between the mounts (mm).
    fn seat_for(&self, force: f64, between_mounts: f64) -> f64 {
        between_mounts - self.fixed - self.stack.length_under(force)
    }

    pub(super) fn turns(&self, change: f64) -> Option<f64> {
        self.question.seat_thread.map(|thread| change / thread.pitch)
    }

    /// The spring between its seats at a distance of its mounts.
    pub(super) fn state(&self, travel: Option<f64>, between_mounts: f64) -> SpringState {
        let installed_length = between_mounts - self.fixed - self.seat;
        SpringState {
            travel,
            installed_length,
            compression: self.stack.free - installed_length,
            force: self.stack.force(installed_length),
        }
    }
}

/// A corner, or both wheels of an axle, with all that is asked of them.
#[derive(Debug, Clone)]
pub(in crate::checks) struct Case<'a> {
    pub(in crate::checks) wheels: Vec<Wheel<'a>>,
    pub(in crate::checks) ride: f64,
}

impl<'a> Case<'a> {
    /// Validates the questions and finds the seats for the wanted ride height.
    pub(in crate::checks) fn new(
        asked: Vec<(SprungWheel<'a>, RideHeightQuestion, String)>,
    ) -> Result<Self, Error> {
        let ride = match asked.first() {
            Some((part, ..)) => part.ride_travel()?,
            None => return Err(super::nothing()),
        };
        let mut wheels = Vec::with_capacity(asked.len());
        for (part, question, name) in asked {
            let stack = question.stack(part.spring, part.damper, part.is_coilover())?;
            wheels.push(Wheel {
                mass: question.load.mass()?,
                ends: part.ends()?,
                fixed: question.fixed_between(part.spring),
                seat: question.seat_as_set(part.spring),
                needed: NeededSeat {
                    force: 0.0,
                    installed_length: 0.0,
                    seat: 0.0,
                    change: 0.0,
                    turns: None,
                },
                name,
                part,
                question,
                stack,
            });
        }
        let mut case = Self { wheels, ride };
        let seats = case.seats_at(ride, false)?;
        for (wheel, (force, seat)) in case.wheels.iter_mut().zip(seats) {
            let change = seat - wheel.seat;
            wheel.needed = NeededSeat {
                force,
                installed_length: wheel.stack.length_under(force),
                seat,
                change,
                turns: wheel.turns(change),
            };
            wheel.seat = match wheel.question.seat {
                SeatPosition::AsSet => wheel.question.checked_seat_as_set(wheel.part.spring)?,
                SeatPosition::ForRideHeight => seat,
            };
        }
        Ok(case)
    }

    fn balance(&self, seat: impl Fn(&Wheel<'a>) -> f64, laden: bool) -> Balance<'a> {
        let wheels = self.wheels.iter().map(|wheel| {
            let added = if laden { wheel.added_mass() } else { 0.0 };
            wheel.carrying(seat(wheel), added)
        });
        Balance {
            wheels: wheels.collect(),
            load_point: self
                .wheels
                .first()
                .map(|wheel| wheel.question.load_point)
                .unwrap_or_default(),
        }
    }

    /// Spring force and seat of every wheel that hold the car at one travel of all wheels.
    pub(super) fn seats_at(&self, travel: f64, laden: bool) -> Result<Vec<(f64, f64)>, Error> {
        let balance = self.balance(|wheel| wheel.seat, laden);
        let Some(forces) = balance.forces_for(travel)? else {
            return Err(Error::NotForThisLayout {
                question: QUESTION.into(),
                reason: Sentence::new("at ").length(travel).words(
                    " of travel the springs do not push the wheels down, so that no spring force carries the weight there: \
                     check the mounts of the springs",
                ),
            });
        };
        self.wheels
            .iter()
            .zip(forces)
            .map(|(wheel, force)| {
                let length = wheel.part.spring_curve().at(travel)?.re;
                Ok((force, wheel.seat_for(force, length)))
            })
            .collect()
    }

    /// Where all wheels come to rest with the given seats.
    pub(super) fn rest(
        &self,
        seat: impl Fn(&Wheel<'a>) -> f64,
        laden: bool,
    ) -> Result<Option<AxleTravel>, Error> {
        self.balance(seat, laden).rest(self.ride)
    }

    /// Runs the check for every wheel.
    pub(in crate::checks) fn run(&self) -> Result<Vec<SpringRide>, Error> {
        let rest = self.rest(|wheel| wheel.seat, false)?;
        let laden = if self.wheels.iter().any(|wheel| wheel.question.laden.is_some()) {
            self.rest(|wheel| wheel.seat, true)?
        } else {
            None
        };
        let wheels = 0..self.wheels.len();
        wheels
            .filter_map(|place| self.wheels.get(place).map(|wheel| (place, wheel)))
            .map(|(place, wheel)| self.ride_of(place, wheel, rest, laden))
            .collect()
    }

    fn ride_of(
        &self,
        place: usize,
        wheel: &Wheel<'a>,
        rest: Option<AxleTravel>,
        laden: Option<AxleTravel>,
    ) -> Result<SpringRide, Error> {
        let stands = |at: Option<AxleTravel>, added: f64| {
            at.map(|travel| self.standing(wheel, travel, added)).transpose()
        };
        let (lowest, highest) = wheel.part.spring_curve().searchable();
        let state_at = |(stopper, travel): &(Stopper, Option<f64>)| -> Result<_, Error> {
            // At the very limit of the linkage's reach there are no rates.
            let travel = travel.map(|travel| travel.clamp(lowest, highest));
            let state = travel
                .map(|travel| {
                    let length = wheel.part.spring_curve().at(travel)?.re;
                    Ok::<_, Error>(wheel.state(Some(travel - self.ride), length))
                })
                .transpose()?;
            Ok((stopper.clone(), state))
        };
        let on_damper = |length: f64| wheel.part.is_coilover().then(|| wheel.state(None, length));
        let at_full_bump = state_at(&wheel.ends.full_bump)?;
        let mut ride = SpringRide {
            spring: wheel.name.clone(),
            ride_travel: self.ride,
            sprung_mass: wheel.mass,
            seat: wheel.seat,
            needed: wheel.needed,
            correction: self.correction(place, wheel)?,
            standing: stands(rest, 0.0)?,
            laden: match wheel.question.laden {
                Some(load) => stands(laden, load.mass)?,
                None => None,
            },
            at_full_extension: on_damper(wheel.ends.lengths.extended),
            at_metal: on_damper(wheel.ends.lengths.compressed),
            at_full_droop: state_at(&wheel.ends.full_droop)?,
            coil_margin: at_full_bump
                .1
                .zip(wheel.stack.solid)
                .map(|(state, solid)| state.installed_length - solid),
            at_full_bump,
            rate_for_frequency: self.rate_for_frequency(wheel)?,
            possible: true,
            findings: Vec::new(),
        };
        ride.possible = room::possible(wheel, &ride);
        for (topic, mut found) in finding::all(wheel, &ride) {
            if found.verdict != Verdict::Holds {
                found.remedies = remedies::of(self, place, topic, &ride)?;
            }
            ride.findings.push(found);
        }
        Ok(ride)
    }

    fn correction(&self, place: usize, wheel: &Wheel<'a>) -> Result<Option<SeatCorrection>, Error> {
        let Some(low) = wheel.question.sits_low else {
            return Ok(None);
        };
        let now = self.seats_at(self.ride + low, false)?;
        let Some((_, seat)) = now.get(place) else {
            return Ok(None);
        };
        let change = wheel.needed.seat - seat;
        let quick_change = -low * wheel.part.spring_curve().at(self.ride)?.eps;
        Ok(Some(SeatCorrection {
            low,
            change,
            turns: wheel.turns(change),
            quick_change,
            quick_turns: wheel.turns(quick_change),
        }))
    }

    /// How a wheel stands at a travel of all wheels.
    fn standing(&self, wheel: &Wheel<'a>, at: AxleTravel, added: f64) -> Result<Standing, Error> {
        let own = if wheel.part.sign() > 0.0 {
            at.left
        } else {
            at.right
        };
        let motion = wheel.part.at(at)?;
        let carrying = wheel.carrying(wheel.seat, added);
        let mass = wheel.mass + added;
        let force = carrying.force(&motion);
        let rate = carrying.rate(&motion);
        let spring = &motion.spring;
        let to_go = |end: Option<f64>, sign: f64| end.map(|end| (end - own) * sign);
        let bump_to_stop = to_go(wheel.ends.stop_contact, 1.0);
        let droop = to_go(wheel.ends.full_droop.1, -1.0);
        let at_centre = wheel_rate(rate, -spring.heave, -spring.heave_heave, Some(force));
        Ok(Standing {
            travel: own,
            low: own - self.ride,
            between_mounts: spring.value,
            installed_length: carrying.installed(&motion),
            compression: wheel.stack.free - carrying.installed(&motion),
            force,
            motion_ratio: -spring.heave,
            motion_ratio_slope: -spring.heave_heave,
            wheel_rate: at_centre,
            frequency: ride_frequency(at_centre.total(), mass),
            contact_point: at_contact_point(&motion, force, at_centre.total(), mass),
            in_roll: match wheel.part.mover {
                Mover::Corner(_) => None,
                Mover::Axle(_) => {
                    let ratio = -spring.roll * wheel.part.sign();
                    Some(RollMotion {
                        motion_ratio: ratio,
                        wheel_rate: wheel_rate(rate, ratio, -spring.roll_roll, Some(force)),
                    })
                }
            },
            bump_to_stop,
            bump: to_go(wheel.ends.full_bump.1, 1.0),
            droop,
            bump_share: bump_to_stop
                .zip(droop)
                .filter(|(bump, droop)| *bump >= 0.0 && *droop >= 0.0 && bump + droop > 0.0)
                .map(|(bump, droop)| bump / (bump + droop)),
        })
    }

    fn rate_for_frequency(&self, wheel: &Wheel<'a>) -> Result<Option<RateForFrequency>, Error> {
        let Some(frequency) = wheel.question.wanted_frequency else {
            return Ok(None);
        };
        let motion = wheel.part.at(AxleTravel::both(self.ride))?;
        let (ratio, slope) = (-motion.spring.heave, -motion.spring.heave_heave);
        let wanted = wheel_rate_for_frequency(frequency, wheel.mass);
        // k = (K - F dm/dz) / m^2: the force is set by the weight, whatever the rate.
        let rate = (wanted - wheel.needed.force * slope) / (ratio * ratio);
        Ok((rate > 0.0 && rate.is_finite()).then(|| RateForFrequency {
            frequency,
            wheel_rate: wanted,
            rate,
            compression: wheel.needed.force / rate,
        }))
    }
}

/// The force at the contact point is `F m / h'` with h' its rise per travel; here is its change with that height.
fn at_contact_point(motion: &WheelMotion, force: f64, wheel_rate: f64, mass: f64) -> AtContactPoint {
    let lift = lifted(motion, super::super::LoadPoint::ContactPoint);
    let rise = lift.heave;
    let ratio = -motion.spring.heave;
    // d(F m / h')/dz / h' = (K h' - F m h'') / h'^3
    let rate = (wheel_rate * rise - force * ratio * lift.heave_heave) / rise.powi(3);
    AtContactPoint {
        rise,
        rate,
        frequency: ride_frequency(rate, mass),
    }
}
