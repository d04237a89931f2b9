//! Arms and uprights swapped on the same body.

use kin_core::curves::CornerCurve;
use kin_core::pickups::{Arm, DoubleWishbone, Point, RideHeight};
use kin_core::study::{ArmSwap, Swap, UprightSwap, swapped};
use kin_core::{Along, Corner, samples};

fn after(before: &DoubleWishbone, swap: &Swap) -> DoubleWishbone {
    let corner = Corner::new(before).expect("a corner");
    swapped(&corner, swap).expect("parts that go together")
}

fn points(corner: &DoubleWishbone) -> [Point; 6] {
    let damper = corner.coilover.as_ref().expect("a coilover");
    [
        corner.upper_arm.ball_joint,
        corner.lower_arm.ball_joint,
        corner.tie_rod.outer,
        corner.wheel.centre,
        damper.lower_mount,
        corner.upper_arm.front_pivot,
    ]
}

#[track_caller]
fn same_points(one: &DoubleWishbone, other: &DoubleWishbone) {
    for (one, other) in points(one).into_iter().zip(points(other)) {
        assert!((one - other).norm() < 1e-9, "{one} {other}");
    }
    assert!((one.wheel.camber - other.wheel.camber).abs() < 1e-10);
    assert!((one.wheel.toe - other.wheel.toe).abs() < 1e-10);
}

#[test]
fn the_same_parts_leave_the_corner_as_it_is() {
    let before = samples::wagon_front();
    same_points(&before, &after(&before, &Swap::default()));
    let right = before.mirrored();
    same_points(&right, &after(&right, &Swap::default()));
}

#[test]
fn a_swap_taken_back_gives_the_corner_it_began_with() {
    let before = samples::wagon_front();
    let longer = |by: f64| Swap {
        upper_arm: ArmSwap {
            longer: by,
            ..ArmSwap::default()
        },
        tie_rod_longer: 0.5 * by,
        ..Swap::default()
    };
    let there = after(&before, &longer(-12.0));
    assert!(
        (there.wheel.camber - before.wheel.camber).abs() > 1.0,
        "the swap does something"
    );
    same_points(&before, &after(&there, &longer(12.0)));
}

/// The wagon's two variants share all body points and differ in upper ball joint and static camber (invented vehicle;
/// reference figures of an independent solver).
#[test]
fn the_replacement_parts_put_on_the_original_corner_give_the_replacement_corner() {
    let replacement = samples::wagon_front();
    let mut original = replacement.clone();
    original.upper_arm.ball_joint = Point::new(3.0, 661.0, 431.0);
    original.wheel.camber = 0.25;
    let joint = replacement.upper_arm.ball_joint;
    let swap = Swap {
        upper_arm: ArmSwap {
            ball_joint: Some(joint),
            ..ArmSwap::default()
        },
        upright: UprightSwap {
            upper_ball_joint: Some(joint),
            ..UprightSwap::default()
        },
        ..Swap::default()
    };
    let found = after(&original, &swap);
    let mut expected = replacement;
    // Nothing was set right: the wheel leans on the new upright as it leant on the old one.
    expected.wheel.camber = 0.25;
    same_points(&expected, &found);
    let corner = Corner::new(&found).expect("a corner");
    let ride = corner.at(0.0, 0.0).expect("ride height");
    let caster = CornerCurve::Caster.value(&ride).expect("a value").to_degrees();
    assert!((caster - 4.624).abs() < 2e-3, "{caster}");
    let ratio = CornerCurve::MotionRatio.value(&ride).expect("a value");
    assert!((ratio - 0.6050).abs() < 2e-4, "{ratio}");
    let gain = CornerCurve::Camber
        .rate(&ride, Along::Travel)
        .expect("a rate")
        .to_degrees()
        * 25.4;
    assert!((gain - -0.575).abs() < 2e-3, "{gain}");
}

/// Level arms of length L in one plane, ball joints h apart, the wheel centre beside the lower ball joint. With the upper
/// arm longer by d the upright turns about the lower ball joint until its upper one is L + d from its pivot:
/// `(L + h sin c)^2 + (h cos c - h)^2 = (L + d)^2`, which is linear in sin c and cos c. By hand.
#[test]
fn a_longer_upper_arm_gives_the_camber_of_the_closed_form() {
    let (length, height) = (350.0_f64, 260.0_f64);
    let arm = |z: f64| Arm {
        front_pivot: Point::new(150.0, 300.0, z),
        rear_pivot: Point::new(-150.0, 300.0, z),
        ball_joint: Point::new(0.0, 300.0 + length, z),
    };
    let mut corner = samples::wagon_front();
    corner.lower_arm = arm(200.0);
    corner.upper_arm = arm(200.0 + height);
    // The tie rod lies in the plane of the lower arm and turns with it.
    corner.tie_rod.inner = Point::new(-140.0, 300.0, 200.0);
    corner.tie_rod.outer = Point::new(-140.0, 300.0 + length, 200.0);
    corner.wheel.centre = Point::new(0.0, 300.0 + length, 200.0);
    corner.wheel.tyre_radius = 190.0;
    corner.wheel.camber = 0.0;
    corner.wheel.toe = 0.0;
    corner.coilover = None;
    corner.spring = None;
    corner.wanted = None;
    for longer in [-15.0_f64, -3.0, 4.0, 20.0] {
        let swap = Swap {
            upper_arm: ArmSwap {
                longer,
                ..ArmSwap::default()
            },
            ..Swap::default()
        };
        let found = after(&corner, &swap);
        let (a, b) = (2.0 * length * height, -2.0 * height * height);
        let c = (length + longer).powi(2) - length * length - 2.0 * height * height;
        // a sin x + b cos x = c
        let expected = (c / a.hypot(b)).asin() - b.atan2(a);
        let camber = found.wheel.camber.to_radians();
        assert!((camber - expected).abs() < 1e-12, "{camber} {expected}");
        assert!(found.wheel.toe.abs() < 1e-9);
        assert!((found.wheel.centre.z - 200.0).abs() < 1e-10);
    }
}

#[test]
fn the_wheel_centre_keeps_its_height_where_the_car_sits_and_rods_keep_their_lengths() {
    let mut before = samples::wagon_front();
    before.ride_height = Some(RideHeight {
        travel: Some(23.0),
        ..RideHeight::default()
    });
    let swap = Swap {
        upright: UprightSwap {
            taller: 25.0,
            ..UprightSwap::default()
        },
        lower_arm: ArmSwap {
            longer: 6.0,
            ..ArmSwap::default()
        },
        upper_arm: ArmSwap {
            front_pivot: Some(before.upper_arm.front_pivot + Point::new(0.0, 0.0, -8.0)),
            rear_pivot: Some(before.upper_arm.rear_pivot + Point::new(0.0, 2.0, -11.0)),
            ..ArmSwap::default()
        },
        ..Swap::default()
    };
    let found = after(&before, &swap);
    assert!((found.wheel.centre.z - before.wheel.centre.z - 23.0).abs() < 1e-9);
    let apart = |corner: &DoubleWishbone| (corner.upper_arm.ball_joint - corner.lower_arm.ball_joint).norm();
    assert!((apart(&found) - apart(&before) - 25.0).abs() < 1e-9);
    let tie_rod = |corner: &DoubleWishbone| (corner.tie_rod.outer - corner.tie_rod.inner).norm();
    assert!((tie_rod(&found) - tie_rod(&before)).abs() < 1e-9);
    let leg = |corner: &DoubleWishbone| (corner.upper_arm.ball_joint - corner.upper_arm.rear_pivot).norm();
    assert!((leg(&found) - leg(&before)).abs() < 1e-9);
    assert!((found.upper_arm.rear_pivot.z - before.upper_arm.rear_pivot.z + 11.0).abs() < 1e-12);
    let mount = |corner: &DoubleWishbone| {
        let mount = corner.coilover.as_ref().expect("a coilover").lower_mount;
        (mount - corner.lower_arm.front_pivot).norm()
    };
    assert!((mount(&found) - mount(&before)).abs() < 1e-9);
}

#[test]
fn parts_that_cannot_be_put_together_are_refused_in_words() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let swap = Swap {
        upright: UprightSwap {
            taller: 480.0,
            ..UprightSwap::default()
        },
        ..Swap::default()
    };
    let refused = swapped(&corner, &swap)
        .expect_err("no arm reaches that far")
        .to_string();
    assert!(
        refused.contains("came apart") || refused.contains("ball_joint"),
        "{refused}"
    );
    let swap = Swap {
        tie_rod_longer: f64::NAN,
        ..Swap::default()
    };
    assert!(swapped(&corner, &swap).is_err());
}
