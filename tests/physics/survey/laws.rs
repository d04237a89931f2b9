//! Laws of any survey.

use kin_core::pickups::{Point, Side};
use kin_core::survey::{Adjustment, Axis, Basis, Reading, Survey};
use proptest::prelude::*;

/// Coordinates from readings without noise (mm): round-off of a few solves with coordinates below 1000 mm.
const NOISE_FREE: f64 = 1e-7;
/// Round-off between the same readings in two orders (mm).
const ORDER: f64 = 1e-7;

const NAMES: [&str; 6] = ["A", "B", "C", "D", "E", "F"];

/// Points on the left, above the floor, well apart.
fn points() -> impl Strategy<Value = Vec<Point>> {
    let point =
        (-300.0..300.0_f64, 150.0..750.0_f64, 100.0..600.0_f64).prop_map(|(x, y, z)| Point::new(x, y, z));
    prop::collection::vec(point, NAMES.len()).prop_filter("points apart", |points| {
        points
            .iter()
            .enumerate()
            .all(|(place, one)| points[..place].iter().all(|other| (one - other).norm() > 60.0))
    })
}

fn tapes(points: &[Point]) -> Vec<Reading> {
    let mut readings = Vec::new();
    for (place, one) in points.iter().enumerate() {
        for (other, two) in points.iter().enumerate().take(place) {
            readings.push(Reading::tape(NAMES[other], NAMES[place], (one - two).norm()));
        }
    }
    readings
}

fn coordinates(points: &[Point]) -> Vec<Reading> {
    let mut readings = Vec::new();
    for (name, point) in NAMES.iter().zip(points) {
        readings.extend(Axis::ALL.map(|axis| Reading::coordinate(name, axis, point[axis.index()])));
    }
    readings
}

fn survey(readings: Vec<Reading>) -> Survey {
    Survey {
        readings,
        ..Survey::default()
    }
}

fn off(adjusted: &Adjustment, points: &[Point]) -> f64 {
    let named = NAMES.iter().zip(points);
    named
        .map(|(name, point)| (adjusted.place(name).expect("a place") - point).amax())
        .fold(0.0, f64::max)
}

/// The same readings with errors of about their deviations.
fn with_noise(mut readings: Vec<Reading>, noise: &[f64]) -> Vec<Reading> {
    for (reading, noise) in readings.iter_mut().zip(noise.iter().cycle()) {
        reading.value += 1.5 * noise;
    }
    readings
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn readings_without_noise_return_the_true_points(points in points()) {
        let mut all = tapes(&points);
        all.extend(coordinates(&points));
        let adjusted = survey(all).adjust().expect("an adjustment");
        prop_assert!(off(&adjusted, &points) < NOISE_FREE);
        prop_assert!(adjusted.suspect(1e-3).is_none());
    }

    /// Heights, the stated axes and tapes alone, without any sketch: the places are found all the same, up to the mirror image
    /// that only a side tells.
    #[test]
    fn starting_places_are_found_from_heights_and_tapes(points in points()) {
        let mut readings = tapes(&points);
        readings.extend(NAMES.iter().zip(&points).map(|(name, point)| Reading::height(name, point.z)));
        let mut survey = survey(readings);
        for (name, axis) in [("A", Axis::X), ("A", Axis::Y), ("B", Axis::X)] {
            let place = NAMES.iter().position(|known| *known == name).expect("a name");
            survey.fix(name, axis, points[place][axis.index()]);
        }
        // With almost the same station, A and B leave the turn about the vertical all but free; and in one upright plane
        // tapes do not hold what stands square to it.
        prop_assume!((points[1].y - points[0].y).abs() > 60.0);
        survey.sketch = NAMES.iter().zip(&points).take(3)
            .map(|(name, point)| ((*name).to_owned(), point + Point::new(15.0, -12.0, 9.0)))
            .collect();
        let sketched = survey.adjust().expect("an adjustment");
        prop_assert!(sketched.sum_of_squares() < 1e-9);
        survey.sketch.clear();
        let adjusted = survey.adjust().expect("an adjustment");
        prop_assert!(adjusted.sum_of_squares() < 1e-9, "{}", adjusted.sum_of_squares());
        for (place, one) in points.iter().enumerate() {
            for (other, two) in points.iter().enumerate().take(place) {
                let found = adjusted.place(NAMES[place]).expect("a place") - adjusted.place(NAMES[other]).expect("a place");
                prop_assert!((found.norm() - (one - two).norm()).abs() < 1e-6);
            }
        }
    }

    #[test]
    fn a_further_reading_never_raises_a_standard_deviation(
        points in points(), extra in 0..NAMES.len(), deviation in 0.1..50.0_f64,
    ) {
        let mut readings = tapes(&points);
        readings.extend(coordinates(&points));
        let before = survey(readings.clone()).adjust().expect("an adjustment");
        // Read exactly where the points are, so that nothing else changes.
        let other = (extra + 1) % NAMES.len();
        let value = (points[extra] - points[other]).norm();
        readings.push(Reading::tape(NAMES[extra], NAMES[other], value).with_deviation(deviation));
        let after = survey(readings).adjust().expect("an adjustment");
        for name in NAMES {
            let (before, after) = (
                before.standard_deviations(name, Basis::APriori).expect("deviations"),
                after.standard_deviations(name, Basis::APriori).expect("deviations"),
            );
            for axis in 0..3 {
                prop_assert!(after[axis] <= before[axis] * (1.0 + 1e-9), "{name}: {before} to {after}");
            }
        }
    }

    #[test]
    fn the_order_of_readings_does_not_matter(
        points in points(), noise in prop::collection::vec(-1.0..1.0_f64, 33), shift in 1..32_usize,
    ) {
        let mut readings = tapes(&points);
        readings.extend(coordinates(&points));
        let readings = with_noise(readings, &noise);
        let one = survey(readings.clone()).adjust().expect("an adjustment");
        let mut turned = readings;
        turned.rotate_left(shift);
        turned.reverse();
        let other = survey(turned).adjust().expect("an adjustment");
        for name in NAMES {
            let apart = one.place(name).expect("a place") - other.place(name).expect("a place");
            prop_assert!(apart.amax() < ORDER, "{name}: {apart}");
            let deviations = one.standard_deviations(name, Basis::Scaled).expect("deviations")
                - other.standard_deviations(name, Basis::Scaled).expect("deviations");
            prop_assert!(deviations.amax() < ORDER);
        }
    }

    #[test]
    fn redundancy_numbers_add_up_to_the_surplus(
        points in points(), noise in prop::collection::vec(-1.0..1.0_f64, 33),
    ) {
        let mut readings = tapes(&points);
        readings.extend(coordinates(&points));
        let adjusted = survey(with_noise(readings, &noise)).adjust().expect("an adjustment");
        let sum: f64 = adjusted.readings().iter().map(|judged| judged.redundancy).sum();
        prop_assert!((sum - adjusted.redundancy() as f64).abs() < 1e-8);
    }

    /// Every kind of reading together, without noise.
    #[test]
    fn all_kinds_of_readings_agree_without_noise(points in points()) {
        let mut readings = tapes(&points);
        readings.extend(coordinates(&points));
        let mirrored = |point: &Point| Point::new(point.x, -point.y, point.z);
        for (name, point) in NAMES.iter().zip(&points) {
            let partner = format!("{name} right");
            for axis in Axis::ALL {
                let (left, right) = ((*name).to_owned(), partner.clone());
                readings.push(Reading::new(kin_core::survey::Observed::Mirror { left, right, axis }, 0.0));
            }
            readings.push(Reading::height(&partner, point.z));
        }
        let (a, b) = (&points[0], &points[1]);
        let run = b - a;
        let angle = run.z.atan2(run.x.hypot(run.y));
        let line = kin_core::survey::Observed::Angle { from: "A".into(), to: "B".into() };
        readings.push(Reading::new(line, angle));
        let rigid = kin_core::survey::Observed::Rigid {
            first: ["A".into(), "B".into()],
            second: ["A right".into(), "B right".into()],
        };
        readings.push(Reading::new(rigid, 0.0));
        readings.push(Reading::difference("B", Axis::X, "A", run.x));
        let mut survey = survey(readings);
        survey.sides.insert("A".into(), Side::Left);
        let adjusted = survey.adjust().expect("an adjustment");
        prop_assert!(off(&adjusted, &points) < NOISE_FREE);
        for (name, point) in NAMES.iter().zip(&points) {
            let right = adjusted.place(&format!("{name} right")).expect("a place");
            prop_assert!((right - mirrored(point)).amax() < NOISE_FREE);
        }
    }

    /// Tapes alone: distances are right, the rest is chosen and said.
    #[test]
    fn tapes_alone_leave_the_axes_chosen(points in points()) {
        let adjusted = survey(tapes(&points)).adjust();
        // Six points nearly in one plane are held too weakly by tapes to say so much of them.
        prop_assume!(adjusted.is_ok());
        let adjusted = adjusted.expect("an adjustment");
        prop_assert_eq!(adjusted.datum(), kin_core::survey::Datum::Inner { free: 6 });
        prop_assert_eq!(adjusted.redundancy(), 15 - (18 - 6));
        for (place, one) in points.iter().enumerate() {
            for (other, two) in points.iter().enumerate().take(place) {
                let found = adjusted.place(NAMES[place]).expect("a place") - adjusted.place(NAMES[other]).expect("a place");
                prop_assert!((found.norm() - (one - two).norm()).abs() < 1e-5);
            }
        }
    }
}

/// The derivatives of every kind of reading against central differences of the adjustment's own answers: a coordinate follows a
/// reading by covariance times derivative, which the a priori standard deviations are made of.
#[test]
fn a_changed_reading_moves_the_points_as_the_covariance_says() {
    let points = [
        Point::new(150.0, 400.0, 449.0),
        Point::new(-170.0, 395.0, 433.0),
        Point::new(-16.0, 652.0, 462.0),
        Point::new(150.0, 275.0, 205.0),
        Point::new(-165.0, 265.0, 200.0),
        Point::new(6.0, 690.0, 190.0),
    ];
    let mut readings = tapes(&points);
    readings.extend(coordinates(&points));
    let line = kin_core::survey::Observed::Angle {
        from: "A".into(),
        to: "F".into(),
    };
    let run = points[5] - points[0];
    readings.push(Reading::new(line, run.z.atan2(run.x.hypot(run.y))));
    let moved = |index: usize, by: f64| {
        let mut readings = readings.clone();
        readings[index].value += by;
        survey(readings).adjust().expect("an adjustment")
    };
    // sum over readings of (d coordinate / d reading)^2 sd^2 is the variance of the coordinate.
    let base = survey(readings.clone()).adjust().expect("an adjustment");
    let mut variances = [[0.0; 3]; 6];
    for index in 0..readings.len() {
        let deviation = base.readings()[index].deviation;
        let step = 1e-3 * deviation;
        let (up, down) = (moved(index, step), moved(index, -step));
        for (name, variances) in NAMES.iter().zip(&mut variances) {
            let slope =
                (up.place(name).expect("a place") - down.place(name).expect("a place")) / (2.0 * step);
            for (variance, slope) in variances.iter_mut().zip(slope.iter()) {
                *variance += (slope * deviation).powi(2);
            }
        }
    }
    for (name, variances) in NAMES.iter().zip(&variances) {
        let deviations = base
            .standard_deviations(name, Basis::APriori)
            .expect("deviations");
        for (found, variance) in deviations.iter().zip(variances) {
            // Truncation of the differences.
            assert!(
                (found - variance.sqrt()).abs() < 1e-5,
                "{name}: {found} is not {}",
                variance.sqrt()
            );
        }
    }
}
