//! What a corner's curves are read from besides its motion: the points of the upright and what is mounted.

use super::Mounted;
use crate::linkage::{ArmPoints, RodNumbers};
use crate::numeric::real::{Over, Real};
use crate::pickups::{Arm, Damper, DoubleWishbone, Spring};
use crate::pose::CarrierNumbers;
use nalgebra::{Scalar, Vector3};

/// The numbers of a description that decide where a corner's parts are; `F` may carry their derivatives.
#[derive(Debug, Clone)]
pub(crate) struct CornerNumbers<F> {
    /// Upper, lower.
    pub(crate) arms: [ArmPoints<F>; 2],
    pub(crate) tie_rod_inner: Vector3<F>,
    pub(crate) tie_rod_outer: Vector3<F>,
    pub(crate) wheel_centre: Vector3<F>,
    pub(crate) tyre_radius: F,
    /// At travel 0 (rad).
    pub(crate) camber: F,
    /// At travel 0 (rad).
    pub(crate) toe: F,
    pub(crate) damper: Option<PartNumbers<F>>,
    /// A spring that stands apart.
    pub(crate) spring: Option<PartNumbers<F>>,
}

/// The mounts of a part, and what its lower one rides on.
#[derive(Debug, Clone)]
pub(crate) struct PartNumbers<F> {
    pub(crate) upper: Vector3<F>,
    pub(crate) lower: Vector3<F>,
    pub(crate) rides_on: String,
}

impl PartNumbers<f64> {
    pub(crate) fn of_damper(damper: &Damper) -> Self {
        Self {
            upper: damper.upper_mount,
            lower: damper.lower_mount,
            rides_on: damper.rides_on.clone(),
        }
    }

    /// None where the spring sits on the damper.
    pub(crate) fn of_spring(spring: &Spring) -> Option<Self> {
        Some(Self {
            upper: spring.upper_mount?,
            lower: spring.lower_mount?,
            rides_on: spring.rides_on.clone()?,
        })
    }
}

impl<A: Scalar + Copy> PartNumbers<A> {
    /// Number by number from this and another of the same form.
    pub(crate) fn zip<B: Scalar + Copy, F: Scalar>(
        &self,
        other: &PartNumbers<B>,
        make: impl Fn(A, B) -> F + Copy,
    ) -> PartNumbers<F> {
        PartNumbers {
            upper: self.upper.zip_map(&other.upper, make),
            lower: self.lower.zip_map(&other.lower, make),
            rides_on: self.rides_on.clone(),
        }
    }
}

impl CornerNumbers<f64> {
    /// The numbers of a left corner.
    pub(crate) fn of(pickups: &DoubleWishbone) -> Self {
        let arm = |arm: &Arm| ArmPoints::from(arm);
        Self {
            arms: [arm(&pickups.upper_arm), arm(&pickups.lower_arm)],
            tie_rod_inner: pickups.tie_rod.inner,
            tie_rod_outer: pickups.tie_rod.outer,
            wheel_centre: pickups.wheel.centre,
            tyre_radius: pickups.wheel.tyre_radius,
            camber: pickups.wheel.camber.to_radians(),
            toe: pickups.wheel.toe.to_radians(),
            damper: pickups.any_damper().map(PartNumbers::of_damper),
            spring: pickups.spring.as_ref().and_then(PartNumbers::of_spring),
        }
    }
}

impl<A: Scalar + Copy> CornerNumbers<A> {
    /// Number by number from this and another of the same form.
    pub(crate) fn zip<B: Scalar + Copy, F: Scalar>(
        &self,
        other: &CornerNumbers<B>,
        make: impl Fn(A, B) -> F + Copy,
    ) -> CornerNumbers<F> {
        let point = |a: &Vector3<A>, b: &Vector3<B>| a.zip_map(b, make);
        let arm = |a: &ArmPoints<A>, b: &ArmPoints<B>| ArmPoints {
            front_pivot: point(&a.front_pivot, &b.front_pivot),
            rear_pivot: point(&a.rear_pivot, &b.rear_pivot),
            ball_joint: point(&a.ball_joint, &b.ball_joint),
        };
        let part = |a: &Option<PartNumbers<A>>, b: &Option<PartNumbers<B>>| {
            a.as_ref().zip(b.as_ref()).map(|(a, b)| a.zip(b, make))
        };
        CornerNumbers {
            arms: [
                arm(&self.arms[0], &other.arms[0]),
                arm(&self.arms[1], &other.arms[1]),
            ],
            tie_rod_inner: point(&self.tie_rod_inner, &other.tie_rod_inner),
            tie_rod_outer: point(&self.tie_rod_outer, &other.tie_rod_outer),
            wheel_centre: point(&self.wheel_centre, &other.wheel_centre),
            tyre_radius: make(self.tyre_radius, other.tyre_radius),
            camber: make(self.camber, other.camber),
            toe: make(self.toe, other.toe),
            damper: part(&self.damper, &other.damper),
            spring: part(&self.spring, &other.spring),
        }
    }
}

impl<F: Real> CornerNumbers<F> {
    /// The upright on its rods, as `Linkage::of_corner` makes them.
    pub(crate) fn carrier(&self) -> CarrierNumbers<F> {
        let rod = |body: Vector3<F>, carrier: Vector3<F>, rack: f64| RodNumbers {
            body,
            carrier,
            stiffness: F::from(1.0),
            rack,
        };
        let mut rods = Vec::with_capacity(5);
        for arm in &self.arms {
            rods.push(rod(arm.front_pivot, arm.ball_joint, 0.0));
            rods.push(rod(arm.rear_pivot, arm.ball_joint, 0.0));
        }
        rods.push(rod(self.tie_rod_inner, self.tie_rod_outer, 1.0));
        CarrierNumbers {
            origin: self.wheel_centre,
            rods,
            half_axle: None,
        }
    }
}

/// A corner's points and parts in place, as measured.
#[derive(Debug, Clone)]
pub(crate) struct CornerGeometry<F: Real = f64> {
    pub(crate) upper_ball_joint: Vector3<F>,
    pub(crate) lower_ball_joint: Vector3<F>,
    pub(crate) tie_rod_outer: Vector3<F>,
    pub(crate) wheel_centre: Vector3<F>,
    pub(crate) tyre_radius: F,
    /// Unit vector along the spin axis, pointing outboard.
    pub(crate) spin_axis: Vector3<F>,
    /// Distance of the contact point from the middle of the car.
    pub(crate) half_track: F,
    pub(crate) damper: Option<Mounted<F>>,
    /// Of the damper where the spring sits on it.
    pub(crate) spring: Option<Mounted<F>>,
}

impl<F: Over<F>> CornerGeometry<F> {
    /// Puts the parts in place.
    ///
    /// * `sprung`: whether there is a spring
    pub(crate) fn new(numbers: &CornerNumbers<F>, sprung: bool) -> Self {
        let (camber, toe) = (numbers.camber, numbers.toe);
        let spin_axis = Vector3::new(camber.cos() * toe.sin(), camber.cos() * toe.cos(), -camber.sin());
        let mount =
            |part: &PartNumbers<F>| Mounted::on_arms(&numbers.arms, &part.upper, &part.lower, &part.rides_on);
        let damper = numbers.damper.as_ref().map(mount);
        let spring = match &numbers.spring {
            Some(apart) => Some(mount(apart)),
            None => damper.clone().filter(|_| sprung),
        };
        let contact = super::contact_point(&numbers.wheel_centre, &spin_axis, numbers.tyre_radius);
        Self {
            upper_ball_joint: numbers.arms[0].ball_joint,
            lower_ball_joint: numbers.arms[1].ball_joint,
            tie_rod_outer: numbers.tie_rod_outer,
            wheel_centre: numbers.wheel_centre,
            tyre_radius: numbers.tyre_radius,
            spin_axis,
            half_track: contact.y,
            damper,
            spring,
        }
    }
}
