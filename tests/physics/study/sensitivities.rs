//! Every exact sensitivity equals a difference of its outcome.
//!
//! Differences over five points at 0.25 and 0.5 mm, extrapolated, are witnesses to about 1e-9 of a smooth outcome; the
//! tolerance is 1e-6 of the sensitivity, or of the outcome over a metre where that is more. Where the two differences
//! disagree by ten times that, a singular place is near and they are no witness: such places are counted and must be few.

use crate::laws::difference::Slope;
use crate::laws::random::{axle, corner, hold};
use kin_core::checks::ClearanceQuestion;
use kin_core::curves::{AxleCurve, CornerCurve};
use kin_core::pickups::{RideHeight, Side};
use kin_core::study::{Outcome, Reading, Station, StrokeReading, Subject};
use kin_core::{Along, AxleAlong};
use proptest::prelude::*;
use std::cell::Cell;

const TOLERANCE: f64 = 1e-6;
const METRE: f64 = 1_000.0;
/// Sensitivities below this (core units per mm) are compared with it.
const SMALL: f64 = 1e-6;

#[derive(Default)]
struct Tally {
    compared: Cell<usize>,
    left_out: Cell<usize>,
}

impl Tally {
    /// Compares the sensitivities of an outcome with differences, for some numbers of the description.
    fn compare(&self, subject: &Subject, outcome: &Outcome, places: &[usize]) -> Result<(), TestCaseError> {
        let count = |tally: &Cell<usize>| tally.set(tally.get() + 1);
        let built = subject
            .build()
            .map_err(|error| TestCaseError::reject(error.to_string()))?;
        let Ok(value) = outcome.value(&built) else {
            count(&self.left_out);
            return Ok(());
        };
        let exact = outcome
            .gradient(subject, &built, places)
            .map_err(|error| TestCaseError::fail(format!("{}: {error}", outcome.words())))?;
        for (place, exact) in places.iter().zip(exact) {
            let at = |change: f64| {
                let built = subject.changed(&[(*place, change)]).build().ok()?;
                outcome.value(&built).ok()
            };
            let Some(difference) = Slope::of(at) else {
                count(&self.left_out);
                continue;
            };
            let slope = difference.extrapolated();
            let tolerance = TOLERANCE * slope.abs().max(value.abs() / METRE).max(SMALL);
            if (difference.fine - difference.coarse).abs() > 10.0 * tolerance {
                count(&self.left_out);
                continue;
            }
            count(&self.compared);
            let name = &subject.numbers()[*place].name;
            prop_assert!(
                (exact - slope).abs() <= tolerance,
                "{} by {name}: exact {exact:e}, difference {slope:e}",
                outcome.words()
            );
        }
        Ok(())
    }

    fn finish(&self, least: usize) {
        let (compared, left_out) = (self.compared.get(), self.left_out.get());
        assert!(compared >= least, "only {compared} sensitivities compared");
        assert!(10 * left_out <= compared, "{left_out} left out of {compared}");
    }
}

/// Three numbers of a description, chosen by shares of one.
fn chosen(subject: &Subject, shares: &[f64]) -> Vec<usize> {
    let count = subject.numbers().len();
    shares
        .iter()
        .map(|share| ((share * count as f64) as usize).min(count - 1))
        .collect()
}

fn ride(kind: usize, length: f64) -> Option<RideHeight> {
    match kind {
        0 => None,
        1 => Some(RideHeight {
            travel: Some(4.0),
            ..RideHeight::default()
        }),
        2 => Some(RideHeight {
            hub_to_lip: Some(400.0),
            hub_to_lip_as_measured: Some(407.0),
            ..RideHeight::default()
        }),
        _ => Some(RideHeight {
            damper_length: Some(length),
            ..RideHeight::default()
        }),
    }
}

#[test]
fn of_every_curve_of_a_corner() {
    let tally = Tally::default();
    let places = proptest::collection::vec(0.0..1.0_f64, 3);
    let values = (corner(), places, -8.0..8.0_f64, -3.0..3.0_f64, 0..4_usize);
    hold(60, values, |(mut pickups, shares, bump, rack, kind)| {
        let length = pickups
            .any_damper()
            .map_or(0.0, |damper| (damper.upper_mount - damper.lower_mount).norm());
        pickups.ride_height = ride(kind, length - 2.0);
        let subject = Subject::from(pickups);
        let places = chosen(&subject, &shares);
        let station = Station {
            bump,
            rack,
            roll: 0.0,
        };
        for curve in CornerCurve::ALL {
            tally.compare(
                &subject,
                &Outcome::At(Reading::Corner(curve, None), station),
                &places,
            )?;
        }
        for along in [Along::Travel, Along::Rack] {
            for curve in [
                CornerCurve::Toe,
                CornerCurve::MotionRatio,
                CornerCurve::RollCentreHeight,
            ] {
                tally.compare(
                    &subject,
                    &Outcome::At(Reading::Corner(curve, Some(along)), station),
                    &places,
                )?;
            }
        }
        Ok(())
    });
    tally.finish(3_000);
}

#[test]
fn of_every_curve_of_an_axle() {
    let tally = Tally::default();
    let places = proptest::collection::vec(0.0..1.0_f64, 2);
    let values = (axle(), places, -15.0..15.0_f64, -0.02..0.02_f64, 0..3_usize);
    hold(40, values, |(mut pickups, shares, bump, roll, kind)| {
        pickups.ride_height = ride(kind, 0.0);
        let subject = Subject::from(pickups);
        let places = chosen(&subject, &shares);
        let station = Station {
            bump,
            rack: 0.0,
            roll,
        };
        for curve in AxleCurve::ALL {
            tally.compare(
                &subject,
                &Outcome::At(Reading::Axle(curve, None), station),
                &places,
            )?;
        }
        for along in [AxleAlong::Heave, AxleAlong::Roll] {
            let reading = Reading::Axle(AxleCurve::AxleSteer, Some(along));
            tally.compare(&subject, &Outcome::At(reading, station), &places)?;
        }
        Ok(())
    });
    tally.finish(1_200);
}

#[test]
fn of_the_travel_left_and_of_ranges() {
    let tally = Tally::default();
    for (kind, side) in [
        (0, Side::Left),
        (1, Side::Right),
        (2, Side::Left),
        (3, Side::Right),
    ] {
        let mut pickups = kin_core::samples::wagon_front();
        pickups.ride_height = ride(kind, 316.0);
        if side == Side::Right {
            pickups = pickups.mirrored();
        }
        let subject = Subject::from(pickups);
        // Every fifth number, others for each way of giving ride height.
        let places: Vec<usize> = (kind..subject.numbers().len()).step_by(5).collect();
        let toe = Reading::Corner(CornerCurve::Toe, None);
        let roll_centre = Reading::Corner(CornerCurve::RollCentreHeight, None);
        let mut outcomes = vec![
            Outcome::Change(toe, -50.0, 50.0),
            Outcome::Spread(toe, -50.0, 50.0),
            Outcome::Spread(toe, -50.0, 75.0),
            Outcome::Least(roll_centre, -40.0, 40.0),
            Outcome::Greatest(toe, -40.0, 40.0),
        ];
        outcomes.extend(StrokeReading::ALL.map(|reading| Outcome::Stroke(reading, Side::Left)));
        for outcome in &outcomes {
            tally.compare(&subject, outcome, &places).expect("equal");
        }
    }
    let subject = Subject::from(kin_core::samples::pickup_rear());
    let places: Vec<usize> = (0..subject.numbers().len()).step_by(3).collect();
    for side in [Side::Left, Side::Right] {
        for reading in StrokeReading::ALL {
            tally
                .compare(&subject, &Outcome::Stroke(reading, side), &places)
                .expect("equal");
        }
    }
    tally.finish(400);
}

/// The coilover, an arm's leg, the tie rod and the tyre against obstacles on the body and on an arm, with steering.
fn corner_gaps() -> Vec<ClearanceQuestion> {
    let question = |parts: serde_json::Value, obstacles: serde_json::Value, lock: f64| {
        serde_json::from_value(serde_json::json!({
            "parts": parts, "obstacles": obstacles, "bump": 60.0, "droop": 50.0, "lock": lock
        }))
        .expect("a question")
    };
    let coilover = serde_json::json!([{ "name": "spring",
        "shape": { "along_damper": { "from_upper": 55.0, "from_lower": 75.0, "radius": 43.0 } } }]);
    let leg = serde_json::json!([{ "name": "leg",
        "shape": { "rod": { "from": "upper_arm.rear_pivot", "to": "upper_arm.ball_joint", "radius": 15.0, "short_of_to": 45.0 } } }]);
    let tie_rod = serde_json::json!([{ "name": "tie rod",
        "shape": { "rod": { "from": "tie_rod.inner", "to": "tie_rod.outer", "radius": 10.0 } } }]);
    let tyre = serde_json::json!([{ "name": "tyre", "shape": { "tyre": { "width": 215.0 } } }]);
    let lip = serde_json::json!([{ "name": "lip", "shape": { "tube": { "points": [[-150.0, 462.0, 412.0], [-60.0, 462.0, 412.0]], "radius": 3.0 } } }]);
    let rail = serde_json::json!([{ "name": "rail", "shape": { "box": { "centre": [0.0, 300.0, 330.0], "size": [700.0, 90.0, 120.0], "yaw": 4.0 } } }]);
    let tab = serde_json::json!([{ "name": "tab", "fixed_to": "lower_arm", "shape": { "sphere": { "centre": [60.0, 560.0, 260.0], "radius": 12.0 } } }]);
    vec![
        question(coilover.clone(), rail.clone(), 0.0),
        question(leg, lip, 0.0),
        question(tie_rod, rail.clone(), 30.0),
        question(tyre, rail, 30.0),
        question(coilover, tab, 0.0),
    ]
}

#[test]
fn of_the_least_gap() {
    let tally = Tally::default();
    for (kind, question) in corner_gaps().into_iter().enumerate() {
        let mut pickups = kin_core::samples::wagon_front();
        pickups.ride_height = ride(kind % 4, 316.0);
        let subject = Subject::from(pickups);
        let places: Vec<usize> = (kind % 2..subject.numbers().len()).step_by(2).collect();
        tally
            .compare(&subject, &Outcome::Gap(Box::new(question)), &places)
            .expect("equal");
    }
    let question = serde_json::from_value(serde_json::json!({
        "parts": [{ "name": "spring", "shape": { "along_damper": { "side": "left", "from_upper": 55.0, "from_lower": 73.0, "radius": 43.0 } } }],
        "obstacles": [{ "name": "pipe", "shape": { "tube": { "points": [[-2745.0, 375.5, 470.0], [-2855.0, 371.5, 528.0], [-2960.0, 409.5, 405.0]], "radius": 31.75 } } }],
        "bump": 50.0, "droop": 38.0
    }))
    .expect("a question");
    let subject = Subject::from(kin_core::samples::wagon_rear());
    let places: Vec<usize> = (0..subject.numbers().len()).step_by(2).collect();
    tally
        .compare(&subject, &Outcome::Gap(Box::new(question)), &places)
        .expect("equal");
    tally.finish(100);
}
