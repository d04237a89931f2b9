//! Layouts whose motion can be written down by hand.

pub(crate) mod axle;
pub(crate) mod corner;

/// Fails with the numbers when they differ by more than the tolerance.
fn close(found: f64, expected: f64, tolerance: f64, label: &str) {
    let miss = (found - expected).abs();
    assert!(
        miss <= tolerance,
        "{label}: {found} is not {expected} (off by {miss:e})"
    );
}
