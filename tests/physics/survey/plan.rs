//! Measurement plans.

use super::wagon_front;
use kin_core::samples;
use kin_core::survey::{Basis, DefaultDeviations, MeasurementPlan, Observed};
use std::collections::BTreeSet;

#[test]
fn a_corner_is_planned_point_by_point() {
    let plan = MeasurementPlan::double_wishbone(&samples::wagon_front(), DefaultDeviations::default())
        .expect("a plan");
    assert!(plan.steps[0].heading.contains("lower arm"));
    assert_eq!(
        plan.steps.last().map(|step| step.points()),
        Some(vec!["wheel.centre"])
    );
    // No tape runs to a point that is not planned by then.
    let mut known = BTreeSet::new();
    for step in &plan.steps {
        known.extend(step.points());
        for reading in &step.readings {
            assert!(
                reading
                    .observed
                    .points()
                    .iter()
                    .all(|point| known.contains(point)),
                "{}",
                reading.words()
            );
        }
    }
    assert_eq!(known.len(), 11);
    // No reading twice.
    let distinct: BTreeSet<String> = plan
        .readings()
        .map(|reading| format!("{:?}", reading.observed))
        .collect();
    assert_eq!(distinct.len(), plan.readings().count());
    assert_eq!(plan.expected.readings().len(), plan.readings().count());
}

/// The plan's promise against what the invented survey of this corner came to: same points, much the same readings.
#[test]
fn the_expected_accuracy_is_that_of_a_survey_taken_so() {
    let plan = MeasurementPlan::double_wishbone(&samples::wagon_front(), DefaultDeviations::default())
        .expect("a plan");
    let mut survey = wagon_front::survey();
    survey
        .readings
        .retain(|reading| !["reading 16", "reading 52"].contains(&reading.label.as_str()));
    let adjusted = survey.adjust().expect("an adjustment");
    for (key, name) in [
        ("lower_arm.ball_joint", "lower_ball_joint"),
        ("upper_arm.rear_pivot", "upper_rear_pivot"),
        ("coilover.upper_mount", "damper_upper"),
        ("wheel.centre", "wheel_center"),
    ] {
        let expected = plan
            .expected
            .standard_deviations(key, Basis::APriori)
            .expect("deviations");
        let found = adjusted
            .standard_deviations(name, Basis::APriori)
            .expect("deviations");
        for (expected, found) in expected.iter().zip(found.iter()) {
            assert!(
                (expected / found - 1.0).abs() < 0.15,
                "{key}: {expected} and {found}"
            );
        }
    }
}

#[test]
fn an_axle_is_planned_with_both_sides() {
    for axle in [samples::wagon_rear(), samples::pickup_rear()] {
        let plan = MeasurementPlan::live_axle(&axle, DefaultDeviations::default()).expect("a plan");
        let points: BTreeSet<&str> = plan.steps.iter().flat_map(|step| step.points()).collect();
        for name in axle.links.keys() {
            for end in ["body", "axle"] {
                assert!(
                    points.contains(format!("links.{name}.{end}").as_str()),
                    "{name} {end}"
                );
            }
        }
        assert!(points.contains("wheels.left") && points.contains("wheels.right"));
        // Every tape is checked by others.
        let tapes = plan.expected.readings().iter().filter(|judged| {
            let reading = plan.expected.reading(judged.index).expect("a reading");
            matches!(reading.observed, Observed::Distance { .. })
        });
        for tape in tapes {
            assert!(tape.redundancy > 0.1, "{tape:?}");
        }
    }
}
