//! Virtual work: in any small motion that the linkage allows, all forces together do none. The rods and joints do none by
//! themselves, so what the ground does on the wheel, the spring gives back: contact force times wheel motion equals
//! spring force times spring motion.

use crate::laws::random::hold;
use kin_core::checks::loads::{AxleLoad, CornerLoad, PartForce, axle_forces, corner_forces};
use kin_core::nalgebra::{Matrix3, Vector3};
use kin_core::pickups::{DoubleWishbone, Point, Spring, mirrored};
use kin_core::{Axle, AxlePosition, AxleTravel, Corner, CornerPosition, samples};
use proptest::collection::vec;
use proptest::prelude::*;

/// Work left over, as a share of the work of all forces by size: the differences below are good to 1e-10.
const SHARE: f64 = 1e-8;
/// Step of the differences (mm).
const STEP: f64 = 1.0;

/// Rate of a number along a step, over four points.
fn rate(value: impl Fn(f64) -> f64) -> f64 {
    let difference = |step: f64| (value(step) - value(-step)) / (2.0 * step);
    (4.0 * difference(STEP) - difference(2.0 * STEP)) / 3.0
}

fn rates(point: impl Fn(f64) -> Point) -> Vector3<f64> {
    Vector3::from_fn(|axis, _| rate(|step| point(step)[axis]))
}

/// A corner with every point moved, its spring apart on one part and an unloaded damper on another.
fn corner() -> impl Strategy<Value = DoubleWishbone> {
    (vec(-20.0..20.0_f64, 36), 0..3_usize, 0..3_usize).prop_map(|(shifts, spring_on, damper_on)| {
        let parts = ["lower_arm", "upper_arm", "upright"];
        let mut corner = samples::wagon_front();
        let mut damper = corner.coilover.take().expect("a coilover");
        damper.rides_on = parts[damper_on].to_owned();
        let mut spring = Spring {
            upper_mount: Some(damper.upper_mount + Point::new(40.0, -20.0, 30.0)),
            lower_mount: Some(damper.lower_mount + Point::new(30.0, 40.0, 20.0)),
            rides_on: Some(parts[spring_on].to_owned()),
            ..corner.spring.take().expect("a spring")
        };
        let mut points = vec![&mut damper.upper_mount, &mut damper.lower_mount];
        points.extend(
            [&mut spring.upper_mount, &mut spring.lower_mount]
                .into_iter()
                .flatten(),
        );
        for arm in [&mut corner.upper_arm, &mut corner.lower_arm] {
            points.extend([&mut arm.front_pivot, &mut arm.rear_pivot, &mut arm.ball_joint]);
        }
        points.extend([&mut corner.tie_rod.inner, &mut corner.tie_rod.outer]);
        for (point, shift) in points.into_iter().zip(shifts.chunks(3)) {
            *point += Vector3::from_row_slice(shift);
        }
        corner.damper = Some(damper);
        corner.spring = Some(spring);
        corner
    })
}

/// Where the upright's material point, now at the contact point of `here`, is in another position.
fn material_contact(here: &CornerPosition<'_>, there: &CornerPosition<'_>) -> Point {
    let arm = here.contact_point() - here.wheel_centre();
    there.wheel_centre() + there.pose().rotation() * here.pose().rotation().transpose() * arm
}

#[test]
fn a_corner_does_no_work() {
    let forces = || vec(-5_000.0..5_000.0_f64, 9);
    hold(
        100,
        (corner(), forces(), -40.0..40.0_f64, -10.0..10.0_f64),
        |(pickups, sizes, travel, rack)| {
            let corner = Corner::new(&pickups).expect("a corner");
            let damper = pickups.damper.as_ref().expect("a damper");
            let force = |place: usize| Vector3::from_row_slice(&sizes[3 * place..3 * place + 3]);
            let load = CornerLoad {
                at_contact_point: force(0),
                at_wheel_centre: force(1),
                part_forces: vec![PartForce {
                    name: "a force at the damper's foot".into(),
                    rides_on: damper.rides_on.clone(),
                    point: damper.lower_mount,
                    force: force(2),
                }],
            };
            let at = |step: f64| corner.at(travel + step, rack).expect("within reach");
            let here = at(0.0);
            let spring_length = |step: f64| {
                let (upper, lower) = at(step).spring_ends().expect("a spring");
                (upper - lower).norm()
            };
            let spring_rate = rate(spring_length);
            // Where the spring hardly moves, its force grows without limit.
            prop_assume!(spring_rate.abs() > 0.05);
            let found = corner_forces(&here, &load).expect("forces");
            let foot = |step: f64| at(step).damper_ends().expect("a damper").1;
            let work = [
                force(0).dot(&rates(|step| material_contact(&here, &at(step)))),
                force(1).dot(&rates(|step| at(step).wheel_centre())),
                force(2).dot(&rates(foot)),
                found.support.compression * spring_rate,
            ];
            let all: f64 = work.iter().map(|part| part.abs()).sum();
            let left: f64 = work.iter().sum();
            prop_assert!(left.abs() <= SHARE * all, "{left:e} of {all:e} is left: {work:?}");
            Ok(())
        },
    );
}

#[test]
fn forces_on_every_part_of_a_corner_balance() {
    let forces = || vec(-5_000.0..5_000.0_f64, 6);
    hold(
        100,
        (corner(), forces(), -40.0..40.0_f64),
        |(pickups, sizes, travel)| {
            let corner = Corner::new(&pickups).expect("a corner");
            let load = CornerLoad {
                at_contact_point: Vector3::from_row_slice(&sizes[..3]),
                at_wheel_centre: Vector3::from_row_slice(&sizes[3..]),
                part_forces: Vec::new(),
            };
            let position = corner.at(travel, 0.0).expect("within reach");
            let found = corner_forces(&position, &load).expect("forces");
            // What the body does: pivots, tie rod at the rack, spring at its upper end. The whole corner balances.
            let pivots = |arm: &kin_core::checks::loads::ArmForces| {
                arm.front_pivot_across + arm.rear_pivot_across + arm.axis * arm.pivots_along_axis
            };
            let sum = load.at_contact_point
                + load.at_wheel_centre
                + pivots(&found.upper_arm)
                + pivots(&found.lower_arm)
                + found.tie_rod_on_upright
                - found.support.force_on_body;
            let size = found
                .by_name()
                .values()
                .fold(1.0, |most: f64, force| most.max(force.abs()));
            prop_assert!(sum.amax() <= 1e-9 * size, "{sum:?}");
            Ok(())
        },
    );
}

#[test]
fn a_mirrored_corner_has_mirrored_forces() {
    let forces = || vec(-5_000.0..5_000.0_f64, 9);
    hold(
        60,
        (corner(), forces(), -40.0..40.0_f64, -10.0..10.0_f64),
        |(pickups, sizes, travel, rack)| {
            let force = |place: usize| Vector3::from_row_slice(&sizes[3 * place..3 * place + 3]);
            let other = PartForce {
                name: "a force".into(),
                rides_on: "lower_arm".into(),
                point: pickups.lower_arm.ball_joint,
                force: force(2),
            };
            let load = CornerLoad {
                at_contact_point: force(0),
                at_wheel_centre: force(1),
                part_forces: vec![other.clone()],
            };
            let mirrored_load = CornerLoad {
                at_contact_point: mirrored(&force(0)),
                at_wheel_centre: mirrored(&force(1)),
                part_forces: vec![other.mirrored()],
            };
            let left = Corner::new(&pickups).expect("a corner");
            let right = Corner::new(&pickups.mirrored()).expect("a corner");
            let at = |corner: &Corner, rack: f64, load: &CornerLoad| {
                corner_forces(&corner.at(travel, rack).expect("within reach"), load).expect("forces")
            };
            let (left, right) = (at(&left, rack, &load), at(&right, -rack, &mirrored_load));
            // Solved as each other's image: the same to the last bit.
            prop_assert_eq!(left.by_name(), right.by_name());
            prop_assert_eq!(mirrored(&left.support.force_on_body), right.support.force_on_body);
            prop_assert_eq!(mirrored(&left.tie_rod_on_upright), right.tie_rod_on_upright);
            prop_assert_eq!(mirrored(&left.contact_point), right.contact_point);
            for (left, right) in [
                (left.upper_arm, right.upper_arm),
                (left.lower_arm, right.lower_arm),
            ] {
                prop_assert_eq!(mirrored(&left.ball_joint_on_upright), right.ball_joint_on_upright);
                prop_assert_eq!(mirrored(&left.front_pivot_across), right.front_pivot_across);
                prop_assert_eq!(mirrored(&left.rear_pivot_across), right.rear_pivot_across);
                prop_assert_eq!(left.pivots_along_axis, right.pivots_along_axis);
            }
            Ok(())
        },
    );
}

/// Where the axle's material point, now at `place` in the position `here`, is in another position.
fn carried(here: &AxlePosition<'_>, there: &AxlePosition<'_>, place: &Point) -> Point {
    let middle = |position: &AxlePosition<'_>| {
        let (left, right) = position.wheel_centres();
        0.5 * (left + right)
    };
    let turned: Matrix3<f64> = there.pose().rotation() * here.pose().rotation().transpose();
    middle(there) + turned * (place - middle(here))
}

/// The dampers ride on the axle, or on the lower links' own lines: off the line a force also twists the link, which ball
/// joints cannot take.
#[test]
fn an_axle_does_no_work_in_heave_or_roll() {
    let forces = || vec(-5_000.0..5_000.0_f64, 12);
    let travels = (-40.0..40.0_f64, -40.0..40.0_f64);
    hold(
        60,
        (any::<bool>(), vec(-20.0..20.0_f64, 24), forces(), travels),
        |(on_link, shifts, sizes, (left, right))| {
            let mut pickups = samples::wagon_rear().with_both_sides();
            for (link, shift) in pickups.links.values_mut().zip(shifts.chunks(6)) {
                link.body += Vector3::from_row_slice(&shift[..3]);
                link.axle += Vector3::from_row_slice(&shift[3..]);
            }
            if on_link {
                let dampers = pickups.coilovers.as_mut().expect("coilovers");
                let sides = [
                    (Some(&mut dampers.left), "lower_left"),
                    (dampers.right.as_mut(), "lower_right"),
                ];
                for (damper, name) in sides {
                    let damper = damper.expect("a damper");
                    let link = pickups.links[name];
                    damper.rides_on = name.to_owned();
                    damper.lower_mount = link.body + (link.axle - link.body) * 0.7;
                }
            }
            let axle = Axle::new(&pickups).expect("an axle");
            let force = |place: usize| Vector3::from_row_slice(&sizes[3 * place..3 * place + 3]);
            let load = AxleLoad {
                at_contact_points: [force(0), force(1)],
                at_wheel_centres: [force(2), force(3)],
                part_forces: Vec::new(),
            };
            let at = |left_step: f64, right_step: f64| {
                let travel = AxleTravel {
                    left: left + left_step,
                    right: right + right_step,
                };
                axle.at(travel).expect("within reach")
            };
            let here = at(0.0, 0.0);
            let found = axle_forces(&here, &load).expect("forces");
            let (contact_left, contact_right) = here.contact_points();
            let (centre_left, centre_right) = here.wheel_centres();
            for sign in [1.0, -1.0] {
                let there = |step: f64| at(step, sign * step);
                let mut work: Vec<f64> = [contact_left, contact_right, centre_left, centre_right]
                    .iter()
                    .enumerate()
                    .map(|(place, point)| {
                        force(place).dot(&rates(|step| carried(&here, &there(step), point)))
                    })
                    .collect();
                for (side, support) in found.supports.iter().enumerate() {
                    let length = |step: f64| {
                        let (upper, lower) = there(step).damper_ends().expect("dampers")[side];
                        (upper - lower).norm()
                    };
                    work.push(support.compression * rate(length));
                }
                let all: f64 = work.iter().map(|part| part.abs()).sum();
                let left_over: f64 = work.iter().sum();
                prop_assert!(
                    left_over.abs() <= SHARE * all,
                    "{left_over:e} of {all:e} is left: {work:?}"
                );
            }
            // The whole axle balances: links and coilovers on the body against ground and weight.
            let on_body: Vector3<f64> = found
                .links
                .values()
                .map(|link| link.on_body)
                .sum::<Vector3<f64>>()
                + found
                    .supports
                    .iter()
                    .map(|support| support.force_on_body)
                    .sum::<Vector3<f64>>();
            let applied: Vector3<f64> = (0..4).map(force).sum();
            prop_assert!(
                (on_body - applied).amax() <= 1e-7,
                "{on_body:?} is not {applied:?}"
            );
            Ok(())
        },
    );
}
