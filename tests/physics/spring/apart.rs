//! Springs that stand apart from the dampers, on the wagon's front corner and rear axle.

use super::support::{close, wagon_front};
use kin_core::checks::{RideHeightQuestion, SeatPosition, check_corner_ride_height};
use kin_core::curves::{AxleCurve, AxleSpring, CornerCurve};
use kin_core::pickups::{AxleSides, DoubleWishbone, Point, Side, Spring};
use kin_core::{Axle, AxleAlong, AxleTravel, Corner, samples};

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

/// The wagon's axle with its springs on the lower links, ahead of the axle (invented).
fn axle_apart() -> Axle {
    let mut pickups = samples::wagon_rear();
    pickups.dampers = pickups.coilovers.take();
    let left = Spring {
        rate: 60.0,
        free_length: Some(320.0),
        upper_seat: 0.0,
        lower_seat: 0.0,
        upper_mount: Some(Point::new(-2690.0, 470.0, 500.0)),
        lower_mount: Some(Point::new(-2700.0, 488.0, 262.0)),
        rides_on: Some("lower_left".into()),
    };
    pickups.springs = Some(AxleSides { left, right: None });
    Axle::new(&pickups).expect("a good axle")
}

#[test]
fn the_springs_of_an_axle_have_motion_ratios_and_forces_of_their_own() {
    let axle = axle_apart();
    let at = |travel| axle.at(travel).expect("within reach");
    let here = AxleTravel {
        left: 22.0,
        right: -9.0,
    };
    let step = 1e-3;
    for (side, sign) in [(Side::Left, 1.0), (Side::Right, -1.0)] {
        for (along, way, rate) in [
            (
                AxleAlong::Heave,
                (1.0, 1.0),
                [AxleCurve::WheelRateLeft, AxleCurve::WheelRateRight],
            ),
            (
                AxleAlong::Roll,
                (1.0, -1.0),
                [AxleCurve::WheelRateRollLeft, AxleCurve::WheelRateRollRight],
            ),
        ] {
            let moved = |by: f64| {
                let travel = AxleTravel {
                    left: here.left + by * way.0,
                    right: here.right + by * way.1,
                };
                at(travel).spring(side, along).expect("springs")
            };
            let (down, up) = (moved(-step), moved(step));
            let spring = at(here).spring(side, along).expect("springs");
            // Its own wheel's bump: against the motion for the right wheel in roll.
            let own = if along == AxleAlong::Roll { sign } else { 1.0 };
            let shorter = -own * (up.between_mounts - down.between_mounts) / (2.0 * step);
            close(spring.motion_ratio, shorter, 1e-7);
            // The wheel rate is the change of the force at the wheel (product rule).
            let force = |spring: AxleSpring| spring.wheel_force().expect("a free length");
            let change = own * (force(up) - force(down)) / (2.0 * step);
            let rate = rate[usize::from(sign < 0.0)].value(&at(here)).expect("springs");
            close(rate, change, 1e-5);
            close(
                spring.force.expect("a free length"),
                60.0 * (320.0 - spring.between_mounts),
                1e-9,
            );
        }
    }
}
