//! Calibrations: hand formulas, planted errors, a general-purpose library, alternatives.

use kin_core::curves::CornerCurve;
use kin_core::samples;
use kin_core::study::calibration::{
    Alternative, CalibrationError, CalibrationQuestion, Gauge, GaugeReading, below_normal, calibrate,
    compare_alternatives,
};
use kin_core::study::{Outcome, Reading, Station, Subject, Uncertainty};
use serde_json::Value;

const DEGREE: f64 = std::f64::consts::PI / 180.0;

fn at(curve: CornerCurve, bump: f64) -> Outcome {
    Outcome::At(Reading::Corner(curve, None), Station::bump(bump))
}

fn reading(outcome: Outcome, value: f64, deviation: f64) -> GaugeReading {
    GaugeReading {
        name: outcome.words().to_string(),
        outcome,
        value,
        deviation,
        place_deviation: 0.0,
        gauge: None,
    }
}

fn question(uncertainty: Uncertainty, readings: Vec<GaugeReading>) -> CalibrationQuestion {
    CalibrationQuestion {
        uncertainty,
        readings,
        gauges: Vec::new(),
    }
}

fn says(subject: &Subject, outcome: &Outcome) -> f64 {
    outcome
        .value(&subject.build().expect("a corner"))
        .expect("a value")
}

/// `scipy.optimize.least_squares` on the same readings, with kinematics written for it alone; its version is in the file.
#[test]
fn seven_readings_on_the_bench_rig_are_fitted_as_by_a_general_library() {
    let file = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../tests/reference/bench_rig_calibration.json"
    );
    let reference: Value =
        serde_json::from_str(&std::fs::read_to_string(file).expect("the file")).expect("JSON");
    let numbers = |key: &str| -> Vec<f64> {
        let list = reference[key].as_array().expect(key);
        list.iter().map(|one| one.as_f64().expect(key)).collect()
    };
    let number = |key: &str| reference[key].as_f64().expect(key);
    let subject = Subject::from(samples::bench_rig());
    let uncertainty =
        Uncertainty::of_every_coordinate(&subject, number("survey_deviation_mm")).expect("an uncertainty");
    let readings = numbers("travels_mm").into_iter().zip(numbers("readings_mm"));
    let readings = readings.map(|(travel, value)| {
        reading(
            at(CornerCurve::DamperLength, travel),
            value,
            number("reading_deviation_mm"),
        )
    });
    let asked = question(uncertainty, readings.collect());
    let found = calibrate(&subject, &asked).expect("a calibration");
    for (end, (before, after)) in found.readings.iter().zip(
        numbers("surveyed_lengths_mm")
            .into_iter()
            .zip(numbers("fitted_lengths_mm")),
    ) {
        assert!((end.before - before).abs() < 1e-8, "{end:?} {before}");
        // The library differentiates by differences, good to some millionths of a millimetre.
        assert!((end.after - after).abs() < 1e-5, "{end:?} {after}");
    }
    assert!(
        (found.chi_square - number("chi_square")).abs() < 1e-8,
        "{}",
        found.chi_square
    );
    let posterior = found.posterior.deviations();
    for (place, (at, change)) in asked.uncertainty.places().iter().zip(&found.changes).enumerate() {
        let name = &subject.numbers()[*at].name;
        let (point, axis) = name.rsplit_once('.').expect("an axis");
        let axis = ["x", "y", "z"]
            .iter()
            .position(|known| *known == axis)
            .expect("an axis");
        let of = |key: &str| reference[key][point][axis].as_f64().expect("a number");
        assert!((change - of("changes_mm")).abs() < 1e-4, "{name}: {change}");
        assert!(
            (posterior[place] - of("deviations_mm")).abs() < 1e-4,
            "{name}: {}",
            posterior[place]
        );
    }
}

/// One reading of a nearly linear outcome leaves the covariance that the linear update gives.
#[test]
fn one_reading_leaves_what_the_linear_update_leaves() {
    let subject = Subject::from(samples::wagon_front());
    let prior = Uncertainty::none()
        .with(
            &subject,
            &[("coilover.upper_mount.z", 1.5), ("coilover.lower_mount.z", 1.5)],
        )
        .expect("names");
    let outcome = at(CornerCurve::DamperLength, 0.0);
    let surveyed = says(&subject, &outcome);
    let asked = question(prior.clone(), vec![reading(outcome, surveyed, 0.8)]);
    let found = calibrate(&subject, &asked).expect("a calibration");
    assert!(
        found.changes.iter().all(|change| change.abs() < 1e-9),
        "a reading as surveyed moves nothing"
    );
    assert!((found.chance - 1.0).abs() < 1e-9);
    // At ride height the length's rate along z is the cosine of the damper's lean, up at the top and down below: by hand from
    // the mounts (-4, 478, 492) and (0, 540, 182).
    let cosine = 310.0 / (4.0_f64.powi(2) + 62.0_f64.powi(2) + 310.0_f64.powi(2)).sqrt();
    let expected = prior.after_measuring(&[cosine, -cosine], 0.8);
    assert!((found.posterior.covariance() - expected.covariance()).amax() < 1e-6);
}

fn toe_readings(truth: &Subject, gauge: Option<usize>, shift: f64) -> Vec<GaugeReading> {
    let bumps = [-50.0, -25.0, 0.0, 25.0, 50.0];
    let read = bumps.map(|bump| {
        let outcome = at(CornerCurve::Toe, bump);
        let value = says(truth, &outcome) + shift;
        GaugeReading {
            gauge,
            ..reading(outcome, value, 0.02 * DEGREE)
        }
    });
    read.to_vec()
}

fn taped() -> (Subject, Uncertainty, Subject) {
    let subject = Subject::from(samples::wagon_front());
    let uncertainty = Uncertainty::of_every_coordinate(&subject, 1.5).expect("an uncertainty");
    let outer = subject.places("tie_rod.outer.z").expect("a name")[0];
    let inner = subject.places("tie_rod.inner.z").expect("a name")[0];
    let truth = subject.changed(&[(outer, -2.0), (inner, 1.5)]);
    (subject, uncertainty, truth)
}

/// Readings of an invented truth that lies a standard deviation away bring the toe curve back to it, and what a tape leaves
/// open the gauge decides.
#[test]
fn a_toe_gauge_finds_the_curve_that_a_tape_could_not() {
    let (subject, uncertainty, truth) = taped();
    let asked = question(uncertainty.clone(), toe_readings(&truth, None, 0.0));
    let found = calibrate(&subject, &asked).expect("a calibration");
    let change = Outcome::Change(Reading::Corner(CornerCurve::Toe, None), -40.0, 40.0);
    let (value, deviation) = found.outcome(&change).expect("a value");
    let tape = calibrate(
        &subject,
        &question(
            uncertainty,
            vec![reading(
                at(CornerCurve::Camber, 0.0),
                says(&subject, &at(CornerCurve::Camber, 0.0)),
                1.0,
            )],
        ),
    )
    .expect("a calibration");
    let (_, before) = tape.outcome(&change).expect("a value");
    assert!(
        (value - says(&truth, &change)).abs() < 0.02 * DEGREE,
        "{}",
        value.to_degrees()
    );
    assert!(
        deviation < 0.15 * before,
        "{} of {}",
        deviation.to_degrees(),
        before.to_degrees()
    );
    assert!(
        found.chance > 0.5,
        "planted within its uncertainty: {}",
        found.chance
    );
}

/// A gauge that reads all of it too much alike is seen through, and its shift found, where its zero is left open.
#[test]
fn a_shifted_zero_is_told_from_moved_pickups() {
    let (subject, uncertainty, truth) = taped();
    let shift = 0.4 * DEGREE;
    let mut asked = question(uncertainty, toe_readings(&truth, Some(0), shift));
    asked.gauges.push(Gauge {
        name: "toe gauge".to_owned(),
        zero_deviation: None,
    });
    let found = calibrate(&subject, &asked).expect("a calibration");
    let change = Outcome::Change(Reading::Corner(CornerCurve::Toe, None), -40.0, 40.0);
    let (value, _) = found.outcome(&change).expect("a value");
    assert!((value - says(&truth, &change)).abs() < 0.02 * DEGREE);
    assert_eq!(found.degrees, 4);
    let (zero, deviation) = found.zeros[0];
    assert!(
        (zero - shift).abs() < 3.0 * deviation,
        "{} +- {}",
        zero.to_degrees(),
        deviation.to_degrees()
    );
}

#[test]
fn a_reading_that_does_not_agree_is_named() {
    let (subject, uncertainty, truth) = taped();
    let mut readings = toe_readings(&truth, None, 0.0);
    readings[1].value += 0.3 * DEGREE;
    let found = calibrate(&subject, &question(uncertainty, readings)).expect("a calibration");
    let worst = found
        .readings
        .iter()
        .enumerate()
        .max_by(|(_, one), (_, other)| {
            let size = |end: &kin_core::study::calibration::ReadingEnd| end.normalised.unwrap_or(0.0).abs();
            size(one).total_cmp(&size(other))
        })
        .map(|(place, _)| place);
    assert_eq!(worst, Some(1), "{:?}", found.readings);
    assert!(found.chance < 0.001, "{}", found.chance);
}

/// The bench rig read in its fourth hole while the third was written down.
#[test]
fn the_hole_that_was_counted_wrong_is_found() {
    let subject = Subject::from(samples::bench_rig());
    let [y, z] = ["coilover.lower_mount.y", "coilover.lower_mount.z"]
        .map(|name| subject.places(name).expect("a mount")[0]);
    let hole = |name: &str, across: f64, up: f64| Alternative {
        name: name.to_owned(),
        changes: vec![(y, across - 200.0), (z, up - 86.36)],
    };
    let holes = [
        hole("second", 170.0, 88.0),
        hole("third", 200.0, 86.36),
        hole("fourth", 230.0, 84.73),
    ];
    let truth = subject.changed(&holes[2].changes);
    // Errors of a steel rule, in millimetres, made up.
    let errors = [0.3, -0.4, 0.1, 0.5, -0.2, 0.4, -0.5];
    let readings = errors
        .iter()
        .zip([-24.0, -16.0, -8.0, 0.0, 8.0, 16.0, 24.0])
        .map(|(error, travel)| {
            let outcome = at(CornerCurve::DamperLength, travel);
            let value = says(&truth, &outcome) + error;
            GaugeReading {
                place_deviation: 0.5,
                ..reading(outcome, value, 0.5)
            }
        });
    let uncertainty = Uncertainty::of_every_coordinate(&subject, 1.0).expect("an uncertainty");
    let asked = question(uncertainty, readings.collect());
    let ends = compare_alternatives(&subject, &asked, &holes);
    assert!(ends[2].share > 0.999, "{}", ends[2].share);
    assert!((ends.iter().map(|end| end.share).sum::<f64>() - 1.0).abs() < 1e-12);
    let agreed = ends[2].calibration.as_ref().expect("a calibration");
    let written = ends[1].calibration.as_ref().expect("a calibration");
    assert!(
        agreed.chance > 0.05 && written.chance < 0.001,
        "{} {}",
        agreed.chance,
        written.chance
    );
    // The wheel gauge's half millimetre counts through the motion ratio, 0.715 in that hole by an independent program.
    let deviation = agreed.readings[3].deviation;
    assert!(
        (deviation - 0.5 * 1.0_f64.hypot(0.715)).abs() < 0.001,
        "{deviation}"
    );
}

#[test]
fn readings_that_cannot_be_are_refused() {
    let (subject, uncertainty, truth) = taped();
    let with = |change: &dyn Fn(&mut GaugeReading)| {
        let mut readings = toe_readings(&truth, None, 0.0);
        change(&mut readings[0]);
        calibrate(&subject, &question(uncertainty.clone(), readings)).expect_err("a refusal")
    };
    for deviation in [0.0, -1.0, f64::NAN] {
        let error = with(&|reading| reading.deviation = deviation);
        assert!(matches!(error, CalibrationError::Number { .. }), "{error}");
    }
    assert!(matches!(
        with(&|reading| reading.value = f64::INFINITY),
        CalibrationError::Number { .. }
    ));
    assert!(matches!(
        with(&|reading| reading.gauge = Some(2)),
        CalibrationError::NoGauge { .. }
    ));
    let far = with(&|reading| reading.outcome = at(CornerCurve::Toe, 5_000.0));
    assert!(matches!(far, CalibrationError::NoValue { .. }), "{far}");
    let no_place = with(&|reading| {
        reading.outcome = Outcome::Spread(Reading::Corner(CornerCurve::Toe, None), -10.0, 10.0);
        reading.place_deviation = 1.0;
    });
    assert!(matches!(no_place, CalibrationError::NoPlace { .. }), "{no_place}");
    let nothing = calibrate(&subject, &question(uncertainty, Vec::new()));
    assert_eq!(nothing, Err(CalibrationError::NoReading));
    assert!((below_normal(-1.0) + below_normal(1.0) - 1.0).abs() < 1e-15);
}
