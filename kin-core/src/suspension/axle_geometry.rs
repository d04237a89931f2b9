//! What an axle's curves are read from besides its motion: its wheels and what is mounted.

use super::Mounted;
use super::corner_geometry::PartNumbers;
use crate::linkage::{Rider, RodNumbers};
use crate::numeric::real::Real;
use crate::pickups::{AxleSides, LiveAxle, mirrored};
use crate::pose::CarrierNumbers;
use nalgebra::{Scalar, Vector3};

/// The numbers of a description, both sides written out, that decide where an axle's parts are; `F` may carry their
/// derivatives.
#[derive(Debug, Clone)]
pub(crate) struct AxleNumbers<F> {
    pub(crate) links: Vec<LinkNumbers<F>>,
    /// Centres of the left and the right wheel.
    pub(crate) wheels: [Vector3<F>; 2],
    pub(crate) tyre_radius: F,
    /// Pinion angle as measured (rad).
    pub(crate) nose_up: Option<F>,
    /// Left, right.
    pub(crate) dampers: [Option<PartNumbers<F>>; 2],
    /// Springs that stand apart: left, right.
    pub(crate) springs: [Option<PartNumbers<F>>; 2],
}

/// The joints of a link.
#[derive(Debug, Clone)]
pub(crate) struct LinkNumbers<F> {
    pub(crate) name: String,
    pub(crate) body: Vector3<F>,
    pub(crate) axle: Vector3<F>,
    pub(crate) stiffness: Option<F>,
}

impl AxleNumbers<f64> {
    /// The numbers of an axle whose right side is written out.
    pub(crate) fn of(pickups: &LiveAxle) -> Self {
        let links = pickups.links.iter().map(|(name, link)| LinkNumbers {
            name: name.clone(),
            body: link.body,
            axle: link.axle,
            stiffness: link.stiffness,
        });
        let left = pickups.wheels.left;
        let dampers = sides(pickups.any_dampers());
        let springs = sides(pickups.springs.as_ref());
        Self {
            links: links.collect(),
            wheels: [left, pickups.wheels.right.unwrap_or_else(|| mirrored(&left))],
            tyre_radius: pickups.wheels.tyre_radius,
            nose_up: pickups.pinion.map(|pinion| pinion.nose_up.to_radians()),
            dampers: dampers.map(|damper| damper.map(PartNumbers::of_damper)),
            springs: springs.map(|spring| spring.and_then(PartNumbers::of_spring)),
        }
    }
}

fn sides<T>(both: Option<&AxleSides<T>>) -> [Option<&T>; 2] {
    [
        both.map(|both| &both.left),
        both.and_then(|both| both.right.as_ref()),
    ]
}

impl<A: Scalar + Copy> AxleNumbers<A> {
    /// Number by number from this and another of the same form.
    pub(crate) fn zip<B: Scalar + Copy, F: Scalar>(
        &self,
        other: &AxleNumbers<B>,
        make: impl Fn(A, B) -> F + Copy,
    ) -> AxleNumbers<F> {
        let point = |a: &Vector3<A>, b: &Vector3<B>| a.zip_map(b, make);
        let pair = |a: Option<A>, b: Option<B>| a.zip(b).map(|(a, b)| make(a, b));
        let parts = |a: &[Option<PartNumbers<A>>; 2], b: &[Option<PartNumbers<B>>; 2]| {
            [0, 1].map(|side: usize| {
                a[side]
                    .as_ref()
                    .zip(b[side].as_ref())
                    .map(|(a, b)| a.zip(b, make))
            })
        };
        let links = self.links.iter().zip(&other.links).map(|(a, b)| LinkNumbers {
            name: a.name.clone(),
            body: point(&a.body, &b.body),
            axle: point(&a.axle, &b.axle),
            stiffness: pair(a.stiffness, b.stiffness),
        });
        AxleNumbers {
            links: links.collect(),
            wheels: [0, 1].map(|side: usize| point(&self.wheels[side], &other.wheels[side])),
            tyre_radius: make(self.tyre_radius, other.tyre_radius),
            nose_up: pair(self.nose_up, other.nose_up),
            dampers: parts(&self.dampers, &other.dampers),
            springs: parts(&self.springs, &other.springs),
        }
    }
}

impl<F: Real> AxleNumbers<F> {
    /// The axle on its links, as `Linkage::of_axle` makes them.
    pub(crate) fn carrier(&self) -> CarrierNumbers<F> {
        let [left, right] = &self.wheels;
        let origin = (left + right) * F::from(0.5);
        let mut given = self.links.iter().filter_map(|link| link.stiffness);
        let usual = match given.next() {
            None => F::from(1.0),
            Some(first) => {
                let (sum, count) = given.fold((first, 1.0), |(sum, count), one| (sum + one, count + 1.0));
                sum / count
            }
        };
        let rods = self.links.iter().map(|link| RodNumbers {
            body: link.body,
            carrier: link.axle,
            stiffness: link.stiffness.unwrap_or(usual) / usual,
            rack: 0.0,
        });
        CarrierNumbers {
            origin,
            rods: rods.collect(),
            half_axle: Some(left - origin),
        }
    }
}

/// An axle's points and parts in place, as measured.
#[derive(Debug, Clone)]
pub(crate) struct AxleGeometry<F: Real = f64> {
    /// Centres of the left and the right wheel.
    pub(crate) wheels: [Vector3<F>; 2],
    pub(crate) tyre_radius: F,
    /// Pinion angle as measured (rad); none without a pinion.
    pub(crate) nose_up: Option<F>,
    pub(crate) dampers: Option<AxleSides<Mounted<F>>>,
    /// Of the dampers where the springs sit on them.
    pub(crate) springs: Option<AxleSides<Mounted<F>>>,
}

impl<F: Real> AxleGeometry<F> {
    /// Puts the parts in place.
    ///
    /// * `sprung`: whether there are springs
    pub(crate) fn new(numbers: &AxleNumbers<F>, sprung: bool) -> Self {
        let mount = |part: &PartNumbers<F>| {
            let link = numbers.links.iter().find(|link| link.name == part.rides_on);
            Mounted {
                upper: part.upper,
                rider: match link {
                    Some(link) => Rider::between(&link.body, &link.axle, &part.lower),
                    None => Rider::on_carrier(&part.lower),
                },
            }
        };
        let dampers = [0, 1].map(|side: usize| numbers.dampers[side].as_ref().map(mount));
        let springs = [0, 1].map(|side: usize| match &numbers.springs[side] {
            Some(apart) => Some(mount(apart)),
            None => dampers[side].clone().filter(|_| sprung),
        });
        Self {
            wheels: numbers.wheels,
            tyre_radius: numbers.tyre_radius,
            nose_up: numbers.nose_up,
            dampers: both(dampers),
            springs: both(springs),
        }
    }

    /// Centre of the left (`side` = 1) or the right (-1) wheel as measured.
    pub(crate) fn wheel(&self, side: f64) -> &Vector3<F> {
        &self.wheels[usize::from(side < 0.0)]
    }
}

fn both<F: Real>([left, right]: [Option<Mounted<F>>; 2]) -> Option<AxleSides<Mounted<F>>> {
    left.map(|left| AxleSides { left, right })
}
