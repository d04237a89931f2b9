//! The balance of a two-point link that carries something between its ends.

use crate::pickups::{Link, Point};
use nalgebra::Vector3;

/// A link where it stands.
pub(super) struct PlacedLink {
    pub(super) body: Point,
    pub(super) axle: Point,
}

impl PlacedLink {
    pub(super) fn along(&self) -> Vector3<f64> {
        (self.axle - self.body).normalize()
    }

    /// Where a point of the link is, given where it was as measured: the link swings without twisting.
    pub(super) fn place(&self, link: &Link, as_measured: &Point) -> Point {
        let (then, now) = ((link.axle - link.body).normalize(), self.along());
        let turn = then.cross(&now);
        let offset = as_measured - link.body;
        let turned = turn.cross(&offset);
        self.body + offset + turned + turn.cross(&turned) / (1.0 + then.dot(&now))
    }

    /// The force across the link at the axle's joint that a force on the link causes: its moment about the body's joint
    /// over the length of the link.
    pub(super) fn passed_on(&self, force: &Vector3<f64>, at: &Point) -> Vector3<f64> {
        let span = self.axle - self.body;
        let moment = (at - self.body).cross(force);
        // span x reaction = -moment, and the force on the axle is the opposite of that reaction.
        -span.cross(&moment) / span.norm_squared()
    }

    /// The moment about the link's own axis (N mm) that its joints must take.
    pub(super) fn twist(&self, force: &Vector3<f64>, at: &Point) -> f64 {
        self.along().dot(&(at - self.body).cross(force))
    }
}
