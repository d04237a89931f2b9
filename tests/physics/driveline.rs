//! Drivelines: an invented wagon solved elsewhere, closed forms, and the geometry of a universal joint.

use kin_core::checks::{
    Driveline, DrivelineTravel, MotionRange, RemedyKind, Verdict, WheelPlace, check_driveline,
};
use kin_core::nalgebra::Vector3;
use kin_core::pickups::{AxleWheels, Link, LiveAxle, Pinion, Point, RightSide, Stops};
use kin_core::{Axle, AxleTravel, samples};

fn driveline(gearbox_joint: [f64; 3], output_falls: f64, bump: f64, droop: f64) -> Driveline {
    Driveline {
        gearbox_joint: gearbox_joint.into(),
        output_falls,
        double_joint_at_gearbox: false,
        joint_limit: None,
        running_limit: None,
        largest_difference: None,
        slip_in: None,
        slip_out: None,
        range: MotionRange {
            bump: Some(bump),
            droop: Some(droop),
            rack: None,
        },
    }
}

fn wagon(driveline: &Driveline) -> DrivelineTravel {
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    check_driveline(&axle, driveline).expect("an answer")
}

const GEARBOX: [f64; 3] = [-1400.0, 0.0, 380.0];

/// The invented wagon's rear axle, solved by an independent program; printed to a hundredth of a degree.
#[test]
fn the_pinion_turns_as_solved_elsewhere() {
    for (travel, expected) in [(20.0, 1.33), (40.0, 0.58), (60.0, -0.27)] {
        let found = wagon(&driveline(GEARBOX, 2.0, travel, 0.0)).at_full_bump.pinion;
        assert!(
            (found.to_degrees() - expected).abs() <= 0.0051,
            "{travel}: {}",
            found.to_degrees()
        );
    }
    for (travel, expected) in [(20.0, 2.58), (40.0, 3.08)] {
        let found = wagon(&driveline(GEARBOX, 2.0, 0.0, travel));
        let pinion = found.at_full_droop.pinion;
        assert!(
            (pinion.to_degrees() - expected).abs() <= 0.0051,
            "{travel}: {}",
            pinion.to_degrees()
        );
        assert!((found.at_ride.pinion.to_degrees() - 2.0).abs() < 1e-12);
    }
}

/// Four equal parallel trailing links of 500 mm and a level panhard rod of 900 mm: the axle moves without turning.
fn parallel_axle() -> LiveAxle {
    let link = |y: f64, z: f64| Link {
        body: Point::new(-2000.0, y, z),
        axle: Point::new(-2500.0, y, z),
        stiffness: None,
    };
    let links = [
        ("lower_left", link(450.0, 300.0)),
        ("lower_right", link(-450.0, 300.0)),
        ("upper_left", link(300.0, 450.0)),
        (
            "panhard_rod",
            Link {
                body: Point::new(-2520.0, 450.0, 350.0),
                axle: Point::new(-2520.0, -450.0, 350.0),
                stiffness: None,
            },
        ),
    ];
    LiveAxle {
        right: RightSide::Given,
        links: links
            .into_iter()
            .map(|(name, link)| (name.to_owned(), link))
            .collect(),
        wheels: AxleWheels {
            left: Point::new(-2500.0, 750.0, 320.0),
            right: Some(Point::new(-2500.0, -750.0, 320.0)),
            tyre_radius: 320.0,
        },
        pinion: Some(Pinion {
            point: Point::new(-2250.0, 0.0, 330.0),
            nose_up: 3.0,
        }),
        coilovers: None,
        dampers: None,
        springs: None,
        ride_height: None,
        stops: Stops::default(),
        wanted: None,
    }
}

/// Closed form: forward and sideways shift of an axle on four equal parallel trailing links L = 500 and a level panhard
/// rod Lp = 900, both wheels up by z: q = (1/L^2 + 1/Lp^2)/4, S = (1 - sqrt(1 - 4 q z^2))/(2q), dx = S/2L, dy = S/2Lp; at
/// z = 80: 6.454519 and 3.585844 mm.
#[test]
fn slip_is_the_change_of_distance_between_the_joints() {
    let axle = Axle::new(&parallel_axle()).expect("an axle");
    let gearbox = Point::new(-1100.0, 0.0, 380.0);
    let found = check_driveline(&axle, &driveline(gearbox.into(), 3.0, 80.0, 80.0)).expect("an answer");
    let length = |z: f64| {
        let (length, rod) = (500.0_f64, 900.0_f64);
        let q = (1.0 / length.powi(2) + 1.0 / rod.powi(2)) / 4.0;
        let s = (1.0 - (1.0 - 4.0 * q * z * z).sqrt()) / (2.0 * q);
        let joint = Point::new(-2250.0 + s / (2.0 * length), s / (2.0 * rod), 330.0 + z);
        (gearbox - joint).norm()
    };
    for (found, z) in [
        (found.at_full_bump.shaft_length, 80.0),
        (found.at_ride.shaft_length, 0.0),
        (found.at_full_droop.shaft_length, -80.0),
    ] {
        assert!((found - length(z)).abs() < 1e-8, "{z}: {found}");
    }
    assert!((length(80.0) - (gearbox - Point::new(-2243.545481, 3.585844, 410.0)).norm()).abs() < 1e-5);
    // The pinion keeps its angle: the axle does not turn.
    assert!((found.at_full_bump.pinion.to_degrees() - 3.0).abs() < 1e-9);
}

/// Parallel shafts have equal joint angles and turn evenly; so do shafts whose pinion is as much past the shaft's line.
#[test]
fn equal_angles_turn_evenly() {
    let axle = Axle::new(&parallel_axle()).expect("an axle");
    let parallel =
        check_driveline(&axle, &driveline([-1100.0, 0.0, 380.0], 3.0, 40.0, 40.0)).expect("an answer");
    for angles in [parallel.at_full_bump, parallel.at_ride, parallel.at_full_droop] {
        assert!((angles.pinion_joint - angles.gearbox_joint).abs() < 1e-9);
        assert!(angles.equivalent < 1e-6);
    }
    let slope = (50.0_f64).atan2(1150.0);
    assert!((parallel.at_ride.shaft_falls - slope).abs() < 1e-12);
    assert!((parallel.at_ride.gearbox_joint - (slope - 3.0_f64.to_radians()).abs()).abs() < 1e-12);
    // Both ends bent the same way by the same angle.
    let mirror = 2.0 * slope.to_degrees() - 3.0;
    let bent =
        check_driveline(&axle, &driveline([-1100.0, 0.0, 380.0], mirror, 0.0, 0.0)).expect("an answer");
    assert!((bent.at_ride.pinion_joint - bent.at_ride.gearbox_joint).abs() < 1e-9);
    assert!(bent.at_ride.equivalent < 1e-6);
}

/// Turn of the driven shaft of a universal joint, tan(out) = tan(in) / cos(b) with the fork of the driver in the plane of
/// the bend at 0: from memory, in every book on cardan shafts. Two joints a turn of the yokes apart, worked through.
#[test]
fn the_equivalent_angle_is_that_of_one_joint_as_uneven() {
    let axle = Axle::new(&parallel_axle()).expect("an axle");
    let off_line = driveline([-1100.0, 60.0, 430.0], 1.0, 0.0, 0.0);
    let found = check_driveline(&axle, &off_line).expect("an answer").at_ride;
    let direction = |up: f64| Vector3::new(up.to_radians().cos(), 0.0, up.to_radians().sin());
    let joint = Point::new(-2250.0, 0.0, 330.0);
    let shaft = (off_line.gearbox_joint - joint).normalize();
    let (output, pinion) = (direction(1.0), direction(3.0));
    // First order in the squares of the angles: each joint adds (b^2 / 4) sin(2 (turn - plane)), the second one with the
    // opposite sign, since its driving yoke is square to the first one's driven yoke.
    let plane = |bend: Vector3<f64>| bend.dot(&Vector3::z()).atan2(bend.dot(&Vector3::y()));
    let bends = [
        (output.angle(&shaft), plane(shaft - output)),
        (shaft.angle(&pinion), plane(pinion - shaft)),
    ];
    let unevenness = |turn: f64| {
        let [(first, at), (second, other)] = bends;
        first.powi(2) / 4.0 * (2.0 * (turn - at)).sin() - second.powi(2) / 4.0 * (2.0 * (turn - other)).sin()
    };
    let worst = (0..3_600)
        .map(|step| unevenness(f64::from(step) * std::f64::consts::TAU / 3_600.0))
        .fold(0.0, f64::max);
    let equivalent = (4.0 * worst).sqrt();
    assert!(
        (found.equivalent - equivalent).abs() < 2e-3 * equivalent,
        "{} {equivalent}",
        found.equivalent
    );
}

#[test]
fn unequal_angles_fail_and_turning_the_nose_mends_them() {
    let mut pickups = samples::wagon_rear();
    let question = driveline(GEARBOX, 3.5, 50.0, 38.0);
    let found = check_driveline(&Axle::new(&pickups).expect("an axle"), &question).expect("an answer");
    let finding = &found.findings[0];
    assert_eq!(finding.verdict, Verdict::Fails, "{finding}");
    let remedy = &finding.remedies[0];
    assert_eq!(remedy.kind, RemedyKind::PinionAngle);
    assert!((remedy.change.to_degrees() - 1.5).abs() < 1e-9);
    if let Some(pinion) = &mut pickups.pinion {
        pinion.nose_up += remedy.change.to_degrees();
    }
    let mended = check_driveline(&Axle::new(&pickups).expect("an axle"), &question).expect("an answer");
    assert_eq!(
        mended.findings[0].verdict,
        Verdict::Holds,
        "{}",
        mended.findings[0]
    );
}

#[test]
fn behind_a_double_joint_the_pinion_points_at_it() {
    let double = Driveline {
        double_joint_at_gearbox: true,
        ..driveline([-1400.0, 0.0, 460.0], 3.5, 50.0, 38.0)
    };
    let mut pickups = samples::wagon_rear();
    let found = check_driveline(&Axle::new(&pickups).expect("an axle"), &double).expect("an answer");
    assert_eq!(found.findings[0].verdict, Verdict::Fails);
    let change = found.findings[0].remedies[0].change;
    if let Some(pinion) = &mut pickups.pinion {
        pinion.nose_up += change.to_degrees();
    }
    let mended = check_driveline(&Axle::new(&pickups).expect("an axle"), &double).expect("an answer");
    assert!(mended.at_ride.pinion_joint < 1e-9);
    assert_eq!(mended.findings[0].verdict, Verdict::Holds);
}

#[test]
fn slip_and_joint_limits_are_held_over_all_travel_of_both_wheels() {
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    let question = Driveline {
        joint_limit: Some(3.0),
        slip_in: Some(3.0),
        slip_out: Some(20.0),
        ..driveline(GEARBOX, 3.5, 60.0, 40.0)
    };
    let found = check_driveline(&axle, &question).expect("an answer");
    let gearbox = Point::from(GEARBOX);
    let joint = axle.pickups().pinion.expect("a pinion").point;
    let ride = (gearbox - joint).norm();
    let mut plunge = (0.0_f64, 0.0_f64);
    for left in 0..=50 {
        for right in 0..=50 {
            let travel = AxleTravel {
                left: -40.0 + 2.0 * f64::from(left),
                right: -40.0 + 2.0 * f64::from(right),
            };
            let now = (gearbox - axle.at(travel).expect("within reach").carried(&joint)).norm();
            plunge = (plunge.0.max(ride - now), plunge.1.max(now - ride));
        }
    }
    assert!(found.plunge_in.0 >= plunge.0 - 1e-12 && found.plunge_in.0 < plunge.0 + 1e-3);
    assert!(found.plunge_out.0 >= plunge.1 - 1e-12 && found.plunge_out.0 < plunge.1 + 1e-3);
    let WheelPlace::Axle { left, right } = found.plunge_in.1 else {
        panic!("an axle")
    };
    assert_eq!((left, right), (60.0, 60.0));
    let slip = found
        .findings
        .iter()
        .find(|finding| finding.subject.contains("together"))
        .expect("a slip finding");
    assert_eq!(slip.verdict, Verdict::Fails, "{slip}");
    let remedy = &slip.remedies[0];
    assert_eq!(remedy.kind, RemedyKind::ShaftLength);
    // Shorter by what is missing; slip measured again with that shaft.
    assert!((remedy.change - (3.0 - found.plunge_in.0)).abs() < 1e-9);
    let shorter = Driveline {
        slip_in: Some(3.0 - remedy.change + 1e-9),
        slip_out: Some(20.0 + remedy.change),
        ..question
    };
    let mended = check_driveline(&axle, &shorter).expect("an answer");
    assert!(
        mended
            .findings
            .iter()
            .filter(|finding| finding.subject.contains("slip"))
            .all(|finding| finding.verdict != Verdict::Fails)
    );
    let binding = found
        .findings
        .iter()
        .find(|finding| finding.subject.contains("joint at the gearbox"))
        .expect("a joint finding");
    assert_eq!(binding.verdict, Verdict::Fails);
}

#[test]
fn wrong_drivelines_are_refused_by_name() {
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    let good = driveline(GEARBOX, 3.0, 50.0, 38.0);
    let cases = [
        (driveline([-2580.0, 0.0, 339.0], 3.0, 50.0, 38.0), "gearbox_joint"),
        (
            driveline([-3400.0, 0.0, 380.0], 3.0, 50.0, 38.0),
            "not ahead of the pinion",
        ),
        (
            driveline([f64::NAN, 0.0, 380.0], 3.0, 50.0, 38.0),
            "gearbox_joint",
        ),
        (driveline(GEARBOX, 80.0, 50.0, 38.0), "output_falls"),
        (
            Driveline {
                joint_limit: Some(-1.0),
                ..good
            },
            "joint_limit",
        ),
        (
            Driveline {
                slip_in: Some(-1.0),
                ..good
            },
            "slip_in",
        ),
        (driveline(GEARBOX, 3.0, 900.0, 38.0), "bump"),
    ];
    for (bad, words) in cases {
        let error = check_driveline(&axle, &bad).expect_err(words).to_string();
        assert!(error.contains(words), "{words}: {error}");
    }
    let mut without = samples::wagon_rear();
    without.pinion = None;
    let error = check_driveline(&Axle::new(&without).expect("an axle"), &good).expect_err("no pinion");
    assert!(error.to_string().contains("pinion"), "{error}");
}
