//! A spring that stands apart from the damper, on the wagon's front corner.

use super::support::{close, wagon_front};
use kin_core::checks::{RideHeightQuestion, SeatPosition, check_corner_ride_height};
use kin_core::curves::CornerCurve;
use kin_core::pickups::{DoubleWishbone, Point, Spring};
use kin_core::{Corner, samples};

/// The damper stays where it was; the spring stands inboard of it, between frame and lower arm (invented).
fn apart() -> DoubleWishbone {
    let mut pickups = samples::wagon_front();
    pickups.damper = pickups.coilover.take();
    pickups.spring = Some(Spring {
        rate: 120.0,
        free_length: Some(330.0),
        upper_seat: 0.0,
        lower_seat: 0.0,
        upper_mount: Some(Point::new(0.0, 420.0, 430.0)),
        lower_mount: Some(Point::new(0.0, 470.0, 185.0)),
        rides_on: Some("lower_arm".into()),
    });
    pickups
}

#[test]
fn its_own_motion_ratio_carries_the_weight() {
    let corner = Corner::new(&apart()).expect("a good corner");
    let question = RideHeightQuestion {
        seat: SeatPosition::ForRideHeight,
        seat_thread: None,
        ..wagon_front()
    };
    let ride = check_corner_ride_height(&corner, &question).expect("an answer");
    let position = corner.at(0.0, 0.0).expect("within reach");
    let of = |curve: CornerCurve| curve.value(&position).expect("a spring");
    let force = 406.0 * 9.80665 / of(CornerCurve::SpringMotionRatio);
    close(ride.needed.force, force, 1e-6);
    // Length between the mounts, less what the compressed spring fills: the spacer that levels the car.
    let spacer = of(CornerCurve::SpringLength) - (330.0 - force / 120.0);
    close(ride.needed.seat, spacer, 1e-9);
    close(ride.standing.expect("a balance").travel, 0.0, 1e-8);
    // The damper's lengths say nothing about this spring; the ends of the wheel's travel do.
    assert_eq!((ride.at_full_extension, ride.at_metal), (None, None));
    let bump = ride.at_full_bump.1.expect("an end");
    let there = corner
        .at(bump.travel.expect("a travel"), 0.0)
        .expect("within reach");
    let length = CornerCurve::SpringLength.value(&there).expect("a spring");
    close(bump.installed_length, length - spacer, 1e-9);
}
