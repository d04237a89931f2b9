//! The front spring of the invented wagon.
//!
//! Provenance: invented vehicle; figures of an independent solver, printed to the digits shown. A few units of the last
//! digit are allowed.

use super::support::{close, finding, wagon_corner, wagon_front};
use kin_core::Corner;
use kin_core::checks::{
    AddedLoad, HelperSpring, RemedyKind, RideHeightQuestion, SeatPosition, SprungLoad, Stopper, Verdict,
    check_corner_ride_height,
};
use kin_core::pickups::RideHeight;
use kin_core::samples;

#[test]
fn the_seat_and_the_spring_are_those_of_the_scenario() {
    let question = RideHeightQuestion {
        wanted_frequency: Some(1.5),
        ..wagon_front()
    };
    let ride = check_corner_ride_height(&wagon_corner(), &question).expect("an answer");
    // The scenario prints 0.1 mm, 1 N and two decimals of a rate.
    close(ride.needed.seat, 75.5, 0.05);
    close(ride.needed.force, 6_581.0, 0.5);
    close(ride.needed.installed_length, 185.7, 0.05);
    let standing = ride.standing.expect("a balance");
    // The seat is printed to 0.05 mm of what the printed force and rate ask for: 0.08 mm of wheel travel.
    close(standing.low, 0.0, 0.08);
    close(standing.compression, 68.3, 0.05);
    close(standing.motion_ratio, 0.605, 5e-4);
    close(standing.motion_ratio_slope, 7.6e-5, 1e-6);
    close(standing.wheel_rate.total(), 35.75, 0.01);
    close(standing.wheel_rate.geometric.expect("a force"), 0.5, 0.01);
    close(standing.frequency.expect("a frequency"), 1.494, 5e-4);
    close(standing.bump_to_stop.expect("a stop"), 69.2, 0.1);
    close(standing.bump.expect("an end"), 101.6, 0.1);
    // The rubber stop comes before topping out.
    close(standing.droop.expect("an end"), 50.0, 0.08);
    let preload = ride.at_full_extension.expect("a coilover");
    close(preload.compression, 35.2, 0.05);
    let metal = ride.at_metal.expect("a coilover");
    close(metal.installed_length - 114.0, 9.5, 0.05);
    assert_eq!(ride.at_full_bump.0, Stopper::Damper);
    assert!(
        ride.findings
            .iter()
            .all(|finding| finding.verdict == Verdict::Holds),
        "{:?}",
        ride.findings
    );
    close(
        finding(&ride.findings, "coil bind at full bump").margin,
        9.5,
        0.05,
    );
    close(finding(&ride.findings, "seat on its thread").margin, 25.5, 0.05);
    // 1.5 Hz lies just above what 96.32 N/mm gives.
    let wanted = ride.rate_for_frequency.expect("a rate");
    close(wanted.rate, 97.1, 0.2);
}

#[test]
fn twelve_millimetres_low_are_3_69_turns_by_the_full_solve_and_3_63_by_the_quick_rule() {
    let question = RideHeightQuestion {
        sits_low: Some(12.0),
        ..wagon_front()
    };
    let correction = check_corner_ride_height(&wagon_corner(), &question)
        .expect("an answer")
        .correction
        .expect("it was measured");
    close(correction.turns.expect("a thread"), 3.69, 5e-3);
    close(correction.quick_turns.expect("a thread"), 3.63, 5e-3);
    // The same from a car that is set that low: its seat is the one that the turns start from.
    let mut low = samples::wagon_front();
    let needed = |question: &RideHeightQuestion| {
        check_corner_ride_height(&wagon_corner(), question)
            .expect("an answer")
            .needed
            .seat
    };
    low.spring.as_mut().expect("a spring").lower_seat = needed(&wagon_front()) - correction.change;
    let corner = Corner::new(&low).expect("a good corner");
    let ride = check_corner_ride_height(&corner, &wagon_front()).expect("an answer");
    close(ride.standing.expect("a balance").low, 12.0, 1e-6);
    close(
        ride.needed.turns.expect("a thread"),
        correction.turns.expect("a thread"),
        1e-6,
    );
    let low = finding(&ride.findings, "ride height");
    assert_eq!(low.verdict, Verdict::Fails);
    let remedy = low.remedies.first().expect("a remedy");
    assert_eq!(remedy.kind, RemedyKind::SeatTowardsSpring);
    close(remedy.change, correction.change, 1e-6);
    assert!(remedy.window.0 < remedy.change && remedy.change < remedy.window.1);
    let said = low.to_string();
    assert!(
        said.contains("sits 12.0 mm lower than wanted")
            && said.contains("Move the lower seat of the spring 7.4 mm towards the spring, 3.69 turns"),
        "{said}"
    );
}

#[test]
fn weighed_wheels_carry_what_is_left_of_the_unsprung_mass() {
    let weighed = RideHeightQuestion {
        load: SprungLoad {
            sprung_mass: None,
            corner_weight: Some(448.0),
            unsprung_mass: Some(42.0),
        },
        ..wagon_front()
    };
    let corner = wagon_corner();
    let by_scale = check_corner_ride_height(&corner, &weighed).expect("an answer");
    let by_mass = check_corner_ride_height(&corner, &wagon_front()).expect("an answer");
    assert_eq!(by_scale, by_mass);
}

#[test]
fn the_original_arms_have_their_own_spring_figures() {
    let mut pickups = samples::wagon_front();
    pickups.upper_arm.ball_joint = kin_core::pickups::Point::new(3.0, 661.0, 431.0);
    pickups.wheel.camber = 0.25;
    let question = RideHeightQuestion {
        seat: SeatPosition::ForRideHeight,
        ..wagon_front()
    };
    let corner = Corner::new(&pickups).expect("a good corner");
    let ride = check_corner_ride_height(&corner, &question).expect("an answer");
    let standing = ride.standing.expect("a balance");
    close(standing.force, 6_387.0, 0.5);
    close(standing.compression, 66.3, 0.05);
    close(standing.wheel_rate.total(), 37.62, 0.01);
    close(standing.wheel_rate.geometric.expect("a force"), 0.19, 0.01);
    close(standing.frequency.expect("a frequency"), 1.532, 5e-4);
    close(
        ride.at_full_extension.expect("a coilover").compression,
        33.2,
        0.06,
    );
    close(
        ride.at_metal.expect("a coilover").installed_length - 114.0,
        11.5,
        0.06,
    );
}

#[test]
fn a_spring_with_thick_wire_binds_and_the_remedy_frees_it() {
    let question = RideHeightQuestion {
        solid_length: Some(126.0),
        ..wagon_front()
    };
    let ride = check_corner_ride_height(&wagon_corner(), &question).expect("an answer");
    let bind = finding(&ride.findings, "coil bind at full bump");
    assert_eq!(bind.verdict, Verdict::Fails);
    let remedy = bind.remedies.first().expect("a remedy");
    assert_eq!(remedy.kind, RemedyKind::SpringSolidLength);
    let mended = RideHeightQuestion {
        solid_length: Some(126.0 + remedy.change),
        ..question
    };
    let ride = check_corner_ride_height(&wagon_corner(), &mended).expect("an answer");
    let bind = finding(&ride.findings, "coil bind at full bump");
    assert_eq!(bind.verdict, Verdict::Holds);
    close(bind.margin, 6.0, 1e-9);
}

#[test]
fn a_short_spring_hangs_loose_and_a_helper_keeps_it_seated() {
    let mut pickups = samples::wagon_front();
    // Stiffer and shorter: it carries the car, but not over the whole droop.
    let spring = pickups.spring.as_mut().expect("a spring");
    (spring.rate, spring.free_length) = (220.0, Some(180.0));
    let question = RideHeightQuestion {
        seat: SeatPosition::ForRideHeight,
        solid_length: Some(90.0),
        seat_thread: None,
        ..wagon_front()
    };
    let corner = Corner::new(&pickups).expect("a good corner");
    let ride = check_corner_ride_height(&corner, &question).expect("an answer");
    let loose = finding(&ride.findings, "seated at full droop");
    assert_eq!(loose.verdict, Verdict::Fails);
    assert_eq!(ride.at_full_droop.1.expect("an end").force, 0.0);
    let remedy = loose.remedies.first().expect("a remedy");
    assert_eq!(remedy.kind, RemedyKind::HelperSpring);
    close(remedy.change, -loose.value, 1e-12);
    let helped = RideHeightQuestion {
        helper: Some(HelperSpring {
            rate: 2.0,
            free_length: 20.0 + remedy.change + 6.0,
            solid_length: 20.0,
            divider: 4.0,
        }),
        ..question
    };
    let with_helper = check_corner_ride_height(&corner, &helped).expect("an answer");
    let seated = finding(&with_helper.findings, "seated at full droop");
    assert_eq!(seated.verdict, Verdict::Holds);
    close(seated.margin, 6.0, 1e-9);
    // Closed at ride height, the helper changes nothing but the seat.
    let (before, after) = (
        ride.standing.expect("a balance"),
        with_helper.standing.expect("a balance"),
    );
    close(after.wheel_rate.total(), before.wheel_rate.total(), 1e-9);
    close(with_helper.needed.seat, ride.needed.seat - 24.0, 1e-9);
}

#[test]
fn a_seat_beyond_its_thread_asks_for_a_longer_spring() {
    let mut question = RideHeightQuestion {
        seat: SeatPosition::ForRideHeight,
        ..wagon_front()
    };
    question.seat_thread.as_mut().expect("a thread").longest = 70.0;
    let ride = check_corner_ride_height(&wagon_corner(), &question).expect("an answer");
    let thread = finding(&ride.findings, "seat on its thread");
    assert_eq!(thread.verdict, Verdict::Fails);
    close(thread.margin, 70.0 - 75.5, 0.05);
    let remedy = thread.remedies.first().expect("a remedy");
    assert_eq!(remedy.kind, RemedyKind::SpringFreeLength);
    let mut longer = samples::wagon_front();
    let free = &mut longer.spring.as_mut().expect("a spring").free_length;
    *free = free.map(|free| free + remedy.change + 2.0);
    let corner = Corner::new(&longer).expect("a good corner");
    let mended = check_corner_ride_height(&corner, &question).expect("an answer");
    assert_eq!(
        finding(&mended.findings, "seat on its thread").verdict,
        Verdict::Holds
    );
}

#[test]
fn ride_height_is_where_the_description_puts_it() {
    let mut pickups = samples::wagon_front();
    pickups.ride_height = Some(RideHeight {
        travel: Some(-20.0),
        ..RideHeight::default()
    });
    let corner = Corner::new(&pickups).expect("a good corner");
    let question = RideHeightQuestion {
        seat: SeatPosition::ForRideHeight,
        ..wagon_front()
    };
    let ride = check_corner_ride_height(&corner, &question).expect("an answer");
    assert_eq!(ride.ride_travel, -20.0);
    let standing = ride.standing.expect("a balance");
    close(standing.travel, -20.0, 1e-8);
    close(standing.low, 0.0, 1e-8);
    // The stop was described from ride height, the damper's ends are where they are.
    close(standing.droop.expect("an end"), 54.8 - 20.0, 0.1);
    close(standing.bump_to_stop.expect("a stop"), 69.2 + 20.0, 0.1);
}

#[test]
fn load_takes_bump_and_gives_droop() {
    let question = RideHeightQuestion {
        laden: Some(AddedLoad {
            mass: 100.0,
            bump: 45.0,
        }),
        ..wagon_front()
    };
    let ride = check_corner_ride_height(&wagon_corner(), &question).expect("an answer");
    let (empty, laden) = (ride.standing.expect("a balance"), ride.laden.expect("a balance"));
    let settles = laden.low - empty.low;
    // 980.665 N on 35.75 N/mm, a little stiffer as the motion ratio rises.
    assert!((26.5..27.43).contains(&settles), "{settles}");
    close(
        laden.bump_to_stop.expect("a stop"),
        empty.bump_to_stop.expect("a stop") - settles,
        1e-9,
    );
    let finding = finding(&ride.findings, "bump travel with the added load");
    assert_eq!(finding.verdict, Verdict::Fails);
    let remedy = finding.remedies.first().expect("a remedy");
    // With the seat so moved, the laden car has exactly the bump asked for.
    let mut moved = samples::wagon_front();
    moved.spring.as_mut().expect("a spring").lower_seat += remedy.change;
    let corner = Corner::new(&moved).expect("a good corner");
    let mended = check_corner_ride_height(&corner, &question).expect("an answer");
    close(
        mended.laden.expect("a balance").bump_to_stop.expect("a stop"),
        45.0,
        1e-6,
    );
}

#[test]
fn a_car_that_its_springs_cannot_hold_is_said_to_sit_on_the_ends_of_its_travel() {
    let said = |mass: f64| {
        let question = RideHeightQuestion {
            load: SprungLoad::of_sprung_mass(mass),
            ..wagon_front()
        };
        let ride = check_corner_ride_height(&wagon_corner(), &question).expect("an answer");
        let height = finding(&ride.findings, "ride height");
        assert_eq!(height.verdict, Verdict::Fails);
        assert_eq!(height.remedies, [], "no seat on this thread helps");
        height.to_string()
    };
    assert!(said(1_500.0).contains("goes down to the end of its bump travel"));
    assert!(said(100.0).contains("goes up to the end of its droop travel"));
}
