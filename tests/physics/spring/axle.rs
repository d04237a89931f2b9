//! An axle whose wheels carry different weights.

use super::support::close;
use kin_core::checks::{
    GRAVITY, LoadPoint, RideHeightQuestion, SeatPosition, SpringRide, SprungLoad, check_axle_ride_height,
};
use kin_core::curves::AxleCurve;
use kin_core::pickups::AxleSides;
use kin_core::{Axle, AxleTravel, samples};

fn carrying(mass: f64, seat: SeatPosition, load_point: LoadPoint) -> RideHeightQuestion {
    RideHeightQuestion {
        load: SprungLoad::of_sprung_mass(mass),
        load_point,
        seat,
        ..RideHeightQuestion::default()
    }
}

fn both(axle: &Axle, masses: [f64; 2], seat: SeatPosition, load_point: LoadPoint) -> [SpringRide; 2] {
    let sides = AxleSides {
        left: carrying(masses[0], seat, load_point),
        right: Some(carrying(masses[1], seat, load_point)),
    };
    let rides = check_axle_ride_height(axle, &sides).expect("an answer");
    rides
        .try_into()
        .unwrap_or_else(|rides| panic!("two unlike sides: {rides:?}"))
}

/// Energy of both springs and both weights (N mm), from lengths and heights alone.
fn energy(axle: &Axle, masses: [f64; 2], travel: AxleTravel, load_point: LoadPoint) -> f64 {
    let position = axle.at(travel).expect("within reach");
    let springs = axle.pickups().springs.as_ref().expect("springs");
    let contact = position.contact_points();
    let sides = [
        (
            AxleCurve::DamperLengthLeft,
            &springs.left,
            travel.left,
            contact.0.z,
            masses[0],
        ),
        (
            AxleCurve::DamperLengthRight,
            springs.right.as_ref().expect("written out"),
            travel.right,
            contact.1.z,
            masses[1],
        ),
    ];
    sides
        .iter()
        .map(|(curve, spring, travel, contact, mass)| {
            let length = curve.value(&position).expect("a damper");
            let free = spring.free_length.expect("given");
            let compression = free - (length - spring.upper_seat - spring.lower_seat);
            let height = match load_point {
                LoadPoint::WheelCentre => travel,
                LoadPoint::ContactPoint => contact,
            };
            // A wheel that rises lets the body down.
            0.5 * spring.rate * compression * compression - mass * GRAVITY * height
        })
        .sum()
}

#[test]
fn unlike_weights_come_to_rest_where_the_energy_is_least() {
    let axle = Axle::new(&samples::wagon_rear()).expect("a good axle");
    for load_point in [LoadPoint::WheelCentre, LoadPoint::ContactPoint] {
        for masses in [[322.0, 352.0], [380.0, 290.0], [300.0, 330.0]] {
            let [left, right] = both(&axle, masses, SeatPosition::AsSet, load_point);
            let (left, right) = (
                left.standing.expect("a balance"),
                right.standing.expect("a balance"),
            );
            let at = |left, right| energy(&axle, masses, AxleTravel { left, right }, load_point);
            let step = 0.05;
            // N: the slope of the energy with each wheel's travel. Energies of 1e6 N mm round to 1e-10 of themselves
            // and differences of 0.05 mm err by the square of that times a third rate below 0.1 N/mm^2.
            let slopes = [
                (at(left.travel + step, right.travel) - at(left.travel - step, right.travel)) / (2.0 * step),
                (at(left.travel, right.travel + step) - at(left.travel, right.travel - step)) / (2.0 * step),
            ];
            for slope in slopes {
                close(slope, 0.0, 1e-3);
            }
            assert_eq!(left.travel > right.travel, masses[0] > masses[1]);
        }
    }
}

#[test]
fn each_side_gets_the_seat_that_levels_the_axle() {
    let axle = Axle::new(&samples::wagon_rear()).expect("a good axle");
    let [left, right] = both(
        &axle,
        [380.0, 300.0],
        SeatPosition::ForRideHeight,
        LoadPoint::WheelCentre,
    );
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
    let [left, right] = both(&axle, [380.0, 300.0], SeatPosition::AsSet, LoadPoint::WheelCentre);
    let [mirrored_left, mirrored_right] =
        both(&axle, [300.0, 380.0], SeatPosition::AsSet, LoadPoint::WheelCentre);
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
