//! The rear springs of the invented wagon.
//!
//! Provenance: invented vehicle; figures of an independent solver, printed to the digits shown. A few units of the last
//! digit are allowed.

use super::support::close;
use kin_core::checks::{RideHeightQuestion, SprungLoad, Verdict, check_axle_ride_height};
use kin_core::curves::AxleCurve;
use kin_core::pickups::AxleSides;
use kin_core::{Axle, AxleTravel, samples};

fn question() -> RideHeightQuestion {
    RideHeightQuestion {
        load: SprungLoad::of_sprung_mass(322.0),
        solid_length: Some(122.0),
        bind_allowance: Some(6.0),
        ..RideHeightQuestion::default()
    }
}

#[test]
fn one_spring_has_two_motion_ratios() {
    let axle = Axle::new(&samples::wagon_rear()).expect("a good axle");
    let sides = AxleSides {
        left: question(),
        right: None,
    };
    let rides = check_axle_ride_height(&axle, &sides).expect("an answer");
    let [ride] = rides.as_slice() else {
        panic!("both sides are alike: {rides:?}");
    };
    assert_eq!(ride.spring, "spring on either side");
    let standing = ride.standing.expect("a balance");
    close(standing.low, 0.0, 0.05);
    close(standing.force, 3_208.0, 0.5);
    close(standing.compression, 91.6, 0.05);
    close(standing.motion_ratio, 0.9843, 5e-5);
    close(standing.wheel_rate.total(), 34.02, 0.02);
    close(standing.frequency.expect("a frequency"), 1.636, 1e-3);
    let roll = standing.in_roll.expect("an axle");
    close(roll.motion_ratio, 0.6009, 5e-5);
    // The scenario prints the spring's part; the change of the motion ratio in roll takes some of it away.
    close(roll.wheel_rate.from_spring, 12.65, 5e-3);
    let at_rest = axle.at(AxleTravel::both(standing.travel)).expect("within reach");
    let curve = AxleCurve::WheelRateRollLeft.value(&at_rest).expect("springs");
    close(roll.wheel_rate.total(), curve, 1e-9);
    close(
        ride.at_full_extension.expect("a coilover").compression,
        51.7,
        0.05,
    );
    close(
        ride.at_metal.expect("a coilover").installed_length - 122.0,
        19.4,
        0.05,
    );
    close(standing.bump_to_stop.expect("a stop"), 52.7, 0.1);
    close(standing.droop.expect("an end"), 40.6, 0.1);
    assert!(
        ride.findings
            .iter()
            .all(|finding| finding.verdict == Verdict::Holds),
        "{:?}",
        ride.findings
    );
}
