//! Stud mounts: the catalogue's length is not the length between the turning points.

use super::close;
use kin_core::checks::{StrokeQuestion, check_corner_stroke};
use kin_core::{Corner, samples};

/// A damper with studs is a damper with eyes that is longer by what the turning points lie beyond the marks.
#[test]
fn a_stud_is_a_longer_eye() {
    for (upper, lower) in [(Some(18.0), None), (None, Some(-7.5)), (Some(22.0), Some(14.5))] {
        let allowance: f64 = upper.unwrap_or(0.0) + lower.unwrap_or(0.0);
        let mut with_studs = samples::wagon_front();
        let damper = with_studs.coilover.as_mut().expect("a coilover");
        (damper.upper_stud, damper.lower_stud) = (upper, lower);
        let mut with_eyes = samples::wagon_front();
        let damper = with_eyes.coilover.as_mut().expect("a coilover");
        damper.extended += allowance;
        damper.compressed += allowance;
        let check = |pickups| {
            let corner = Corner::new(pickups).expect("a corner");
            check_corner_stroke(&corner, &StrokeQuestion::default()).expect("an answer")
        };
        let (studs, eyes) = (check(&with_studs), check(&with_eyes));
        assert_eq!(studs.stud_allowance, allowance);
        assert_eq!(eyes.stud_allowance, 0.0);
        // 349.25 and 254.0 mm by the catalogue, 20 mm of bump stop.
        close(studs.lengths.extended, 349.25 + allowance, 1e-12, "extended");
        close(studs.lengths.compressed, 254.0 + allowance, 1e-12, "compressed");
        close(
            studs.lengths.stop_contact,
            274.0 + allowance,
            1e-12,
            "stop contact",
        );
        assert_eq!(studs.budget, eyes.budget);
        assert_eq!(studs.findings, eyes.findings);
        // The mounts stand where they stood: only the limits moved.
        close(studs.budget.length_at_ride, 316.16, 0.01, "length at ride height");
    }
}
