//! The smallest changes that mend a finding.

use super::Sentence;
use super::remedy_kind::RemedyKind;

/// A change that mends a finding.
#[derive(Debug, Clone, PartialEq)]
pub struct Remedy {
    /// What is changed.
    pub kind: RemedyKind,
    /// The smallest change that mends it (core units of `kind`, mm for mounts), signed in the direction of `kind`.
    pub change: f64,
    /// The changes for which every limit holds, least and greatest (core units of `kind`).
    pub window: (f64, f64),
    /// The change in words: the least rounded up and the most rounded down, so that what is written serves.
    pub sentence: Sentence,
}
