//! Repeated readings tell one's own tape.

use kin_core::survey::{Kind, Reading, Survey};

/// Worked by hand: means 500 and 300.5; squares 1 + 0 + 1 and 0.25 + 0.25; 3 degrees of freedom. The range is that of the chi-square
/// distribution with 3 degrees of freedom, 0.215795 and 9.348404 at 2.5 % and 97.5 % (standard tables).
#[test]
fn repeats_are_pooled() {
    let mut survey = Survey {
        readings: vec![
            Reading::tape("A", "B", 499.0),
            Reading::tape("B", "A", 500.0),
            Reading::tape("A", "B", 501.0),
            Reading::tape("A", "C", 300.0),
            Reading::tape("C", "A", 301.0),
            Reading::tape("B", "C", 10.0),
            Reading::height("A", 10.0),
        ],
        ..Survey::default()
    };
    let estimates = survey.repeats();
    assert_eq!(estimates.len(), 1);
    let found = estimates[0];
    assert_eq!((found.kind, found.repeated, found.degrees), (Kind::Tape, 2, 3));
    assert!((found.standard_deviation - (2.5_f64 / 3.0).sqrt()).abs() < 1e-12);
    assert!((found.range[0] - (2.5_f64 / 9.348_404).sqrt()).abs() < 1e-6);
    assert!((found.range[1] - (2.5_f64 / 0.215_795).sqrt()).abs() < 1e-5);
    assert!(found.sentence().to_string().contains("the stated one agrees"));
    survey.deviations.set(Kind::Tape, 0.2);
    assert!(survey.repeats()[0].sentence().to_string().contains("state more"));
}
