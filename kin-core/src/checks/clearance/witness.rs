//! The place of the least gap, and how the gap there changes with the description.
//!
//! At the place of the least gap the gap does not change along the motion, or the motion ends there at a travel counted
//! from ride height. Either way its derivative is that of the two closest material points with the wheels held.

use super::anchor::{Anchor, Origin};
use super::description::ClearanceQuestion;
use super::measure::Lowest;
use super::motions::Motions;
use super::names::{Mover, axle_points, corner_points};
use super::piece::{Form, Piece};
use super::scene::{Pair, Scene};
use crate::Error;
use crate::geometry::{Closest, Core};
use crate::linkage::{ArmPoints, Rider};
use crate::numeric::real::{WithRate, value};
use crate::pickups::{DoubleWishbone, LiveAxle, Point, Side};
use crate::pose::{CarrierMotion, Solved};
use crate::suspension::{Axle, AxleNumbers, Corner, CornerGeometry, CornerNumbers};
use nalgebra::Vector3;
use num_dual::Dual64;

/// A closest point within this of a disc's rim (mm) is on the rim.
const ON_RIM_MM: f64 = 1e-6;

/// The two pieces that come nearest to one another, where they do.
#[derive(Debug, Clone)]
pub(crate) struct Witness {
    pub(crate) solved: Solved,
    pieces: [Piece; 2],
    closest: Closest,
}

/// The points of a suspension with their derivatives in one direction of the description.
pub(crate) struct VariedPoints {
    carrier: CarrierMotion<Dual64, Dual64>,
    arms: Option<[ArmPoints<Dual64>; 2]>,
    /// Name, joint on the body, joint on the axle.
    links: Vec<(String, Vector3<Dual64>, Vector3<Dual64>)>,
    /// In the order of the named points.
    pickups: Vec<Vector3<Dual64>>,
    /// Centres of the left and the right wheel.
    wheels: [Vector3<Dual64>; 2],
    /// Spin axis of the left wheel; the right one's is opposite on an axle.
    spin_axis: Vector3<Dual64>,
    rack: f64,
    tyre_radius_rate: f64,
}

/// The place of the least gap of a corner; none where nothing is compared.
///
/// # Errors
/// As the clearance check.
pub(crate) fn corner_witness(
    corner: &Corner,
    question: &ClearanceQuestion,
) -> Result<Option<Witness>, Error> {
    let wanted = corner.pickups.wanted.unwrap_or_default();
    let extent = super::extent(question, corner.ride_travel()?, wanted.bump, wanted.droop)?;
    found(Motions::new(Mover::Corner(corner), extent)?, question)
}

/// The place of the least gap of an axle; none where nothing is compared.
///
/// # Errors
/// As the clearance check.
pub(crate) fn axle_witness(axle: &Axle, question: &ClearanceQuestion) -> Result<Option<Witness>, Error> {
    super::refuse_steering(question)?;
    let wanted = axle.pickups.wanted.unwrap_or_default();
    let extent = super::extent(question, axle.ride_travel()?, wanted.bump, wanted.droop)?;
    found(Motions::new(Mover::Axle(axle), extent)?, question)
}

fn found(motions: Motions<'_>, question: &ClearanceQuestion) -> Result<Option<Witness>, Error> {
    let scene = Scene::new(&motions, question)?;
    let pairs = scene.measure_all()?;
    let lowest = pairs
        .iter()
        .filter_map(|pair| Some((pair, pair.measured.lowest()?)));
    let least = lowest.min_by(|a, b| a.1.look.gap.total_cmp(&b.1.look.gap));
    Ok(least.and_then(|(pair, lowest)| witness(&scene, pair, lowest)))
}

fn witness(scene: &Scene<'_, '_>, pair: &Pair, lowest: &Lowest) -> Option<Witness> {
    let piece = |which: usize| {
        let body = &scene.solids.get(pair.solids[which])?.body;
        body.pieces.get(lowest.pieces[which]).cloned()
    };
    Some(Witness {
        solved: lowest.solved,
        pieces: [piece(0)?, piece(1)?],
        closest: lowest.look.closest,
    })
}

impl Witness {
    /// The derivative of the gap; none where the cores meet, since no direction leads out there.
    pub(crate) fn derivative(&self, points: &VariedPoints) -> Option<f64> {
        if self.closest.touches() {
            return None;
        }
        let on = [self.closest.on_first, self.closest.on_second];
        let rates = [0, 1].map(|which: usize| {
            let placed = self.pieces[which].place_by(|anchor| points.at(anchor));
            let mut rate = placed.rate_at(&on[which]);
            if let (Form::Disc { of_wheel: true, .. }, Core::Disc(disc)) =
                (&self.pieces[which].form, &placed.core)
            {
                let out = on[which] - disc.centre;
                if (out.norm() - disc.radius).abs() < ON_RIM_MM {
                    rate += out.normalize() * points.tyre_radius_rate;
                }
            }
            rate
        });
        Some(self.closest.direction.dot(&(rates[0] - rates[1])))
    }
}

impl VariedPoints {
    /// Of a left corner.
    ///
    /// * `carrier`: the upright where the gap is least, with its derivatives
    pub(crate) fn of_corner(
        numbers: &CornerNumbers<Dual64>,
        (pickups, direction): (&DoubleWishbone, &DoubleWishbone),
        carrier: CarrierMotion<Dual64, Dual64>,
        rack: f64,
    ) -> Self {
        let points = corner_points(pickups).into_iter().zip(corner_points(direction));
        Self {
            carrier,
            arms: Some(numbers.arms),
            links: Vec::new(),
            pickups: points
                .map(|(point, rate)| zipped(&point.point, &rate.point))
                .collect(),
            wheels: [numbers.wheel_centre; 2],
            spin_axis: CornerGeometry::new(numbers, false).spin_axis,
            rack,
            tyre_radius_rate: numbers.tyre_radius.eps,
        }
    }

    /// Of an axle whose right side is written out.
    pub(crate) fn of_axle(
        numbers: &AxleNumbers<Dual64>,
        (pickups, direction): (&LiveAxle, &LiveAxle),
        carrier: CarrierMotion<Dual64, Dual64>,
    ) -> Self {
        let points = axle_points(pickups).into_iter().zip(axle_points(direction));
        let links = numbers.links.iter();
        Self {
            carrier,
            arms: None,
            links: links
                .map(|link| (link.name.clone(), link.body, link.axle))
                .collect(),
            pickups: points
                .map(|(point, rate)| zipped(&point.point, &rate.point))
                .collect(),
            wheels: numbers.wheels,
            spin_axis: Vector3::y().map(Dual64::from_re),
            rack: 0.0,
            tyre_radius_rate: numbers.tyre_radius.eps,
        }
    }

    /// Where a point is, and its derivative.
    fn at(&self, anchor: &Anchor) -> Vector3<WithRate> {
        let standing = || anchor.as_measured().map(Dual64::from_re);
        let as_measured = match anchor.origin {
            Origin::Given => standing(),
            Origin::Pickup(place) => self.pickups.get(place).copied().unwrap_or_else(standing),
            Origin::WheelCentre(side) => *self.wheel(side),
            Origin::WheelTip(side) => {
                let outward = if side == Side::Right && self.arms.is_none() {
                    -1.0
                } else {
                    1.0
                };
                let axis = self.spin_axis * Dual64::from_re(outward);
                self.wheel(side) + axis * Dual64::from_re(super::piece::TIP_MM)
            }
        };
        let rider = match (&*anchor.piece, &self.arms) {
            ("body", _) => return as_measured,
            ("rack", _) => return as_measured + Vector3::y() * Dual64::from_re(self.rack),
            ("upper_arm", Some([arm, _])) | ("lower_arm", Some([_, arm])) => Rider::on_arm(arm, &as_measured),
            (piece, _) => match self.links.iter().find(|link| link.0 == piece) {
                Some((_, body, joint)) => Rider::between(body, joint, &as_measured),
                None => Rider::on_carrier(&as_measured),
            },
        };
        rider.place(&value(&self.carrier.carried(rider.followed())))
    }

    fn wheel(&self, side: Side) -> &Vector3<Dual64> {
        &self.wheels[usize::from(side == Side::Right)]
    }
}

fn zipped(point: &Point, rate: &Point) -> Vector3<Dual64> {
    point.zip_map(rate, Dual64::new)
}
