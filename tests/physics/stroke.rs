//! The stroke check: figures of the invented vehicles, and what must hold for any damper.

mod bench_rig;
mod no_limit;
mod not_asked;
mod over_centre;
mod pickup;
mod questions;
mod remedies;
mod ride_height;
mod stops;
mod studs;
mod wagon_front;
mod wagon_rear;

/// Fails with the numbers when they differ by more than the tolerance.
fn close(found: f64, expected: f64, tolerance: f64, label: &str) {
    let miss = (found - expected).abs();
    assert!(
        miss <= tolerance,
        "{label}: {found} is not {expected} (off by {miss:e})"
    );
}
