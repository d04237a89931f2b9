//! Left against right.

use kin_core::pickups::Point;
use kin_core::survey::{Adjustment, Axis, Basis, Reading, Straightness, Survey, Symmetry};

/// Four wheel centres read from the strings, each with the same deviation.
fn wheels(places: [(&str, [f64; 3]); 4], deviation: f64) -> Adjustment {
    let mut survey = Survey::default();
    for (name, place) in places {
        for (axis, value) in Axis::ALL.into_iter().zip(place) {
            survey
                .readings
                .push(Reading::coordinate(name, axis, value).with_deviation(deviation));
        }
    }
    survey.adjust().expect("an adjustment")
}

const NAMES: [&str; 4] = ["front left", "front right", "rear left", "rear right"];

fn car(rear_turned: f64, deviation: f64) -> Adjustment {
    let (sin, cos) = rear_turned.sin_cos();
    wheels(
        [
            (NAMES[0], [0.0, 750.0, 320.0]),
            (NAMES[1], [0.0, -750.0, 320.0]),
            (NAMES[2], [-2700.0 - 740.0 * sin, 740.0 * cos, 315.0]),
            (NAMES[3], [-2700.0 + 740.0 * sin, -740.0 * cos, 315.0]),
        ],
        deviation,
    )
}

fn compared(adjusted: &Adjustment) -> Symmetry {
    Symmetry::compare(
        adjusted,
        None,
        &[("front left", "front right"), ("rear left", "rear right")],
        Some(NAMES),
        5.0,
        Basis::APriori,
    )
    .expect("a comparison")
}

/// A rear axle turned to the left by an angle points there by that angle; the wheelbase differs by the track times its sine.
#[test]
fn a_turned_axle_is_seen_as_thrust_angle() {
    let angle = 0.4_f64.to_radians();
    let thrust = compared(&car(angle, 0.5)).thrust.expect("four wheels");
    assert!((thrust.thrust_angle - angle).abs() < 1e-9);
    assert!((thrust.difference - 2.0 * 740.0 * angle.sin()).abs() < 1e-6);
    // Four independent stations of 0.5 mm.
    assert!((thrust.difference_deviation - 1.0).abs() < 1e-9);
    // By hand: stations across a track of 1480 mm, offsets at the ends of a wheelbase of 2700 mm.
    let by_hand = ((0.5 * 2.0_f64.sqrt() / 1480.0).powi(2) + (0.5 / 2700.0_f64).powi(2)).sqrt();
    assert!(
        (thrust.thrust_deviation - by_hand).abs() < 0.01 * by_hand,
        "{} {by_hand}",
        thrust.thrust_deviation
    );
    assert_eq!(thrust.wheelbase_left - thrust.wheelbase_right, thrust.difference);
}

#[test]
fn straightness_needs_readings_that_can_tell() {
    assert_eq!(compared(&car(0.0, 0.5)).verdict(), Straightness::Straight);
    // The difference of two readings of 5 mm is known to 7 mm: 5 mm cannot be told.
    let coarse = compared(&car(0.0, 5.0));
    assert_eq!(coarse.verdict(), Straightness::CannotTell);
    assert!(coarse.sentence().to_string().contains("too coarse"));
    let crooked = compared(&car(0.01, 0.5));
    assert_eq!(crooked.verdict(), Straightness::Crooked);
    let said = crooked.sentence().to_string();
    assert!(
        said.starts_with("NOT straight enough")
            && said.contains("the station of rear left against rear right, -14.8 mm"),
        "{said}"
    );
}

#[test]
fn two_surveys_add_their_variances() {
    let (left, right) = (car(0.0, 0.3), car(0.0, 0.4));
    let pairs = [("front left", "front right")];
    let symmetry =
        Symmetry::compare(&left, Some(&right), &pairs, None, 5.0, Basis::APriori).expect("a comparison");
    assert!((symmetry.pairs[0].deviations - Point::new(0.5, 0.5, 0.5)).amax() < 1e-12);
    assert!(symmetry.thrust.is_none());
    let unknown = Symmetry::compare(
        &left,
        None,
        &[("front left", "nowhere")],
        None,
        5.0,
        Basis::APriori,
    );
    assert!(
        unknown
            .expect_err("unknown")
            .to_string()
            .contains("no point `nowhere`")
    );
}

/// A common error of both points does not count as a difference: here both heights hang on one point, itself poorly known.
#[test]
fn correlation_counts_in_one_survey() {
    let mut survey = Survey::default();
    for (name, y) in [("left", 500.0), ("right", -500.0), ("middle", 0.0)] {
        survey.readings.push(Reading::offset(name, y));
        survey.readings.push(Reading::station(name, 0.0));
    }
    survey
        .readings
        .push(Reading::height("middle", 300.0).with_deviation(10.0));
    for name in ["left", "right"] {
        survey
            .readings
            .push(Reading::difference(name, Axis::Z, "middle", 50.0).with_deviation(0.5));
    }
    let adjusted = survey.adjust().expect("an adjustment");
    let symmetry = Symmetry::compare(&adjusted, None, &[("left", "right")], None, 5.0, Basis::APriori);
    let pair = &symmetry.expect("a comparison").pairs[0];
    assert!(
        (pair.deviations.z - 0.5 * 2.0_f64.sqrt()).abs() < 1e-9,
        "{}",
        pair.deviations
    );
}
