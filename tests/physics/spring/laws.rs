//! Laws: the seat solve and the ride height solve are inverses, a mirrored car sits as high, and so on.

use super::support::{wagon_corner, wagon_front};
use kin_core::checks::{
    HelperSpring, LoadPoint, RideHeightQuestion, SeatPosition, SprungLoad, check_axle_ride_height,
    check_corner_ride_height,
};
use kin_core::pickups::{AxleSides, RideHeight};
use kin_core::{Axle, Corner, samples};
use proptest::prelude::*;

/// Travel after seat after travel (mm): the travel itself is found to 1e-10 mm.
const ROUND_TRIP_MM: f64 = 1e-8;

/// A tender that closes below what the car weighs on its spring, so that both branches of its force are met.
fn helper(kind: u8) -> Option<HelperSpring> {
    let rate = match kind {
        0 => return None,
        1 => 4.0,
        _ => 90.0,
    };
    Some(HelperSpring {
        rate,
        free_length: 70.0,
        solid_length: 25.0,
        divider: 5.0,
    })
}

fn at_ride(travel: f64) -> Option<RideHeight> {
    Some(RideHeight {
        travel: Some(travel),
        ..RideHeight::default()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_corner_with_the_seat_for_a_ride_height_sits_there(
        travel in -35.0..60.0_f64,
        mass in 250.0..550.0_f64,
        rate in 60.0..160.0_f64,
        kind in 0_u8..3,
        at_contact in any::<bool>(),
    ) {
        let mut pickups = samples::wagon_front();
        pickups.ride_height = at_ride(travel);
        pickups.stops.droop = None;
        pickups.spring.as_mut().expect("a spring").rate = rate;
        let question = RideHeightQuestion {
            load: SprungLoad::of_sprung_mass(mass),
            load_point: if at_contact { LoadPoint::ContactPoint } else { LoadPoint::WheelCentre },
            seat: SeatPosition::ForRideHeight,
            helper: helper(kind),
            solid_length: None,
            seat_thread: None,
            ..wagon_front()
        };
        // A stack longer than the whole damper is refused, and rightly so: shorten the main spring. So is one that would
        // have to be shorter than solid, which a soft spring under much weight would: leave out the solid length.
        pickups.spring.as_mut().expect("a spring").free_length = Some(230.0);
        let corner = Corner::new(&pickups).expect("a good corner");
        let ride = check_corner_ride_height(&corner, &question).expect("an answer");
        let standing = ride.standing.expect("a balance");
        prop_assert!((standing.travel - travel).abs() < ROUND_TRIP_MM, "{} against {travel}", standing.travel);

        // The same seat, written into the description, gives the same car.
        pickups.spring.as_mut().expect("a spring").lower_seat = ride.needed.seat;
        let set = Corner::new(&pickups).expect("a good corner");
        let as_set = RideHeightQuestion { seat: SeatPosition::AsSet, ..question };
        let again = check_corner_ride_height(&set, &as_set).expect("an answer");
        prop_assert!((again.standing.expect("a balance").travel - travel).abs() < ROUND_TRIP_MM);
        prop_assert!(again.needed.change.abs() < 1e-9);
    }

    #[test]
    fn an_axle_with_its_seats_for_a_ride_height_sits_there(
        travel in -30.0..45.0_f64,
        left in 260.0..420.0_f64,
        right in 260.0..420.0_f64,
    ) {
        let mut pickups = samples::wagon_rear();
        pickups.ride_height = at_ride(travel);
        let axle = Axle::new(&pickups).expect("a good axle");
        let question = |mass| RideHeightQuestion {
            load: SprungLoad::of_sprung_mass(mass),
            seat: SeatPosition::ForRideHeight,
            ..RideHeightQuestion::default()
        };
        let sides = AxleSides { left: question(left), right: Some(question(right)) };
        for ride in check_axle_ride_height(&axle, &sides).expect("an answer") {
            let standing = ride.standing.expect("a balance");
            prop_assert!((standing.travel - travel).abs() < ROUND_TRIP_MM, "{} against {travel}", standing.travel);
        }
    }

    #[test]
    fn more_mass_sits_lower_and_a_seat_towards_the_spring_lifts(
        mass in 300.0..480.0_f64,
        more in 1.0..60.0_f64,
        seat in 60.0..110.0_f64,
        turn in 0.5..10.0_f64,
    ) {
        let travel = |mass: f64, seat: f64| {
            let mut pickups = samples::wagon_front();
            pickups.spring.as_mut().expect("a spring").lower_seat = seat;
            let question = RideHeightQuestion { load: SprungLoad::of_sprung_mass(mass), ..wagon_front() };
            let corner = Corner::new(&pickups).expect("a good corner");
            check_corner_ride_height(&corner, &question).expect("an answer").standing.expect("a balance").travel
        };
        let now = travel(mass, seat);
        prop_assert!(travel(mass + more, seat) > now);
        prop_assert!(travel(mass, seat + turn) < now);
    }

    #[test]
    fn the_rate_for_a_frequency_gives_that_frequency(wanted in 1.0..2.5_f64, mass in 250.0..500.0_f64) {
        let question = RideHeightQuestion {
            load: SprungLoad::of_sprung_mass(mass),
            wanted_frequency: Some(wanted),
            seat: SeatPosition::ForRideHeight,
            seat_thread: None,
            ..wagon_front()
        };
        let rate = check_corner_ride_height(&wagon_corner(), &question)
            .expect("an answer")
            .rate_for_frequency
            .expect("a rate")
            .rate;
        let mut pickups = samples::wagon_front();
        pickups.spring.as_mut().expect("a spring").rate = rate;
        let corner = Corner::new(&pickups).expect("a good corner");
        let standing = check_corner_ride_height(&corner, &question).expect("an answer").standing.expect("a balance");
        prop_assert!((standing.frequency.expect("a frequency") - wanted).abs() < 1e-9);
    }
}

#[test]
fn a_mirrored_corner_sits_as_high() {
    let right = Corner::new(&samples::wagon_front().mirrored()).expect("a good corner");
    let one = check_corner_ride_height(&wagon_corner(), &wagon_front()).expect("an answer");
    let other = check_corner_ride_height(&right, &wagon_front()).expect("an answer");
    assert_eq!(one, other);
}

/// Virtual work: with both wheels moved, springs take in what the weights give, here at the balance of one wheel.
#[test]
fn weight_times_wheel_motion_is_spring_force_times_spring_motion() {
    let ride = check_corner_ride_height(&wagon_corner(), &wagon_front()).expect("an answer");
    let standing = ride.standing.expect("a balance");
    let weight = 406.0 * 9.80665;
    assert!((standing.force * standing.motion_ratio - weight).abs() < 1e-6);
}

#[test]
fn questions_read_back_as_they_were_written() {
    let question = RideHeightQuestion {
        helper: helper(1),
        sits_low: Some(12.0),
        wanted_frequency: Some(1.5),
        ..wagon_front()
    };
    let text = serde_json::to_string(&question).expect("plain data");
    let back: RideHeightQuestion = serde_json::from_str(&text).expect("its own text");
    assert_eq!(back, question);
    let unknown = text.replacen("\"sits_low\"", "\"sits_lo\"", 1);
    assert!(serde_json::from_str::<RideHeightQuestion>(&unknown).is_err());
}
