//! Readings that cannot be: each refused by name.

use kin_core::survey::{Axis, Observed, Reading, Survey, SurveyError};

fn refused(survey: &Survey) -> String {
    survey.adjust().expect_err("refused").to_string()
}

fn of(readings: &[Reading]) -> Survey {
    let labelled = readings.iter().enumerate();
    Survey {
        readings: labelled
            .map(|(place, reading)| {
                reading
                    .clone()
                    .with_label(format!("front.csv, line {}", place + 2))
            })
            .collect(),
        ..Survey::default()
    }
}

#[test]
fn each_wrong_reading_is_named_with_its_line() {
    let angle = Observed::Angle {
        from: "A".into(),
        to: "B".into(),
    };
    for (readings, expected) in [
        (
            vec![Reading::tape("A", "lower_pivot", 0.0)],
            "the tape from A to lower pivot (front.csv, line 2) is 0 mm: two different points are some distance apart",
        ),
        (
            vec![Reading {
                offset: -120.0,
                ..Reading::tape("A", "B", 100.0)
            }],
            "the tape from A to B (front.csv, line 2) is -20 mm",
        ),
        (
            vec![Reading::height("A", 10.0), Reading::tape("A", "A", 50.0)],
            "the tape from A to A (front.csv, line 3): both ends are the same point",
        ),
        (
            vec![Reading::height("A", f64::NAN)],
            "the height of A (front.csv, line 2): the number is not finite",
        ),
        (
            vec![Reading::height("A", 10.0).with_deviation(0.0)],
            "the height of A (front.csv, line 2): its standard deviation is 0, which is not greater than zero",
        ),
        (
            vec![Reading::new(angle, 1.7)],
            "the angle to level of the line from A to B (front.csv, line 2) is 97.4 deg, which is beyond straight up or down",
        ),
        (
            vec![
                Reading::tape("A", "B", 300.0),
                Reading::tape("B", "C", 250.0),
                Reading::tape("A", "C", 600.0),
            ],
            "three tapes make no triangle: the tape from A to C (front.csv, line 4) is 600 mm, but the tape from A to B \
             (front.csv, line 2) and the tape from B to C (front.csv, line 3) are together only 550 mm",
        ),
    ] {
        let said = refused(&of(&readings));
        assert!(said.contains(expected), "{said}");
    }
}

#[test]
fn nothing_to_adjust_is_said() {
    assert_eq!(
        Survey::default().adjust().expect_err("empty"),
        SurveyError::NoReadings
    );
}

/// More than a car has: refused at once, not after minutes.
#[test]
fn a_survey_beyond_its_bounds_is_refused() {
    let many: Vec<Reading> = (0..81)
        .map(|number| Reading::height(&format!("P{number}"), 1.0))
        .collect();
    let said = refused(&of(&many));
    assert!(
        said.contains("81 points and 81 readings; one survey holds at most 80 and 800"),
        "{said}"
    );
}

#[test]
fn stated_coordinates_against_each_other_are_named() {
    let mut survey = of(&[Reading::tape("A", "B", 300.0)]);
    survey.fix("A", Axis::Z, 100.0);
    survey.fix("A", Axis::Z, 100.0);
    survey.fix("A", Axis::Z, 130.0);
    survey.fixed[0].label = "front.csv, line 7".into();
    survey.fixed[1].label = "front.csv, line 8".into();
    survey.fixed[2].label = "front.csv, line 9".into();
    let said = refused(&survey);
    assert!(
        said.contains("the height of A is stated twice: 100 mm (front.csv, line 8), 130 mm (front.csv, line 9). Keep the one that holds"),
        "{said}"
    );
    let mut survey = of(&[Reading::tape("A", "B", 300.0)]);
    survey.fix("A", Axis::Y, -100.0);
    survey.sides.insert("A".into(), kin_core::pickups::Side::Left);
    assert!(
        refused(&survey).contains("on the left of the car"),
        "{}",
        refused(&survey)
    );
}

/// A triangle that misses by no more than tapes do is flat, not refused.
#[test]
fn a_flat_triangle_within_the_tape_is_taken() {
    let mut survey = of(&[
        Reading::tape("A", "B", 300.0),
        Reading::tape("B", "C", 250.0),
        Reading::tape("A", "C", 552.0),
    ]);
    for (name, x) in [("A", 0.0), ("B", 301.0), ("C", 551.0)] {
        for (axis, value) in Axis::ALL.into_iter().zip([x, 20.0, 100.0]) {
            survey.readings.push(Reading::coordinate(name, axis, value));
        }
    }
    survey.adjust().expect("an adjustment");
}

/// No number makes it panic or hang, or gives a number that is none.
#[test]
fn any_numbers_end_in_an_answer_or_a_refusal() {
    let values = [1e-12, 1.0, 1e3, 1e12, 1e150, 1e300, f64::MAX, -1.0];
    for first in values {
        for second in values {
            let survey = of(&[
                Reading::tape("A", "B", first),
                Reading::height("A", second),
                Reading::height("B", first),
                Reading::offset("A", second),
                Reading::station("A", 1.0),
                Reading::station("B", second),
                Reading::offset("B", 4.0),
            ]);
            if let Ok(adjusted) = survey.adjust() {
                for name in ["A", "B"] {
                    let place = adjusted.place(name).expect("a place");
                    assert!(
                        place.iter().all(|coordinate| coordinate.is_finite()),
                        "{first} {second}"
                    );
                }
            }
        }
    }
}
