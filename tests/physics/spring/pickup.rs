//! The invented half-ton pickup: unladen a hole fits, laden no listed spring keeps the wanted bump.
//!
//! Provenance: invented vehicle; figures of an independent solver, printed to the digits shown. A few units of the last
//! digit are allowed.

use super::support::close;
use kin_core::Axle;
use kin_core::checks::{
    AddedLoad, ListedSpring, RemedyKind, RideHeightQuestion, SprungLoad, Verdict, choose_axle_spring,
};
use kin_core::pickups::{AxleSides, Point};
use kin_core::samples;

const POUND_PER_INCH: f64 = 4.448_221_615_260_5 / 25.4;

/// The best hole of the scenario: row 3, middle column.
fn at_best_hole() -> Axle {
    let mut pickups = samples::pickup_rear();
    let coilovers = pickups.coilovers.as_mut().expect("coilovers");
    coilovers.left.upper_mount = Point::new(-2966.0, 438.0, 578.1);
    Axle::new(&pickups).expect("a good axle")
}

fn list() -> Vec<ListedSpring> {
    [150.0, 175.0, 200.0, 225.0, 250.0]
        .map(|rate: f64| ListedSpring {
            name: format!("{rate} lb/in"),
            rate: rate * POUND_PER_INCH,
            free_length: 304.8,
            solid_length: Some(124.0),
            helper: None,
        })
        .to_vec()
}

fn question(laden: bool) -> AxleSides<RideHeightQuestion> {
    AxleSides {
        left: RideHeightQuestion {
            load: SprungLoad::of_sprung_mass(255.0),
            laden: laden.then_some(AddedLoad {
                mass: 180.0,
                bump: 20.0,
            }),
            wanted_frequency: Some(1.75),
            ..RideHeightQuestion::default()
        },
        right: None,
    }
}

/// The scenario's table: rate, wheel rate, frequency unladen, frequency laden, compression, sag by the wheel rate alone,
/// bump to the stop with that sag.
const TABLE: [[f64; 7]; 5] = [
    [150.0, 25.95, 1.61, 1.23, 96.0, 68.0, -19.3],
    [175.0, 30.25, 1.73, 1.33, 82.3, 58.4, -9.7],
    [200.0, 34.55, 1.85, 1.42, 72.0, 51.1, -2.4],
    [225.0, 38.86, 1.96, 1.50, 64.0, 45.4, 3.3],
    [250.0, 43.16, 2.07, 1.59, 57.6, 40.9, 7.8],
];

#[test]
fn unladen_every_listed_spring_holds_the_car_and_the_nearest_frequency_leads() {
    let choice = choose_axle_spring(&at_best_hole(), &list(), &question(false)).expect("an answer");
    assert_eq!(choice.fitting().count(), 5);
    assert_eq!(choice.findings[0].verdict, choice.candidates[0].verdict);
    assert_eq!(choice.candidates[0].name, "175 lb/in");
    for candidate in &choice.candidates {
        let [_, wheel_rate, frequency, _, compression, ..] = TABLE[candidate.place];
        let standing = candidate.rides[0].standing.expect("a balance");
        close(standing.low, 0.0, 1e-6);
        close(standing.wheel_rate.total(), wheel_rate, 0.02);
        close(standing.frequency.expect("a frequency"), frequency, 6e-3);
        close(standing.compression, compression, 0.06);
    }
}

#[test]
fn laden_no_listed_spring_keeps_the_wanted_bump_and_each_says_why() {
    let choice = choose_axle_spring(&at_best_hole(), &list(), &question(true)).expect("an answer");
    assert_eq!(choice.fitting().count(), 0);
    assert_eq!(choice.findings[0].verdict, Verdict::Fails);
    assert_eq!(
        choice.findings[0].to_string(),
        "[fails] None of the 5 listed springs keeps every limit; each is listed with its reason."
    );
    for candidate in &choice.candidates {
        let [_, wheel_rate, _, laden_frequency, _, sag, bump] = TABLE[candidate.place];
        let ride = &candidate.rides[0];
        let laden = ride.laden.expect("a balance");
        // The scenario's sag is the added weight over the wheel rate at ride height.
        let unladen = ride.standing.expect("a balance");
        close(180.0 * 9.80665 / unladen.wheel_rate.total(), sag, 0.06);
        // The full solve stays near it: over 70 mm the wheel rate of this axle changes by less than 1.5 %.
        close(laden.low, sag, 0.015 * sag);
        close(laden.bump_to_stop.expect("a stop"), bump, 0.015 * sag + 0.1);
        close(laden.frequency.expect("a frequency"), laden_frequency, 0.02);
        assert!(laden.bump_to_stop.expect("a stop") < 20.0);
        assert_eq!(candidate.verdict, Verdict::Fails);
        assert!(!candidate.reasons.is_empty(), "{} has no reason", candidate.name);
        close(wheel_rate, unladen.wheel_rate.total(), 0.02);
        // Setting the seats anew while laden is the way out.
        let finding = ride
            .findings
            .iter()
            .find(|finding| finding.subject.ends_with("bump travel with the added load"))
            .expect("a finding");
        assert_eq!(finding.remedies[0].kind, RemedyKind::SeatTowardsSpring);
    }
}
