//! Every exact rate equals a difference of its curve.
//!
//! The tolerance, 2e-7 of the slope (or of the value over a metre, where that is more), leaves room for curves that grow
//! fast. Where the differences over two steps disagree by ten times that, the curve runs off to infinity nearby and they
//! are no witness; such places are counted, and must be few.

use super::difference::Slope;
use super::random::{axle, corner, hold, travel_within};
use kin_core::curves::{AxleCurve, CornerCurve};
use kin_core::{Along, Axle, AxleAlong, AxleTravel, Corner};
use proptest::prelude::*;
use std::cell::Cell;

const TOLERANCE: f64 = 2e-7;
const METRE: f64 = 1_000.0;
/// Slopes below this (per mm) are compared with it.
const SMALL: f64 = 1e-5;

/// How many comparisons were made, and how many were left out near infinity.
#[derive(Default)]
struct Tally {
    compared: Cell<usize>,
    near_infinity: Cell<usize>,
}

impl Tally {
    fn compare(
        &self,
        exact: f64,
        value: f64,
        curve: impl Fn(f64) -> Option<f64>,
        label: &str,
    ) -> Result<(), TestCaseError> {
        let count = |tally: &Cell<usize>| tally.set(tally.get() + 1);
        let Some(difference) = Slope::of(curve) else {
            count(&self.near_infinity);
            return Ok(());
        };
        let slope = difference.extrapolated();
        let tolerance = TOLERANCE * slope.abs().max(value.abs() / METRE).max(SMALL);
        if (difference.fine - difference.coarse).abs() > 10.0 * tolerance {
            count(&self.near_infinity);
            return Ok(());
        }
        count(&self.compared);
        let miss = (exact - slope).abs();
        prop_assert!(
            miss <= tolerance,
            "{label}: rate {exact:e}, difference {slope:e} (off by {miss:e})"
        );
        Ok(())
    }

    fn finish(&self, least: usize) {
        let (compared, skipped) = (self.compared.get(), self.near_infinity.get());
        assert!(compared >= least, "only {compared} rates compared");
        // Two in a hundred places of random corners lie near an instant centre at infinity; twice as many would mean that
        // the differences fail elsewhere.
        assert!(
            25 * skipped <= compared,
            "{skipped} rates left out beside {compared} compared"
        );
    }
}

#[test]
fn rates_of_a_corner() {
    let tally = Tally::default();
    hold(
        240,
        (corner(), -1.0..1.0_f64, -15.0..15.0_f64),
        |(pickups, share, rack)| {
            let corner = Corner::new(&pickups).expect("a corner");
            let travel = travel_within(corner.reach(), share, 80.0, 30.0);
            let position = corner.at(travel, rack).expect("within reach");
            for curve in CornerCurve::ALL {
                let Some(value) = curve.value(&position) else {
                    continue;
                };
                for along in [Along::Travel, Along::Rack] {
                    let Some(rate) = curve.rate(&position, along) else {
                        prop_assert_eq!(curve, CornerCurve::WheelRate);
                        continue;
                    };
                    let beside = |step: f64| {
                        let (travel, rack) = match along {
                            Along::Travel => (travel + step, rack),
                            Along::Rack => (travel, rack + step),
                        };
                        curve.value(&corner.at(travel, rack).expect("within reach"))
                    };
                    let label = format!("{curve:?} along {along:?}");
                    tally.compare(rate, value, beside, &label)?;
                }
            }
            Ok(())
        },
    );
    tally.finish(1_000);
}

#[test]
fn rates_of_an_axle() {
    let tally = Tally::default();
    hold(
        60,
        (axle(), -1.0..1.0_f64, -40.0..40.0_f64),
        |(pickups, share, roll)| {
            let axle = Axle::new(&pickups).expect("an axle");
            let heave = travel_within(axle.reach(), share, 80.0, 60.0);
            let position = axle
                .at(AxleTravel::from_heave(heave, roll))
                .expect("within reach");
            for curve in AxleCurve::ALL {
                let Some(value) = curve.value(&position) else {
                    continue;
                };
                for along in [AxleAlong::Heave, AxleAlong::Roll] {
                    let Some(rate) = curve.rate(&position, along) else {
                        prop_assert!(curve.info().key.starts_with("wheel_rate"), "{:?}", curve);
                        continue;
                    };
                    let beside = |step: f64| {
                        let travel = match along {
                            AxleAlong::Heave => AxleTravel::from_heave(heave + step, roll),
                            AxleAlong::Roll => AxleTravel::from_heave(heave, roll + step),
                        };
                        curve.value(&axle.at(travel).expect("within reach"))
                    };
                    let label = format!("{curve:?} along {along:?}");
                    tally.compare(rate, value, beside, &label)?;
                }
            }
            Ok(())
        },
    );
    tally.finish(1_000);
}

/// The first rates stored with a pose belong to the pose one correction before it and may differ by 1e-11 of themselves
/// (the solver's own rule); ten times that is allowed.
const STORED: f64 = 1e-10;

/// A motion ratio is minus the rate of the damper's length, and roll steer the quotient of two rates.
#[test]
fn ratios_are_rates() {
    hold(40, (corner(), -1.0..1.0_f64), |(pickups, share)| {
        let corner = Corner::new(&pickups).expect("a corner");
        let travel = travel_within(corner.reach(), share, 80.0, 10.0);
        let position = corner.at(travel, 0.0).expect("within reach");
        for (ratio, length) in [
            (CornerCurve::MotionRatio, CornerCurve::DamperLength),
            (CornerCurve::SpringMotionRatio, CornerCurve::SpringLength),
        ] {
            let ratio = ratio.value(&position).expect("a value");
            let rate = length.rate(&position, Along::Travel).expect("a rate");
            prop_assert!((ratio + rate).abs() <= STORED, "{ratio} and {rate}");
        }
        Ok(())
    });
    hold(40, (axle(), -40.0..40.0_f64), |(pickups, roll)| {
        use AxleCurve as C;
        let axle = Axle::new(&pickups).expect("an axle");
        let position = axle.at(AxleTravel::from_heave(20.0, roll)).expect("within reach");
        let rate = |curve: C, along| curve.rate(&position, along).expect("a rate");
        for (ratio, length, along, sign) in [
            (C::MotionRatioLeft, C::DamperLengthLeft, AxleAlong::Heave, -1.0),
            (C::MotionRatioRight, C::DamperLengthRight, AxleAlong::Heave, -1.0),
            (C::MotionRatioRollLeft, C::DamperLengthLeft, AxleAlong::Roll, -1.0),
            // Its own wheel goes down in this roll.
            (
                C::MotionRatioRollRight,
                C::DamperLengthRight,
                AxleAlong::Roll,
                1.0,
            ),
        ] {
            let ratio = ratio.value(&position).expect("a value");
            let rate = rate(length, along);
            prop_assert!((ratio - sign * rate).abs() <= STORED, "{ratio} and {rate}");
        }
        let steer = rate(C::AxleSteer, AxleAlong::Roll) / rate(C::RollAngle, AxleAlong::Roll);
        let found = C::RollSteer.value(&position).expect("a value");
        prop_assert!((found - steer).abs() <= STORED, "{found} and {steer}");
        Ok(())
    });
}
