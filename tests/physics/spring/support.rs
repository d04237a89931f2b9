//! Questions shared by these tests.

use kin_core::Corner;
use kin_core::checks::{Finding, RideHeightQuestion, SeatEnd, SeatThread, SprungLoad};
use kin_core::samples;

/// The spring question of the wagon's front corner, as in its invented data.
pub(crate) fn wagon_front() -> RideHeightQuestion {
    RideHeightQuestion {
        load: SprungLoad::of_sprung_mass(406.0),
        solid_length: Some(114.0),
        bind_allowance: Some(6.0),
        seat_thread: Some(SeatThread {
            end: SeatEnd::Lower,
            shortest: 50.0,
            longest: 125.0,
            pitch: 2.0,
        }),
        ..RideHeightQuestion::default()
    }
}

/// The wagon's front corner.
pub(crate) fn wagon_corner() -> Corner {
    Corner::new(&samples::wagon_front()).expect("a good corner")
}

/// The finding whose subject ends so.
pub(crate) fn finding<'a>(findings: &'a [Finding], subject: &str) -> &'a Finding {
    findings
        .iter()
        .find(|finding| finding.subject.ends_with(subject))
        .unwrap_or_else(|| panic!("no finding on `{subject}` among {findings:?}"))
}

/// Holds a number against an expected one.
#[track_caller]
pub(crate) fn close(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within,
        "{found} against {expected} within {within}"
    );
}
