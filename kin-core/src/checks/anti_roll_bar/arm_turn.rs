//! How far an arm of the bar has turned, given where the joint at the other end of its link is.

use crate::numeric::real::Real;
use nalgebra::Vector3;

/// One arm of a bar, as fixed by the pickups.
#[derive(Debug, Clone, Copy)]
pub(super) struct BarArm {
    /// Distance of the link's joint on the arm from the axis of the bar (mm).
    pub(super) lever: f64,
    /// Along the axis, from the root to the foot of that joint (mm).
    pub(super) along: f64,
    /// Whether the turn is the greater of the two that the link allows.
    pub(super) greater: bool,
}

/// Where the axis of the bar is: the root of the arm, the unit vector along the axis, the direction of the arm as
/// measured and the one at right angles to both.
#[derive(Debug, Clone, Copy)]
pub(super) struct BarFrame<T: Real> {
    pub(super) root: Vector3<T>,
    pub(super) axis: Vector3<T>,
    pub(super) first: Vector3<T>,
    pub(super) second: Vector3<T>,
}

impl BarArm {
    /// Place of the link's joint on the arm, turned by an angle.
    pub(super) fn end<T: Real>(&self, frame: &BarFrame<T>, turn: T) -> Vector3<T> {
        let (sine, cosine) = turn.sin_cos();
        let radius = (frame.first * cosine + frame.second * sine) * T::from(self.lever);
        frame.root + frame.axis * T::from(self.along) + radius
    }

    /// The turn (rad) since the pickups were measured; none where a link of this length does not reach.
    ///
    /// With the far joint at q from the foot of the arm, `|r e(turn) - q| = L` is `A cos + B sin = C`, with
    /// `A = e1 . q`, `B = e2 . q` and `C = (r^2 + q^2 - L^2) / 2r`: two turns, one on either side of `atan2(B, A)`.
    pub(super) fn turn<T: Real>(&self, frame: &BarFrame<T>, far: &Vector3<T>, link: f64) -> Option<T> {
        let (along, half) = self.both(frame, far, link)?;
        Some(if self.greater { along + half } else { along - half })
    }

    fn both<T: Real>(&self, frame: &BarFrame<T>, far: &Vector3<T>, link: f64) -> Option<(T, T)> {
        let foot = frame.root + frame.axis * T::from(self.along);
        let seen = far - foot;
        let (first, second) = (frame.first.dot(&seen), frame.second.dot(&seen));
        let size = (first * first + second * second).sqrt();
        let lever = T::from(self.lever);
        let wanted = (lever * lever + seen.dot(&seen) - T::from(link * link)) / (lever * 2.0);
        let cosine = wanted / size;
        (cosine.re().abs() < 1.0).then(|| (second.atan2(first), cosine.acos()))
    }

    /// The sine of the angle between link and arm, seen along the axis: 1 where the link pulls square on the arm, 0 where
    /// both are in line and the arm would go over centre, negative beyond.
    pub(super) fn leverage(&self, frame: &BarFrame<f64>, far: &Vector3<f64>, link: f64) -> Option<f64> {
        let (_, half) = self.both(frame, far, link)?;
        let foot = frame.root + frame.axis * self.along;
        let seen = far - foot;
        let size = frame.first.dot(&seen).hypot(frame.second.dot(&seen));
        // In the triangle of axis, arm end and far joint, the link's length across the axis stands opposite.
        let across = (link * link - frame.axis.dot(&seen).powi(2)).sqrt();
        let sine = size * half.sin() / across;
        sine.is_finite().then_some(sine.min(1.0))
    }
}
