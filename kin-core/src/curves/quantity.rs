//! What a curve measures, and what its ends mean.

use crate::Dimension;

/// Name and meaning of a curve, the same in scripts, columns, plots and documents.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CurveInfo {
    /// Name in scripts and columns.
    pub key: &'static str,
    /// Name on axes and in tables.
    pub title: &'static str,
    /// What its numbers are.
    pub dimension: Dimension,
    /// What a low value means, in a few words; empty when the number speaks for itself.
    pub low: &'static str,
    /// What a high value means.
    pub high: &'static str,
}
