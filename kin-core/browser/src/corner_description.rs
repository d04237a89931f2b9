//! From numbers to a corner.

use crate::reader::Reader;
use kin_core::pickups::{Arm, DoubleWishbone, Side, Stops, TieRod, Wheel};

fn arm(read: &mut Reader<'_>) -> Arm {
    Arm {
        front_pivot: read.point(),
        rear_pivot: read.point(),
        ball_joint: read.point(),
    }
}

fn carrier(code: f64) -> String {
    let name = if code == 0.0 {
        "lower_arm"
    } else if code == 1.0 {
        "upper_arm"
    } else {
        "upright"
    };
    name.to_owned()
}

/// Reads a description in the order of [`CORNER`](crate::layout::CORNER).
pub(crate) fn corner_description(numbers: &[f64]) -> DoubleWishbone {
    let mut read = Reader::new(numbers);
    let upper_arm = arm(&mut read);
    let lower_arm = arm(&mut read);
    let tie_rod = TieRod {
        inner: read.point(),
        outer: read.point(),
    };
    let wheel = Wheel {
        centre: read.point(),
        tyre_radius: read.number(),
        camber: read.number(),
        toe: read.number(),
    };
    let damper = read.damper(&carrier);
    let spring = read.spring(&carrier);
    // A spring without mounts of its own sits on the damper, which is then a coilover.
    let apart = spring.as_ref().is_some_and(|spring| spring.upper_mount.is_some());
    let (coilover, damper) = if apart { (None, damper) } else { (damper, None) };
    DoubleWishbone {
        side: Side::Left,
        upper_arm,
        lower_arm,
        tie_rod,
        wheel,
        coilover,
        damper,
        spring,
        ride_height: None,
        stops: Stops::default(),
        wanted: None,
    }
}
