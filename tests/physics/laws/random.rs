//! Random corners and axles: invented vehicles with every point moved, and wild ones.

use crate::closed_form::axle::parallel_links;
use kin_core::pickups::{Arm, AxleSides, Damper, DoubleWishbone, LiveAxle, Point, Side, Spring};
use kin_core::{Reach, samples};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::test_runner::{RngSeed, TestCaseResult, TestRunner};

/// Tries a law on random values.
pub(crate) fn hold<S: Strategy>(cases: u32, values: S, law: impl Fn(S::Value) -> TestCaseResult) {
    let usual = ProptestConfig::default();
    let settings = ProptestConfig {
        cases: if std::env::var_os("PROPTEST_CASES").is_some() {
            usual.cases
        } else {
            cases
        },
        rng_seed: match usual.rng_seed {
            RngSeed::Random => RngSeed::Fixed(8855),
            given @ RngSeed::Fixed(_) => given,
        },
        failure_persistence: None,
        ..usual
    };
    TestRunner::new(settings)
        .run(&values, law)
        .unwrap_or_else(|failure| panic!("{failure}"));
}

/// Moves points, each coordinate by its own share of `most` (mm).
fn shake<'a>(points: impl IntoIterator<Item = &'a mut Point>, shares: &[f64], most: f64) {
    let mut shares = shares.iter().cycle();
    for point in points {
        for (coordinate, share) in point.iter_mut().zip(shares.by_ref()) {
            *coordinate += share * most;
        }
    }
}

fn arm_points(arm: &mut Arm) -> [&mut Point; 3] {
    [&mut arm.front_pivot, &mut arm.rear_pivot, &mut arm.ball_joint]
}

/// A plausible corner: a sample with every point moved by up to some tens of millimetres (the bench rig, which is a
/// third of a car's size, by less), on either side of the car, the damper on any part, the spring on it or apart.
pub(crate) fn corner() -> impl Strategy<Value = DoubleWishbone> {
    let shape = (any::<bool>(), 0.0..1.0_f64, vec(-1.0..1.0_f64, 36));
    let mounts = (0..3_usize, any::<bool>(), any::<bool>());
    let angles = (-3.0..3.0_f64, -1.0..1.0_f64);
    (shape, mounts, angles).prop_map(|((small, size, shares), (part, right, apart), (camber, toe))| {
        let (mut corner, most) = if small {
            (samples::bench_rig(), 6.0 * size)
        } else {
            (samples::wagon_front(), 30.0 * size)
        };
        let part = ["lower_arm", "upper_arm", "upright"][part];
        let mut points: Vec<&mut Point> = Vec::new();
        points.extend(arm_points(&mut corner.upper_arm));
        points.extend(arm_points(&mut corner.lower_arm));
        points.extend([&mut corner.tie_rod.inner, &mut corner.tie_rod.outer]);
        points.push(&mut corner.wheel.centre);
        if let Some(damper) = &mut corner.coilover {
            damper.rides_on = part.to_owned();
            points.extend([&mut damper.upper_mount, &mut damper.lower_mount]);
        }
        shake(points, &shares, most);
        if apart {
            let at = corner.lower_arm.ball_joint - Point::new(0.0, 0.4 * corner.lower_arm.ball_joint.y, 0.0);
            let spring = Spring {
                rate: 60.0,
                free_length: Some(290.0),
                upper_seat: 0.0,
                lower_seat: 0.0,
                upper_mount: Some(at + Point::new(12.0, -30.0, 220.0)),
                lower_mount: Some(at),
                rides_on: Some("lower_arm".to_owned()),
            };
            corner.spring = Some(spring);
        }
        corner.wheel.camber = camber;
        corner.wheel.toe = toe;
        if right { corner.mirrored() } else { corner }
    })
}

/// Three trailing links and a panhard rod, or four of them.
fn with_panhard_rod(links: usize) -> LiveAxle {
    let mut axle = parallel_links();
    if links < 4 {
        axle.links.shift_remove("upper_right");
    }
    let damper = |side: f64| Damper {
        upper_mount: Point::new(-2_560.0, side * 430.0, 560.0),
        lower_mount: Point::new(-2_590.0, side * 540.0, 250.0),
        rides_on: "axle".into(),
        extended: 400.0,
        compressed: 260.0,
        bump_stop: 20.0,
        upper_stud: None,
        lower_stud: None,
    };
    let spring = |side: f64| Spring {
        rate: 30.0,
        free_length: Some(330.0),
        upper_seat: 0.0,
        lower_seat: 0.0,
        upper_mount: Some(Point::new(-2_400.0, side * 440.0, 520.0)),
        lower_mount: Some(Point::new(-2_410.0, side * 450.0, 280.0)),
        rides_on: Some(if side > 0.0 { "lower_left" } else { "lower_right" }.to_owned()),
    };
    axle.coilovers = Some(AxleSides {
        left: damper(1.0),
        right: Some(damper(-1.0)),
    });
    axle.springs = Some(AxleSides {
        left: spring(1.0),
        right: Some(spring(-1.0)),
    });
    axle
}

/// A plausible axle: triangulated, three links and a panhard rod, or four and a panhard rod (held too much), with
/// every point of either side moved on its own by up to 20 mm.
pub(crate) fn axle() -> impl Strategy<Value = LiveAxle> {
    (0..4_usize).prop_flat_map(axle_of)
}

/// A plausible axle that is held exactly.
pub(crate) fn held_axle() -> impl Strategy<Value = LiveAxle> {
    (0..3_usize).prop_flat_map(axle_of)
}

/// A plausible axle held by one link more than it needs.
pub(crate) fn bound_axle() -> impl Strategy<Value = LiveAxle> {
    axle_of(3)
}

fn axle_of(layout: usize) -> impl Strategy<Value = LiveAxle> {
    let shape = (0.0..1.0_f64, vec(-1.0..1.0_f64, 60));
    let mounts = (any::<bool>(), vec(proptest::option::of(500.0..20_000.0_f64), 5));
    (shape, mounts).prop_map(move |((size, shares), (on_link, stiffness))| {
        let mut axle = match layout {
            0 => samples::wagon_rear().with_both_sides(),
            1 => samples::pickup_rear().with_both_sides(),
            2 => with_panhard_rod(3),
            _ => with_panhard_rod(4),
        };
        for (link, stiffness) in axle.links.values_mut().zip(stiffness) {
            link.stiffness = stiffness;
        }
        let mut points: Vec<&mut Point> = Vec::new();
        for link in axle.links.values_mut() {
            points.extend([&mut link.body, &mut link.axle]);
        }
        points.push(&mut axle.wheels.left);
        points.extend(&mut axle.wheels.right);
        if let Some(dampers) = &mut axle.coilovers {
            if on_link {
                dampers.left.rides_on = "lower_left".to_owned();
            }
            for damper in std::iter::once(&mut dampers.left).chain(&mut dampers.right) {
                points.extend([&mut damper.upper_mount, &mut damper.lower_mount]);
            }
        }
        shake(points, &shares, 20.0 * size);
        axle
    })
}

fn within(low: f64, high: f64) -> impl Strategy<Value = f64> {
    low..high
}

fn place(y: (f64, f64), z: (f64, f64)) -> impl Strategy<Value = Point> {
    (within(-400.0, 400.0), within(y.0, y.1), within(z.0, z.1)).prop_map(|(x, y, z)| Point::new(x, y, z))
}

/// A corner thrown together: points anywhere that is not refused at once.
pub(crate) fn wild_corner() -> impl Strategy<Value = DoubleWishbone> {
    let arm = |z: (f64, f64)| {
        let pivot = || place((-50.0, 450.0), z);
        (pivot(), pivot(), place((300.0, 900.0), z)).prop_map(|(one, other, ball_joint)| {
            let (front_pivot, rear_pivot) = if one.x < other.x {
                (other, one)
            } else {
                (one, other)
            };
            Arm {
                front_pivot,
                rear_pivot,
                ball_joint,
            }
        })
    };
    let tie_rod = (
        place((-100.0, 500.0), (50.0, 700.0)),
        place((200.0, 900.0), (50.0, 700.0)),
    );
    let wheel = place((300.0, 1_000.0), (200.0, 500.0));
    (
        arm((200.0, 800.0)),
        arm((50.0, 500.0)),
        tie_rod,
        wheel,
        0..3_usize,
    )
        .prop_map(|(upper_arm, lower_arm, (inner, outer), centre, part)| {
            let mut corner = samples::wagon_front();
            corner.side = Side::Left;
            corner.upper_arm = upper_arm;
            corner.lower_arm = lower_arm;
            corner.tie_rod.inner = inner;
            corner.tie_rod.outer = outer;
            corner.wheel.centre = centre;
            if let Some(damper) = &mut corner.coilover {
                damper.rides_on = ["lower_arm", "upper_arm", "upright"][part].to_owned();
            }
            corner
        })
}

/// An axle thrown together, on one to seven links.
pub(crate) fn wild_axle() -> impl Strategy<Value = LiveAxle> {
    let joint = || place((-900.0, 900.0), (100.0, 800.0));
    vec((joint(), joint()), 1..8).prop_map(|links| {
        let mut axle = parallel_links();
        let shape = axle.links["lower_left"];
        let origin = Point::new(axle.wheels.left.x, 0.0, 0.0);
        axle.links.clear();
        for (count, (body, carrier)) in links.into_iter().enumerate() {
            let mut link = shape;
            link.body = origin + body;
            link.axle = origin + carrier;
            axle.links.insert(format!("link_{count}"), link);
        }
        axle
    })
}

/// A travel (mm) at a share (-1 to 1) of the reach, at most `most`, and `clear` short of the limits.
pub(crate) fn travel_within(reach: Reach, share: f64, most: f64, clear: f64) -> f64 {
    if share >= 0.0 {
        share
            * reach
                .highest
                .map_or(most, |limit| (limit - clear).clamp(0.0, most))
    } else {
        -share
            * reach
                .lowest
                .map_or(-most, |limit| (limit + clear).clamp(-most, 0.0))
    }
}
