//! A two-ended part between the body and something that moves.

use crate::linkage::{Linkage, Rider};
use crate::numeric::real::{Moving, Real, length};
use crate::pickups::{Arm, Point};
use crate::pose::CarrierMotion;
use nalgebra::Vector3;

/// A damper, spring or strap in place: one end on the body, the other on a moving part.
#[derive(Debug, Clone)]
pub(crate) struct Mounted {
    pub(super) upper: Point,
    pub(super) rider: Rider,
}

impl Mounted {
    /// A part whose lower end rides on an arm or on the upright of a corner.
    pub(crate) fn on_corner(arms: (&Arm, &Arm), upper: &Point, lower: &Point, rides_on: &str) -> Self {
        let rider = match rides_on {
            "upper_arm" => Rider::on_arm(arms.0, lower),
            "lower_arm" => Rider::on_arm(arms.1, lower),
            _ => Rider::on_carrier(lower),
        };
        Self { upper: *upper, rider }
    }

    /// A part whose lower end rides on an axle or on one of its links.
    pub(crate) fn on_axle(linkage: &Linkage, upper: &Point, lower: &Point, rides_on: &str) -> Self {
        let rider = Rider::on_link(linkage, rides_on, lower).unwrap_or_else(|| Rider::on_carrier(lower));
        Self { upper: *upper, rider }
    }

    /// Where the end on the body is.
    pub(crate) fn upper(&self) -> &Point {
        &self.upper
    }

    /// Where the moving end is.
    #[inline(always)]
    pub(crate) fn lower<T: Real>(&self, carrier: &CarrierMotion<T>) -> Vector3<Moving<T>> {
        self.rider.place(&carrier.carried(self.rider.followed()))
    }

    /// Where the moving end is, and the distance between both ends.
    #[inline(always)]
    pub(crate) fn lower_and_length<T: Real>(
        &self,
        carrier: &CarrierMotion<T>,
    ) -> (Vector3<Moving<T>>, Moving<T>) {
        let lower = self.lower(carrier);
        (
            lower,
            length(&lower.zip_map(&self.upper, |lower, upper| lower - upper)),
        )
    }

    /// Distance between both ends, with its rates.
    #[inline(always)]
    pub(crate) fn length<T: Real>(&self, carrier: &CarrierMotion<T>) -> Moving<T> {
        self.lower_and_length(carrier).1
    }
}
