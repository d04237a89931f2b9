//! A two-ended part between the body and something that moves.

use crate::linkage::{ArmPoints, Linkage, Rider};
use crate::numeric::real::{Moving, Over, Real, length};
use crate::pickups::{Arm, Point};
use crate::pose::CarrierMotion;
use nalgebra::Vector3;

/// A damper, spring or strap in place: one end on the body, the other on a moving part. `F` is the number type of the
/// geometry.
#[derive(Debug, Clone)]
pub(crate) struct Mounted<F: Real = f64> {
    pub(super) upper: Vector3<F>,
    pub(super) rider: Rider<F>,
}

impl Mounted {
    /// A part whose lower end rides on an arm or on the upright of a corner.
    pub(crate) fn on_corner(arms: (&Arm, &Arm), upper: &Point, lower: &Point, rides_on: &str) -> Self {
        Self::on_arms(&[arms.0.into(), arms.1.into()], upper, lower, rides_on)
    }

    /// A part whose lower end rides on an axle or on one of its links.
    pub(crate) fn on_axle(linkage: &Linkage, upper: &Point, lower: &Point, rides_on: &str) -> Self {
        let rider = Rider::on_link(linkage, rides_on, lower).unwrap_or_else(|| Rider::on_carrier(lower));
        Self { upper: *upper, rider }
    }
}

impl<F: Real> Mounted<F> {
    /// A part whose lower end rides on an arm (upper, lower) or on the upright of a corner.
    pub(crate) fn on_arms(
        [upper_arm, lower_arm]: &[ArmPoints<F>; 2],
        upper: &Vector3<F>,
        lower: &Vector3<F>,
        rides_on: &str,
    ) -> Self {
        let rider = match rides_on {
            "upper_arm" => Rider::on_arm(upper_arm, lower),
            "lower_arm" => Rider::on_arm(lower_arm, lower),
            _ => Rider::on_carrier(lower),
        };
        Self { upper: *upper, rider }
    }

    /// Where the end on the body is.
    pub(crate) fn upper(&self) -> &Vector3<F> {
        &self.upper
    }

    /// Where the moving end is.
    #[inline(always)]
    pub(crate) fn lower<T: Over<F>>(&self, carrier: &CarrierMotion<T, F>) -> Vector3<Moving<T>>
    where
        Moving<T>: Over<F>,
    {
        self.rider.place(&carrier.carried(self.rider.followed()))
    }

    /// Where the moving end is, and the distance between both ends.
    #[inline(always)]
    pub(crate) fn lower_and_length<T: Over<F>>(
        &self,
        carrier: &CarrierMotion<T, F>,
    ) -> (Vector3<Moving<T>>, Moving<T>)
    where
        Moving<T>: Over<F>,
    {
        let lower = self.lower(carrier);
        (lower, length(&lower.zip_map(&self.upper, Over::minus)))
    }

    /// Distance between both ends, with its rates.
    #[inline(always)]
    pub(crate) fn length<T: Over<F>>(&self, carrier: &CarrierMotion<T, F>) -> Moving<T>
    where
        Moving<T>: Over<F>,
    {
        self.lower_and_length(carrier).1
    }
}
