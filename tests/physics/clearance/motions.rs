//! The least gap between the looks, over steering, and under changes of what stands around.

use super::{ball, block, plane, question, rod, solid, spring, tube};
use kin_core::checks::{
    ClearanceQuestion, LeastGap, MotionKind, RemedyKind, Shape, Solid, Tyre, Verdict, check_axle_clearance,
    check_corner_clearance,
};
use kin_core::pickups::{Point, RideHeight, mirrored};
use kin_core::{Axle, AxleTravel, Corner, samples};
use proptest::prelude::*;

fn corner() -> Corner {
    Corner::new(&samples::wagon_front()).expect("a corner")
}

fn least(corner: &Corner, question: &ClearanceQuestion) -> LeastGap {
    check_corner_clearance(corner, question).expect("an answer").pairs[0].least
}

/// The gap with ride height at a travel and no motion from there: no search bears on it.
fn standing_at(corner: &Corner, asked: &ClearanceQuestion, travel: f64) -> f64 {
    let mut pickups = corner.pickups().clone();
    pickups.ride_height = Some(RideHeight {
        travel: Some(travel),
        damper_length: None,
        hub_to_lip: None,
        hub_to_lip_as_measured: None,
    });
    let still = ClearanceQuestion {
        bump: Some(0.0),
        droop: Some(0.0),
        ..asked.clone()
    };
    least(&Corner::new(&pickups).expect("a corner"), &still).gap
}

/// Distance of a point from a segment, written out by hand.
fn from_segment(point: &Point, start: &Point, end: &Point) -> f64 {
    let along = end - start;
    let share = ((point - start).dot(&along) / along.norm_squared()).clamp(0.0, 1.0);
    (start + along * share - point).norm()
}

fn some_obstacle() -> impl Strategy<Value = Solid> {
    let near = || [-200.0..200.0, 300.0..700.0, 150.0..600.0];
    prop_oneof![
        (near(), 5.0..40.0).prop_map(|(centre, radius)| ball("obstacle", centre, radius)),
        (near(), near(), 5.0..40.0).prop_map(|(start, end, radius)| tube("obstacle", &[start, end], radius)),
        (
            near(),
            [20.0..200.0, 20.0..200.0, 20.0..200.0],
            [-90.0..90.0, -90.0..90.0, -90.0..90.0]
        )
            .prop_map(|(centre, size, turns)| block("obstacle", centre, size, turns)),
    ]
}

fn some_part() -> impl Strategy<Value = Solid> {
    prop_oneof![
        Just(spring(75.46, 55.0, 43.0)),
        Just(rod(
            "arm",
            "lower_arm.rear_pivot",
            "lower_arm.ball_joint",
            20.0,
            17.0
        )),
        Just(rod("tie rod", "tie_rod.inner", "tie_rod.outer", 0.0, 9.0)),
        Just(tyre()),
    ]
}

fn tyre() -> Solid {
    let tyre = Tyre {
        side: None,
        width: 225.0,
        radius: None,
    };
    solid("tyre", Shape::Tyre(tyre))
}

/// The same obstacle with 3 mm more all round, or 6 mm more of every edge.
fn grown(obstacle: &Solid) -> Solid {
    let mut grown = obstacle.clone();
    match &mut grown.shape {
        Shape::Tube(tube) => tube.radius += 3.0,
        Shape::Sphere(ball) => ball.radius += 3.0,
        Shape::Box(block) => block.size.add_scalar_mut(6.0),
        _ => panic!("an obstacle of the strategy"),
    }
    grown
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn nothing_lower_is_found_by_looking_every_half_millimetre(
        part in some_part(), obstacle in some_obstacle()
    ) {
        let corner = corner();
        let asked = question(vec![part], vec![obstacle], 60.0, 60.0);
        let found = least(&corner, &asked);
        if found.cores_meet {
            return Ok(());
        }
        for step in 0..=240 {
            let here = standing_at(&corner, &asked, -60.0 + 0.5 * f64::from(step));
            prop_assert!(found.gap <= here + 1e-6, "{} found, {here} exists", found.gap);
        }
        let there = standing_at(&corner, &asked, found.wheels.left());
        prop_assert!((there - found.gap).abs() < 1e-9, "{} found, {there} there", found.gap);
    }

    #[test]
    fn a_gap_never_grows_when_an_obstacle_grows(part in some_part(), obstacle in some_obstacle()) {
        let corner = corner();
        let mut asked = question(vec![part], vec![obstacle.clone()], 60.0, 60.0);
        asked.lock = Some(25.0);
        let before = least(&corner, &asked);
        asked.obstacles = vec![grown(&obstacle)];
        let after = least(&corner, &asked);
        prop_assert!(after.gap <= before.gap + 1e-6, "{} grew to {}", before.gap, after.gap);
        prop_assert!(before.cores_meet <= after.cores_meet);
    }

    #[test]
    fn a_mirrored_corner_with_mirrored_obstacles_has_mirrored_gaps(
        part in some_part(), obstacle in some_obstacle()
    ) {
        let mut asked = question(vec![part.clone()], vec![obstacle.clone()], 40.0, 40.0);
        asked.lock = Some(20.0);
        let left = least(&corner(), &asked);
        let right_corner = Corner::new(&samples::wagon_front().mirrored()).expect("a corner");
        asked.obstacles = vec![obstacle.mirrored()];
        let right = least(&right_corner, &asked);
        prop_assert!((left.gap - right.gap).abs() < 1e-9);
        if !left.cores_meet {
            prop_assert!((left.on_part - mirrored(&right.on_part)).norm() < 1e-3);
            prop_assert!((left.wheels.left() - right.wheels.left()).abs() < 1e-4);
            prop_assert!((left.wheels.rack() + right.wheels.rack()).abs() < 1e-3);
        }
    }

    #[test]
    fn moving_as_advised_gains_what_is_said(obstacle in some_obstacle()) {
        let corner = corner();
        let asked = question(vec![spring(75.46, 55.0, 43.0)], vec![obstacle], 60.0, 60.0);
        let found = check_corner_clearance(&corner, &asked).expect("an answer");
        let (before, Some(gain)) = (found.pairs[0].least.gap, found.pairs[0].moving_upper_mount) else {
            return Ok(());
        };
        // The least gap of a travel that does not move on is differentiable; ends of the range are such.
        let step = 1e-4;
        let mut pickups = samples::wagon_front();
        if let Some(coilover) = &mut pickups.coilover {
            coilover.upper_mount += gain.direction * step;
        }
        let moved = Corner::new(&pickups).expect("a corner");
        let after = least(&moved, &asked).gap;
        prop_assert!(((after - before) / step - gain.gain).abs() < 0.05, "{before} {after} {gain:?}");
    }
}

#[test]
fn a_near_miss_between_two_looks_is_found() {
    let corner = corner();
    let bolt_head = |centre: Point, radius: f64| ball("bolt head", centre.into(), radius);
    for travel in [-41.7, -13.3, 0.9, 13.37, 37.0, 58.61] {
        // Where the ball joint passes, and 0.2 mm beside its path.
        let position = corner.at(travel, 0.0).expect("within reach");
        let before = corner
            .at(travel - 1e-4, 0.0)
            .expect("within reach")
            .lower_ball_joint();
        let path = (position.lower_ball_joint() - before).normalize();
        let beside = path.cross(&Point::x()).normalize() * 0.2;
        let mut part = bolt_head(corner.pickups().lower_arm.ball_joint, 0.05);
        part.fixed_to = Some("lower_arm".to_owned());
        let mut obstacle = bolt_head(position.lower_ball_joint() + beside, 0.05);
        obstacle.name = "stay".to_owned();
        let found = least(&corner, &question(vec![part], vec![obstacle], 60.0, 60.0));
        assert!((found.gap - 0.1).abs() < 1e-5, "{travel}: {found:?}");
        assert!((found.wheels.left() - travel).abs() < 1e-3, "{travel}: {found:?}");
    }
}

#[test]
fn the_least_gap_over_travel_and_steering_is_the_least_of_a_fine_grid() {
    let corner = corner();
    // A post behind the tyre, met towards full lock.
    let post = tube("post", &[[-330.0, 560.0, 250.0], [-330.0, 560.0, 600.0]], 10.0);
    let mut asked = question(
        vec![tyre(), rod("tie rod", "tie_rod.inner", "tie_rod.outer", 0.0, 9.0)],
        vec![post],
        60.0,
        60.0,
    );
    asked.lock = Some(60.0);
    let found = check_corner_clearance(&corner, &asked).expect("an answer");
    let tie_rod = found
        .pairs
        .iter()
        .find(|pair| pair.part == "tie rod" && pair.other == "post")
        .expect("a pair");
    let mut lowest = f64::INFINITY;
    for rack in -60..=60 {
        for travel in -60..=60 {
            let position = corner
                .at(f64::from(travel), f64::from(rack))
                .expect("within reach");
            let (inner, outer) = (position.tie_rod_inner(), position.tie_rod_outer());
            // The post is searched along its length: coarse, but shared by no formula of the library.
            for step in 0..=350 {
                let point = Point::new(-330.0, 560.0, 250.0 + f64::from(step));
                lowest = lowest.min(from_segment(&point, &inner, &outer) - 19.0);
            }
        }
    }
    assert!(
        tie_rod.least.gap <= lowest + 1e-9,
        "{} against {lowest}",
        tie_rod.least.gap
    );
    assert!(
        tie_rod.least.gap >= lowest - 1.0,
        "{} against {lowest}",
        tie_rod.least.gap
    );
    let tyre = found
        .pairs
        .iter()
        .find(|pair| pair.part == "tyre" && pair.other == "post")
        .expect("a pair");
    assert!(tyre.least.wheels.rack().abs() > 1.0, "{:?}", tyre.least);
    let straight = tyre
        .by_motion
        .iter()
        .find(|least| least.motion == MotionKind::BumpAndDroop)
        .expect("straight");
    assert!(tyre.least.gap < straight.gap - 1.0);
}

#[test]
fn each_wheel_by_itself_is_the_least_of_a_fine_grid() {
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    let spring = spring(72.88, 55.0, 43.0);
    let stay = ball("stay", [-2905.0, 400.0, 380.0], 20.0);
    let found =
        check_axle_clearance(&axle, &question(vec![spring], vec![stay], 50.0, 38.0)).expect("an answer");
    let least = found.pairs[0].least;
    let mut lowest = f64::INFINITY;
    for left in -38..=50 {
        for right in -38..=50 {
            let travel = AxleTravel {
                left: f64::from(left),
                right: f64::from(right),
            };
            let position = axle.at(travel).expect("within reach");
            let (upper, lower) = position.damper_ends().expect("dampers")[0];
            let down = (lower - upper).normalize();
            let gap = from_segment(
                &Point::new(-2905.0, 400.0, 380.0),
                &(upper + down * 55.0),
                &(lower - down * 72.88),
            );
            lowest = lowest.min(gap - 63.0);
        }
    }
    assert!(
        (least.gap - lowest).abs() < 1e-3 && least.gap <= lowest + 1e-6,
        "{} against {lowest}",
        least.gap
    );
}

#[test]
fn an_obstacle_inside_the_damper_at_ride_height_is_a_finding() {
    let corner = corner();
    let inside = ball("stay", [-2.0, 510.0, 340.0], 10.0);
    let found = check_corner_clearance(
        &corner,
        &question(vec![spring(75.46, 55.0, 43.0)], vec![inside], 60.0, 50.0),
    )
    .expect("an answer, not an error");
    let finding = &found.findings[0];
    assert_eq!(finding.verdict, Verdict::Fails);
    assert!(found.pairs[0].at_ride < 0.0);
    let text = finding.to_string();
    assert!(text.contains("already at ride height"), "{text}");
    let away = finding
        .remedies
        .iter()
        .find(|remedy| remedy.kind == RemedyKind::ObstacleMoved);
    assert!(
        away.is_some_and(|away| away.change > 50.0 && away.change < 120.0),
        "{text}"
    );
}

#[test]
fn axes_that_cross_overlap_without_a_number() {
    let corner = corner();
    let through = tube("brace", &[[-300.0, 510.0, 340.0], [300.0, 510.0, 340.0]], 15.0);
    let found = check_corner_clearance(
        &corner,
        &question(vec![spring(75.46, 55.0, 43.0)], vec![through], 60.0, 50.0),
    )
    .expect("an answer");
    let least = found.pairs[0].least;
    assert!(least.cores_meet, "{least:?}");
    assert!((least.gap + 58.0).abs() < 1e-3, "{least:?}");
    assert!(
        found.findings[0]
            .to_string()
            .contains("at least 58.0 mm of overlap")
    );
    assert!(found.pairs[0].moving_other.is_none());
}

#[test]
fn a_floor_is_met_to_any_depth() {
    let corner = corner();
    let floor = plane("skid plane", [0.0, 0.0, 260.0], [0.0, 0.0, 1.0]);
    let arm = rod("arm", "lower_arm.front_pivot", "lower_arm.ball_joint", 0.0, 17.0);
    let found =
        check_corner_clearance(&corner, &question(vec![arm], vec![floor], 30.0, 50.0)).expect("an answer");
    let lowest = corner.at(-50.0, 0.0).expect("within reach").lower_ball_joint().z;
    let least = found.pairs[0].least;
    assert!((least.gap - (lowest - 260.0 - 17.0)).abs() < 1e-9, "{least:?}");
    assert!(!least.cores_meet);
}

#[test]
fn a_slimmer_spring_is_offered_and_serves() {
    let corner = corner();
    let bracket = block("bracket", [0.0, 443.5, 330.0], [40.0, 20.0, 40.0], [0.0; 3]);
    let asked = question(vec![spring(75.46, 55.0, 43.0)], vec![bracket], 60.0, 50.0);
    let found = check_corner_clearance(&corner, &asked).expect("an answer");
    let finding = &found.findings[0];
    assert_eq!(finding.verdict, Verdict::Fails, "{finding}");
    let slim = finding
        .remedies
        .iter()
        .find(|remedy| remedy.kind == RemedyKind::SlimmerPart);
    let slim = slim.unwrap_or_else(|| panic!("{finding}")).change;
    let mut slimmer = asked.clone();
    slimmer.parts = vec![spring(75.46, 55.0, 43.0 - slim)];
    assert!((least(&corner, &slimmer).gap - 6.35).abs() < 2e-6);
    let mount = finding
        .remedies
        .iter()
        .find(|remedy| remedy.kind == RemedyKind::UpperMountMoved);
    assert!(mount.is_some(), "{finding}");
}
