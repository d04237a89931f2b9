//! A rigid two-point link between the body and the carrier.

use super::StretchedRod;
use crate::numeric::real::{Real, length};
use crate::pickups::Point;
use crate::pose::Pose;
use nalgebra::Vector3;

/// A rod as frozen at the pickups.
#[derive(Debug, Clone)]
pub(crate) struct Rod {
    pub(crate) name: String,
    /// Joint on the body (mm).
    pub(crate) body: Point,
    /// Joint on the carrier, as measured (mm).
    pub(crate) joint: Point,
    /// The same, seen from the carrier's origin (mm).
    pub(crate) carrier: Vector3<f64>,
    /// From the body joint to the carrier joint, as measured (mm).
    pub(crate) span: Vector3<f64>,
    /// Length as measured (mm).
    pub(crate) length: f64,
    /// Axial stiffness, only used where the carrier is held too much (N/mm, or 1 for all).
    pub(crate) stiffness: f64,
    /// How far the body joint moves along Y per mm of rack displacement.
    pub(crate) rack: f64,
}

/// A rod as measured, in numbers that may carry derivatives.
#[derive(Debug, Clone)]
pub(crate) struct RodNumbers<F> {
    /// Joint on the body.
    pub(crate) body: Vector3<F>,
    /// Joint on the carrier.
    pub(crate) carrier: Vector3<F>,
    /// See [`Rod::stiffness`].
    pub(crate) stiffness: F,
    /// See [`Rod::rack`].
    pub(crate) rack: f64,
}

impl<F: Real> RodNumbers<F> {
    /// The rod as the balance wants it, seen from the carrier's origin.
    pub(crate) fn stretched(&self, origin: &Vector3<F>) -> StretchedRod<F> {
        let span = self.carrier - self.body;
        StretchedRod {
            carrier: self.carrier - origin,
            length: length(&span),
            span,
            stiffness: self.stiffness,
        }
    }
}

/// Where a rod stands at a pose.
#[derive(Clone, Copy)]
pub(crate) struct Placed {
    /// From the body joint to the carrier joint (mm).
    pub(crate) span: Vector3<f64>,
    /// The carrier joint seen from the carrier's origin (mm).
    pub(crate) arm: Vector3<f64>,
    /// Half the excess of the squared length over the rigid one (mm^2).
    pub(crate) residual: f64,
}

impl Rod {
    pub(crate) fn new(name: &str, body: &Point, carrier: &Point, origin: &Point) -> Self {
        let span = carrier - body;
        Self {
            name: name.to_owned(),
            body: *body,
            joint: *carrier,
            carrier: carrier - origin,
            span,
            length: span.norm(),
            stiffness: 1.0,
            rack: 0.0,
        }
    }

    /// Places the rod. The residual is built from the shift alone, so that it loses no digits near the pickups
    /// and is exactly zero there.
    #[inline]
    pub(crate) fn place(&self, pose: &Pose, rack: f64) -> Placed {
        let turned = pose.turn * self.carrier;
        let mut shift = pose.displacement + turned;
        shift.y -= self.rack * rack;
        let span = self.span + shift;
        Placed {
            span,
            arm: self.carrier + turned,
            residual: 0.5 * shift.dot(&(self.span + span)),
        }
    }

    /// How much longer the rod is than its rigid length (mm).
    pub(crate) fn stretch(&self, placed: &Placed) -> f64 {
        2.0 * placed.residual / (placed.span.norm() + self.length)
    }
}
