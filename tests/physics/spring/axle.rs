//! An axle whose wheels carry different weights.

use super::support::close;
use kin_core::checks::{
    GRAVITY, RideHeightQuestion, SeatPosition, SpringRide, SprungLoad, check_axle_ride_height,
};
use kin_core::curves::AxleCurve;
use kin_core::pickups::AxleSides;
use kin_core::{Axle, AxleTravel, samples};

fn carrying(mass: f64, seat: SeatPosition) -> RideHeightQuestion {
    RideHeightQuestion {
        load: SprungLoad::of_sprung_mass(mass),
        seat,
        ..RideHeightQuestion::default()
    }
}

fn both(axle: &Axle, masses: [f64; 2], seat: SeatPosition) -> [SpringRide; 2] {
    let sides = AxleSides {
        left: carrying(masses[0], seat),
        right: Some(carrying(masses[1], seat)),
    };
    let rides = check_axle_ride_height(axle, &sides).expect("an answer");
    rides
        .try_into()
        .unwrap_or_else(|rides| panic!("two unlike sides: {rides:?}"))
}

/// Energy of both springs and both weights (N mm), from lengths alone.
fn energy(axle: &Axle, masses: [f64; 2], travel: AxleTravel) -> f64 {
    let position = axle.at(travel).expect("within reach");
    let springs = axle.pickups().springs.as_ref().expect("springs");
    let sides = [
        (AxleCurve::DamperLengthLeft, &springs.left, travel.left, masses[0]),
        (
            AxleCurve::DamperLengthRight,
            springs.right.as_ref().expect("written out"),
            travel.right,
            masses[1],
        ),
    ];
    sides
        .iter()
        .map(|(curve, spring, travel, mass)| {
            let length = curve.value(&position).expect("a damper");
            let free = spring.free_length.expect("given");
            let compression = free - (length - spring.upper_seat - spring.lower_seat);
            // A wheel that rises lets the body down.
            0.5 * spring.rate * compression * compression - mass * GRAVITY * travel
        })
        .sum()
}

#[test]
fn unlike_weights_come_to_rest_where_the_energy_is_least() {
    let axle = Axle::new(&samples::wagon_rear()).expect("a good axle");
    for masses in [[322.0, 352.0], [380.0, 290.0], [300.0, 330.0]] {
        let [left, right] = both(&axle, masses, SeatPosition::AsSet);
        let (left, right) = (
            left.standing.expect("a balance"),
            right.standing.expect("a balance"),
        );
        let at = |left, right| energy(&axle, masses, AxleTravel { left, right });
        let step = 0.05;
        // N: the slope of the energy with each wheel's travel; differences of 0.05 mm leave errors of their square
        // times a third rate far below 0.1 N/mm^2.
        let slopes = [
            (at(left.travel + step, right.travel) - at(left.travel - step, right.travel)) / (2.0 * step),
            (at(left.travel, right.travel + step) - at(left.travel, right.travel - step)) / (2.0 * step),
        ];
        for slope in slopes {
            close(slope, 0.0, 1e-3);
        }
        let heavier_left = masses[0] > masses[1];
        assert_eq!(left.travel > right.travel, heavier_left);
    }
}

#[test]
fn each_side_gets_the_seat_that_levels_the_axle() {
    let axle = Axle::new(&samples::wagon_rear()).expect("a good axle");
    let [left, right] = both(&axle, [380.0, 300.0], SeatPosition::ForRideHeight);
    for ride in [&left, &right] {
        close(ride.standing.expect("a balance").travel, 0.0, 1e-8);
    }
    assert!(left.needed.force > right.needed.force);
    assert!(
        left.needed.seat > right.needed.seat,
        "the heavier side needs its seat higher"
    );
    assert_eq!(
        (left.spring.as_str(), right.spring.as_str()),
        ("left spring", "right spring")
    );
}

#[test]
fn swapped_weights_swap_the_sides() {
    let axle = Axle::new(&samples::wagon_rear()).expect("a good axle");
    let [left, right] = both(&axle, [380.0, 300.0], SeatPosition::AsSet);
    let [mirrored_left, mirrored_right] = both(&axle, [300.0, 380.0], SeatPosition::AsSet);
    for (one, other) in [(&left, &mirrored_right), (&right, &mirrored_left)] {
        let (one, other) = (
            one.standing.expect("a balance"),
            other.standing.expect("a balance"),
        );
        close(one.travel, other.travel, 1e-8);
        close(one.force, other.force, 1e-6);
        close(one.wheel_rate.total(), other.wheel_rate.total(), 1e-8);
    }
}
