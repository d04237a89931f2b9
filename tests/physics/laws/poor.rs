//! Poor geometry gives an error or a position that holds, never NaN and never a panic.

use super::random::{hold, wild_axle, wild_corner};
use kin_core::curves::{AxleCurve, CornerCurve};
use kin_core::{Along, Axle, AxleAlong, AxleTravel, Corner};
use proptest::prelude::*;
use std::cell::Cell;

fn count(tally: &Cell<usize>) {
    tally.set(tally.get() + 1);
}

#[test]
fn corners() {
    let (solved, refused) = (Cell::new(0), Cell::new(0));
    hold(
        500,
        (wild_corner(), -300.0..300.0_f64, -80.0..80.0_f64),
        |(pickups, travel, rack)| {
            let corner = match Corner::new(&pickups) {
                Ok(corner) => corner,
                Err(error) => {
                    prop_assert!(!error.to_string().contains("NaN"), "{error}");
                    return Ok(());
                }
            };
            match corner.at(travel, rack) {
                Ok(position) => {
                    count(&solved);
                    prop_assert!(
                        position.rod_residual() <= 1e-9,
                        "{:e} mm",
                        position.rod_residual()
                    );
                    prop_assert!((position.wheel_centre().z - pickups.wheel.centre.z - travel).abs() <= 1e-9);
                    for curve in CornerCurve::ALL {
                        let numbers = [
                            curve.value(&position),
                            curve.rate(&position, Along::Travel),
                            curve.rate(&position, Along::Rack),
                        ];
                        prop_assert!(
                            numbers.into_iter().flatten().all(f64::is_finite),
                            "{curve:?}: {numbers:?}"
                        );
                    }
                }
                Err(error) => {
                    count(&refused);
                    prop_assert!(!error.to_string().contains("NaN"), "{error}");
                }
            }
            Ok(())
        },
    );
    let (solved, refused) = (solved.get(), refused.get());
    assert!(
        solved >= 30 && refused >= 30,
        "{solved} solved, {refused} refused"
    );
}

#[test]
fn axles() {
    let (solved, refused, unheld) = (Cell::new(0), Cell::new(0), Cell::new(0));
    hold(
        500,
        (wild_axle(), -200.0..200.0_f64, -150.0..150.0_f64),
        |(pickups, heave, roll)| {
            let axle = match Axle::new(&pickups) {
                Ok(axle) => axle,
                Err(error) => {
                    count(&unheld);
                    prop_assert!(!error.to_string().contains("NaN"), "{error}");
                    return Ok(());
                }
            };
            match axle.at(AxleTravel::from_heave(heave, roll)) {
                Ok(position) => {
                    count(&solved);
                    for (name, stretch) in position.link_stretch() {
                        prop_assert!(stretch.is_finite(), "{name}");
                        prop_assert!(
                            axle.is_held_too_much() || stretch.abs() <= 1e-9,
                            "{name}: {stretch:e} mm"
                        );
                    }
                    for curve in AxleCurve::ALL {
                        let numbers = [
                            curve.value(&position),
                            curve.rate(&position, AxleAlong::Heave),
                            curve.rate(&position, AxleAlong::Roll),
                        ];
                        prop_assert!(
                            numbers.into_iter().flatten().all(f64::is_finite),
                            "{curve:?}: {numbers:?}"
                        );
                    }
                }
                Err(error) => {
                    count(&refused);
                    prop_assert!(!error.to_string().contains("NaN"), "{error}");
                }
            }
            Ok(())
        },
    );
    let (solved, refused, unheld) = (solved.get(), refused.get(), unheld.get());
    assert!(
        solved >= 30 && refused >= 10 && unheld >= 30,
        "{solved} solved, {refused} refused, {unheld} not held"
    );
}
