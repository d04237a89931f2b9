//! Where in the travel the bump stop works, and whether it stops the wheel before metal does.

mod table;

pub use table::{BumpStopQuestion, StopPoint};

use super::balance::Carrying;
use super::ride_height::{Case, CaseWheel, RideHeightQuestion};
use super::sprung_load::GRAVITY;
use super::sprung_wheel::SprungWheel;
use super::{Finding, Sentence, Verdict};
use crate::numeric::bracketed_root;
use crate::pickups::{AxleSides, positive};
use crate::suspension::{Axle, AxleTravel, Corner};
use crate::{Dimension, Error};
use table::{checked, force_of};

const CHECK: &str = "bump_stop";
const QUESTION: &str = "the bump stop check";
/// Times the static weight that a wheel shall carry before metal, where no factor is stated: common practice, no source.
const USUAL_LOAD_FACTOR: f64 = 3.0;
/// Bump before the stop is touched below which it counts as tight (mm).
const USUAL_MARGIN_MM: f64 = 5.0;
/// Travel is found to this (mm).
const TRAVEL_TOLERANCE_MM: f64 = 1e-9;

/// The wheel with the bump stop at one compression.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StopRow {
    /// Compression of the stop (mm).
    pub compression: f64,
    /// Wheel travel from the wanted ride height (mm), bump positive.
    pub travel: f64,
    /// Force of the stop along the damper (N).
    pub stop_force: f64,
    /// Vertical force of spring and stop at the wheel centre (N).
    pub wheel_force: f64,
    /// Wheel rate of spring and stop together, on the way into the stop (N/mm).
    pub wheel_rate: f64,
}

/// What ends the travel in bump.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StopEnd {
    /// The stop is pressed as flat as its table goes.
    Flat,
    /// The damper meets metal first.
    Metal,
}

/// The bump stop check of one damper.
#[derive(Debug, Clone, PartialEq)]
pub struct BumpStopWork {
    /// Which damper.
    pub damper: String,
    /// Bump from the wanted ride height to where the stop is touched (mm); negative when it is touched already.
    pub contact: f64,
    /// Bump from the wanted ride height to where the travel ends (mm).
    pub end: f64,
    /// What ends it.
    pub ends_at: StopEnd,
    /// Share of the bump travel over which the stop works.
    pub share_of_bump: Option<f64>,
    /// Share of the damper's stroke over which the stop works.
    pub share_of_stroke: f64,
    /// The table at the wheel.
    pub rows: Vec<StopRow>,
    /// Bump from the wanted ride height at which spring and stop carry the load factor (mm); none when they never do.
    pub carries_load_factor_at: Option<f64>,
    /// The answers.
    pub findings: Vec<Finding>,
}

/// Checks the bump stop of a corner, with the spring as the ride height question has it.
///
/// # Errors
/// Without spring, damper or bump stop, with a table that cannot be right, or out of the linkage's reach.
pub fn check_corner_bump_stop(
    corner: &Corner,
    ride_height: &RideHeightQuestion,
    question: &BumpStopQuestion,
) -> Result<BumpStopWork, Error> {
    let wheel = SprungWheel::of_corner(corner, QUESTION)?;
    let case = Case::new(vec![(wheel, ride_height.clone(), "bump stop".to_owned())])?;
    let wheel = case.wheels.first().ok_or_else(no_stop)?;
    Stop::new(wheel, case.ride, question)?.check()
}

/// Checks both bump stops of an axle with both wheels moving together; left first.
///
/// # Errors
/// As for [`check_corner_bump_stop`].
pub fn check_axle_bump_stop(
    axle: &Axle,
    ride_height: &AxleSides<RideHeightQuestion>,
    question: &BumpStopQuestion,
) -> Result<Vec<BumpStopWork>, Error> {
    let [left, right] = SprungWheel::of_axle(axle, QUESTION)?;
    let other = ride_height.right.as_ref().unwrap_or(&ride_height.left);
    let case = Case::new(vec![
        (left, ride_height.left.clone(), "left bump stop".to_owned()),
        (right, other.clone(), "right bump stop".to_owned()),
    ])?;
    case.wheels
        .iter()
        .map(|wheel| Stop::new(wheel, case.ride, question)?.check())
        .collect()
}

fn no_stop() -> Error {
    Error::Missing {
        question: QUESTION,
        field: "bump_stop",
        advice: "give the free length of the stop on the damper's shaft",
    }
}

/// One bump stop in place.
struct Stop<'a> {
    wheel: &'a CaseWheel<'a>,
    carrying: Carrying<'a>,
    ride: f64,
    /// Length of the damper at which it is touched (mm).
    contact_length: f64,
    /// From nothing to flat, or to metal.
    table: Vec<StopPoint>,
    ends_at: StopEnd,
    load_factor: f64,
}

impl<'a> Stop<'a> {
    fn new(wheel: &'a CaseWheel<'a>, ride: f64, question: &BumpStopQuestion) -> Result<Self, Error> {
        let free = wheel.part.damper.bump_stop;
        if free <= 0.0 {
            return Err(no_stop());
        }
        let load_factor = question.load_factor.unwrap_or(USUAL_LOAD_FACTOR);
        positive(
            load_factor,
            "load_factor",
            "say how many times the static weight the wheel shall carry",
        )?;
        let mut table = checked(&question.table)?;
        let ends_at = if table.last().is_some_and(|last| last.compression >= free) {
            StopEnd::Metal
        } else {
            StopEnd::Flat
        };
        if ends_at == StopEnd::Metal {
            let force = force_of(&table, free).0;
            table.retain(|point| point.compression < free);
            table.push(StopPoint {
                compression: free,
                force,
            });
        }
        Ok(Self {
            carrying: wheel.carrying(wheel.seat, 0.0),
            contact_length: wheel.ends.lengths.stop_contact,
            wheel,
            ride,
            table,
            ends_at,
            load_factor,
        })
    }

    fn travel_at(&self, compression: f64) -> Result<f64, Error> {
        // The first place from full droop on, so that a stop touched at ride height is found below it.
        let curve = self.wheel.part.damper_curve();
        let (lowest, highest) = curve.searchable();
        let from = self.wheel.ends.full_droop.1.unwrap_or(lowest);
        let from = curve.within_reach(from).unwrap_or(lowest);
        let length = self.contact_length - compression;
        curve
            .first_travel_at(length, from, highest)?
            .ok_or_else(|| Error::NotForThisLayout {
                question: QUESTION.into(),
                reason: Sentence::new("the linkage ends before the damper is pressed to ")
                    .length(length)
                    .words(": the stop is never pressed by ")
                    .length(compression),
            })
    }

    /// Vertical force at the wheel centre (N) and its rate (N/mm), with the stop pressed by what the damper leaves it.
    fn at_wheel(&self, travel: f64) -> Result<(f64, f64), Error> {
        self.pressed_by(travel, None)
    }

    /// The same with the compression of the stop given, where it is known.
    fn pressed_by(&self, travel: f64, compression: Option<f64>) -> Result<(f64, f64), Error> {
        let motion = self.wheel.part.at(AxleTravel::both(travel))?;
        let (spring, damper) = (&motion.spring, &motion.damper);
        let pressed = compression.unwrap_or(self.contact_length - damper.value);
        let (stop, stop_rate) = force_of(&self.table, pressed);
        let pushing = self.carrying.force(&motion);
        let force = -pushing * spring.heave - stop * damper.heave;
        let rate = self.carrying.rate(&motion) * spring.heave.powi(2) - pushing * spring.heave_heave
            + stop_rate * damper.heave.powi(2)
            - stop * damper.heave_heave;
        Ok((force, rate))
    }

    fn check(&self) -> Result<BumpStopWork, Error> {
        let mut rows = Vec::with_capacity(self.table.len());
        for point in &self.table {
            let travel = self.travel_at(point.compression)?;
            // Exactly on the line of the table, where rounding could fall to either side of its bend.
            let (wheel_force, wheel_rate) = self.pressed_by(travel, Some(point.compression))?;
            rows.push(StopRow {
                compression: point.compression,
                travel: travel - self.ride,
                stop_force: point.force,
                wheel_force,
                wheel_rate,
            });
        }
        let (Some(first), Some(last)) = (rows.first().copied(), rows.last().copied()) else {
            return Err(no_stop());
        };
        let demand = self.load_factor * self.wheel.mass * GRAVITY;
        let carried = self.carries(&rows, demand)?;
        let lengths = &self.wheel.ends.lengths;
        let findings = vec![
            self.contact_finding(first.travel),
            self.end_finding(&last, demand, carried),
        ];
        Ok(BumpStopWork {
            damper: self.wheel.name.clone(),
            contact: first.travel,
            end: last.travel,
            ends_at: self.ends_at,
            share_of_bump: (first.travel >= 0.0 && last.travel > 0.0)
                .then(|| (last.travel - first.travel) / last.travel),
            share_of_stroke: last.compression / (lengths.extended - lengths.compressed),
            rows,
            carries_load_factor_at: carried,
            findings,
        })
    }

    /// Where spring and stop carry a force, from ride height (mm).
    fn carries(&self, rows: &[StopRow], demand: f64) -> Result<Option<f64>, Error> {
        let from_ride = (self.ride, self.at_wheel(self.ride)?.0);
        let mut places = vec![from_ride];
        places.extend(
            rows.iter()
                .map(|row| (self.ride + row.travel, row.wheel_force))
                .filter(|(travel, _)| *travel > self.ride),
        );
        for pair in places.windows(2) {
            let [low, high] = *pair else { continue };
            if low.1 <= demand && demand <= high.1 {
                let miss = |travel: f64| self.at_wheel(travel).map(|(force, rate)| (force - demand, rate));
                let ends = ((low.0, low.1 - demand), (high.0, high.1 - demand));
                let found = bracketed_root::find(miss, ends.0, ends.1, TRAVEL_TOLERANCE_MM)?;
                return Ok(Some(found - self.ride));
            }
        }
        Ok(None)
    }

    fn contact_finding(&self, contact: f64) -> Finding {
        let name = &self.wheel.name;
        let statement = if contact < 0.0 {
            Sentence::new(format!(
                "The {name} is pressed already at ride height: it is touched "
            ))
            .length(-contact)
            .words(" of wheel travel below it.")
        } else {
            Sentence::new(format!("The {name} is touched after "))
                .length(contact)
                .words(" of bump from ride height.")
        };
        Finding {
            check: CHECK,
            subject: format!("{name}: clear at ride height"),
            verdict: Verdict::from_margin(contact, USUAL_MARGIN_MM),
            dimension: Dimension::Length,
            value: contact,
            limit: 0.0,
            margin: contact,
            at_travel: Some(contact),
            statement,
            remedies: Vec::new(),
        }
    }

    fn end_finding(&self, last: &StopRow, demand: f64, carried: Option<f64>) -> Finding {
        let name = &self.wheel.name;
        let margin = last.wheel_force - demand;
        let what = match self.ends_at {
            StopEnd::Flat => "the stop is flat",
            StopEnd::Metal => "the damper meets metal",
        };
        let start = Sentence::new(format!(
            "At {:.1} times its weight the wheel needs ",
            self.load_factor
        ))
        .quantity(demand, Dimension::Force);
        let statement = match carried {
            Some(travel) => start
                .words(": spring and stop carry it at ")
                .length(travel)
                .words(format!(" of bump, before {what} at "))
                .length(last.travel)
                .words("."),
            None => start
                .words(format!("; where {what}, at "))
                .length(last.travel)
                .words(" of bump, spring and stop carry ")
                .quantity(last.wheel_force, Dimension::Force)
                .words(if margin < 0.0 {
                    ": the rest comes as a blow."
                } else {
                    "."
                }),
        };
        Finding {
            check: CHECK,
            subject: format!("{name}: stops the wheel before the travel ends"),
            verdict: Verdict::from_margin(margin, 0.0),
            dimension: Dimension::Force,
            value: last.wheel_force,
            limit: demand,
            margin,
            at_travel: Some(last.travel),
            statement,
            remedies: Vec::new(),
        }
    }
}
