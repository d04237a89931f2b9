//! Bolts and brackets.

mod bolt;
mod bolt_practice;
mod bracket;
mod bracket_remedies;
mod published;
mod withdrawal;

/// One inch (mm).
const INCH: f64 = 25.4;
/// One pound of force (N), exact.
const POUND: f64 = 4.448_221_615_260_5;
/// One thousand pounds per square inch (MPa).
const KSI: f64 = POUND * 1_000.0 / (INCH * INCH);
/// One pound-foot (N mm).
const POUND_FOOT: f64 = POUND * 12.0 * INCH;

fn close(found: f64, expected: f64, tolerance: f64, label: &str) {
    let miss = (found - expected).abs();
    assert!(
        miss <= tolerance,
        "{label}: {found} is not {expected} (off by {miss:e})"
    );
}
