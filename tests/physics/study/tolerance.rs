//! Tolerances: to first order and by variants, held against an independent solver, a statistics library and each other.
//!
//! Figures of the wagon and the pickup: `tests/reference/example_vehicles.json` (invented vehicles, an independent solver; its
//! deviations are first-order from one-millimetre steps of every coordinate).

use approx::assert_abs_diff_eq;
use kin_core::curves::CornerCurve;
use kin_core::pickups::Side;
use kin_core::study::{
    Measurement, Outcome, Reading, Requirement, Station, StrokeReading, Subject, Tolerance, Uncertainty,
    Unwatched, measure_again, with_readings,
};
use kin_core::{Along, samples};
use serde_json::Value;

const REFERENCE: &str = include_str!("../../reference/example_vehicles.json");
/// Millimetres to an inch, exact.
const INCH: f64 = 25.4;

pub(super) fn study<'a>(subject: &'a Subject, uncertainty: &'a Uncertainty, samples: usize) -> Tolerance<'a> {
    Tolerance {
        subject,
        uncertainty,
        requirements: Requirement::of_stroke(subject),
        checks: None,
        curves: Vec::new(),
        bumps: Vec::new(),
        samples,
        seed: 7,
    }
}

/// The pickup with its coilover in the only bracket hole that serves.
fn best_hole() -> Subject {
    let mut axle = samples::pickup_rear();
    let coilovers = axle.coilovers.as_mut().unwrap();
    coilovers.left.upper_mount.z = 540.0 + 2.0 * 19.05;
    Subject::from(axle)
}

#[test]
fn deviations_of_the_wagon_are_those_of_an_independent_solver() {
    let reference: Value = serde_json::from_str(REFERENCE).unwrap();
    let reference = &reference["tolerance"]["wagon_front"];
    let subject = Subject::from(samples::wagon_front());
    let deviation = reference["deviation"].as_f64().unwrap();
    let uncertainty = Uncertainty::of_every_coordinate(&subject, deviation).unwrap();
    let at_ride = |curve, along| Outcome::At(Reading::Corner(curve, along), Station::default());
    let per_inch = INCH.to_degrees();
    // Value and deviation are printed with four digits after the point, the motion ratio's with four in all. The
    // reference steps a whole millimetre, so its rates miss ours by the curvature over that step: 1 % of them at most.
    let outcomes = [
        (
            "bump_to_stop",
            Outcome::Stroke(StrokeReading::BumpToStop, Side::Left),
            1.0,
        ),
        (
            "droop_to_top_out",
            Outcome::Stroke(StrokeReading::DroopToTopOut, Side::Left),
            1.0,
        ),
        ("motion_ratio", at_ride(CornerCurve::MotionRatio, None), 1.0),
        (
            "camber_gain",
            at_ride(CornerCurve::Camber, Some(Along::Travel)),
            per_inch,
        ),
        (
            "bump_steer",
            at_ride(CornerCurve::Toe, Some(Along::Travel)),
            per_inch,
        ),
        (
            "roll_centre_height",
            at_ride(CornerCurve::RollCentreHeight, None),
            1.0,
        ),
    ];
    let found = Tolerance {
        requirements: outcomes
            .iter()
            .map(|(_, outcome, _)| Requirement::described(outcome.clone()))
            .collect(),
        ..study(&subject, &uncertainty, 1)
    }
    .run(&Unwatched)
    .unwrap();
    for ((name, outcome, unit), found) in outcomes.iter().zip(&found.outcomes) {
        let expected = |key: &str| reference[*name][key].as_f64().unwrap();
        assert_abs_diff_eq!(found.linear.value * unit, expected("value"), epsilon = 1e-4);
        let deviation = found.linear.deviation * unit;
        assert!(
            (deviation - expected("deviation")).abs() < 0.01 * expected("deviation") + 5e-5,
            "{name}: {deviation}, {} expected",
            expected("deviation")
        );
        // The numbers that move it most are the same, in the same order.
        let sensitivities = outcome.sensitivities(&subject, &subject.coordinates()).unwrap();
        let listed = reference[*name]["per_mm"].as_object().unwrap();
        for ((number, expected), own) in listed.iter().zip(&sensitivities).take(2) {
            assert_eq!(*number, own.name, "{name}");
            let (own, expected) = (own.rate * unit, expected.as_f64().unwrap());
            assert!(
                (own - expected).abs() < 0.01 * expected.abs() + 5e-5,
                "{name}, {number}: {own}"
            );
        }
    }
}

/// Tape errors of 1.5 mm bend no result of the stroke by much: the second derivative of the damper's length is about
/// 1/300 mm, so the square of a 3 mm error adds 0.03 mm to a spread of 2 mm.
#[test]
fn variants_agree_with_the_first_order_where_the_problem_is_nearly_linear() {
    let subject = best_hole();
    let uncertainty = Uncertainty::of_every_coordinate(&subject, 1.5).unwrap();
    let samples = 4000;
    let found = study(&subject, &uncertainty, samples).run(&Unwatched).unwrap();
    assert_eq!((found.samples, found.failed.len()), (samples, 0));
    let root = (samples as f64).sqrt();
    for outcome in &found.outcomes {
        let (linear, sampled) = (&outcome.linear, &outcome.sampled);
        let deviation = linear.deviation;
        // Four standard errors of each statistic, and 0.03 mm for what is not linear.
        assert_abs_diff_eq!(
            sampled.mean.unwrap(),
            linear.value,
            epsilon = 4.0 * deviation / root + 0.03
        );
        assert_abs_diff_eq!(
            sampled.deviation.unwrap(),
            deviation,
            epsilon = 4.0 * deviation / root / 2.0_f64.sqrt() + 0.03
        );
        // The 5 % and 95 % of a normal distribution lie 1.644854 deviations out (tables); the standard error there is
        // sqrt(0.05 * 0.95) over the density 0.1031, which is 2.11 deviations over the root of the number.
        for (quantile, sign) in [(sampled.low, -1.0), (sampled.high, 1.0)] {
            let expected = linear.value + sign * 1.644_854 * deviation;
            assert_abs_diff_eq!(
                quantile.unwrap(),
                expected,
                epsilon = 4.0 * 2.11 * deviation / root + 0.05
            );
        }
        let error = (linear.holds * (1.0 - linear.holds)).sqrt() / root;
        assert_abs_diff_eq!(sampled.holds, linear.holds, epsilon = 4.0 * error + 0.005);
    }
}

/// With a standard deviation of 1.5 mm per coordinate the pickup's best hole meets both limits in about 92 of 100 cases.
#[test]
fn the_best_hole_of_the_pickup_holds_in_about_92_of_100_cases() {
    let subject = best_hole();
    let uncertainty = Uncertainty::of_every_coordinate(&subject, 1.5).unwrap();
    let study = study(&subject, &uncertainty, 4000);
    let found = study.run(&Unwatched).unwrap();
    assert_abs_diff_eq!(found.shares.requirements, 0.92, epsilon = 0.015);
    assert_abs_diff_eq!(found.shares.linear, 0.92, epsilon = 0.015);
    let lacking: f64 = found
        .outcomes
        .iter()
        .map(|outcome| 1.0 - outcome.sampled.holds)
        .sum();
    // Too little bump and too little droop exclude one another here, so what each lacks adds up.
    assert_abs_diff_eq!(1.0 - lacking, found.shares.requirements, epsilon = 1e-12);

    // The eye-to-eye length decides: a mock-up bar read to 0.8 mm makes it better than 99.9 %.
    let length = Measurement {
        name: "eye to eye".into(),
        outcome: Outcome::Stroke(StrokeReading::LengthAtRide, Side::Left),
        deviation: Some(0.8),
        value: None,
    };
    let ranking = measure_again(&study, &found, &[length], 0.99, &Unwatched).unwrap();
    assert_abs_diff_eq!(ranking.sure_now, 0.92, epsilon = 0.01);
    let first = &ranking.ranking[0];
    assert_eq!(first.reading, Some(0), "no coordinate does as much as the bar");
    assert!(first.sure_as_given.unwrap() > 0.999, "{first:?}");
    assert!(ranking.readings_verified[0].unwrap() > 0.999);
    // Needed for 99 %: verified by variants, with the standard error of 4000 of them.
    assert!(first.deviation_needed.unwrap() > 0.8);
    let single = ranking.ranking.iter().filter(|one| one.place.is_some());
    assert!(single.clone().count() > 10);
    assert!(
        single.clone().all(|one| one.deviation_needed.is_none()),
        "no single coordinate is enough"
    );
}

/// The distance between two points with independent normal errors in every coordinate is known exactly: its square over the
/// variance of a difference has a noncentral chi-square distribution of three degrees of freedom.
///
/// Made with scipy 1.17.1 (numpy 2.4.6), for the wagon's mounts (-4, 478, 492) and (0, 540, 182) mm and deviations s of 1.5 and
/// 20 mm: `q = 2 s^2; d = ncx2(3, L^2 / q)`; quantiles `sqrt(q d.ppf(p))`, share of lengths up to 320 mm `d.cdf(320^2 / q)`.
#[test]
fn the_length_between_two_uncertain_points_is_distributed_as_a_library_says() {
    let subject = Subject::from(samples::wagon_front());
    for (deviation, [low, middle, high], share) in [
        (1.5, [312.69, 316.179, 319.668], 0.9642),
        (20.0, [272.369, 318.688, 365.043], 0.5186),
    ] {
        let names = ["coilover.upper_mount", "coilover.lower_mount"];
        let uncertainty = Uncertainty::none()
            .with(&subject, &names.map(|name| (name, deviation)))
            .unwrap();
        let requirement = Requirement {
            at_most: Some(320.0),
            ..Requirement::described(Outcome::Stroke(StrokeReading::LengthAtRide, Side::Left))
        };
        let samples = 20_000;
        let study = Tolerance {
            requirements: vec![requirement],
            ..study(&subject, &uncertainty, samples)
        };
        let found = &study.run(&Unwatched).unwrap().outcomes[0];
        let root = (samples as f64).sqrt();
        let spread = deviation * 2.0_f64.sqrt();
        // Four standard errors: of a median 1.2533, of the 5 and 95 % 2.11 deviations over the root of the number.
        assert_abs_diff_eq!(
            found.sampled.middle.unwrap(),
            middle,
            epsilon = 4.0 * 1.2533 * spread / root
        );
        assert_abs_diff_eq!(
            found.sampled.low.unwrap(),
            low,
            epsilon = 4.0 * 2.11 * spread / root
        );
        assert_abs_diff_eq!(
            found.sampled.high.unwrap(),
            high,
            epsilon = 4.0 * 2.11 * spread / root
        );
        let error = f64::sqrt(share * (1.0 - share)) / root;
        assert_abs_diff_eq!(found.sampled.holds, share, epsilon = 4.0 * error);
    }
}

#[test]
fn as_well_as_needed_is_just_enough() {
    let subject = best_hole();
    let uncertainty = Uncertainty::of_every_coordinate(&subject, 1.5).unwrap();
    let study = study(&subject, &uncertainty, 4000);
    let found = study.run(&Unwatched).unwrap();
    let length = Measurement {
        name: "eye to eye".into(),
        outcome: Outcome::Stroke(StrokeReading::LengthAtRide, Side::Left),
        deviation: None,
        value: None,
    };
    for sure in [0.95, 0.99] {
        let ranking = measure_again(&study, &found, std::slice::from_ref(&length), sure, &Unwatched).unwrap();
        let verified = ranking.verified.unwrap();
        let error = (sure * (1.0 - sure) / 4000.0_f64).sqrt();
        assert_abs_diff_eq!(verified, sure, epsilon = 4.0 * error + 0.003);
        // What the ranking says in closed form is what the covariance left says.
        let left = &ranking.ranking[0].left;
        for outcome in &found.outcomes {
            let before = uncertainty.variance_of(&outcome.linear.gradient);
            assert!(left.variance_of(&outcome.linear.gradient) < before);
        }
    }
}

#[test]
fn a_turning_point_is_where_the_verdict_turns() {
    let subject = best_hole();
    let uncertainty = Uncertainty::of_every_coordinate(&subject, 1.5).unwrap();
    let found = study(&subject, &uncertainty, 1).run(&Unwatched).unwrap();
    for outcome in &found.outcomes {
        let turning = outcome.turning_point.unwrap();
        let holds = |share: f64| {
            let built = subject
                .changed(&[(turning.place, turning.change * share)])
                .build()
                .unwrap();
            outcome
                .requirement
                .margin(outcome.requirement.outcome.value(&built).unwrap())
                >= 0.0
        };
        assert!(holds(0.999) && !holds(1.001), "{turning:?}");
        let name = &subject.numbers()[turning.place].name;
        assert!(
            name.starts_with("coilovers.left.") && name.ends_with(".z"),
            "{name}"
        );
        // About 3.7 mm of margin over 1.01 mm a millimetre.
        assert!((3.0..4.5).contains(&turning.change.abs()), "{turning:?}");
    }
}

#[test]
fn a_reading_moves_the_numbers_to_where_they_explain_it() {
    let subject = best_hole();
    let uncertainty = Uncertainty::of_every_coordinate(&subject, 1.5).unwrap();
    let outcome = Outcome::Stroke(StrokeReading::LengthAtRide, Side::Left);
    let before = outcome.value(&subject.build().unwrap()).unwrap();
    let reading = |deviation| Measurement {
        name: String::new(),
        outcome: outcome.clone(),
        deviation: Some(deviation),
        value: Some(before + 2.0),
    };
    let (sharp, left) = with_readings(&subject, &uncertainty, &[reading(1e-3)]).unwrap();
    // An exact reading is met, but for the curvature over two millimetres.
    assert_abs_diff_eq!(
        outcome.value(&sharp.build().unwrap()).unwrap(),
        before + 2.0,
        epsilon = 0.02
    );
    let gradient = outcome
        .gradient(&sharp, &sharp.build().unwrap(), left.places())
        .unwrap();
    assert!(left.variance_of(&gradient).sqrt() < 0.02);
    // One as uncertain as the prediction is met half way.
    let gradient = outcome
        .gradient(&subject, &subject.build().unwrap(), uncertainty.places())
        .unwrap();
    let own = uncertainty.variance_of(&gradient).sqrt();
    let (half, _) = with_readings(&subject, &uncertainty, &[reading(own)]).unwrap();
    assert_abs_diff_eq!(
        outcome.value(&half.build().unwrap()).unwrap(),
        before + 1.0,
        epsilon = 0.02
    );
}
