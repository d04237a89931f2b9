//! A mirrored car has mirrored curves.

use super::random::{axle, corner, hold, travel_within};
use kin_core::curves::{AxleCurve, CornerCurve};
use kin_core::pickups::{AxleSides, Damper, LiveAxle, Spring, mirrored};
use kin_core::{Along, Axle, AxleAlong, AxleTravel, Corner};
use proptest::prelude::*;

/// The same steps are done on the mirror image, so not a bit may differ.
#[test]
fn corners() {
    hold(
        60,
        (corner(), -1.0..1.0_f64, -15.0..15.0_f64),
        |(pickups, share, rack)| {
            let (one, other) = (pickups.clone(), pickups.mirrored());
            let (one, other) = (
                Corner::new(&one).expect("a corner"),
                Corner::new(&other).expect("a corner"),
            );
            prop_assert_ne!(one.side(), other.side());
            let travel = travel_within(one.reach(), share, 80.0, 15.0);
            let here = one.at(travel, rack).expect("within reach");
            let there = other.at(travel, -rack).expect("within reach");
            prop_assert_eq!((here.travel(), here.rack()), (there.travel(), -there.rack()));
            for curve in CornerCurve::ALL {
                prop_assert_eq!(curve.value(&here), curve.value(&there), "{:?}", curve);
                let rates = |along| (curve.rate(&here, along), curve.rate(&there, along));
                let (left, right) = rates(Along::Travel);
                prop_assert_eq!(left, right, "{:?} along travel", curve);
                let (left, right) = rates(Along::Rack);
                prop_assert_eq!(left, right.map(|rate| -rate), "{:?} along rack", curve);
            }
            for (point, image) in [
                (here.upper_ball_joint(), there.upper_ball_joint()),
                (here.lower_ball_joint(), there.lower_ball_joint()),
                (here.tie_rod_inner(), there.tie_rod_inner()),
                (here.tie_rod_outer(), there.tie_rod_outer()),
                (here.wheel_centre(), there.wheel_centre()),
                (here.contact_point(), there.contact_point()),
                (here.spin_axis(), there.spin_axis()),
            ] {
                prop_assert_eq!(point, mirrored(&image));
            }
            Ok(())
        },
    );
}

fn other_side<T: Clone>(sides: &AxleSides<T>, mirrored: impl Fn(&T) -> T) -> AxleSides<T> {
    AxleSides {
        left: mirrored(sides.right.as_ref().expect("a right side")),
        right: Some(mirrored(&sides.left)),
    }
}

/// The axle seen in a mirror: what was on the left is on the right. Links keep their names.
fn mirror_image(axle: &LiveAxle) -> LiveAxle {
    let mut image = axle.clone();
    for link in image.links.values_mut() {
        link.body = mirrored(&link.body);
        link.axle = mirrored(&link.axle);
    }
    image.wheels.left = mirrored(&axle.wheels.right.expect("a right wheel"));
    image.wheels.right = Some(mirrored(&axle.wheels.left));
    let damper = |sides: &AxleSides<Damper>| other_side(sides, Damper::mirrored);
    image.coilovers = axle.coilovers.as_ref().map(damper);
    let spring = |sides: &AxleSides<Spring>| other_side(sides, Spring::mirrored);
    image.springs = axle.springs.as_ref().map(spring);
    image
}

/// How an axle curve changes in a mirror: to another curve, with a sign.
fn image_of(curve: AxleCurve) -> Option<(AxleCurve, f64)> {
    use AxleCurve as C;
    Some(match curve {
        C::RollAngle | C::AxleSteer | C::LateralShift => (curve, -1.0),
        C::RollSteer | C::PinionAngle | C::ForeAftShift | C::RollCentreHeight | C::AxleCentreSlope => {
            (curve, 1.0)
        }
        C::DamperLengthLeft => (C::DamperLengthRight, 1.0),
        C::DamperLengthRight => (C::DamperLengthLeft, 1.0),
        C::MotionRatioLeft => (C::MotionRatioRight, 1.0),
        C::MotionRatioRight => (C::MotionRatioLeft, 1.0),
        C::MotionRatioRollLeft => (C::MotionRatioRollRight, 1.0),
        C::MotionRatioRollRight => (C::MotionRatioRollLeft, 1.0),
        C::WheelRateLeft => (C::WheelRateRight, 1.0),
        C::WheelRateRight => (C::WheelRateLeft, 1.0),
        C::WheelRateRollLeft => (C::WheelRateRollRight, 1.0),
        C::WheelRateRollRight => (C::WheelRateRollLeft, 1.0),
        // These are those of the left wheel.
        _ => return None,
    })
}

#[test]
fn axles() {
    hold(
        60,
        (axle(), -60.0..60.0_f64, -40.0..40.0_f64),
        |(pickups, heave, roll)| {
            let (one, other) = (
                Axle::new(&pickups).expect("an axle"),
                Axle::new(&mirror_image(&pickups)).expect("an axle"),
            );
            let at = |left, right| AxleTravel { left, right };
            let (left, right) = (heave + roll, heave - roll);
            let here = one.at(at(left, right)).expect("within reach");
            let there = other.at(at(right, left)).expect("within reach");
            let mut compared = 0;
            for curve in AxleCurve::ALL {
                let Some((image, sign)) = image_of(curve) else {
                    continue;
                };
                let close =
                    |found: f64, expected: f64| (found - expected).abs() <= 1e-9 * expected.abs().max(1.0);
                let (value, other) = (curve.value(&here), image.value(&there));
                let (Some(value), Some(other)) = (value, other) else {
                    prop_assert_eq!(value, other, "{:?}", curve);
                    continue;
                };
                prop_assert!(close(value, sign * other), "{curve:?}: {value} and {other}");
                // What rolls left in one rolls right in the other.
                for (along, turned) in [(AxleAlong::Heave, 1.0), (AxleAlong::Roll, -1.0)] {
                    let (rate, other) = (curve.rate(&here, along), image.rate(&there, along));
                    let (Some(rate), Some(other)) = (rate, other) else {
                        prop_assert_eq!(rate, other, "{:?}", curve);
                        continue;
                    };
                    prop_assert!(
                        close(rate, turned * sign * other),
                        "{curve:?} along {along:?}: {rate} and {other}"
                    );
                }
                compared += 1;
            }
            prop_assert_eq!(compared, 18);
            Ok(())
        },
    );
}
