//! What all findings of this check share.

use crate::Dimension;
use crate::checks::{Finding, Sentence, Verdict};

/// The check, by its word in scripts.
pub(super) const CHECK: &str = "stroke";

/// Travels are found to 1e-9 mm: a limit missed by less than this (mm) is met.
const MET_MM: f64 = 1e-6;

/// What is left beyond a limit (mm), zero where it is met.
pub(super) fn settled(margin: f64) -> f64 {
    if margin.abs() < MET_MM { 0.0 } else { margin }
}

/// The word for a way of the wheel.
pub(super) fn way(sign: f64) -> &'static str {
    if sign > 0.0 { "bump" } else { "droop" }
}

/// A finding about a length or a travel, without remedies: fails, with what it is short of its limit (mm).
pub(super) fn failing(
    subject: String,
    (value, limit): (f64, f64),
    at_travel: Option<f64>,
    statement: Sentence,
) -> Finding {
    Finding {
        check: CHECK,
        subject,
        verdict: Verdict::Fails,
        dimension: Dimension::Length,
        value,
        limit,
        margin: -(value - limit).abs(),
        at_travel,
        statement,
        remedies: Vec::new(),
    }
}
