//! How far joints swing over travel and steer.

use kin_core::checks::{
    Joint, JointSwing, JointsQuestion, MotionRange, SphericalBearing, Verdict, WheelPlace, check_axle_joints,
    check_corner_joints,
};
use kin_core::nalgebra::Vector3;
use kin_core::pickups::{DoubleWishbone, Point};
use kin_core::{Axle, AxleTravel, Corner, samples};

pub(super) fn joint(at: &str, axis: Option<[f64; 3]>) -> Joint {
    Joint {
        at: at.into(),
        axis: axis.map(Point::from),
        socket: None,
        axial: false,
        limit: None,
        bearing: None,
        margin: None,
    }
}

pub(super) fn range(bump: f64, droop: f64, rack: f64) -> MotionRange {
    MotionRange {
        bump: Some(bump),
        droop: Some(droop),
        rack: Some(rack),
    }
}

fn one(corner: &Corner, joint: Joint, range: MotionRange) -> JointSwing {
    let question = JointsQuestion {
        joints: vec![joint],
        range,
    };
    let mut found = check_corner_joints(corner, &question).expect("an answer");
    assert_eq!(found.len(), 1);
    found.remove(0)
}

fn original_arms() -> DoubleWishbone {
    let mut pickups = samples::wagon_front();
    pickups.upper_arm.ball_joint = Point::new(3.0, 661.0, 431.0);
    pickups
}

/// The invented wagon, solved by an independent program; printed to a tenth of a degree, from ride height.
#[test]
fn ball_joints_of_the_wagon_swing_as_solved_elsewhere() {
    for (pickups, bottom, upper, lower) in [
        (samples::wagon_front(), 101.6, [10.1, 13.7, 18.3], [5.9, 7.4]),
        (original_arms(), 99.0, [11.8, 15.5, 20.1], [7.6, 9.5]),
    ] {
        let corner = Corner::new(&pickups).expect("a corner");
        let swing = |at: &str, bump: f64| one(&corner, joint(at, None), range(bump, 50.0, 0.0));
        for (found, expected) in [
            (swing("upper_arm.ball_joint", 75.0).at_full_droop, upper[0]),
            (swing("upper_arm.ball_joint", 75.0).at_full_bump, upper[1]),
            (swing("upper_arm.ball_joint", bottom).worst, upper[2]),
            (swing("lower_arm.ball_joint", 75.0).at_full_droop, lower[0]),
            (swing("lower_arm.ball_joint", 75.0).at_full_bump, lower[1]),
        ] {
            assert!(
                (found.to_degrees() - expected).abs() <= 0.051,
                "{} against {expected}",
                found.to_degrees()
            );
        }
    }
}

/// The invented wagon, solved by an independent program; printed to a hundredth of a degree.
#[test]
fn the_damper_leaves_the_plane_across_its_bolt_as_solved_elsewhere() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let bolt = joint("coilover.upper_mount", Some([1.0, 0.0, 0.0]));
    let found = one(&corner, bolt, range(75.0, 50.0, 0.0));
    for (found, expected) in [
        (found.at_full_droop, 0.77),
        (found.at_ride, 0.72),
        (found.at_full_bump, 0.69),
    ] {
        assert!(
            (found.to_degrees() - expected).abs() <= 0.0051,
            "{} against {expected}",
            found.to_degrees()
        );
    }
    // asin(4 / 316.1635) of the mount points as measured
    let span = Vector3::<f64>::new(4.0, 62.0, -310.0);
    assert!((found.at_ride - (4.0 / span.norm()).asin()).abs() < 1e-14);
}

/// By how much a direction leaves the plane across an axis.
fn out_of_plane(axis: &Vector3<f64>, direction: &Vector3<f64>) -> f64 {
    axis.dot(&direction.normalize()).abs().asin()
}

#[test]
fn the_worst_is_found_between_steps_and_the_best_bolt_is_best() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let limits = range(80.0, 60.0, 0.0);
    let first = one(
        &corner,
        joint("coilover.upper_mount", Some([1.0, 0.0, 0.0])),
        limits,
    );
    let best: [f64; 3] = first.best_axis.into();
    // With the best bolt the swing has its greatest value at three places, one of them inside the range.
    let found = one(&corner, joint("coilover.upper_mount", Some(best)), limits);
    assert!((found.worst - first.worst_with_best_axis).abs() < 1e-12);
    let travels: Vec<f64> = (0..=14_000).map(|step| -60.0 + 0.01 * f64::from(step)).collect();
    let positions = corner.sweep_travel(&travels, 0.0).expect("within reach");
    let directions: Vec<Vector3<f64>> = positions
        .iter()
        .map(|position| {
            let (upper, lower) = position.damper_ends().expect("a damper");
            lower - upper
        })
        .collect();
    let worst = |axis: &Vector3<f64>| {
        directions
            .iter()
            .map(|direction| out_of_plane(axis, direction))
            .fold(0.0, f64::max)
    };
    let brute = worst(&first.best_axis);
    assert!(
        found.worst >= brute - 1e-12 && found.worst < brute + 1e-9,
        "{} {brute}",
        found.worst
    );
    for turn in 0..360 {
        let (sine, cosine) = f64::from(turn).to_radians().sin_cos();
        let side = first.best_axis.cross(&Vector3::z()).normalize();
        let up = first.best_axis.cross(&side);
        for size in [1e-5, 1e-4, 1e-3, 1e-2] {
            let other = (first.best_axis + (side * cosine + up * sine) * size).normalize();
            assert!(
                worst(&other) > brute - 1e-9,
                "a bolt {size} beside the best one is better"
            );
        }
    }
    assert!(brute < first.worst / 50.0, "{brute} against {}", first.worst);
}

#[test]
fn over_travel_and_steer_the_worst_is_no_less_than_on_any_fine_grid() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let stud = Vector3::new(0.05, -0.1, 1.0).normalize();
    let found = one(
        &corner,
        joint("tie_rod.inner", Some(stud.into())),
        range(70.0, 50.0, 60.0),
    );
    let mut brute = 0.0_f64;
    for step in 0..=120 {
        let rack = f64::from(step) - 60.0;
        let travels: Vec<f64> = (0..=240).map(|step| -50.0 + 0.5 * f64::from(step)).collect();
        for position in corner.sweep_travel(&travels, rack).expect("within reach") {
            let direction = position.tie_rod_outer() - position.tie_rod_inner();
            brute = brute.max(out_of_plane(&stud, &direction));
        }
    }
    assert!(found.worst >= brute - 1e-12, "{} against {brute}", found.worst);
    assert!(found.worst < brute + 1e-4);
}

#[test]
fn a_socket_set_at_its_best_halves_what_it_can() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let limits = range(75.0, 50.0, 0.0);
    let centred = one(&corner, joint("upper_arm.ball_joint", None), limits);
    // No socket does better than half the angle between the two farthest stud directions, which here are the ends.
    let between = centred.at_full_bump + centred.at_full_droop;
    assert!(centred.worst_with_best_axis >= 0.5 * between - 1e-3);
    assert!(centred.worst_with_best_axis < 0.5 * between + 1e-2);
    let set = Joint {
        socket: Some(centred.best_axis),
        ..joint("upper_arm.ball_joint", None)
    };
    let again = one(&corner, set, limits);
    assert!((again.worst - centred.worst_with_best_axis).abs() < 1e-9);
    assert!((again.at_full_bump - again.at_full_droop).abs() < 1e-6);
}

#[test]
fn a_joint_beyond_its_limit_fails_where_it_passes_it_and_turning_the_bolt_mends_it() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let askew = Joint {
        limit: Some(3.0),
        margin: Some(0.5),
        ..joint("coilover.upper_mount", Some([1.0, 0.0, 0.08]))
    };
    let found = one(&corner, askew.clone(), range(75.0, 50.0, 0.0));
    let finding = &found.findings[0];
    assert_eq!(finding.verdict, Verdict::Fails);
    assert!(finding.to_string().contains("bolt"), "{finding}");
    let turned = Joint {
        axis: Some(found.best_axis),
        ..askew
    };
    let mended = one(&corner, turned, range(75.0, 50.0, 0.0));
    assert_eq!(mended.findings[0].verdict, Verdict::Holds);
}

#[test]
fn the_travel_at_which_the_limit_is_passed_is_told() {
    let corner = Corner::new(&original_arms()).expect("a corner");
    let limited = Joint {
        limit: Some(20.0),
        ..joint("upper_arm.ball_joint", None)
    };
    let found = one(&corner, limited, range(110.0, 50.0, 0.0));
    assert!(
        found.findings[0]
            .to_string()
            .contains("passes that at 98.7 mm of bump"),
        "{}",
        found.findings[0]
    );
    let just_there = one(
        &corner,
        joint("upper_arm.ball_joint", None),
        range(98.7, 50.0, 0.0),
    );
    assert!((just_there.worst.to_degrees() - 20.0).abs() < 0.01);
}

#[test]
fn a_limit_from_sizes_is_the_bearing_s() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let bearing = SphericalBearing {
        ball_diameter: 22.0,
        ball_width: 12.0,
        housing_width: 9.0,
        housing_diameter: None,
        housing_chamfer: 0.0,
        spacer_diameter: None,
        spacer_length: 0.0,
    };
    let sized = Joint {
        bearing: Some(bearing),
        ..joint("coilover.upper_mount", Some([1.0, 0.0, 0.0]))
    };
    let found = one(&corner, sized, range(75.0, 50.0, 0.0));
    assert_eq!(found.limit, Some(bearing.swing_limit().expect("a bearing")));
    assert_eq!(found.findings[0].verdict, Verdict::Holds);
}

#[test]
fn the_mirrored_corner_swings_the_same() {
    let left = Corner::new(&samples::wagon_front()).expect("a corner");
    let right = Corner::new(&samples::wagon_front().mirrored()).expect("a corner");
    let axis = [0.9, 0.2, 0.1];
    let mirrored = [0.9, -0.2, 0.1];
    for at in ["coilover.lower_mount", "tie_rod.outer", "coilover.upper_mount"] {
        let first = one(&left, joint(at, Some(axis)), range(70.0, 50.0, 40.0));
        let second = one(&right, joint(at, Some(mirrored)), range(70.0, 50.0, 40.0));
        assert!((first.worst - second.worst).abs() < 1e-9, "{at}");
        let best = second.best_axis;
        let back = Vector3::new(best.x, -best.y, best.z);
        assert!((first.best_axis - back).norm() < 1e-6, "{at}");
        let (WheelPlace::Corner { rack, .. }, WheelPlace::Corner { rack: other, .. }) =
            (first.worst_at, second.worst_at)
        else {
            panic!("corners")
        };
        assert!((rack + other).abs() < 1e-3, "{at}: {rack} {other}");
    }
}

#[test]
fn an_axial_joint_is_centred_at_ride_height() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let axial = Joint {
        axial: true,
        ..joint("tie_rod.inner", None)
    };
    let found = one(&corner, axial, range(75.0, 50.0, 0.0));
    assert!(found.at_ride < 1e-12);
    let position = corner.at(75.0, 0.0).expect("within reach");
    let now = position.tie_rod_outer() - position.tie_rod_inner();
    let ride = corner.pickups().tie_rod.outer - corner.pickups().tie_rod.inner;
    assert!((found.at_full_bump - now.angle(&ride)).abs() < 1e-9);
}

/// Links of an axle: in the plane across their bolts with both wheels together, out of it in roll.
#[test]
fn links_of_an_axle_swing_out_of_plane_in_roll() {
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    let question = JointsQuestion {
        joints: vec![
            joint("links.lower_left.axle", Some([0.0, 1.0, 0.0])),
            joint("links.lower_left.body", Some([0.0, 1.0, 0.0])),
            joint("coilovers.right.lower_mount", Some([1.0, 0.0, 0.0])),
        ],
        range: range(50.0, 38.0, 0.0),
    };
    let found = check_axle_joints(&axle, &question).expect("an answer");
    let mut brute = [0.0_f64; 3];
    for left in 0..=44 {
        for right in 0..=44 {
            let travel = AxleTravel {
                left: -38.0 + 2.0 * f64::from(left),
                right: -38.0 + 2.0 * f64::from(right),
            };
            let position = axle.at(travel).expect("within reach");
            let rotation = position.pose().rotation();
            let (body, on_axle) = position.links()["lower_left"];
            let (upper, lower) = position.damper_ends().expect("dampers")[1];
            let across = Vector3::y();
            brute[0] = brute[0].max(out_of_plane(&(rotation * across), &(on_axle - body)));
            brute[1] = brute[1].max(out_of_plane(&across, &(on_axle - body)));
            brute[2] = brute[2].max(out_of_plane(&(rotation * Vector3::x()), &(lower - upper)));
        }
    }
    for (swing, brute) in found.iter().zip(brute) {
        assert!(
            swing.worst >= brute - 1e-12 && swing.worst < brute + 1e-4,
            "{}: {} {brute}",
            swing.joint,
            swing.worst
        );
    }
    assert!(found[0].worst > found[0].at_full_bump.max(found[0].at_full_droop) + 1e-3);
}

#[test]
fn without_a_range_the_stops_of_the_description_count() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let found = one(
        &corner,
        joint("upper_arm.ball_joint", None),
        MotionRange::default(),
    );
    // Metal to metal at 101.6 mm of bump (invented wagon, solved by an independent program), its own stop at 50 of droop.
    let WheelPlace::Corner { travel, .. } = found.worst_at else {
        panic!("a corner")
    };
    assert!((travel - 101.6).abs() < 0.05, "{travel}");
    assert!((found.worst.to_degrees() - 18.3).abs() < 0.06);
}
