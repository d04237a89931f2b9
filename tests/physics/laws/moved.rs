//! Moving or scaling everything changes nothing that it should not.

use super::random::{axle, corner, hold, travel_within};
use kin_core::curves::{AxleCurve, CornerCurve};
use kin_core::pickups::{DoubleWishbone, LiveAxle, Measured, Point, Quantity};
use kin_core::{Along, Axle, AxleAlong, AxleTravel, Corner, Dimension};
use proptest::prelude::*;

/// Rounding of moved coordinates (1e-13 of a metre), carried through rates and instant centres some metres away.
const TOLERANCE: f64 = 1e-8;

fn close(found: f64, expected: f64) -> bool {
    (found - expected).abs() <= TOLERANCE * expected.abs().max(1.0)
}

fn shift_corner(corner: &mut DoubleWishbone, by: &Point) {
    for arm in [&mut corner.upper_arm, &mut corner.lower_arm] {
        for point in [&mut arm.front_pivot, &mut arm.rear_pivot, &mut arm.ball_joint] {
            *point += by;
        }
    }
    for point in [
        &mut corner.tie_rod.inner,
        &mut corner.tie_rod.outer,
        &mut corner.wheel.centre,
    ] {
        *point += by;
    }
    if let Some(damper) = &mut corner.coilover {
        damper.upper_mount += by;
        damper.lower_mount += by;
    }
    if let Some(spring) = &mut corner.spring {
        for point in spring.upper_mount.iter_mut().chain(&mut spring.lower_mount) {
            *point += by;
        }
    }
}

fn shift_axle(axle: &mut LiveAxle, by: &Point) {
    for link in axle.links.values_mut() {
        link.body += by;
        link.axle += by;
    }
    axle.wheels.left += by;
    if let Some(point) = &mut axle.wheels.right {
        *point += by;
    }
    if let Some(dampers) = &mut axle.coilovers {
        for damper in std::iter::once(&mut dampers.left).chain(&mut dampers.right) {
            damper.upper_mount += by;
            damper.lower_mount += by;
        }
    }
    if let Some(springs) = &mut axle.springs {
        for spring in std::iter::once(&mut springs.left).chain(&mut springs.right) {
            for point in spring.upper_mount.iter_mut().chain(&mut spring.lower_mount) {
                *point += by;
            }
        }
    }
}

/// What a curve of a corner becomes when everything is moved.
fn moved(curve: CornerCurve, value: f64, by: &Point, contact_y: f64) -> f64 {
    match curve {
        CornerCurve::FrontViewInstantCentreY => value + by.y,
        CornerCurve::SideViewInstantCentreX => value + by.x,
        // y dy/dz of the contact point
        CornerCurve::RollCentreHeight => value * (contact_y + by.y) / contact_y,
        _ => value,
    }
}

fn shifts() -> impl Strategy<Value = Point> {
    (-3_000.0..3_000.0_f64, 0.0..400.0_f64, -300.0..900.0_f64).prop_map(|(x, y, z)| Point::new(x, y, z))
}

#[test]
fn a_moved_corner() {
    hold(60, (corner(), shifts(), -1.0..1.0_f64), |(pickups, by, share)| {
        // A right corner lies at negative y and moves outboard too.
        let outboard = pickups.wheel.centre.y.signum();
        let mut other = pickups.clone();
        shift_corner(&mut other, &Point::new(by.x, outboard * by.y, by.z));
        let (one, other) = (
            Corner::new(&pickups).expect("a corner"),
            Corner::new(&other).expect("a corner"),
        );
        let travel = travel_within(one.reach(), share, 80.0, 15.0);
        let here = one.at(travel, 8.0).expect("within reach");
        let there = other.at(travel, 8.0).expect("within reach");
        let contact_y = here.contact_point().y.abs();
        for curve in CornerCurve::ALL {
            let (value, found) = (curve.value(&here), curve.value(&there));
            let (Some(value), Some(found)) = (value, found) else {
                prop_assert_eq!(value, found, "{:?}", curve);
                continue;
            };
            let expected = moved(curve, value, &by, contact_y);
            prop_assert!(close(found, expected), "{curve:?}: {found} is not {expected}");
            if matches!(curve, CornerCurve::RollCentreHeight | CornerCurve::WheelRate) {
                continue;
            }
            for along in [Along::Travel, Along::Rack] {
                let rate = |position| curve.rate(position, along).expect("a rate");
                let (expected, found) = (rate(&here), rate(&there));
                prop_assert!(
                    close(found, expected),
                    "{curve:?} along {along:?}: {found}, not {expected}"
                );
            }
        }
        Ok(())
    });
}

#[test]
fn a_moved_axle() {
    hold(60, (axle(), shifts(), -60.0..60.0_f64), |(pickups, by, heave)| {
        let mut other = pickups.clone();
        shift_axle(&mut other, &by);
        let (one, other) = (
            Axle::new(&pickups).expect("an axle"),
            Axle::new(&other).expect("an axle"),
        );
        let travel = AxleTravel::from_heave(heave, 20.0);
        let here = one.at(travel).expect("within reach");
        let there = other.at(travel).expect("within reach");
        for curve in AxleCurve::ALL {
            let (value, found) = (curve.value(&here), curve.value(&there));
            let (Some(value), Some(found)) = (value, found) else {
                prop_assert_eq!(value, found, "{:?}", curve);
                continue;
            };
            let shifted = curve == AxleCurve::SideViewInstantCentreX;
            let expected = if shifted { value + by.x } else { value };
            prop_assert!(close(found, expected), "{curve:?}: {found} is not {expected}");
            for along in [AxleAlong::Heave, AxleAlong::Roll] {
                let (expected, found) = (curve.rate(&here, along), curve.rate(&there, along));
                let (Some(expected), Some(found)) = (expected, found) else {
                    continue;
                };
                prop_assert!(
                    close(found, expected),
                    "{curve:?} along {along:?}: {found}, not {expected}"
                );
            }
        }
        Ok(())
    });
}

/// How a value of a dimension grows when every length grows by `scale`, spring rates and angles staying.
fn grown(dimension: Dimension, value: f64, scale: f64) -> f64 {
    match dimension {
        Dimension::Length => value * scale,
        Dimension::Angle | Dimension::Ratio | Dimension::Rate => value,
        other => panic!("no curve is a {other:?}"),
    }
}

#[test]
fn a_scaled_corner() {
    // Grown any more, a tyre is refused as implausible.
    hold(
        60,
        (corner(), 0.6..2.2_f64, -1.0..1.0_f64),
        |(pickups, scale, share)| {
            let mut other = pickups.clone();
            other.visit(&mut |value, kind| {
                if kind == Quantity::Length {
                    *value *= scale;
                }
            });
            let (one, other) = (
                Corner::new(&pickups).expect("a corner"),
                Corner::new(&other).expect("a corner"),
            );
            let travel = travel_within(one.reach(), share, 80.0, 15.0);
            let here = one.at(travel, 6.0).expect("within reach");
            let there = other.at(scale * travel, scale * 6.0).expect("within reach");
            for curve in CornerCurve::ALL {
                let dimension = curve.info().dimension;
                let (value, found) = (curve.value(&here), curve.value(&there));
                let (Some(value), Some(found)) = (value, found) else {
                    // An instant centre some kilometres away may count as at infinity for one of them.
                    let one_sided = value.is_some() != found.is_some();
                    prop_assert!(
                        !one_sided || curve.info().key.contains("instant_centre"),
                        "{curve:?}"
                    );
                    continue;
                };
                let expected = grown(dimension, value, scale);
                prop_assert!(close(found, expected), "{curve:?}: {found} is not {expected}");
                for along in [Along::Travel, Along::Rack] {
                    let (rate, found) = (curve.rate(&here, along), curve.rate(&there, along));
                    let (Some(rate), Some(found)) = (rate, found) else {
                        continue;
                    };
                    let expected = grown(dimension, rate, scale) / scale;
                    prop_assert!(
                        close(found, expected),
                        "{curve:?} along {along:?}: {found}, not {expected}"
                    );
                }
            }
            // The reach grows with the linkage; some have none within a metre and a half of path.
            for (limit, grown) in [
                (one.reach().highest, other.reach().highest),
                (one.reach().lowest, other.reach().lowest),
            ] {
                if let (Some(limit), Some(grown)) = (limit, grown) {
                    prop_assert!(
                        (grown - scale * limit).abs() <= 1e-6,
                        "{grown} is not {scale} times {limit}"
                    );
                }
            }
            Ok(())
        },
    );
}
