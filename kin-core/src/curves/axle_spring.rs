//! The springs of a live axle at one position.

use super::axle_curve::mounted_length;
use super::motion_ratio;
use crate::pickups::Side;
use crate::suspension::{AxleAlong, AxlePosition};

/// Where a spring of an axle stands, whether it sits on the coilover or has mounts of its own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxleSpring {
    /// Distance between its mounts (mm).
    pub between_mounts: f64,
    /// Spring travel over travel of its own wheel, positive when bump compresses it.
    pub motion_ratio: f64,
    /// Force (N, compression positive); none when the free length is not given.
    pub force: Option<f64>,
}

impl AxleSpring {
    /// Force of the spring at the wheel centre (N): by the work of both ends, force times motion ratio.
    #[must_use]
    pub fn wheel_force(&self) -> Option<f64> {
        self.force.map(|force| force * self.motion_ratio)
    }
}

impl AxlePosition<'_> {
    /// The spring on one side, in heave or in roll; none without springs.
    #[must_use]
    pub fn spring(&self, side: Side, along: AxleAlong) -> Option<AxleSpring> {
        let axle = self.axle();
        let springs = axle.pickups().springs.as_ref()?;
        let (sign, spring) = match side {
            Side::Left => (1.0, Some(&springs.left)),
            Side::Right => (-1.0, springs.right.as_ref()),
        };
        let state = self.state();
        // In roll the right wheel goes down; its own bump is the other way round.
        let (carrier, own) = match along {
            AxleAlong::Heave => (&state.heave, 1.0),
            AxleAlong::Roll => (&state.roll, sign),
        };
        let length = mounted_length(&axle.geometry.springs, sign, carrier)?;
        Some(AxleSpring {
            between_mounts: length.re,
            motion_ratio: own * motion_ratio(&length),
            force: spring?.force(length.re),
        })
    }
}
