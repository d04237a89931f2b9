//! Variants of a tolerance study: threads, memory, checks, failures and stops.

use super::tolerance::study;
use allocation_counter::measure;
use approx::assert_abs_diff_eq;
use kin_core::checks::{RideHeightQuestion, SprungLoad, check_corner_ride_height};
use kin_core::curves::CornerCurve;
use kin_core::study::{
    Built, Progress, Reading, Subject, Tolerance, ToleranceResult, Uncertainty, Unwatched,
};
use kin_core::{Along, Sentence, samples};
use std::sync::atomic::{AtomicUsize, Ordering};

/// Runs on as many threads as are said.
fn on_threads<T: Send>(threads: usize, run: impl FnOnce() -> T + Send) -> T {
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(threads)
        .build()
        .unwrap();
    pool.install(run)
}

fn watched_curves<'a>(subject: &'a Subject, uncertainty: &'a Uncertainty, samples: usize) -> Tolerance<'a> {
    Tolerance {
        curves: vec![
            Reading::Corner(CornerCurve::Toe, None),
            Reading::Corner(CornerCurve::Camber, Some(Along::Travel)),
        ],
        // Seventeen places.
        bumps: (-8..=8).map(|place| f64::from(place) * 6.25).collect(),
        ..study(subject, uncertainty, samples)
    }
}

#[test]
fn the_number_of_threads_changes_no_bit() {
    let subject = Subject::from(samples::wagon_front());
    let uncertainty = Uncertainty::of_every_coordinate(&subject, 1.5).unwrap();
    let run = |threads| -> ToleranceResult {
        on_threads(threads, || {
            watched_curves(&subject, &uncertainty, 1500)
                .run(&Unwatched)
                .unwrap()
        })
    };
    let one = run(1);
    assert_eq!(one, run(2));
    let shown = |result: &ToleranceResult| format!("{result:?}");
    assert_eq!(shown(&one), shown(&run(3)));
    // Another seed draws other variants.
    let other = Tolerance {
        seed: 8,
        ..watched_curves(&subject, &uncertainty, 1500)
    }
    .run(&Unwatched)
    .unwrap();
    assert_ne!(one.outcomes[0].sampled.mean, other.outcomes[0].sampled.mean);
}

#[test]
fn memory_does_not_grow_with_the_number_of_variants() {
    let subject = Subject::from(samples::wagon_front());
    let uncertainty = Uncertainty::of_every_coordinate(&subject, 1.5).unwrap();
    let most = |samples: usize| {
        // Everything happens on the one thread whose allocations are counted.
        on_threads(1, || {
            let study = watched_curves(&subject, &uncertainty, samples);
            measure(|| drop(study.run(&Unwatched).unwrap())).bytes_max
        })
    };
    let (few, many) = (most(1024), most(5 * 1024));
    assert!(
        many < few + few / 20,
        "{few} bytes for 1024 variants, {many} for five times as many"
    );
    assert!(many < 8 << 20, "{many} bytes");
}

#[test]
fn checks_are_counted_by_finding() {
    let subject = Subject::from(samples::wagon_front());
    let uncertainty = Uncertainty::of_every_coordinate(&subject, 3.0).unwrap();
    let question = RideHeightQuestion {
        load: SprungLoad::of_sprung_mass(406.0),
        solid_length: Some(114.0),
        ..RideHeightQuestion::default()
    };
    let checks = |built: &Built| {
        let Built::Corner(corner) = built else {
            return Err(Sentence::from("no corner"));
        };
        check_corner_ride_height(corner, &question)
            .map(|ride| ride.findings)
            .map_err(|error| error.sentence())
    };
    let study = Tolerance {
        checks: Some(&checks),
        ..study(&subject, &uncertainty, 300)
    };
    let found = study.run(&Unwatched).unwrap();
    assert!(!found.findings.is_empty());
    let all = found.shares.findings.unwrap();
    for finding in &found.findings {
        assert!(
            finding.with_margin <= finding.holds && finding.holds <= 1.0,
            "{finding:?}"
        );
        // All hold at once no more often than the rarest, and no less often than what each lacks leaves.
        assert!(all <= finding.holds, "{finding:?}");
    }
    let lacking: f64 = found.findings.iter().map(|finding| 1.0 - finding.holds).sum();
    assert!(all >= 1.0 - lacking - 1e-12);
    assert!(found.shares.everything <= all.min(found.shares.requirements));
}

#[test]
fn variants_that_cannot_be_had_are_counted_by_reason() {
    let subject = Subject::from(samples::wagon_front());
    // Errors of a hand's breadth: some corners cannot be built, some do not reach their travel.
    let uncertainty = Uncertainty::of_every_coordinate(&subject, 60.0).unwrap();
    let found = watched_curves(&subject, &uncertainty, 400)
        .run(&Unwatched)
        .unwrap();
    assert_eq!(found.samples, 400);
    assert!(!found.failed.is_empty());
    let without: usize = found.failed.iter().map(|failed| failed.count).sum();
    assert!(without > 10, "{without}");
    for outcome in &found.outcomes {
        let sampled = &outcome.sampled;
        let missing: usize = found
            .failed
            .iter()
            .filter(|failed| failed.what == "the variant" || failed.what == outcome.requirement.name)
            .map(|failed| failed.count)
            .sum();
        assert_eq!(sampled.count + missing, 400, "{:?}", found.failed);
        assert!(sampled.low <= sampled.middle && sampled.middle <= sampled.high);
        assert!(sampled.holds <= sampled.count as f64 / 400.0);
    }
}

/// Stops after some variants.
struct Patience(AtomicUsize, usize);

impl Progress for Patience {
    fn advance(&self, variants: usize) {
        self.0.fetch_add(variants, Ordering::Relaxed);
    }

    fn should_stop(&self) -> bool {
        self.0.load(Ordering::Relaxed) >= self.1
    }
}

#[test]
fn a_stopped_study_keeps_what_it_has() {
    let subject = Subject::from(samples::wagon_front());
    let uncertainty = Uncertainty::of_every_coordinate(&subject, 1.5).unwrap();
    let stopped = study(&subject, &uncertainty, 100_000)
        .run(&Patience(AtomicUsize::new(0), 1))
        .unwrap();
    assert_eq!(stopped.asked, 100_000);
    assert!(
        stopped.samples > 0 && stopped.samples < 5_000,
        "{}",
        stopped.samples
    );
    let mut same = study(&subject, &uncertainty, stopped.samples)
        .run(&Unwatched)
        .unwrap();
    same.asked = stopped.asked;
    assert_eq!(stopped, same);
}

#[test]
fn an_exact_description_has_no_spread() {
    let subject = Subject::from(samples::wagon_front());
    let found = study(&subject, &Uncertainty::none(), 5).run(&Unwatched).unwrap();
    for outcome in &found.outcomes {
        assert_eq!(outcome.linear.deviation, 0.0);
        assert_eq!((outcome.linear.holds, outcome.sampled.holds), (1.0, 1.0));
        // Travels are searched to 1e-9 mm.
        assert_abs_diff_eq!(
            outcome.sampled.middle.unwrap(),
            outcome.linear.value,
            epsilon = 1e-8
        );
        assert_eq!(outcome.turning_point, None);
    }
}
