//! Wrong input is refused with a sentence that names the pickup; no number makes the library stop or answer NaN.

mod any_number;
mod axles;
mod corners;
mod parts;
mod places;
mod travels;

use kin_core::pickups::{DoubleWishbone, LiveAxle};
use kin_core::{Axle, Corner, samples};

/// A corner with everything that a description can hold.
fn full_corner() -> DoubleWishbone {
    let mut corner = samples::wagon_front();
    corner.stops = serde_json::from_str(
        r#"{"bump": 80.0, "droop": 60.0, "straps": [{"name": "strap", "upper_mount": [60.0, 420.0, 520.0],
            "lower_mount": [20.0, 600.0, 190.0], "rides_on": "lower_arm", "length": 420.0}]}"#,
    )
    .expect("stops");
    corner.ride_height =
        serde_json::from_str(r#"{"hub_to_lip": 380.0, "hub_to_lip_as_measured": 400.0}"#).ok();
    let damper = corner.coilover.as_mut().expect("a coilover");
    (damper.upper_stud, damper.lower_stud) = (Some(3.0), Some(-2.0));
    let spring = corner.spring.as_mut().expect("a spring");
    spring.upper_mount = Some(kin_core::pickups::Point::new(20.0, 480.0, 440.0));
    spring.lower_mount = Some(kin_core::pickups::Point::new(20.0, 530.0, 190.0));
    spring.rides_on = Some("lower_arm".to_owned());
    if let Some(wanted) = &mut corner.wanted {
        wanted.margin = Some(4.0);
    }
    corner
}

/// An axle with everything that a description can hold, right side written out.
fn full_axle() -> LiveAxle {
    let mut axle = samples::wagon_rear().with_both_sides();
    for link in axle.links.values_mut() {
        link.stiffness = Some(9_000.0);
    }
    axle.ride_height = serde_json::from_str(r#"{"damper_length": 345.0}"#).ok();
    axle.stops = serde_json::from_str(
        r#"{"bump": 70.0, "droop": 60.0, "straps": [{"name": "hose", "upper_mount": [-2700.0, 100.0, 600.0],
            "lower_mount": [-2850.0, 150.0, 400.0], "rides_on": "axle", "length": 330.0}]}"#,
    )
    .expect("stops");
    axle
}

/// What a corner is refused with.
fn corner_refused(corner: &DoubleWishbone) -> String {
    match Corner::new(corner) {
        Ok(_) => panic!("not refused: {corner:?}"),
        Err(error) => error.to_string(),
    }
}

/// What an axle is refused with.
fn axle_refused(axle: &LiveAxle) -> String {
    match Axle::new(axle) {
        Ok(_) => panic!("not refused: {axle:?}"),
        Err(error) => error.to_string(),
    }
}

/// Fails unless every one of the words is in the text.
fn says(text: &str, words: &[&str]) {
    for word in words {
        assert!(text.contains(word), "no `{word}` in: {text}");
    }
}
