//! One place that knows whether there are threads.

/// Maps every item, on several threads where the `parallel` feature is on; the order stays the same.
#[cfg(feature = "parallel")]
pub(crate) fn map<I: Sync, O: Send>(items: &[I], function: impl Fn(&I) -> O + Send + Sync) -> Vec<O> {
    use rayon::prelude::*;
    items.par_iter().map(function).collect()
}

/// Maps every item, one after the other.
#[cfg(not(feature = "parallel"))]
pub(crate) fn map<I, O>(items: &[I], function: impl Fn(&I) -> O + Send + Sync) -> Vec<O> {
    items.iter().map(function).collect()
}
