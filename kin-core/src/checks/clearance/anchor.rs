//! Points that follow the suspension.

use crate::linkage::Rider;
use crate::numeric::real::{WithRate, fixed, moving};
use crate::pickups::Point;
use crate::pose::{CarrierMotion, Solved, Twist, first_rates};
use nalgebra::Vector3;
use num_dual::Dual;

/// The suspension at one place of a line of motion, with its rates along the line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Instant {
    carrier: CarrierMotion<f64>,
    rack: WithRate,
}

impl Instant {
    /// * `twist`: of the carrier per mm along the line
    /// * `rack_rate`: rack displacement per mm along the line
    #[inline]
    pub(super) fn new(origin: &Point, solved: &Solved, twist: &Twist, rack_rate: f64) -> Self {
        Self {
            carrier: first_rates(origin, &solved.pose, twist),
            rack: Dual::new(solved.command[2], rack_rate),
        }
    }
}

/// What a point is fixed to.
#[derive(Debug, Clone)]
pub(super) enum Anchor {
    /// It stands still.
    Body(Point),
    /// It goes with the rack.
    Rack(Point),
    /// It goes with the carrier, an arm or a link.
    Carried(Rider),
}

impl Anchor {
    /// Where the point is, and how fast it goes along the line.
    #[inline]
    pub(super) fn at(&self, instant: &Instant) -> Vector3<WithRate> {
        match self {
            Self::Body(point) => fixed(point),
            Self::Rack(point) => {
                let mut shifted: Vector3<WithRate> = moving(point, &Vector3::zeros());
                shifted.y += instant.rack;
                shifted
            }
            Self::Carried(rider) => rider.place(&instant.carrier.carried(rider.followed())),
        }
    }

    pub(super) fn stands(&self) -> bool {
        matches!(self, Self::Body(_))
    }

    /// The same point with its place on the body moved; a point that moves with something stays.
    pub(super) fn shifted(&self, change: &Vector3<f64>) -> Self {
        match self {
            Self::Body(point) => Self::Body(point + change),
            other => other.clone(),
        }
    }
}
