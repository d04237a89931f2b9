//! The survey cases of `tests/reference` (section F): a separate program with 60 decimal digits.

use crate::reference::case::{list, load, number, point};
use kin_core::pickups::Point;
use kin_core::survey::{Adjustment, Axis, Basis, Reading, Survey};
use serde_json::Value;

/// Demanded of coordinates (mm); both programs iterate to round-off.
const COORDINATES: f64 = 1e-5;
/// Demanded of standard deviations and the like (relative).
const RELATIVE: f64 = 1e-6;

pub(super) fn survey(file: &Value) -> Survey {
    let mut survey = Survey::default();
    for fixed in list(file, "fixed_coordinates") {
        let axis = match fixed[1].as_str().expect("an axis") {
            "x" => Axis::X,
            "y" => Axis::Y,
            _ => Axis::Z,
        };
        survey.fix(
            fixed[0].as_str().expect("a name"),
            axis,
            fixed[2].as_f64().expect("a value"),
        );
    }
    let text = |value: &Value, key: &str| value[key].as_str().expect("a name").to_owned();
    for (index, seen) in list(file, "observations").iter().enumerate() {
        let value = number(seen, "value");
        let reading = match text(seen, "type").as_str() {
            "distance" => Reading::tape(&text(seen, "from"), &text(seen, "to"), value),
            "height" => Reading::height(&text(seen, "point"), value),
            other => panic!("{other}"),
        };
        let reading = reading.with_deviation(number(seen, "sd"));
        survey
            .readings
            .push(reading.with_label(format!("observation {index}")));
    }
    let sketch = file["approximate_coordinates"].as_object().expect("a sketch");
    survey.sketch = sketch
        .keys()
        .map(|name| (name.clone(), point(&file["approximate_coordinates"], name)))
        .collect();
    survey
}

fn relative(found: f64, expected: f64, scale: f64, label: &str) {
    let miss = (found - expected).abs();
    assert!(
        miss <= RELATIVE * scale.abs().max(expected.abs()),
        "{label}: {found} is not {expected}"
    );
}

fn agrees(adjusted: &Adjustment, expected: &Value) {
    assert_eq!(
        adjusted.redundancy() as u64,
        expected["redundancy"].as_u64().expect("a count")
    );
    relative(adjusted.sum_of_squares(), number(expected, "vTPv"), 0.0, "vTPv");
    relative(
        adjusted.sigma0().expect("surplus"),
        number(expected, "sigma0_hat"),
        0.0,
        "sigma0",
    );
    for name in expected["adjusted"].as_object().expect("points").keys() {
        let place: Point = adjusted.place(name).expect("a place");
        let miss = (place - point(&expected["adjusted"], name)).norm();
        assert!(miss <= COORDINATES, "{name} is off by {miss:e} mm");
        let deviations = adjusted
            .standard_deviations(name, Basis::Scaled)
            .expect("deviations");
        let wanted = point(&expected["sd"], name);
        let covariance = adjusted
            .covariance(&[name], Basis::Scaled)
            .expect("a point")
            .expect("scaled");
        for row in 0..3 {
            relative(deviations[row], wanted[row], 0.0, name);
            for column in 0..3 {
                let value = expected["covariance"][name][row][column]
                    .as_f64()
                    .expect("a number");
                relative(
                    covariance[(row, column)],
                    value,
                    wanted[row] * wanted[column],
                    name,
                );
            }
        }
        // The two kinds of deviations differ by sigma0 and nothing else.
        let before = adjusted
            .standard_deviations(name, Basis::APriori)
            .expect("deviations");
        let scaled = before * adjusted.sigma0().expect("surplus");
        assert!((scaled - deviations).norm() < 1e-12);
    }
}

fn residuals_agree(adjusted: &Adjustment, expected: &Value) {
    let judged = adjusted.readings();
    let wanted = list(expected, "residuals");
    for (one, wanted) in judged.iter().zip(wanted) {
        let index = wanted["obs"].as_u64().expect("a number") as usize;
        assert_eq!(one.index, index);
        relative(one.residual, number(wanted, "residual"), 1.0, "residual");
        relative(
            one.redundancy,
            number(wanted, "redundancy_number"),
            0.0,
            "redundancy",
        );
        if let (Some(found), Some(wanted)) = (one.normalised, wanted["normalised_residual"].as_f64()) {
            relative(found, wanted, 1.0, "normalised residual");
        }
        if let (Some(found), Some(wanted)) = (one.mistake, wanted["estimated_blunder"].as_f64()) {
            relative(found, wanted, 1.0, "mistake");
        }
    }
    assert_eq!(judged.len(), wanted.len());
}

#[test]
fn frame_points_agree() {
    let file = load("F_s1_frame_points");
    let adjusted = survey(&file).adjust().expect("an adjustment");
    agrees(&adjusted, &file["result"]);
    residuals_agree(&adjusted, &file["result"]);
}

#[test]
fn floor_marks_agree_with_and_without_the_mistaken_reading() {
    let file = load("F_s2_floor_marks_blunder");
    let adjusted = survey(&file).adjust().expect("an adjustment");
    agrees(&adjusted, &file["result"]);
    residuals_agree(&adjusted, &file["result"]);

    let planted = file["planted_blunder"]["obs"].as_u64().expect("a number") as usize;
    let suspect = adjusted.suspect(3.5).expect("a suspect");
    assert_eq!(suspect.index, planted);
    let size = number(&file["planted_blunder"], "size");
    assert!((suspect.mistake - size).abs() < 3.0 * suspect.mistake_deviation);

    let without = survey(&file).adjust_rejecting(3.5).expect("an adjustment");
    assert_eq!(without.rejected().len(), 1);
    assert_eq!(without.rejected()[0].index, planted);
    agrees(&without, &file["result_without_blunder_observation"]);
}

/// The same places are found without the approximate coordinates: the floor marks and heights tell all.
#[test]
fn floor_marks_need_no_sketch() {
    let file = load("F_s2_floor_marks_blunder");
    let mut survey = survey(&file);
    survey.sketch.clear();
    agrees(&survey.adjust().expect("an adjustment"), &file["result"]);
}

/// Without a sketch the frame fits as its mirror image too, which is said; with the sides stated it is decided.
#[test]
fn a_frame_without_a_sketch_is_told_from_its_mirror_by_its_sides() {
    use kin_core::pickups::Side;
    use kin_core::survey::MirrorImage;
    let file = load("F_s1_frame_points");
    let mut survey = survey(&file);
    survey.sketch.clear();
    let adjusted = survey.adjust().expect("an adjustment");
    assert!(
        matches!(adjusted.mirror_image(), MirrorImage::Undecided { .. }),
        "{:?}",
        adjusted.mirror_image()
    );
    for (name, side) in [("C", Side::Left), ("E", Side::Right)] {
        survey.sides.insert(name.into(), side);
    }
    let adjusted = survey.adjust().expect("an adjustment");
    // Sides tell left from right; front from rear is still open.
    assert!(matches!(adjusted.mirror_image(), MirrorImage::Undecided { .. }));
    survey.sketch.insert("B".into(), Point::new(-150.0, 350.0, 180.0));
    let adjusted = survey.adjust().expect("an adjustment");
    assert_eq!(*adjusted.mirror_image(), MirrorImage::BySketch);
    agrees(&adjusted, &file["result"]);
}
