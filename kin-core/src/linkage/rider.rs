//! Points that ride on the carrier, on an arm or on a link.

use super::Linkage;
use crate::numeric::real::{Over, Real, length};
use crate::pickups::{Arm, Point};
use nalgebra::{Matrix3, Vector3};

/// How a mounted point follows the linkage; `F` is the number type of the geometry.
#[derive(Debug, Clone)]
pub(crate) enum Rider<F: Real = f64> {
    /// Fixed to the carrier: where it was as measured.
    Carrier(Vector3<F>),
    /// Fixed to an arm: an affine map of the place of the arm's ball joint.
    Arm {
        /// The ball joint, as measured.
        ball_joint: Vector3<F>,
        /// Where the point was as measured.
        as_measured: Vector3<F>,
        /// How the point shifts with the ball joint.
        map: Matrix3<F>,
    },
    /// Fixed to a two-point link, which swings without twisting about its own axis.
    Link {
        /// The link's joint on the carrier, as measured.
        joint: Vector3<F>,
        /// The link's joint on the body.
        body: Vector3<F>,
        /// Unit vector along the link, as measured.
        along: Vector3<F>,
        /// Where the point was as measured.
        as_measured: Vector3<F>,
    },
}

/// Both pivots and the ball joint of an arm.
#[derive(Debug, Clone, Copy)]
pub(crate) struct ArmPoints<F> {
    pub(crate) front_pivot: Vector3<F>,
    pub(crate) rear_pivot: Vector3<F>,
    pub(crate) ball_joint: Vector3<F>,
}

impl From<&Arm> for ArmPoints<f64> {
    fn from(arm: &Arm) -> Self {
        Self {
            front_pivot: arm.front_pivot,
            rear_pivot: arm.rear_pivot,
            ball_joint: arm.ball_joint,
        }
    }
}

impl Rider {
    /// A point on a link; none if there is no link of that name.
    pub(crate) fn on_link(linkage: &Linkage, name: &str, point: &Point) -> Option<Self> {
        let rod = linkage.rods.iter().find(|rod| rod.name == name)?;
        Some(Self::between(&rod.body, &rod.joint, point))
    }
}

impl<F: Real> Rider<F> {
    pub(crate) fn on_carrier(point: &Vector3<F>) -> Self {
        Self::Carrier(*point)
    }

    /// A point on an arm turns about the pivots with the ball joint.
    ///
    /// With the ball joint at u from the axis (u0 as measured), the arm has turned by an angle whose cosine is
    /// `u0 . u / u0^2` and whose sine is `e . (u0 cross u) / u0^2`; both are linear in the ball joint's place, so the
    /// mounted point is too.
    pub(crate) fn on_arm(arm: &ArmPoints<F>, point: &Vector3<F>) -> Self {
        let axis = arm.front_pivot - arm.rear_pivot;
        let axis = axis / length(&axis);
        let radial = |point: &Vector3<F>| {
            let from_pivot = point - arm.rear_pivot;
            from_pivot - axis * axis.dot(&from_pivot)
        };
        let lever = radial(&arm.ball_joint);
        let radius = radial(point);
        let square = lever.dot(&lever);
        let cosine = lever.transpose() / square;
        let sine = axis.cross(&lever).transpose() / square;
        Self::Arm {
            ball_joint: arm.ball_joint,
            as_measured: *point,
            map: radius * cosine + axis.cross(&radius) * sine,
        }
    }

    /// A point on a link with these joints.
    pub(crate) fn between(body: &Vector3<F>, joint: &Vector3<F>, point: &Vector3<F>) -> Self {
        let span = joint - body;
        Self::Link {
            joint: *joint,
            body: *body,
            along: span / length(&span),
            as_measured: *point,
        }
    }

    /// Where the point was as measured.
    pub(crate) fn as_measured(&self) -> &Vector3<F> {
        match self {
            Self::Carrier(as_measured) | Self::Arm { as_measured, .. } | Self::Link { as_measured, .. } => {
                as_measured
            }
        }
    }

    /// The carrier point that this point follows, as measured.
    #[inline(always)]
    pub(crate) fn followed(&self) -> &Vector3<F> {
        match self {
            Self::Carrier(as_measured) => as_measured,
            Self::Arm { ball_joint, .. } => ball_joint,
            Self::Link { joint, .. } => joint,
        }
    }

    /// Where the point is, given where the carrier point that it follows is.
    #[inline(always)]
    pub(crate) fn place<T: Over<F>>(&self, followed: &Vector3<T>) -> Vector3<T> {
        match self {
            Self::Carrier(_) => *followed,
            Self::Arm {
                ball_joint,
                as_measured,
                map,
            } => {
                let shift = followed.zip_map(ball_joint, Over::minus);
                let row = |row: usize| {
                    (shift.x.times(map[(row, 0)])
                        + shift.y.times(map[(row, 1)])
                        + shift.z.times(map[(row, 2)]))
                    .plus(as_measured[row])
                };
                Vector3::new(row(0), row(1), row(2))
            }
            Self::Link {
                body,
                along,
                as_measured,
                ..
            } => {
                let span = followed.zip_map(body, Over::minus);
                let now = span / length(&span);
                let offset = (as_measured - body).map(T::of);
                as_measured.map(T::of) + swing(&along.map(T::of), &now, &offset)
            }
        }
    }
}

/// The change of `vector` in the shortest rotation that takes the unit vector `from` to the unit vector `to`.
///
/// Rodrigues' formula with the axis a = `from cross to`: `a cross v + a cross (a cross v) / (1 + cosine)`. It is exactly
/// zero where nothing swings; links never swing half a turn, where it would fail.
fn swing<T: Real>(from: &Vector3<T>, to: &Vector3<T>, vector: &Vector3<T>) -> Vector3<T> {
    let axis = from.cross(to);
    let turned = axis.cross(vector);
    let cosine = from.dot(to);
    turned + axis.cross(&turned) / (cosine + 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_swing_keeps_lengths_and_takes_one_direction_to_the_other() {
        let from: Vector3<f64> = Vector3::new(0.6, 0.0, 0.8);
        let to = Vector3::new(0.0, 1.0, 0.0);
        assert!((from + swing(&from, &to, &from) - to).norm() < 1e-15);
        let vector = Vector3::new(3.0, -2.0, 5.0);
        let turned = vector + swing(&from, &to, &vector);
        assert!((turned.norm() - vector.norm()).abs() < 1e-14);
        assert_eq!(swing(&from, &from, &vector), Vector3::zeros());
    }
}
