//! What a tolerance study finds.

use super::question::Requirement;
use super::reasons::FailedVariants;
use super::turning_point::TurningPoint;
use crate::checks::Verdict;
use crate::study::Reading;

/// What a tolerance study found (core units).
#[derive(Debug, Clone, PartialEq)]
pub struct ToleranceResult {
    /// How many variants were asked for.
    pub asked: usize,
    /// How many were built and looked at; fewer than asked where the study was stopped.
    pub samples: usize,
    /// The seed of their errors.
    pub seed: u64,
    /// Each requirement, linear and sampled.
    pub outcomes: Vec<OutcomeTolerance>,
    /// How often everything holds at once.
    pub shares: Shares,
    /// How often each finding of the checks does not fail.
    pub findings: Vec<FindingShare>,
    /// Bands of the curves, in the order asked.
    pub bands: Vec<CurveBand>,
    /// Variants of which something could not be had.
    pub failed: Vec<FailedVariants>,
}

/// One requirement.
#[derive(Debug, Clone, PartialEq)]
pub struct OutcomeTolerance {
    /// What was asked.
    pub requirement: Requirement,
    /// To first order.
    pub linear: LinearResult,
    /// From the variants.
    pub sampled: SampledResult,
    /// The error of one number, all others as measured, at which the requirement begins to fail or to hold.
    pub turning_point: Option<TurningPoint>,
}

/// A result to first order.
#[derive(Debug, Clone, PartialEq)]
pub struct LinearResult {
    /// As measured.
    pub value: f64,
    /// Its rate per unit of each uncertain number, in the order of the uncertainty's places.
    pub gradient: Vec<f64>,
    /// Standard deviation.
    pub deviation: f64,
    /// Share in which it keeps its limits (0 to 1); 1 without limits.
    pub holds: f64,
}

/// A result from variants. Without a single variant that has the number there is none of its statistics.
#[derive(Debug, Clone, PartialEq)]
pub struct SampledResult {
    /// How many variants have the number.
    pub count: usize,
    /// Mean.
    pub mean: Option<f64>,
    /// Standard deviation.
    pub deviation: Option<f64>,
    /// The value that 5 % lie below.
    pub low: Option<f64>,
    /// The value that half lie below.
    pub middle: Option<f64>,
    /// The value that 95 % lie below.
    pub high: Option<f64>,
    /// Share of all variants in which it keeps its limits (0 to 1).
    pub holds: f64,
}

/// How often everything holds (0 to 1).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shares {
    /// All requirements at once, from the variants.
    pub requirements: f64,
    /// All requirements at once, from the same errors to first order.
    pub linear: f64,
    /// All findings of the checks at once, from the variants; none without checks.
    pub findings: Option<f64>,
    /// All requirements and all findings at once, from the variants.
    pub everything: f64,
}

/// How often a finding does not fail.
#[derive(Debug, Clone, PartialEq)]
pub struct FindingShare {
    /// The check that speaks, by its word in scripts.
    pub check: &'static str,
    /// What was compared.
    pub subject: String,
    /// What it says of the description as measured; none where it says nothing there.
    pub as_measured: Option<Verdict>,
    /// Share of the variants in which it does not fail (0 to 1).
    pub holds: f64,
    /// Share of the variants in which it holds with its margin, neither tight nor failing (0 to 1).
    pub with_margin: f64,
}

/// A curve over the travel with its band.
#[derive(Debug, Clone, PartialEq)]
pub struct CurveBand {
    /// The curve.
    pub reading: Reading,
    /// Along the travel.
    pub points: Vec<BandPoint>,
}

/// One place of a band.
#[derive(Debug, Clone, PartialEq)]
pub struct BandPoint {
    /// Bump from ride height (mm).
    pub bump: f64,
    /// As measured.
    pub value: f64,
    /// Standard deviation to first order.
    pub linear_deviation: f64,
    /// From the variants.
    pub sampled: SampledResult,
}
