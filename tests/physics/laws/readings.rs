//! The readings of a sweep are the curves and the points of its positions.

use super::random::{axle, corner, hold, travel_within};
use kin_core::curves::{AxleCurve, CornerCurve};
use kin_core::{Along, Axle, AxleAlong, AxleTravel, Corner};
use proptest::prelude::*;

/// Rates that came with the solution, and those found anew at the very pose: of the greater of the rate and
/// [`SMALL`].
const SAME_RATE: f64 = 1e-10;
const SMALL: f64 = 1e-3;

fn same_rate(found: f64, expected: f64) -> bool {
    (found - expected).abs() <= SAME_RATE * expected.abs().max(SMALL)
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
            for (found, curve) in [
                (Some(readings.camber), CornerCurve::Camber),
                (Some(readings.toe), CornerCurve::Toe),
                (Some(readings.caster), CornerCurve::Caster),
                (readings.damper_length, CornerCurve::DamperLength),
            ] {
                prop_assert_eq!(found.map(|found| found.value), curve.value(&position));
                let (found, rate) = (found.expect("a reading"), curve.rate(&position, Along::Travel));
                let rate = rate.expect("a rate");
                prop_assert!(
                    same_rate(found.rate, rate),
                    "{curve:?}: {} is not {rate}",
                    found.rate
                );
            }
            let ratio = CornerCurve::MotionRatio.value(&position).expect("a damper");
            prop_assert!(same_rate(readings.motion_ratio().expect("a damper"), ratio));
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
            (readings.steer, AxleCurve::AxleSteer),
            (readings.roll, AxleCurve::RollAngle),
            (left, AxleCurve::DamperLengthLeft),
            (right, AxleCurve::DamperLengthRight),
        ];
        if let Some(as_measured) = axle.pickups().pinion {
            let mut pinion = readings.pinion_nose_up_change;
            pinion.value += as_measured.nose_up.to_radians();
            found.push((pinion, AxleCurve::PinionAngle));
        }
        for (found, curve) in found {
            prop_assert_eq!(Some(found.value), curve.value(&position));
            for (found, along) in [
                (found.in_heave, AxleAlong::Heave),
                (found.in_roll, AxleAlong::Roll),
            ] {
                let rate = curve.rate(&position, along).expect("a rate");
                prop_assert!(
                    same_rate(found, rate),
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
