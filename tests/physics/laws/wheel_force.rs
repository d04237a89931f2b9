//! A wheel rate is the slope of the wheel force: spring force times motion ratio, against the wheel's own travel.

use super::difference::Slope;
use super::random::{axle, corner, hold, travel_within};
use kin_core::curves::{AxleCurve, CornerCurve};
use kin_core::pickups::{Point, Spring};
use kin_core::{Along, Axle, AxleAlong, AxleTravel, Corner};
use proptest::prelude::*;

/// Force of a spring between its ends (N): rate times what it is shorter than free.
fn force(spring: &Spring, (upper, lower): (Point, Point)) -> f64 {
    let installed = (upper - lower).norm() - spring.upper_seat - spring.lower_seat;
    let free = spring.free_length.expect("a free length");
    (spring.rate * (free - installed)).max(0.0)
}

#[test]
fn wheel_rate_of_a_corner() {
    hold(60, (corner(), -1.0..1.0_f64), |(mut pickups, share)| {
        let spring = pickups.spring.as_mut().expect("a spring");
        // Long enough to be loaded everywhere: a spring that comes loose has a kink.
        spring.free_length = Some(700.0);
        let corner = Corner::new(&pickups).expect("a corner");
        let spring = pickups.spring.as_ref().expect("a spring");
        let travel = travel_within(corner.reach(), share, 80.0, 30.0);
        let wheel_force = |step: f64| {
            let position = corner.at(travel + step, 0.0).expect("within reach");
            let length = CornerCurve::SpringLength.rate(&position, Along::Travel);
            Some(-length? * force(spring, position.spring_ends()?))
        };
        let expected = Slope::of(wheel_force).expect("a slope").extrapolated();
        let position = corner.at(travel, 0.0).expect("within reach");
        let found = CornerCurve::WheelRate.value(&position).expect("a value");
        let miss = (found - expected).abs();
        prop_assert!(
            miss <= 1e-7 * expected.abs().max(1.0),
            "{found} is not {expected} N/mm"
        );
        Ok(())
    });
}

#[test]
fn wheel_rates_of_an_axle() {
    use AxleCurve as C;
    hold(
        60,
        (axle(), -40.0..40.0_f64, -40.0..40.0_f64),
        |(mut pickups, heave, roll)| {
            let springs = pickups.springs.as_mut().expect("springs");
            for spring in std::iter::once(&mut springs.left).chain(&mut springs.right) {
                spring.free_length = Some(700.0);
            }
            let axle = Axle::new(&pickups).expect("an axle");
            let given = axle.pickups().springs.as_ref().expect("springs");
            let springs = [&given.left, given.right.as_ref().expect("a right spring")];
            let position = axle
                .at(AxleTravel::from_heave(heave, roll))
                .expect("within reach");
            for (curve, side, along) in [
                (C::WheelRateLeft, 0, AxleAlong::Heave),
                (C::WheelRateRight, 1, AxleAlong::Heave),
                (C::WheelRateRollLeft, 0, AxleAlong::Roll),
                (C::WheelRateRollRight, 1, AxleAlong::Roll),
            ] {
                let spring = springs[side];
                // A wheel's own travel: up with the others in heave; in roll the right wheel goes up as the left goes down.
                let own = |step: f64| match (along, side) {
                    (AxleAlong::Heave, _) => AxleTravel::from_heave(heave + step, roll),
                    (AxleAlong::Roll, 0) => AxleTravel::from_heave(heave, roll + step),
                    (AxleAlong::Roll, _) => AxleTravel::from_heave(heave, roll - step),
                };
                let length = |step: f64| {
                    let ends = axle.at(own(step)).expect("within reach").spring_ends();
                    let (upper, lower) = ends.expect("springs")[side];
                    (upper - lower).norm()
                };
                // Wheel force from energy: minus the slope of the spring's energy, here as a second difference of it.
                let energy = |step: f64| {
                    let free = spring.free_length.expect("a free length");
                    let squeezed = free - (length(step) - spring.upper_seat - spring.lower_seat);
                    0.5 * spring.rate * squeezed * squeezed
                };
                // Second difference over five points; 5 mm steps: truncation about 1e-8, round-off about 1e-8 of k m^2.
                let h = 5.0;
                let sum = |distance: f64| energy(distance) + energy(-distance);
                let expected = (16.0 * sum(h) - sum(2.0 * h) - 30.0 * energy(0.0)) / (12.0 * h * h);
                let found = curve.value(&position).expect("a value");
                let miss = (found - expected).abs();
                prop_assert!(
                    miss <= 1e-6 * spring.rate,
                    "{curve:?}: {found} is not {expected} N/mm (off by {miss:e})"
                );
            }
            Ok(())
        },
    );
}
