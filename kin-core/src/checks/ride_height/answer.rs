//! What the ride height check answers.

use super::super::{Finding, Stopper};
use crate::curves::WheelRate;

/// The ride height check of one spring.
#[derive(Debug, Clone, PartialEq)]
pub struct SpringRide {
    /// Which spring.
    pub spring: String,
    /// Wanted ride height as a travel from the pickups as measured (mm).
    pub ride_travel: f64,
    /// Sprung mass on it (kg).
    pub sprung_mass: f64,
    /// The seat that everything below is judged by: distance from its mount (mm).
    pub seat: f64,
    /// The seat that holds the car at the wanted ride height.
    pub needed: NeededSeat,
    /// From where the car was found to sit to the wanted ride height, when that was measured.
    pub correction: Option<SeatCorrection>,
    /// Where the car sits; none when the spring finds no balance within the reach of the linkage.
    pub standing: Option<Standing>,
    /// Where the car sits with the added load.
    pub laden: Option<Standing>,
    /// The spring with the damper fully extended, on a coilover: its compression is the preload.
    pub at_full_extension: Option<SpringState>,
    /// The spring with the damper metal to metal, on a coilover.
    pub at_metal: Option<SpringState>,
    /// What ends the travel in droop, and the spring there.
    pub at_full_droop: (Stopper, Option<SpringState>),
    /// What ends the travel in bump, and the spring there.
    pub at_full_bump: (Stopper, Option<SpringState>),
    /// Clearance of all coils together at full bump (mm), when the solid length is known; negative where they bind.
    pub coil_margin: Option<f64>,
    /// The rate that gives the frequency asked for.
    pub rate_for_frequency: Option<RateForFrequency>,
    /// Whether there can be such a spring: its coils are apart where the car stands, some length is left to it at full
    /// bump, and its seat does not stand beyond its own mount. Settings of one that cannot be are of no use.
    pub possible: bool,
    /// The answers.
    pub findings: Vec<Finding>,
}

/// Seat for a ride height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NeededSeat {
    /// Spring force at ride height (N).
    pub force: f64,
    /// Length of the spring there, helper included (mm).
    pub installed_length: f64,
    /// Distance of the adjustable seat from its mount (mm).
    pub seat: f64,
    /// From the seat as set, towards the spring positive (mm): that raises the car.
    pub change: f64,
    /// The same in turns of the thread, if there is one.
    pub turns: Option<f64>,
}

/// From where the car was found to sit to the wanted ride height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeatCorrection {
    /// How much lower than wanted the car was found to sit (mm).
    pub low: f64,
    /// Move of the seat, towards the spring positive (mm): the change of the damper's length and of the spring force
    /// that goes with the change of motion ratio.
    pub change: f64,
    /// The same in turns of the thread, if there is one.
    pub turns: Option<f64>,
    /// What the quick rule says: height times motion ratio at ride height (mm).
    pub quick_change: f64,
    /// The same in turns of the thread, if there is one.
    pub quick_turns: Option<f64>,
}

/// The spring at one place in the travel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpringState {
    /// Travel from the wanted ride height (mm), bump positive; none where only the damper's length is known.
    pub travel: Option<f64>,
    /// Length of the spring, helper included (mm): where it is loose, the room for it.
    pub installed_length: f64,
    /// Compression from its free length (mm): negative where it is loose.
    pub compression: f64,
    /// Force (N).
    pub force: f64,
}

/// How a car stands on its spring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Standing {
    /// Travel of the wheel from the pickups as measured (mm), bump positive.
    pub travel: f64,
    /// How much lower than the wanted ride height the car sits (mm), higher negative.
    pub low: f64,
    /// Distance between the spring's mounts (mm).
    pub between_mounts: f64,
    /// Length of the spring, helper included (mm).
    pub installed_length: f64,
    /// Its compression from the free length (mm).
    pub compression: f64,
    /// Its force (N).
    pub force: f64,
    /// Motion ratio of the spring.
    pub motion_ratio: f64,
    /// Rise of the motion ratio with travel (1/mm).
    pub motion_ratio_slope: f64,
    /// Wheel rate at the wheel centre (N/mm); the spring's part and the geometric part apart.
    pub wheel_rate: WheelRate,
    /// Ride frequency of the sprung mass on it, without the tyre (Hz); none when the wheel rate is not positive.
    pub frequency: Option<f64>,
    /// The same at the contact point.
    pub contact_point: AtContactPoint,
    /// In roll, on an axle.
    pub in_roll: Option<RollMotion>,
    /// Bump until the damper's bump stop is touched (mm); negative where it is touched already.
    pub bump_to_stop: Option<f64>,
    /// Bump until the travel ends (mm).
    pub bump: Option<f64>,
    /// Droop until the travel ends (mm).
    pub droop: Option<f64>,
    /// Share of the free travel, from full droop to the bump stop, that is bump.
    pub bump_share: Option<f64>,
}

/// Rates taken at the contact point instead of the wheel centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AtContactPoint {
    /// Rise of the contact point per travel of the wheel centre.
    pub rise: f64,
    /// Change of the vertical force there with its height (N/mm).
    pub rate: f64,
    /// Ride frequency from it (Hz).
    pub frequency: Option<f64>,
}

/// One spring in roll: the left wheel up, the right one down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RollMotion {
    /// Spring travel over the travel of its own wheel.
    pub motion_ratio: f64,
    /// Wheel rate in roll (N/mm).
    pub wheel_rate: WheelRate,
}

/// A spring rate for a ride frequency at the wanted ride height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RateForFrequency {
    /// The frequency (Hz).
    pub frequency: f64,
    /// The wheel rate it takes (N/mm).
    pub wheel_rate: f64,
    /// The spring rate (N/mm).
    pub rate: f64,
    /// Compression of such a spring at ride height (mm).
    pub compression: f64,
}

impl SpringRide {
    /// Whether two springs answer with the same numbers, so that one speaks for both.
    pub(in crate::checks) fn is_like(&self, other: &Self) -> bool {
        let close = |a: f64, b: f64| (a - b).abs() < 1e-6;
        let standing = match (&self.standing, &other.standing) {
            (Some(a), Some(b)) => {
                close(a.travel, b.travel)
                    && close(a.force, b.force)
                    && close(a.between_mounts, b.between_mounts)
            }
            (None, None) => true,
            _ => false,
        };
        standing
            && close(self.sprung_mass, other.sprung_mass)
            && close(self.seat, other.seat)
            && close(self.needed.seat, other.needed.seat)
            && self.findings.len() == other.findings.len()
            && self
                .findings
                .iter()
                .zip(&other.findings)
                .all(|(a, b)| a.verdict == b.verdict && close(a.value, b.value) && close(a.limit, b.limit))
    }
}
