//! Builds many variants with random errors and keeps statistics only.

use super::linear::propagate;
use super::question::{Requirement, Tolerance};
use super::random::RandomErrors;
use super::read_variant::{ReadVariant, read};
use super::reasons::Reasons;
use super::result::{
    BandPoint, CurveBand, FindingShare, LinearResult, OutcomeTolerance, SampledResult, Shares,
    ToleranceResult,
};
use super::streamed::Streamed;
use super::turning_point;
use crate::Error;
use crate::checks::Verdict;
use crate::study::{Built, Outcome, Progress, Station};
use nalgebra::DVector;

/// Variants that are built at a time, before what was read of them goes into the statistics.
const AT_A_TIME: usize = 1024;

/// Everything that is kept of the variants so far.
struct Statistics<'a> {
    study: &'a Tolerance<'a>,
    linear: &'a [LinearResult],
    values: Vec<(Streamed, usize)>,
    curves: Vec<Streamed>,
    findings: Vec<FindingCount>,
    reasons: Reasons,
    samples: usize,
    requirements_hold: usize,
    linear_hold: usize,
    findings_hold: usize,
    everything_holds: usize,
}

struct FindingCount {
    check: &'static str,
    subject: String,
    as_measured: Option<Verdict>,
    failed: usize,
    tight: usize,
}

pub(super) fn run(study: &Tolerance<'_>, progress: &dyn Progress) -> Result<ToleranceResult, Error> {
    let built = study.subject.build()?;
    let propagated =
        |requirement: &Requirement| propagate(requirement, study.subject, &built, study.uncertainty);
    let linear: Vec<LinearResult> = study
        .requirements
        .iter()
        .map(propagated)
        .collect::<Result<_, _>>()?;
    let bands = linear_bands(study, &built)?;
    let errors = RandomErrors::new(study.seed, study.uncertainty);
    let mut statistics = Statistics::new(study, &linear, &bands, &built);
    let mut next = 0;
    while next < study.samples && !progress.should_stop() {
        let end = study.samples.min(next + AT_A_TIME);
        let numbers: Vec<usize> = (next..end).collect();
        let variants = crate::parallel::map(&numbers, |variant| {
            let own = errors.of(*variant);
            let subject = study.subject.changed_by(&errors.spread_out(&own));
            (own, read(study, &linear, &subject))
        });
        for (variant, (own, read)) in numbers.into_iter().zip(variants) {
            statistics.add(variant, &own, read);
        }
        progress.advance(end - next);
        next = end;
    }
    Ok(statistics.into_result(&bands))
}

/// The curves as measured and their deviations to first order, curve by curve.
fn linear_bands(study: &Tolerance<'_>, built: &Built) -> Result<Vec<LinearResult>, Error> {
    let places = study
        .curves
        .iter()
        .flat_map(|reading| study.bumps.iter().map(|bump| (*reading, *bump)));
    places
        .map(|(reading, bump)| {
            let outcome = Outcome::At(reading, Station::bump(bump));
            let described = Requirement::described(outcome);
            propagate(&described, study.subject, built, study.uncertainty)
        })
        .collect()
}

impl<'a> Statistics<'a> {
    fn new(
        study: &'a Tolerance<'a>,
        linear: &'a [LinearResult],
        bands: &[LinearResult],
        built: &Built,
    ) -> Self {
        let streamed = |linear: &LinearResult| Streamed::new(linear.value, linear.deviation);
        let said = study.checks.and_then(|checks| checks(built).ok());
        let mut statistics = Self {
            study,
            linear,
            values: linear.iter().map(|linear| (streamed(linear), 0)).collect(),
            curves: bands.iter().map(streamed).collect(),
            findings: Vec::new(),
            reasons: Reasons::default(),
            samples: 0,
            requirements_hold: 0,
            linear_hold: 0,
            findings_hold: 0,
            everything_holds: 0,
        };
        for finding in said.into_iter().flatten() {
            let place = statistics.finding(finding.check, &finding.subject);
            statistics.findings[place].as_measured = Some(finding.verdict);
        }
        statistics
    }

    /// The place of a finding's count.
    fn finding(&mut self, check: &'static str, subject: &str) -> usize {
        let known = self
            .findings
            .iter()
            .position(|known| known.check == check && known.subject == subject);
        known.unwrap_or_else(|| {
            self.findings.push(FindingCount {
                check,
                subject: subject.to_owned(),
                as_measured: None,
                failed: 0,
                tight: 0,
            });
            self.findings.len() - 1
        })
    }

    fn add(&mut self, variant: usize, errors: &DVector<f64>, read: ReadVariant) {
        self.samples += 1;
        let mut all_hold = true;
        let mut all_hold_linear = true;
        let requirements = self.study.requirements.iter().zip(self.linear);
        for (((requirement, linear), (streamed, held)), value) in
            requirements.zip(&mut self.values).zip(&read.values)
        {
            let shift: f64 = linear
                .gradient
                .iter()
                .zip(errors.iter())
                .map(|(rate, error)| rate * error)
                .sum();
            all_hold_linear &= requirement.margin(linear.value + shift) >= 0.0;
            let holds = value.is_some_and(|value| requirement.margin(value) >= 0.0);
            all_hold &= holds || !requirement.has_limit();
            *held += usize::from(holds);
            if let Some(value) = value {
                streamed.add(*value);
            }
        }
        for (streamed, value) in self.curves.iter_mut().zip(&read.curves) {
            if value.is_finite() {
                streamed.add(*value);
            }
        }
        for (what, reason) in read.failed {
            self.reasons.add(variant, &what, reason);
        }
        let findings_hold = self.add_findings(read.findings);
        self.requirements_hold += usize::from(all_hold);
        self.linear_hold += usize::from(all_hold_linear);
        self.findings_hold += usize::from(findings_hold);
        self.everything_holds += usize::from(all_hold && findings_hold);
    }

    /// Counts the findings of a variant; whether none fails.
    fn add_findings(&mut self, findings: Option<Vec<(&'static str, String, Verdict)>>) -> bool {
        let Some(findings) = findings else {
            for known in &mut self.findings {
                known.failed += 1;
            }
            return self.study.checks.is_none();
        };
        let mut all_hold = true;
        for (check, subject, verdict) in findings {
            let place = self.finding(check, &subject);
            match verdict {
                Verdict::Fails => {
                    self.findings[place].failed += 1;
                    all_hold = false;
                }
                Verdict::Tight => self.findings[place].tight += 1,
                Verdict::Holds | Verdict::NotAsked => {}
            }
        }
        all_hold
    }

    fn into_result(self, bands: &[LinearResult]) -> ToleranceResult {
        let samples = self.samples;
        let share = |count: usize| {
            if samples == 0 {
                0.0
            } else {
                count as f64 / samples as f64
            }
        };
        let study = self.study;
        let mut outcomes = Vec::new();
        for ((requirement, linear), (streamed, held)) in
            study.requirements.iter().zip(self.linear).zip(&self.values)
        {
            outcomes.push(OutcomeTolerance {
                turning_point: turning_point::find(requirement, linear, study.subject, study.uncertainty),
                requirement: requirement.clone(),
                linear: linear.clone(),
                sampled: sampled(streamed, share(*held)),
            });
        }
        let findings = self.findings.into_iter().map(|count| FindingShare {
            holds: 1.0 - share(count.failed),
            with_margin: 1.0 - share(count.failed + count.tight),
            check: count.check,
            subject: count.subject,
            as_measured: count.as_measured,
        });
        let places = study.bumps.len().max(1);
        let points = bands.iter().zip(&self.curves).zip(study.bumps.iter().cycle());
        let points: Vec<BandPoint> = points
            .map(|((linear, streamed), bump)| BandPoint {
                bump: *bump,
                value: linear.value,
                linear_deviation: linear.deviation,
                sampled: sampled(streamed, share(streamed.count() as usize)),
            })
            .collect();
        let bands = study
            .curves
            .iter()
            .zip(points.chunks(places))
            .map(|(reading, points)| CurveBand {
                reading: *reading,
                points: points.to_vec(),
            });
        ToleranceResult {
            asked: study.samples,
            samples,
            seed: study.seed,
            shares: Shares {
                requirements: share(self.requirements_hold),
                linear: share(self.linear_hold),
                findings: study.checks.map(|_| share(self.findings_hold)),
                everything: share(self.everything_holds),
            },
            outcomes,
            findings: findings.collect(),
            bands: bands.collect(),
            failed: self.reasons.into_list(),
        }
    }
}

fn sampled(streamed: &Streamed, holds: f64) -> SampledResult {
    SampledResult {
        count: streamed.count() as usize,
        mean: streamed.mean(),
        deviation: streamed.deviation(),
        low: streamed.quantile(0.05),
        middle: streamed.quantile(0.5),
        high: streamed.quantile(0.95),
        holds,
    }
}
