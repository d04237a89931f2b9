//! Tolerances: linear and Monte Carlo.

use allocation_counter::measure;
use kin_core::checks::{
    RideHeightQuestion, SprungLoad, StrokeQuestion, check_corner_ride_height, check_corner_stroke,
};
use kin_core::curves::CornerCurve;
use kin_core::samples;
use kin_core::study::{Built, Reading, Requirement, Subject, Tolerance, Uncertainty, Unwatched};

#[test]
fn timing() {
    let subject = Subject::from(samples::wagon_front());
    let uncertainty = Uncertainty::of_every_coordinate(&subject, 1.5).unwrap();
    let bumps: Vec<f64> = (-8..=8).map(|step| f64::from(step) * 6.25).collect();
    let mut study = Tolerance {
        subject: &subject,
        uncertainty: &uncertainty,
        requirements: Vec::new(),
        checks: None,
        curves: Vec::new(),
        bumps,
        samples: 2000,
        seed: 7,
    };
    let go = |study: &Tolerance<'_>, what: &str| {
        let start = std::time::Instant::now();
        let found = study.run(&Unwatched).unwrap();
        eprintln!("{what}: {:?} {:?}", start.elapsed() / 2000, found.shares);
    };
    go(&study, "bare");
    study.requirements = Requirement::of_stroke(&subject);
    go(&study, "budget");
    study.requirements = Vec::new();
    study.curves = vec![Reading::Corner(CornerCurve::Toe, None)];
    go(&study, "curves");
    study.curves = Vec::new();
    let stroke = |built: &Built| {
        let Built::Corner(corner) = built else { panic!() };
        check_corner_stroke(corner, &StrokeQuestion::default())
            .map(|found| found.findings)
            .map_err(|error| error.sentence())
    };
    study.checks = Some(&stroke);
    go(&study, "stroke check");
    let _ = (measure(|| ()), RideHeightQuestion::default());
}
