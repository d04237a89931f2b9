//! Every number of a description, one after the other, replaced by one that makes no sense.

use super::{axle_refused, corner_refused, full_axle, full_corner};
use kin_core::checks::{DamperStroke, StrokeQuestion, check_axle_stroke, check_corner_stroke};
use kin_core::curves::{AxleCurve, CornerCurve};
use kin_core::pickups::{DoubleWishbone, LiveAxle, Measured};
use kin_core::{Along, Axle, AxleAlong, AxleTravel, Corner, samples};
use serde::Serialize;
use serde_json::Value;

/// How many numbers there are.
fn count<M: Measured>(model: &mut M) -> usize {
    let mut count = 0;
    model.visit(&mut |_, _| count += 1);
    count
}

/// The model with one of its numbers replaced.
fn replaced<M: Measured + Clone>(model: &M, place: usize, change: impl Fn(f64) -> f64) -> M {
    let mut other = model.clone();
    let mut here = 0;
    other.visit(&mut |value, _| {
        if here == place {
            *value = change(*value);
        }
        here += 1;
    });
    other
}

/// The path of the number at a place, as messages write it, from where two models differ as files.
fn path_of<M: Measured + Clone + Serialize>(model: &M, place: usize) -> String {
    let other = replaced(model, place, |value| value + 0.123_456);
    let written = |model: &M| serde_json::to_value(model).expect("a model that can be written");
    difference(&written(model), &written(&other), String::new()).expect("a difference")
}

fn difference(one: &Value, other: &Value, path: String) -> Option<String> {
    match (one, other) {
        (Value::Object(fields), Value::Object(others)) => fields.iter().find_map(|(key, value)| {
            let dot = if path.is_empty() { "" } else { "." };
            difference(value, &others[key], format!("{path}{dot}{key}"))
        }),
        (Value::Array(items), Value::Array(others)) if items.first().is_some_and(Value::is_number) => {
            let changed = items.iter().zip(others).position(|(item, other)| item != other)?;
            Some(format!("{path} {}", ["x", "y", "z"][changed]))
        }
        (Value::Array(items), Value::Array(others)) => items
            .iter()
            .zip(others)
            .enumerate()
            .find_map(|(place, (item, other))| difference(item, other, format!("{path}[{place}]"))),
        _ => (one != other).then_some(path),
    }
}

#[test]
fn a_number_that_is_none_is_named() {
    let mut corner = full_corner();
    let numbers = count(&mut corner);
    assert!(numbers > 50, "only {numbers} numbers");
    let mut axle = full_axle();
    let axle_numbers = count(&mut axle);
    assert!(axle_numbers > 60, "only {axle_numbers} numbers");
    for (bad, shown) in [
        (f64::NAN, "NaN"),
        (f64::INFINITY, "inf"),
        (f64::NEG_INFINITY, "-inf"),
    ] {
        for place in 0..numbers {
            let path = path_of(&corner, place);
            let text = corner_refused(&replaced(&corner, place, |_| bad));
            assert_eq!(text, format!("`{path}` is {shown}: give a finite number"));
        }
        for place in 0..axle_numbers {
            let path = path_of(&axle, place);
            let text = axle_refused(&replaced(&axle, place, |_| bad));
            assert_eq!(text, format!("`{path}` is {shown}: give a finite number"));
        }
    }
}

type Change = fn(f64) -> f64;

const CHANGES: [Change; 8] = [
    |_| 0.0,
    |value| -value,
    |_| 1e30,
    |_| f64::MIN_POSITIVE,
    |_| -f64::MIN_POSITIVE,
    |_| f64::MAX,
    |value| value * 25.4,
    |value| value / 25.4,
];

fn sound(text: &str, label: &str) {
    assert!(!text.is_empty() && !text.contains("NaN"), "{label}: {text}");
}

fn sound_stroke(answer: &DamperStroke, label: &str) {
    let budget = &answer.budget;
    let numbers = [
        Some(budget.length_at_ride),
        Some(budget.motion_ratio_at_ride),
        Some(budget.stroke_used_at_ride),
        budget.bump_to_stop,
        budget.bump_to_metal,
        budget.droop_to_top_out,
        budget.bump_share(),
        answer.first_in_bump.1,
        answer.first_in_droop.1,
        Some(answer.mock_up.at_ride),
        Some(answer.mock_up.at_stop_contact),
        Some(answer.mock_up.at_full_droop),
    ];
    assert!(
        numbers.into_iter().flatten().all(f64::is_finite),
        "{label}: {answer:?}"
    );
    for finding in &answer.findings {
        sound(&finding.to_string(), label);
        let numbers = [finding.value, finding.limit, finding.margin];
        assert!(numbers.into_iter().all(f64::is_finite), "{label}: {finding:?}");
    }
}

/// Builds, moves and checks a corner; whatever is refused is refused in words.
fn try_corner(pickups: &DoubleWishbone, label: &str) {
    let corner = match Corner::new(pickups) {
        Ok(corner) => corner,
        Err(error) => return sound(&error.to_string(), label),
    };
    for (travel, rack) in [(0.0, 0.0), (40.0, 0.0), (-35.0, 6.0)] {
        let position = match corner.at(travel, rack) {
            Ok(position) => position,
            Err(error) => {
                sound(&error.to_string(), label);
                continue;
            }
        };
        assert!(position.rod_residual() <= 1e-9, "{label}");
        for curve in CornerCurve::ALL {
            let rate = |along| curve.rate(&position, along);
            let numbers = [curve.value(&position), rate(Along::Travel), rate(Along::Rack)];
            assert!(
                numbers.into_iter().flatten().all(f64::is_finite),
                "{label}: {curve:?}"
            );
        }
    }
    match check_corner_stroke(&corner, &StrokeQuestion::default()) {
        Ok(answer) => sound_stroke(&answer, label),
        Err(error) => sound(&error.to_string(), label),
    }
}

fn try_axle(pickups: &LiveAxle, label: &str) {
    let axle = match Axle::new(pickups) {
        Ok(axle) => axle,
        Err(error) => return sound(&error.to_string(), label),
    };
    for (heave, roll) in [(0.0, 0.0), (40.0, 0.0), (-35.0, 25.0)] {
        let position = match axle.at(AxleTravel::from_heave(heave, roll)) {
            Ok(position) => position,
            Err(error) => {
                sound(&error.to_string(), label);
                continue;
            }
        };
        let stretch = position.link_stretch();
        assert!(stretch.values().all(|stretch| stretch.is_finite()), "{label}");
        for curve in AxleCurve::ALL {
            let rate = |along| curve.rate(&position, along);
            let numbers = [
                curve.value(&position),
                rate(AxleAlong::Heave),
                rate(AxleAlong::Roll),
            ];
            assert!(
                numbers.into_iter().flatten().all(f64::is_finite),
                "{label}: {curve:?}"
            );
        }
    }
    match check_axle_stroke(&axle, &StrokeQuestion::default()) {
        Ok(answers) => answers.iter().for_each(|answer| sound_stroke(answer, label)),
        Err(error) => sound(&error.to_string(), label),
    }
}

#[test]
fn no_number_of_a_corner_is_too_much() {
    for mut corner in [
        full_corner(),
        samples::bench_rig(),
        samples::wagon_front().mirrored(),
    ] {
        for place in 0..count(&mut corner) {
            for (which, change) in CHANGES.into_iter().enumerate() {
                let label = format!("{} with change {which}", path_of(&corner, place));
                try_corner(&replaced(&corner, place, change), &label);
            }
        }
    }
}

#[test]
fn no_number_of_an_axle_is_too_much() {
    let mut bound = crate::closed_form::axle::parallel_links();
    bound.coilovers = full_axle().coilovers;
    for mut axle in [full_axle(), bound] {
        for place in 0..count(&mut axle) {
            for (which, change) in CHANGES.into_iter().enumerate() {
                let label = format!("{} with change {which}", path_of(&axle, place));
                try_axle(&replaced(&axle, place, change), &label);
            }
        }
    }
}
