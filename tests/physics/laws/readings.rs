//! The readings of a sweep are the curves and the points of its positions.

use super::random::{axle, corner, hold, travel_within};
use kin_core::curves::{AxleCurve, CornerCurve};
use kin_core::{Along, Axle, AxleAlong, AxleTravel, Corner};
use proptest::prelude::*;

/// Rates that came with the solution, beside those found anew at the very pose: this share of the rate, or of the whole
/// motion of which a rate is a part. The solver's last correction is 1e-11 of the carrier's size, and rates belong to
/// the pose before it; ten times that is allowed.
const SAME_RATE: f64 = 1e-10;
/// The whole motion is 1 mm for each mm of travel, or a turn by that on an arm of 300 mm, the solver's own lever.
const WHOLE_LENGTH: f64 = 1.0;
/// See [`WHOLE_LENGTH`] (rad/mm).
const WHOLE_TURN: f64 = 1.0 / 300.0;

fn same_rate(found: f64, expected: f64, whole: f64) -> bool {
    (found - expected).abs() <= SAME_RATE * expected.abs().max(whole)
}

#[test]
fn readings_of_a_corner_are_its_curves_and_points() {
    hold(
        60,
        (corner(), -1.0..1.0_f64, -20.0..20.0_f64),
        |(pickups, share, rack)| {
            let corner = Corner::new(&pickups).expect("a corner");
            let travel = travel_within(corner.reach(), share, 80.0, 25.0);
            let Ok(position) = corner.at(travel, rack) else {
                return Err(TestCaseError::reject("out of reach with this rack displacement"));
            };
            let readings = position.readings();
            prop_assert_eq!(readings.upper_ball_joint, position.upper_ball_joint());
            prop_assert_eq!(readings.lower_ball_joint, position.lower_ball_joint());
            prop_assert_eq!(readings.tie_rod_outer, position.tie_rod_outer());
            prop_assert_eq!(readings.wheel_centre, position.wheel_centre());
            let damper_ends = position.damper_ends();
            prop_assert_eq!(readings.damper_lower_mount, damper_ends.map(|(_, lower)| lower));
            for (found, curve, whole) in [
                (Some(readings.camber), CornerCurve::Camber, WHOLE_TURN),
                (Some(readings.toe), CornerCurve::Toe, WHOLE_TURN),
                (Some(readings.caster), CornerCurve::Caster, WHOLE_TURN),
                (readings.damper_length, CornerCurve::DamperLength, WHOLE_LENGTH),
            ] {
                prop_assert_eq!(found.map(|found| found.value), curve.value(&position));
                let (found, rate) = (found.expect("a reading"), curve.rate(&position, Along::Travel));
                let rate = rate.expect("a rate");
                prop_assert!(
                    same_rate(found.rate, rate, whole),
                    "{curve:?}: {} is not {rate}",
                    found.rate
                );
            }
            let ratio = CornerCurve::MotionRatio.value(&position).expect("a damper");
            prop_assert!(same_rate(
                readings.motion_ratio().expect("a damper"),
                ratio,
                WHOLE_LENGTH
            ));
            Ok(())
        },
    );
}

#[test]
fn readings_of_an_axle_are_its_curves_and_its_pose() {
    let asked = (-60.0..60.0_f64, -40.0..40.0_f64);
    hold(60, (axle(), asked), |(pickups, (heave, half_difference))| {
        let axle = Axle::new(&pickups).expect("an axle");
        let travel = AxleTravel::from_heave(heave, half_difference);
        let position = axle.at(travel).expect("within reach");
        let readings = position.readings();
        prop_assert_eq!(readings.displacement, position.pose().displacement());
        prop_assert_eq!(readings.rotation, position.pose().rotation());
        let [left, right] = readings.damper_lengths.expect("dampers");
        let mut found = vec![
            (readings.steer, AxleCurve::AxleSteer, WHOLE_TURN),
            (readings.roll, AxleCurve::RollAngle, WHOLE_TURN),
            (left, AxleCurve::DamperLengthLeft, WHOLE_LENGTH),
            (right, AxleCurve::DamperLengthRight, WHOLE_LENGTH),
        ];
        if let Some(as_measured) = axle.pickups().pinion {
            let mut pinion = readings.pinion_nose_up_change;
            pinion.value += as_measured.nose_up.to_radians();
            found.push((pinion, AxleCurve::PinionAngle, WHOLE_TURN));
        }
        for (found, curve, whole) in found {
            prop_assert_eq!(Some(found.value), curve.value(&position));
            for (found, along) in [
                (found.in_heave, AxleAlong::Heave),
                (found.in_roll, AxleAlong::Roll),
            ] {
                let rate = curve.rate(&position, along).expect("a rate");
                prop_assert!(
                    same_rate(found, rate, whole),
                    "{curve:?} along {along:?}: {found} is not {rate}"
                );
            }
            let [by_left, by_right] = found.by_wheel();
            prop_assert!((by_left + by_right - found.in_heave).abs() < 1e-15);
            prop_assert!((by_left - by_right - found.in_roll).abs() < 1e-15);
        }
        Ok(())
    });
}
