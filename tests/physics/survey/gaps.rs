//! What readings leave open, said in words, with what to measure.

use super::wagon_front;
use kin_core::survey::{Axis, Datum, MirrorImage, Reading, Survey, SurveyError};

fn gaps(survey: &Survey) -> Vec<String> {
    match survey.adjust() {
        Err(SurveyError::NotDetermined { gaps, .. }) => gaps.iter().map(ToString::to_string).collect(),
        other => panic!("{other:?}"),
    }
}

/// The survey of the corner without its readings of a point, but for some.
fn without(point: &str, keep: &[&str]) -> Survey {
    let mut survey = wagon_front::survey();
    survey.readings.retain(|reading| {
        !reading.observed.points().contains(&point) || keep.contains(&reading.label.as_str())
    });
    survey
}

#[test]
fn a_missing_height_is_asked_for() {
    // The inner joint of the tie rod with its offset and station alone.
    let said = gaps(&without("tie_rod_inner", &["reading 20", "reading 21"]));
    assert_eq!(
        said,
        [
            "nothing fixes the height of tie rod inner: measure it from the floor, or tape tie rod inner to two more points"
        ]
    );
    // And once it is measured, nothing is asked for.
    without("tie_rod_inner", &["reading 19", "reading 20", "reading 21"])
        .adjust()
        .expect("an adjustment");
}

#[test]
fn one_known_direction_is_told() {
    let said = gaps(&without("wheel_center", &["reading 25"]));
    assert_eq!(said.len(), 1);
    assert!(
        said[0]
            .contains("only one direction of wheel center is fixed, 1.0 up: measure its station and offset"),
        "{said:?}"
    );
}

#[test]
fn a_single_tape_leaves_two_directions() {
    let said = gaps(&without("wheel_center", &["reading 56"]));
    assert!(
        said[0].contains("only one direction of wheel center is fixed"),
        "{said:?}"
    );
}

#[test]
fn points_that_move_together_are_one_gap() {
    // A triangle of tapes that hangs on nothing but one height.
    let mut survey = without("nothing", &[]);
    for (from, to, length) in [("P", "Q", 300.0), ("Q", "R", 400.0), ("R", "P", 500.0)] {
        survey.readings.push(Reading::tape(from, to, length));
    }
    survey.readings.push(Reading::height("P", 250.0));
    let said = gaps(&survey);
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(
        said[0].starts_with("P, Q and R can still move together: measure the"),
        "{said:?}"
    );
}

#[test]
fn too_few_readings_are_counted() {
    let mut survey = Survey::default();
    survey.readings.push(Reading::height("P", 250.0));
    survey.readings.push(Reading::tape("P", "Q", 350.0));
    for (name, x) in [("Q", 0.0), ("R", 900.0)] {
        for (axis, value) in Axis::ALL.into_iter().zip([x, 0.0, 0.0]) {
            survey.fix(name, axis, value);
        }
    }
    let said = survey.adjust().expect_err("too few").to_string();
    assert!(
        said.starts_with("the 2 readings are too few for 3 coordinates; nothing fixes P along"),
        "{said}"
    );
}

/// Three marks on the floor in tape's reach and no height: the fold above the floor is meant.
#[test]
fn a_car_stands_above_its_floor() {
    let marks = [("m1", [0.0, 0.0]), ("m2", [1_400.0, 0.0]), ("m3", [600.0, 900.0])];
    let truth = kin_core::pickups::Point::new(500.0, 400.0, 300.0);
    let mut survey = Survey::default();
    for (name, [x, y]) in marks {
        for (axis, value) in Axis::ALL.into_iter().zip([x, y, 0.0]) {
            survey.fix(name, axis, value);
        }
        let place = kin_core::pickups::Point::new(x, y, 0.0);
        survey
            .readings
            .push(Reading::tape(name, "pivot", (truth - place).norm()));
    }
    let adjusted = survey.adjust().expect("an adjustment");
    assert!((adjusted.place("pivot").expect("a place") - truth).norm() < 1e-6);
    assert_eq!(*adjusted.mirror_image(), MirrorImage::AboveFloor);
    assert_eq!(adjusted.datum(), Datum::Stated);
    // Nothing is left over to test anything with.
    assert_eq!(adjusted.redundancy(), 0);
    assert!(adjusted.sigma0().is_none() && adjusted.global_test().is_none());
    assert_eq!(adjusted.unchecked().count(), 3);
}
