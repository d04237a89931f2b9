//! Closed-form distances against minimisation by brute force, which shares nothing with them.

use kin_core::geometry::{Core, Cuboid, Disc, HalfSpace, Segment, closest};
use kin_core::nalgebra::{Matrix3, Rotation3, Unit, Vector3};
use proptest::prelude::*;

/// What the brute force below can tell: it ends on a mesh of 1e-9 mm, and its least is flat.
const BRUTE_FORCE_MM: f64 = 1e-6;
/// Exact formulas on coordinates of a few hundred mm.
const EXACT_MM: f64 = 1e-10;

/// The point of a core nearest to another point, by each core's own definition.
fn nearest(core: &Core, point: &Vector3<f64>) -> Vector3<f64> {
    match core {
        Core::Segment(segment) => {
            let along = segment.end - segment.start;
            let share = (point - segment.start).dot(&along) / along.norm_squared();
            segment.start
                + along
                    * if share.is_finite() {
                        share.clamp(0.0, 1.0)
                    } else {
                        0.0
                    }
        }
        Core::Cuboid(cuboid) => {
            let mut local = cuboid.axes.transpose() * (point - cuboid.centre);
            for axis in 0..3 {
                local[axis] = local[axis].clamp(-cuboid.half[axis], cuboid.half[axis]);
            }
            cuboid.centre + cuboid.axes * local
        }
        Core::Disc(disc) => {
            let from = point - disc.centre;
            let flat = from - disc.axis.into_inner() * from.dot(&disc.axis);
            disc.centre + flat * (disc.radius / flat.norm()).min(1.0)
        }
        Core::HalfSpace(half_space) => {
            let height = (point - half_space.point).dot(&half_space.normal);
            point - half_space.normal.into_inner() * height.max(0.0)
        }
    }
}

/// The distance by a search over points `centre + u a + v b + w c` of the first core: a mesh that closes in.
fn brute_force(first: &Core, second: &Core) -> f64 {
    let at = |place: [f64; 3]| -> Vector3<f64> {
        match first {
            Core::Segment(segment) => segment.start + (segment.end - segment.start) * (0.5 + 0.5 * place[0]),
            Core::Cuboid(cuboid) => {
                cuboid.centre + cuboid.axes * Vector3::from(place).component_mul(&cuboid.half)
            }
            Core::Disc(disc) => {
                let across = disc.axis.cross(&Vector3::new(0.3, 0.5, 0.8)).normalize();
                let along = disc.axis.cross(&across);
                // Square to disc: radius by the larger coordinate.
                let reach = place[0].abs().max(place[1].abs());
                let length = place[0].hypot(place[1]);
                let scale = if length > 0.0 {
                    disc.radius * reach / length
                } else {
                    0.0
                };
                disc.centre + (across * place[0] + along * place[1]) * scale
            }
            Core::HalfSpace(_) => panic!("searched from the other side"),
        }
    };
    let away = |place: [f64; 3]| (at(place) - nearest(second, &at(place))).norm();
    let free = match first {
        Core::Segment(_) => 1,
        Core::Disc(_) => 2,
        _ => 3,
    };
    let (mut middle, mut step) = ([0.0_f64; 3], 1.0);
    let mut best = away(middle);
    while step > 1e-12 {
        let mut better = middle;
        let range = |axis: usize| if axis < free { -2..=2 } else { 0..=0 };
        for x in range(0) {
            for y in range(1) {
                for z in range(2) {
                    let offset = [x, y, z].map(|part| f64::from(part) * 0.5 * step);
                    let place = std::array::from_fn(|axis| (middle[axis] + offset[axis]).clamp(-1.0, 1.0));
                    if away(place) < best {
                        (best, better) = (away(place), place);
                    }
                }
            }
        }
        if better == middle {
            step *= 0.5;
        }
        middle = better;
    }
    best
}

fn point() -> impl Strategy<Value = Vector3<f64>> {
    [-300.0..300.0, -300.0..300.0, -300.0..300.0].prop_map(Vector3::from)
}

fn axes() -> impl Strategy<Value = Matrix3<f64>> {
    (-3.0..3.0, -1.5..1.5, -3.0..3.0).prop_map(|(x, y, z)| Rotation3::from_euler_angles(x, y, z).into_inner())
}

fn segment() -> impl Strategy<Value = Core> {
    (point(), point()).prop_map(|(start, end)| Core::Segment(Segment { start, end }))
}

fn cuboid() -> impl Strategy<Value = Core> {
    (point(), axes(), [5.0..120.0, 5.0..120.0, 5.0..120.0]).prop_map(|(centre, axes, half)| {
        Core::Cuboid(Cuboid {
            centre,
            axes,
            half: Vector3::from(half),
        })
    })
}

fn disc() -> impl Strategy<Value = Core> {
    (point(), axes(), 20.0..250.0).prop_map(|(centre, axes, radius)| {
        let axis = Unit::new_normalize(axes.column(2).into_owned());
        Core::Disc(Disc { centre, axis, radius })
    })
}

fn half_space() -> impl Strategy<Value = Core> {
    (point(), axes()).prop_map(|(point, axes)| {
        let normal = Unit::new_normalize(axes.column(0).into_owned());
        Core::HalfSpace(HalfSpace { point, normal })
    })
}

/// Checks one pair: the distance, and that the points lie where they are said to.
fn check(first: &Core, second: &Core) -> Result<(), TestCaseError> {
    let found = closest(first, second).expect("a pair that is compared");
    let expected = brute_force(first, second);
    prop_assert!(
        found.distance <= expected + EXACT_MM,
        "found {} is more than {expected}",
        found.distance
    );
    let below = found.distance.max(0.0);
    prop_assert!(
        below >= expected - BRUTE_FORCE_MM,
        "found {below} is less than {expected}"
    );
    for (core, on) in [(first, &found.on_first), (second, &found.on_second)] {
        prop_assert!(
            (nearest(core, on) - on).norm() < EXACT_MM,
            "a closest point is not on its body"
        );
    }
    if found.distance > 0.0 {
        let span = (found.on_first - found.on_second).norm();
        prop_assert!((span - found.distance).abs() < EXACT_MM);
        let along = found.direction * found.distance;
        prop_assert!((found.on_second + along - found.on_first).norm() < EXACT_MM);
    }
    let turned = closest(second, first).expect("the same pair");
    prop_assert!((turned.distance - found.distance).abs() < 1e-9);
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn segments(first in segment(), second in segment()) {
        check(&first, &second)?;
    }

    #[test]
    fn segment_and_box(first in segment(), second in cuboid()) {
        check(&first, &second)?;
    }

    #[test]
    fn segment_and_disc(first in segment(), second in disc()) {
        check(&first, &second)?;
    }

    #[test]
    fn segment_and_plane(first in segment(), second in half_space()) {
        check(&first, &second)?;
    }

    #[test]
    fn box_and_plane(first in cuboid(), second in half_space()) {
        check(&first, &second)?;
    }

    #[test]
    fn disc_and_plane(first in disc(), second in half_space()) {
        check(&first, &second)?;
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn disc_and_box(first in disc(), second in cuboid()) {
        check(&first, &second)?;
    }

    #[test]
    fn boxes(first in cuboid(), second in cuboid()) {
        check(&first, &second)?;
    }

    /// Nearly parallel, of very unequal length, or without length: where the formulas divide by little.
    #[test]
    fn awkward_segments(start in point(), along in point(), tilt in point(), size in -12.0..0.0, share in -1.0..2.0) {
        let small = tilt * 10.0_f64.powf(size);
        let first = Core::Segment(Segment { start, end: start + along });
        let beside = start + along * share + Vector3::new(small.y, -small.z, small.x);
        for other in [
            Segment { start: beside, end: beside + along + small },
            Segment { start: beside, end: beside + small },
            Segment::point(beside + small),
        ] {
            check(&Core::Segment(other), &first)?;
        }
    }
}

#[test]
fn crossing_axes_have_no_direction() {
    let along = |start: [f64; 3], end: [f64; 3]| {
        Core::Segment(Segment {
            start: start.into(),
            end: end.into(),
        })
    };
    let first = along([-10.0, 0.0, 0.0], [10.0, 0.0, 0.0]);
    let second = along([0.0, -10.0, 0.0], [0.0, 10.0, 0.0]);
    let found = closest(&first, &second).expect("a pair");
    assert!(found.touches());
    assert_eq!(found.distance, 0.0);
}

#[test]
fn a_disc_that_cuts_a_box_touches_it_even_where_no_edge_does() {
    let cuboid = Core::Cuboid(Cuboid {
        centre: Vector3::zeros(),
        axes: Matrix3::identity(),
        half: Vector3::new(100.0, 100.0, 10.0),
    });
    let disc = |height: f64| {
        Core::Disc(Disc {
            centre: Vector3::new(0.0, 0.0, height),
            axis: Vector3::x_axis(),
            radius: 40.0,
        })
    };
    assert!(closest(&disc(45.0), &cuboid).expect("a pair").touches());
    // The rim stands 2 mm over the face.
    let found = closest(&disc(52.0), &cuboid).expect("a pair");
    assert!((found.distance - 2.0).abs() < 1e-12);
    // A disc wholly inside.
    let inside = Core::Disc(Disc {
        centre: Vector3::new(1.0, 2.0, 0.0),
        axis: Vector3::z_axis(),
        radius: 5.0,
    });
    assert!(closest(&inside, &cuboid).expect("a pair").touches());
}
