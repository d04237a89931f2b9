//! Anti-roll bars: closed forms of the bar, brute force of its links, energy at the wheels.

mod questions;

use kin_core::checks::{
    AntiRollBar, ArmBending, BarAtWheel, BarSection, BarSide, MotionRange, RemedyKind, Verdict,
    check_axle_anti_roll_bar, check_corner_anti_roll_bar,
};
use kin_core::curves::{AxleCurve, CornerCurve};
use kin_core::nalgebra::{Rotation3, Unit, Vector3};
use kin_core::pickups::{Point, mirrored};
use kin_core::{Axle, AxleTravel, Corner, samples};
use std::f64::consts::PI;

fn section(outside_diameter: f64, inside_diameter: f64) -> BarSection {
    BarSection {
        outside_diameter,
        inside_diameter,
        shear_modulus: None,
        young_modulus: None,
    }
}

/// A bar ahead of the front axle of the invented wagon, its link on the lower arm.
fn front_bar() -> AntiRollBar {
    AntiRollBar {
        section: section(24.0, 0.0),
        arm: ArmBending::Stiff,
        length: None,
        mounted_on: "body".into(),
        left: BarSide {
            root: Point::new(260.0, 420.0, 230.0),
            arm_end: Point::new(40.0, 470.0, 235.0),
            link_end: Point::new(45.0, 560.0, 170.0),
            rides_on: "lower_arm".into(),
            link_length: None,
        },
        right: None,
        other_axle_roll_stiffness: None,
        largest_preload: None,
        range: MotionRange {
            bump: Some(70.0),
            droop: Some(50.0),
            rack: None,
        },
    }
}

fn rear_bar() -> AntiRollBar {
    AntiRollBar {
        section: section(20.0, 12.0),
        left: BarSide {
            root: Point::new(-2600.0, 380.0, 300.0),
            arm_end: Point::new(-2820.0, 400.0, 290.0),
            link_end: Point::new(-2830.0, 410.0, 420.0),
            rides_on: "body".into(),
            link_length: None,
        },
        mounted_on: "axle".into(),
        range: MotionRange {
            bump: Some(50.0),
            droop: Some(38.0),
            rack: None,
        },
        ..front_bar()
    }
}

fn front(bar: &AntiRollBar) -> BarAtWheel {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    check_corner_anti_roll_bar(&corner, bar).expect("an answer")
}

/// Torsion part G J / (L r^2), J = pi (D^4 - d^4) / 32, arm bending in series: symbols seen on an open page, formula
/// from memory; numbers worked by hand here.
#[test]
fn a_solid_and_a_hollow_bar_twist_as_a_round_rod_does() {
    let solid = section(25.4, 0.0);
    // J = 40863.54 mm^4 for 1 in; 79300 N/mm^2 over 900 mm: 3.600532e6 N mm/rad
    assert!(
        (solid.torsional_rate(900.0) - 3.600_5e6).abs() < 100.0,
        "{}",
        solid.torsional_rate(900.0)
    );
    let hollow = section(25.4, 19.05);
    let inner = section(19.05, 0.0);
    let expected = solid.torsional_rate(900.0) - inner.torsional_rate(900.0);
    assert!((hollow.torsional_rate(900.0) - expected).abs() < 1e-6);
    // A tube three quarters hollow keeps 1 - 0.75^4 of it.
    assert!(
        (hollow.torsional_rate(900.0) / solid.torsional_rate(900.0) - (1.0 - 0.75_f64.powi(4))).abs() < 1e-12
    );
}

#[test]
fn arms_bend_in_series() {
    let bar = front_bar();
    let stiff = front(&bar);
    assert_eq!(stiff.lost_to_arm_bending, 0.0);
    let (lever, length) = (
        220.0_f64.hypot(5.0),
        Vector3::<f64>::new(220.0, -50.0, -5.0).norm(),
    );
    let torsion = 79_300.0 * PI * 24.0_f64.powi(4) / 32.0 / 840.0;
    assert!((stiff.torsional_rate - torsion).abs() < 1e-6 * torsion);
    assert!((stiff.rate_at_arm_ends - torsion / (lever * lever)).abs() < 1e-9);
    for (arm, rate) in [
        (ArmBending::Rate(120.0), 120.0),
        (
            ArmBending::SameAsBar,
            3.0 * 206_000.0 * PI * 24.0_f64.powi(4) / 64.0 / length.powi(3),
        ),
        (
            ArmBending::Blade {
                thickness: 10.0,
                width: 40.0,
            },
            3.0 * 206_000.0 * 40.0 * 1_000.0 / 12.0 / length.powi(3),
        ),
    ] {
        let found = front(&AntiRollBar { arm, ..bar.clone() });
        // Springs in series, seen at the arm ends: one bar and two arms.
        let expected = 1.0 / (lever * lever / torsion + 2.0 / rate);
        assert!(
            (found.rate_at_arm_ends - expected).abs() < 1e-9 * expected,
            "{arm:?}"
        );
    }
}

/// The turn of an arm by bisection on the length of its link: nothing of the closed form is used.
fn turn_by_bisection(root: &Point, axis: &Vector3<f64>, arm_end: &Point, far: &Point, link: f64) -> f64 {
    let axis = Unit::new_normalize(*axis);
    let miss = |turn: f64| {
        let end = root + Rotation3::from_axis_angle(&axis, turn) * (arm_end - root);
        (end - far).norm() - link
    };
    let (mut low, mut high) = (-0.8, 0.8);
    let rising = miss(high) > miss(low);
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if (miss(middle) > 0.0) == rising {
            high = middle;
        } else {
            low = middle;
        }
    }
    0.5 * (low + high)
}

/// Turn of the left arm of the front bar with the wheel at a travel.
fn front_turn(corner: &Corner, travel: f64, link: Option<f64>) -> f64 {
    let bar = front_bar();
    let arm = corner.pickups().lower_arm;
    let position = corner.at(travel, 0.0).expect("within reach");
    let axis = Unit::new_normalize(arm.front_pivot - arm.rear_pivot);
    let square = |point: &Point| {
        let seen = point - arm.rear_pivot;
        seen - axis.into_inner() * axis.dot(&seen)
    };
    let (before, after) = (square(&arm.ball_joint), square(&position.lower_ball_joint()));
    let angle = axis.dot(&before.cross(&after)).atan2(before.dot(&after));
    let far =
        arm.rear_pivot + Rotation3::from_axis_angle(&axis, angle) * (bar.left.link_end - arm.rear_pivot);
    let link = link.unwrap_or((bar.left.link_end - bar.left.arm_end).norm());
    turn_by_bisection(&bar.left.root, &Vector3::y(), &bar.left.arm_end, &far, link)
}

#[test]
fn the_motion_ratio_and_rates_of_the_front_bar_agree_with_brute_force() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let found = front(&front_bar());
    let step = 0.05;
    let slope = (front_turn(&corner, step, None) - front_turn(&corner, -step, None)) / (2.0 * step);
    let lever = 220.0_f64.hypot(5.0);
    for ratio in found.motion_ratio {
        assert!(
            (ratio - slope.abs() * lever).abs() < 1e-6,
            "{ratio} {}",
            slope.abs() * lever
        );
    }
    let rate = found.torsional_rate;
    for (found, expected) in [
        (found.wheel_rate_alone[0], rate * slope * slope),
        (found.wheel_rate_in_roll[1], 2.0 * rate * slope * slope),
    ] {
        assert!((found - expected).abs() < 1e-5 * expected, "{found} {expected}");
    }
    let track = 2.0 * corner.at(0.0, 0.0).expect("ride").contact_point().y;
    let expected = rate * (slope * track).powi(2);
    assert!((found.roll_stiffness - expected).abs() < 1e-5 * expected);
}

/// Roll stiffness of springs = ride rate x track^2 / 2: university course page, seen.
#[test]
fn the_share_of_the_axle_counts_springs_by_track() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let position = corner.at(0.0, 0.0).expect("ride");
    let track = 2.0 * position.contact_point().y;
    let springs = 0.5 * CornerCurve::WheelRate.value(&position).expect("a spring") * track * track;
    let found = front(&front_bar());
    assert!((found.spring_roll_stiffness.expect("springs") - springs).abs() < 1e-6 * springs);
    let share = found.roll_stiffness / (found.roll_stiffness + springs);
    assert!((found.share_of_axle.expect("springs") - share).abs() < 1e-12);
    // The other axle given as stiff as this one: half of the car each.
    let same = AntiRollBar {
        other_axle_roll_stiffness: Some((found.roll_stiffness + springs).to_radians()),
        ..front_bar()
    };
    assert!((front(&same).share_of_car.expect("given") - 0.5).abs() < 1e-12);
}

#[test]
fn equal_links_preload_nothing_and_an_unequal_one_is_set_right() {
    let level = front(&front_bar());
    assert!(level.preload_twist.abs() < 1e-12);
    assert!(
        level
            .findings
            .iter()
            .all(|finding| finding.verdict == Verdict::Holds)
    );
    let mut bar = front_bar();
    let measured = (bar.left.link_end - bar.left.arm_end).norm();
    bar.left.link_length = Some(measured + 4.0);
    let found = front(&bar);
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let turn = |link: f64| front_turn(&corner, 0.0, Some(link));
    assert!((found.preload_twist - (turn(measured + 4.0) - turn(measured))).abs() < 1e-9);
    // A longer left link lifts the left arm against the right one, and pushes the left wheel down.
    assert!(found.preload_twist > 0.0 && found.preload_at_left_wheel > 50.0);
    assert!((found.left_link_without_preload - measured).abs() < 1e-9);
    let finding = &found.findings[0];
    assert_eq!(finding.verdict, Verdict::Fails);
    let remedy = &finding.remedies[0];
    assert_eq!(remedy.kind, RemedyKind::BarLinkLength);
    assert!((remedy.change + 4.0).abs() < 1e-9);
    bar.left.link_length = Some(measured + 4.0 + remedy.change);
    assert!(front(&bar).preload_at_left_wheel.abs() < 1e-6);
}

#[test]
fn the_force_at_the_wheel_is_the_derivative_of_the_energy() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let mut bar = front_bar();
    let measured = (bar.left.link_end - bar.left.arm_end).norm();
    bar.left.link_length = Some(measured + 4.0);
    let found = front(&bar);
    let right = front_turn(&corner, 0.0, None);
    let energy = |travel: f64| {
        0.5 * found.torsional_rate * (front_turn(&corner, travel, Some(measured + 4.0)) - right).powi(2)
    };
    let step = 0.05;
    let force = (energy(step) - energy(-step)) / (2.0 * step);
    assert!(
        (force - found.preload_at_left_wheel).abs() < 1e-5 * force.abs(),
        "{force}"
    );
    // Free to roll, the other axle takes its part: with as much roll stiffness, half of it.
    bar.other_axle_roll_stiffness =
        Some((found.roll_stiffness + found.spring_roll_stiffness.expect("springs")).to_radians());
    let scales = front(&bar).preload_on_scales.expect("given");
    assert!((scales - 0.5 * found.preload_at_left_wheel).abs() < 1e-9);
}

#[test]
fn a_longer_right_link_is_the_mirror_of_a_longer_left_one() {
    let mut left = front_bar();
    let measured = (left.left.link_end - left.left.arm_end).norm();
    let mut right = left.clone();
    left.left.link_length = Some(measured + 3.0);
    right.right = Some(BarSide {
        root: mirrored(&right.left.root),
        arm_end: mirrored(&right.left.arm_end),
        link_end: mirrored(&right.left.link_end),
        rides_on: "lower_arm".into(),
        link_length: Some(measured + 3.0),
    });
    let (left, right) = (front(&left), front(&right));
    assert!((left.preload_twist + right.preload_twist).abs() < 1e-12);
    // The right corner says the same of the same bar.
    let corner = Corner::new(&samples::wagon_front().mirrored()).expect("a corner");
    let mut bar = front_bar();
    bar.left.link_length = Some(measured + 3.0);
    let other = check_corner_anti_roll_bar(&corner, &bar).expect("an answer");
    assert!((other.preload_at_left_wheel - left.preload_at_left_wheel).abs() < 1e-9);
}

/// A bar on an axle, links to the body: twist by bisection in the frame of the axle.
#[test]
fn a_bar_on_an_axle_twists_in_roll_only_and_by_as_much_as_brute_force_says() {
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    let bar = rear_bar();
    let found = check_axle_anti_roll_bar(&axle, &bar).expect("an answer");
    let twist = |travel: AxleTravel| {
        let position = axle.at(travel).expect("within reach");
        let rotation = position.pose().rotation();
        let turn = |sign: f64| {
            let side = |point: &Point| Point::new(point.x, sign * point.y, point.z);
            let root = position.carried(&side(&bar.left.root));
            let end = position.carried(&side(&bar.left.arm_end));
            let far = side(&bar.left.link_end);
            let link = (bar.left.link_end - bar.left.arm_end).norm();
            turn_by_bisection(&root, &(rotation * Vector3::y()), &end, &far, link)
        };
        turn(1.0) - turn(-1.0)
    };
    assert!(twist(AxleTravel::both(30.0)).abs() < 1e-9);
    let step = 0.5;
    let rolled = |half: f64| twist(AxleTravel::from_heave(0.0, half));
    let per_half = (rolled(step) - rolled(-step)) / (2.0 * step);
    let position = axle.at(AxleTravel::both(0.0)).expect("ride");
    let (left, right) = position.contact_points();
    let track = left.y - right.y;
    let expected = found.torsional_rate * (per_half * 0.5 * track).powi(2);
    assert!(
        (found.roll_stiffness - expected).abs() < 1e-5 * expected,
        "{} {expected}",
        found.roll_stiffness
    );
    let roll_rates = [AxleCurve::WheelRateRollLeft, AxleCurve::WheelRateRollRight]
        .map(|curve| curve.value(&position).expect("springs"));
    let springs = (roll_rates[0] + roll_rates[1]) * track * track / 4.0;
    assert!((found.spring_roll_stiffness.expect("springs") - springs).abs() < 1e-6 * springs);
    assert!(found.preload_twist.abs() < 1e-10);
}

#[test]
fn a_link_that_no_longer_reaches_goes_over_centre() {
    let mut bar = front_bar();
    // A short arm beside a long way of the lower arm's end.
    bar.left.arm_end = Point::new(232.0, 545.0, 232.0);
    bar.left.link_end = Point::new(230.0, 560.0, 160.0);
    let found = front(&bar);
    let finding = &found.findings[1];
    assert_eq!(finding.verdict, Verdict::Fails, "{finding}");
    assert!(finding.to_string().contains("over centre"), "{finding}");
    assert_eq!(found.least_link_angle, 0.0);
}
