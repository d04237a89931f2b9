//! Dampers, springs, stops and ride heights that cannot be right.

use super::{corner_refused, full_corner, says};
use kin_core::pickups::{Damper, DoubleWishbone, RideHeight, Spring};
use kin_core::samples;

fn with_damper(change: impl FnOnce(&mut Damper)) -> DoubleWishbone {
    let mut corner = samples::wagon_front();
    change(corner.coilover.as_mut().expect("a coilover"));
    corner
}

fn with_spring(change: impl FnOnce(&mut Spring)) -> DoubleWishbone {
    let mut corner = samples::wagon_front();
    change(corner.spring.as_mut().expect("a spring"));
    corner
}

#[test]
fn lengths_of_a_damper() {
    let swapped = with_damper(|damper| (damper.extended, damper.compressed) = (254.0, 349.25));
    says(
        &corner_refused(&swapped),
        &[
            "`coilover.extended` (254 mm) is not longer than `coilover.compressed` (349.25 mm)",
            "swapped?",
        ],
    );
    let no_stroke = with_damper(|damper| damper.extended = damper.compressed);
    says(&corner_refused(&no_stroke), &["is not longer than"]);
    let all_stop = with_damper(|damper| damper.bump_stop = 96.0);
    says(
        &corner_refused(&all_stop),
        &["`coilover.bump_stop` is 96", "less than the stroke of 95.25 mm"],
    );
    let negative = with_damper(|damper| damper.bump_stop = -1.0);
    says(
        &corner_refused(&negative),
        &["`coilover.bump_stop` is -1", "at least 0"],
    );
    let stud = with_damper(|damper| damper.lower_stud = Some(400.0));
    says(
        &corner_refused(&stud),
        &["`coilover.lower_stud` is 400", "between -150 mm and 150 mm"],
    );
}

#[test]
fn unknown_parts_are_suggested() {
    let typed = with_damper(|damper| damper.rides_on = "lower arm".into());
    says(
        &corner_refused(&typed),
        &[
            "`coilover.rides_on` says `lower arm`",
            "`lower_arm`, `upper_arm`, `upright`",
            "did you mean `lower_arm`?",
        ],
    );
    let typed = with_damper(|damper| damper.rides_on = "uprigth".into());
    says(&corner_refused(&typed), &["did you mean `upright`?"]);
    // Nothing near: nothing suggested.
    let typed = with_damper(|damper| damper.rides_on = "bonnet".into());
    let text = corner_refused(&typed);
    says(&text, &["`bonnet`", "it can be one of"]);
    assert!(!text.contains("did you mean"), "{text}");
}

#[test]
fn two_dampers() {
    let mut corner = samples::wagon_front();
    corner.damper.clone_from(&corner.coilover);
    says(
        &corner_refused(&corner),
        &["`damper`", "either `coilover` or `damper`, not both"],
    );
}

#[test]
fn springs() {
    for rate in [0.0, -96.0] {
        let corner = with_spring(|spring| spring.rate = rate);
        says(
            &corner_refused(&corner),
            &[&format!("`spring.rate` is {rate}"), "above 0"],
        );
    }
    let corner = with_spring(|spring| spring.free_length = Some(-1.0));
    says(
        &corner_refused(&corner),
        &["`spring.free_length` is -1", "above 0"],
    );
    let corner = with_spring(|spring| spring.upper_mount = Some([0.0, 400.0, 500.0].into()));
    says(
        &corner_refused(&corner),
        &[
            "`spring`",
            "all three of `upper_mount`, `lower_mount` and `rides_on`",
        ],
    );
    let mut corner = samples::wagon_front();
    corner.damper = corner.coilover.take();
    says(
        &corner_refused(&corner),
        &[
            "`spring`",
            "without a coilover",
            "`upper_mount`, `lower_mount` and `rides_on`",
        ],
    );
}

#[test]
fn ride_heights() {
    let with = |ride: RideHeight| {
        let mut corner = samples::wagon_front();
        corner.ride_height = Some(ride);
        corner_refused(&corner)
    };
    let none = RideHeight::default();
    let travel = Some(-35.0);
    says(&with(none), &["`ride_height`", "give exactly one of"]);
    let two = RideHeight {
        travel,
        damper_length: Some(320.0),
        ..none
    };
    says(
        &with(two),
        &[
            "`ride_height`",
            "give exactly one of `travel`, `damper_length`, or `hub_to_lip`",
        ],
    );
    let half = RideHeight {
        hub_to_lip: Some(390.0),
        ..none
    };
    says(
        &with(half),
        &[
            "`ride_height.hub_to_lip_as_measured`",
            "when the pickups were measured",
        ],
    );
    let other_half = RideHeight {
        hub_to_lip_as_measured: Some(390.0),
        ..none
    };
    says(&with(other_half), &["`ride_height.hub_to_lip`"]);
    let mut corner = samples::wagon_front();
    corner.coilover = None;
    corner.spring = None;
    corner.ride_height = Some(RideHeight {
        damper_length: Some(320.0),
        ..none
    });
    says(
        &corner_refused(&corner),
        &["`ride_height.damper_length`", "no damper"],
    );
}

#[test]
fn stops_and_wishes() {
    let mut corner = full_corner();
    corner.stops.droop = Some(-50.0);
    says(&corner_refused(&corner), &["`stops.droop` is -50", "positive"]);
    let mut corner = full_corner();
    corner.stops.straps[0].length = 0.0;
    says(
        &corner_refused(&corner),
        &["`stops.straps[0].length` is 0", "above 0"],
    );
    let mut corner = full_corner();
    corner.stops.straps[0].rides_on = "lower_am".into();
    says(
        &corner_refused(&corner),
        &["`stops.straps[0].rides_on`", "did you mean `lower_arm`?"],
    );
    let mut corner = full_corner();
    corner.wanted.as_mut().expect("a wish").bump = Some(-65.0);
    says(&corner_refused(&corner), &["`wanted.bump` is -65", "positive"]);
}
