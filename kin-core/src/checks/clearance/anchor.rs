//! Points that follow the suspension.

use crate::linkage::Rider;
use crate::numeric::real::{WithRate, fixed, moving};
use crate::pickups::{Point, Side};
use crate::pose::{CarrierMotion, Solved, Twist, first_rates};
use nalgebra::Vector3;
use num_dual::Dual;
use std::sync::Arc;

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

/// Where a point of a solid comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Origin {
    /// A coordinate of the question: it stays when pickups change.
    Given,
    /// A pickup, by its place among the named points.
    Pickup(usize),
    /// The centre of a wheel.
    WheelCentre(Side),
    /// The point that shows a wheel's spin axis.
    WheelTip(Side),
}

/// A point of a solid: how it follows the suspension, which piece of the car carries it, and where it comes from.
#[derive(Debug, Clone)]
pub(super) struct Anchor {
    pub(super) held: Held,
    pub(super) piece: Arc<str>,
    pub(super) origin: Origin,
}

/// What a point is fixed to.
#[derive(Debug, Clone)]
pub(super) enum Held {
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
        match &self.held {
            Held::Body(point) => fixed(point),
            Held::Rack(point) => {
                let mut shifted: Vector3<WithRate> = moving(point, &Vector3::zeros());
                shifted.y += instant.rack;
                shifted
            }
            Held::Carried(rider) => rider.place(&instant.carrier.carried(rider.followed())),
        }
    }

    /// Where the point was as measured.
    pub(super) fn as_measured(&self) -> &Point {
        match &self.held {
            Held::Body(point) | Held::Rack(point) => point,
            Held::Carried(rider) => rider.as_measured(),
        }
    }

    pub(super) fn stands(&self) -> bool {
        matches!(self.held, Held::Body(_))
    }

    /// The same point with its place on the body moved; a point that moves with something stays.
    pub(super) fn shifted(&self, change: &Vector3<f64>) -> Self {
        let mut other = self.clone();
        if let Held::Body(point) = &mut other.held {
            *point += change;
        }
        other
    }
}
