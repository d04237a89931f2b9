//! What is known of the spring and the weight on it, and what is wanted.

use super::super::spring::{HelperSpring, SpringStack};
use super::super::{LoadPoint, SprungLoad};
use super::QUESTION;
use crate::pickups::{
    Damper, Measured, PickupError, Quantity, Spring, finite, length_within, lengths, positive_of, within_of,
};
use crate::{Dimension, Error, Sentence};
use serde::{Deserialize, Serialize};

/// Coil clearance wanted at full bump where none is stated (mm): common practice, no source.
const USUAL_BIND_ALLOWANCE_MM: f64 = 6.0;
/// Ride height within this of the wanted one counts as met (mm), where no tolerance is stated: about what a tape
/// measure and a settled spring are good for.
const USUAL_TOLERANCE_MM: f64 = 3.0;
/// Lengths beyond this (mm) are taken for a wrong unit.
const LONGEST_MM: f64 = 1_000.0;

/// Which seat of the spring is adjusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SeatEnd {
    /// The lower one: its distance counts from the lower mount.
    #[default]
    Lower,
    /// The upper one: its distance counts from the upper mount.
    Upper,
}

impl SeatEnd {
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::Lower => "lower",
            Self::Upper => "upper",
        }
    }
}

/// The seat to judge the spring by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SeatPosition {
    /// Where the description says that it is now.
    #[default]
    AsSet,
    /// Where it must be for the car to sit at ride height.
    ForRideHeight,
}

/// The thread that a spring seat runs on.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SeatThread {
    /// Which seat it is.
    #[serde(default)]
    pub end: SeatEnd,
    /// Least distance of the seat from its mount (mm).
    pub shortest: f64,
    /// Greatest distance of the seat from its mount (mm).
    pub longest: f64,
    /// Travel of the seat for one turn (mm).
    pub pitch: f64,
}

impl SeatThread {
    fn validate(&self) -> Result<(), PickupError> {
        let advice = "count from the centre of the mount to the face that the spring rests on";
        length_within(
            self.shortest,
            "seat_thread.shortest",
            (-LONGEST_MM, LONGEST_MM),
            advice,
        )?;
        length_within(
            self.longest,
            "seat_thread.longest",
            (-LONGEST_MM, LONGEST_MM),
            advice,
        )?;
        if self.longest <= self.shortest {
            return Err(PickupError::Misplaced {
                field: "seat_thread.longest".to_owned(),
                problem: Sentence::new("`seat_thread.longest` (")
                    .given_length(self.longest)
                    .words(") is not above `seat_thread.shortest` (")
                    .given_length(self.shortest)
                    .words(")"),
                advice: "are the two ends of the thread swapped?",
            });
        }
        positive_of(
            self.pitch,
            Dimension::Length,
            "seat_thread.pitch",
            "give the travel of the seat for one turn",
        )?;
        let range = self.longest - self.shortest;
        if self.pitch > range {
            return Err(PickupError::Misplaced {
                field: "seat_thread.pitch".to_owned(),
                problem: Sentence::new("the thread is too short: from ")
                    .given_length(self.shortest)
                    .words(" to ")
                    .given_length(self.longest)
                    .words(" it has less than one turn of ")
                    .given_length(self.pitch),
                advice: "give the distances between which the seat can stand, and the pitch of one turn",
            });
        }
        Ok(())
    }

    /// What is left to the nearer end of the thread (mm), and that end; negative beyond it.
    pub(in crate::checks) fn left(&self, seat: f64) -> (f64, f64) {
        let (down, up) = (seat - self.shortest, self.longest - seat);
        if down < up {
            (down, self.shortest)
        } else {
            (up, self.longest)
        }
    }
}

/// Load that comes and goes, with the seats left where they are.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AddedLoad {
    /// Mass added on this wheel (kg).
    pub mass: f64,
    /// Wheel bump that shall be left then before the bump stop is touched (mm).
    #[serde(default)]
    pub bump: f64,
}

/// What is asked about ride height.
///
/// Rate, free length and seats are those of the description; the wanted ride height is its
/// [`RideHeight`](crate::pickups::RideHeight), travel 0 when it states none.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RideHeightQuestion {
    /// The mass that this wheel carries.
    pub load: SprungLoad,
    /// Where the weight acts.
    #[serde(default)]
    pub load_point: LoadPoint,
    /// The seat to judge by.
    #[serde(default)]
    pub seat: SeatPosition,
    /// Length of the spring with its coils touching (mm), for coil bind.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub solid_length: Option<f64>,
    /// Clearance of all coils together wanted at full bump (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bind_allowance: Option<f64>,
    /// Spacer between the spring and its upper seat (mm).
    #[serde(default)]
    pub top_spacer: f64,
    /// A helper or tender spring stacked on the spring.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub helper: Option<HelperSpring>,
    /// The thread that the adjustable seat runs on; without one the lower seat counts as adjustable by spacers.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seat_thread: Option<SeatThread>,
    /// How much lower than wanted the car was found to sit (mm), higher negative: for turns from what was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sits_low: Option<f64>,
    /// How far from the wanted ride height the car may sit (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance: Option<f64>,
    /// Ride frequency for which a rate is asked (Hz).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wanted_frequency: Option<f64>,
    /// Load that comes and goes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub laden: Option<AddedLoad>,
}

impl RideHeightQuestion {
    pub(super) fn end(&self) -> SeatEnd {
        self.seat_thread.map_or(SeatEnd::Lower, |thread| thread.end)
    }

    pub(super) fn allowance(&self) -> f64 {
        self.bind_allowance.unwrap_or(USUAL_BIND_ALLOWANCE_MM)
    }

    pub(super) fn tolerance(&self) -> f64 {
        self.tolerance.unwrap_or(USUAL_TOLERANCE_MM)
    }

    /// Distance of the adjustable seat from its mount as the description has it (mm).
    pub(super) fn seat_as_set(&self, spring: &Spring) -> f64 {
        match self.end() {
            SeatEnd::Lower => spring.lower_seat,
            SeatEnd::Upper => spring.upper_seat,
        }
    }

    /// What lies between the mounts besides springs and adjustable seat (mm).
    pub(super) fn fixed_between(&self, spring: &Spring) -> f64 {
        let other = match self.end() {
            SeatEnd::Lower => spring.upper_seat,
            SeatEnd::Upper => spring.lower_seat,
        };
        other + self.top_spacer
    }

    /// Checks everything that can be checked without moving the wheel, and stacks the springs.
    pub(super) fn stack(
        &self,
        spring: &Spring,
        damper: &Damper,
        on_damper: bool,
    ) -> Result<SpringStack, Error> {
        let Some(free) = spring.free_length else {
            return Err(Error::Missing {
                question: QUESTION,
                field: "spring.free_length",
                advice: "give the length of the spring lying on the bench, without load",
            });
        };
        let stack = SpringStack::new(spring.rate, free, self.solid_length, self.helper.as_ref())?;
        self.check_numbers()?;
        if on_damper {
            self.check_room(&stack, spring, damper)?;
        }
        Ok(stack)
    }

    pub(in crate::checks) fn check_numbers(&self) -> Result<(), PickupError> {
        self.load.mass()?;
        for (value, field, least, advice) in [
            (
                self.bind_allowance,
                "bind_allowance",
                0.0,
                "give the clearance of all coils together at full bump",
            ),
            (
                Some(self.top_spacer),
                "top_spacer",
                0.0,
                "give the thickness of the spacer",
            ),
            (
                self.sits_low,
                "sits_low",
                -LONGEST_MM,
                "count from the wanted ride height, lower is positive",
            ),
            (
                self.tolerance,
                "tolerance",
                0.0,
                "say how far from wanted the car may sit",
            ),
        ] {
            if let Some(value) = value {
                length_within(value, field, (least, LONGEST_MM), advice)?;
            }
        }
        if let Some(frequency) = self.wanted_frequency {
            let advice = "give cycles per second: cars are between 1 and 3";
            positive_of(frequency, Dimension::Frequency, "wanted_frequency", advice)?;
            within_of(
                frequency,
                Dimension::Frequency,
                "wanted_frequency",
                (0.0, 20.0),
                advice,
            )?;
        }
        if let Some(laden) = self.laden {
            positive_of(
                laden.mass,
                Dimension::Mass,
                "laden.mass",
                "give the mass added on this wheel",
            )?;
            length_within(
                laden.bump,
                "laden.bump",
                (0.0, LONGEST_MM),
                "count it from where the laden car sits, positive",
            )?;
        }
        if let Some(thread) = self.seat_thread {
            thread.validate()?;
        }
        Ok(())
    }

    /// On a coilover the damper says how long a spring can be.
    fn check_room(&self, stack: &SpringStack, spring: &Spring, damper: &Damper) -> Result<(), PickupError> {
        let extended = damper.extended_between_mounts();
        if stack.free > extended {
            return Err(PickupError::Misplaced {
                field: "spring".to_owned(),
                problem: Sentence::new("the spring is ")
                    .given_length(stack.free)
                    .words(" long without load, longer than the whole damper fully extended (")
                    .given_length(extended)
                    .words(" between its mounts)"),
                advice: "check the unit and which spring goes on which damper",
            });
        }
        let seat = self
            .seat_thread
            .map_or(self.seat_as_set(spring), |thread| thread.shortest);
        finite(seat, "seat_thread.shortest")?;
        let room = extended - self.fixed_between(spring) - seat;
        let least = stack.solid.unwrap_or(0.0);
        if room <= least {
            return Err(PickupError::Misplaced {
                field: "spring".to_owned(),
                problem: Sentence::new(
                    "the spring cannot be fitted: with the damper fully extended there are ",
                )
                .fine_length(room)
                .words(" between its seats, and the spring is ")
                .given_length(least)
                .words(" long with its coils touching"),
                advice: "the spring is longer than the damper allows: check seats, spacer and spring",
            });
        }
        Ok(())
    }

    /// The seat as it is set, if its thread reaches there.
    pub(super) fn checked_seat_as_set(&self, spring: &Spring) -> Result<f64, PickupError> {
        let seat = self.seat_as_set(spring);
        match self.seat_thread {
            Some(thread) => length_within(
                seat,
                &format!("spring.{}_seat", self.end().word()),
                (thread.shortest, thread.longest),
                "the thread does not reach there: measure from the mount to the seat, or ask for \
                 `seat: \"for_ride_height\"`",
            )
            .map(|()| seat),
            None => Ok(seat),
        }
    }
}

impl Measured for SeatThread {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        for length in [&mut self.shortest, &mut self.longest, &mut self.pitch] {
            visitor(length, Quantity::Length);
        }
    }
}

impl Measured for AddedLoad {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        visitor(&mut self.mass, Quantity::Mass);
        visitor(&mut self.bump, Quantity::Length);
    }
}

impl Measured for RideHeightQuestion {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        self.load.visit(visitor);
        lengths([&mut self.solid_length, &mut self.bind_allowance], visitor);
        visitor(&mut self.top_spacer, Quantity::Length);
        self.helper.visit(visitor);
        self.seat_thread.visit(visitor);
        lengths([&mut self.sits_low, &mut self.tolerance], visitor);
        self.laden.visit(visitor);
    }
}
