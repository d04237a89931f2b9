//! Time of what-if studies: variants of a tolerance study on one thread and on two, and the exact sensitivities beside as many
//! differences.
//!
//! `cargo bench --bench studies` prints them per variant and per sensitivity. The studies are those of the sample vehicles.

use divan::Bencher;
use divan::counter::ItemsCount;
use kin_core::samples;
use kin_core::study::{Outcome, Requirement, StrokeReading, Subject, Tolerance, Uncertainty, Unwatched};
use rayon::ThreadPoolBuilder;
use std::hint::black_box;
use std::process::ExitCode;

/// Variants of one run: enough to keep two threads in work, and a run short.
const VARIANTS: usize = 2048;
/// Standard deviation of every coordinate (mm): a tape that is right to 3 mm in 95 of 100 readings.
const DEVIATION: f64 = 1.5;
/// Step of the differences (mm).
const STEP: f64 = 1e-3;

fn main() -> ExitCode {
    for subject in [corner(), axle()] {
        if let Err(error) = check(&subject) {
            eprintln!("no figures: {error}");
            return ExitCode::FAILURE;
        }
    }
    divan::main();
    ExitCode::SUCCESS
}

fn corner() -> Subject {
    Subject::from(samples::wagon_front())
}

fn axle() -> Subject {
    Subject::from(samples::pickup_rear())
}

/// The bump that is left before the bump stop, looked at by the stroke check.
const BUMP_LEFT: Outcome = Outcome::Stroke(StrokeReading::BumpToStop, kin_core::pickups::Side::Left);

/// A time says nothing about an answer that is wrong: the differences must agree with the exact sensitivities.
fn check(subject: &Subject) -> Result<(), String> {
    let uncertainty = uncertainty(subject)?;
    let exact = exact(subject, &uncertainty)?;
    let stepped = differences(subject, &uncertainty)?;
    // The step leaves an error of first order in it, and rounding of about 1e-10 mm over it.
    let agree = |(exact, stepped): (&f64, &f64)| (exact - stepped).abs() < 1e-3;
    let run = study(subject, &uncertainty).run(&Unwatched);
    let samples = run.map_err(|error| error.to_string())?.samples;
    if exact.iter().zip(&stepped).all(agree) && samples == VARIANTS {
        Ok(())
    } else {
        Err("the sensitivities do not agree with differences".to_owned())
    }
}

fn uncertainty(subject: &Subject) -> Result<Uncertainty, String> {
    Uncertainty::of_every_coordinate(subject, DEVIATION).map_err(|error| error.to_string())
}

fn study<'a>(subject: &'a Subject, uncertainty: &'a Uncertainty) -> Tolerance<'a> {
    Tolerance {
        subject,
        uncertainty,
        requirements: Requirement::of_stroke(subject),
        checks: None,
        curves: Vec::new(),
        bumps: Vec::new(),
        samples: VARIANTS,
        seed: 7,
    }
}

fn exact(subject: &Subject, uncertainty: &Uncertainty) -> Result<Vec<f64>, String> {
    let built = subject.build().map_err(|error| error.to_string())?;
    BUMP_LEFT
        .gradient(subject, &built, uncertainty.places())
        .map_err(|error| error.to_string())
}

fn differences(subject: &Subject, uncertainty: &Uncertainty) -> Result<Vec<f64>, String> {
    let value = |subject: &Subject| {
        let built = subject.build().map_err(|error| error.to_string())?;
        BUMP_LEFT.value(&built).map_err(|error| error.to_string())
    };
    let here = value(subject)?;
    let places = uncertainty.places().iter();
    places
        .map(|place| Ok((value(&subject.changed(&[(*place, STEP)]))? - here) / STEP))
        .collect()
}

/// Variants of a tolerance study with the stroke check's limits, on one thread and on two.
#[divan::bench_group(sample_count = 20)]
mod tolerance {
    use super::*;

    #[divan::bench(args = [1, 2])]
    fn corner(bencher: Bencher<'_, '_>, threads: usize) {
        run(bencher, &super::corner(), threads);
    }

    #[divan::bench(args = [1, 2])]
    fn axle(bencher: Bencher<'_, '_>, threads: usize) {
        run(bencher, &super::axle(), threads);
    }

    fn run(bencher: Bencher<'_, '_>, subject: &Subject, threads: usize) {
        let (Ok(uncertainty), Ok(pool)) = (
            uncertainty(subject),
            ThreadPoolBuilder::new().num_threads(threads).build(),
        ) else {
            return;
        };
        let bencher = bencher.counter(ItemsCount::new(VARIANTS));
        bencher
            .bench_local(|| pool.install(|| study(black_box(subject), &uncertainty).run(&Unwatched).is_ok()));
    }
}

/// How bump left goes with every coordinate: exactly, and by building the corner once more for each.
#[divan::bench_group(sample_count = 20)]
mod sensitivities_of_bump_left {
    use super::*;

    #[divan::bench]
    fn exact(bencher: Bencher<'_, '_>) {
        run(bencher, super::exact);
    }

    #[divan::bench]
    fn differences(bencher: Bencher<'_, '_>) {
        run(bencher, super::differences);
    }

    fn run(bencher: Bencher<'_, '_>, how: fn(&Subject, &Uncertainty) -> Result<Vec<f64>, String>) {
        let subject = super::corner();
        let Ok(uncertainty) = uncertainty(&subject) else {
            return;
        };
        let bencher = bencher.counter(ItemsCount::new(uncertainty.places().len()));
        bencher.bench_local(|| how(black_box(&subject), &uncertainty));
    }
}
