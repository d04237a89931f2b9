//! Angles of the shafts and of the joints between them.

use crate::checks::moving_parts::{Anchor, Standing, Turning};
use crate::pickups::Point;
use nalgebra::Vector3;

/// The driveline at one place of the axle (rad, mm).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DrivelineAngles {
    /// Pinion angle, nose up positive, seen from the side.
    pub pinion: f64,
    /// Slope of the propeller shaft, seen from the side: positive when it falls towards the rear.
    pub shaft_falls: f64,
    /// Angle of the joint at the gearbox.
    pub gearbox_joint: f64,
    /// Angle of the joint at the pinion.
    pub pinion_joint: f64,
    /// The angle of a single joint that would shake as much as both do together.
    pub equivalent: f64,
    /// Distance between the centres of both joints.
    pub shaft_length: f64,
}

impl DrivelineAngles {
    /// Angle of the joint at the pinion less that at the gearbox (rad).
    #[must_use]
    pub fn difference(&self) -> f64 {
        self.pinion_joint - self.gearbox_joint
    }
}

/// Both shafts and the two joints between them.
pub(super) struct Shafts {
    pub(super) joint: Anchor,
    pub(super) axle: Turning,
    /// Forward along the pinion shaft, as measured.
    pub(super) pinion: Vector3<f64>,
    pub(super) gearbox: Point,
    /// Forward along the output shaft.
    pub(super) output: Vector3<f64>,
}

impl Shafts {
    pub(super) fn at(&self, standing: &Standing) -> DrivelineAngles {
        let pinion = standing.turn(&self.axle) * self.pinion;
        let span = self.gearbox - standing.place(&self.joint);
        let shaft_length = span.norm();
        let shaft = span / shaft_length;
        let angle =
            |first: &Vector3<f64>, second: &Vector3<f64>| first.cross(second).norm().atan2(first.dot(second));
        DrivelineAngles {
            pinion: pinion.z.atan2(pinion.x),
            shaft_falls: shaft.z.atan2(shaft.x),
            gearbox_joint: angle(&self.output, &shaft),
            pinion_joint: angle(&shaft, &pinion),
            equivalent: self.equivalent(&shaft, &pinion),
            shaft_length,
        }
    }

    /// Of each joint the bend seen along the shaft is a vector; squared as complex numbers, the bends subtract.
    fn equivalent(&self, shaft: &Vector3<f64>, pinion: &Vector3<f64>) -> f64 {
        let up = Vector3::z() - shaft * shaft.z;
        let up = up.normalize();
        let side = shaft.cross(&up);
        let squared = |bend: Vector3<f64>, size: f64| {
            let angle = side.dot(&bend).atan2(up.dot(&bend));
            let (sine, cosine) = (2.0 * angle).sin_cos();
            (size * size * cosine, size * size * sine)
        };
        let at_gearbox = squared(
            shaft - self.output,
            self.output.cross(shaft).norm().min(1.0).asin(),
        );
        let at_pinion = squared(pinion - shaft, shaft.cross(pinion).norm().min(1.0).asin());
        (at_gearbox.0 - at_pinion.0)
            .hypot(at_gearbox.1 - at_pinion.1)
            .sqrt()
    }
}
