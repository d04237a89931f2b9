//! Where the car sits, however it is told, and wherever the car was measured.

use super::close;
use kin_core::checks::{StrokeQuestion, TravelBudget, check_axle_stroke, check_corner_stroke};
use kin_core::curves::{AxleCurve, CornerCurve};
use kin_core::pickups::{DoubleWishbone, LiveAxle, RideHeight};
use kin_core::{Axle, AxleTravel, Corner, Error, samples};

fn budget(pickups: &DoubleWishbone) -> TravelBudget {
    let corner = Corner::new(pickups).expect("a corner");
    check_corner_stroke(&corner, &StrokeQuestion::default())
        .expect("an answer")
        .budget
}

fn axle_budget(pickups: &LiveAxle) -> TravelBudget {
    let axle = Axle::new(pickups).expect("an axle");
    let answers = check_axle_stroke(&axle, &StrokeQuestion::default()).expect("an answer");
    answers[0].budget
}

fn same(found: &TravelBudget, expected: &TravelBudget, tolerance: f64, label: &str) {
    close(found.length_at_ride, expected.length_at_ride, tolerance, label);
    close(
        found.motion_ratio_at_ride,
        expected.motion_ratio_at_ride,
        tolerance,
        label,
    );
    close(
        found.stroke_used_at_ride,
        expected.stroke_used_at_ride,
        tolerance,
        label,
    );
    for (found, expected) in [
        (found.bump_to_stop, expected.bump_to_stop),
        (found.bump_to_metal, expected.bump_to_metal),
        (found.droop_to_top_out, expected.droop_to_top_out),
    ] {
        close(found.expect("met"), expected.expect("met"), tolerance, label);
    }
}

fn by_travel(travel: f64) -> RideHeight {
    RideHeight {
        travel: Some(travel),
        ..RideHeight::default()
    }
}

#[test]
fn three_ways_to_say_it_give_one_answer() {
    for travel in [-38.0, -3.25, 0.0, 12.5, 44.0] {
        let mut pickups = samples::wagon_front();
        let corner = Corner::new(&pickups).expect("a corner");
        let position = corner.at(travel, 0.0).expect("within reach");
        let length = CornerCurve::DamperLength.value(&position).expect("a value");
        pickups.ride_height = Some(by_travel(travel));
        let expected = budget(&pickups);
        pickups.ride_height = Some(RideHeight {
            damper_length: Some(length),
            ..RideHeight::default()
        });
        same(&budget(&pickups), &expected, 1e-8, "by damper length");
        // The hub comes up to the lip by the travel.
        pickups.ride_height = Some(RideHeight {
            hub_to_lip: Some(402.0 - travel),
            hub_to_lip_as_measured: Some(402.0),
            ..RideHeight::default()
        });
        same(&budget(&pickups), &expected, 1e-8, "by hub to lip");

        let mut axle = samples::wagon_rear();
        let whole = Axle::new(&axle).expect("an axle");
        let position = whole.at(AxleTravel::both(travel)).expect("within reach");
        let length = AxleCurve::DamperLengthLeft.value(&position).expect("a value");
        axle.ride_height = Some(by_travel(travel));
        let expected = axle_budget(&axle);
        axle.ride_height = Some(RideHeight {
            damper_length: Some(length),
            ..RideHeight::default()
        });
        same(&axle_budget(&axle), &expected, 1e-8, "axle by damper length");
        axle.ride_height = Some(RideHeight {
            hub_to_lip: Some(402.0 - travel),
            hub_to_lip_as_measured: Some(402.0),
            ..RideHeight::default()
        });
        same(&axle_budget(&axle), &expected, 1e-8, "axle by hub to lip");
    }
}

/// Budgets are counted from ride height: a car that sits higher has less droop and as much more bump.
#[test]
fn budgets_are_counted_from_ride_height() {
    let mut pickups = samples::wagon_front();
    let low = budget(&pickups);
    pickups.ride_height = Some(by_travel(-10.0));
    let high = budget(&pickups);
    let change = |one: Option<f64>, other: Option<f64>| one.expect("met") - other.expect("met");
    close(
        change(high.bump_to_stop, low.bump_to_stop),
        10.0,
        1e-8,
        "bump to the stop",
    );
    close(
        change(high.bump_to_metal, low.bump_to_metal),
        10.0,
        1e-8,
        "bump to metal",
    );
    close(
        change(high.droop_to_top_out, low.droop_to_top_out),
        -10.0,
        1e-8,
        "droop",
    );
}

/// The same corner, measured with its wheel at another travel.
fn measured_at(pickups: &DoubleWishbone, travel: f64) -> DoubleWishbone {
    let corner = Corner::new(pickups).expect("a corner");
    let there = corner.at(travel, 0.0).expect("within reach");
    let mut other = pickups.clone();
    other.upper_arm.ball_joint = there.upper_ball_joint();
    other.lower_arm.ball_joint = there.lower_ball_joint();
    other.tie_rod.outer = there.tie_rod_outer();
    other.wheel.centre = there.wheel_centre();
    other.wheel.camber = CornerCurve::Camber.value(&there).expect("a value").to_degrees();
    other.wheel.toe = CornerCurve::Toe.value(&there).expect("a value").to_degrees();
    let (_, lower) = there.damper_ends().expect("a damper");
    other.coilover.as_mut().expect("a coilover").lower_mount = lower;
    other.ride_height = Some(by_travel(-travel));
    other
}

#[test]
fn a_car_measured_hanging_gives_the_same_answers() {
    for part in ["lower_arm", "upper_arm", "upright"] {
        let mut pickups = samples::wagon_front();
        pickups.coilover.as_mut().expect("a coilover").rides_on = part.to_owned();
        let expected = budget(&pickups);
        for hanging in [-48.0, -20.0, 30.0] {
            let other = measured_at(&pickups, hanging);
            same(&budget(&other), &expected, 1e-8, part);
            // Every curve at ride height is the same as well, but the change of half track since it was measured.
            let (one, other) = (
                Corner::new(&pickups).expect("a corner"),
                Corner::new(&other).expect("a corner"),
            );
            let here = one.at(15.0, 0.0).expect("within reach");
            let there = other.at(15.0 - hanging, 0.0).expect("within reach");
            for curve in CornerCurve::ALL {
                if curve == CornerCurve::HalfTrackChange {
                    continue;
                }
                let (value, found) = (curve.value(&here), curve.value(&there));
                let (value, found) = (value.expect("a value"), found.expect("a value"));
                close(found, value, 1e-9 * value.abs().max(1.0), &format!("{curve:?}"));
            }
        }
    }
}

/// On a link the mount stands on the line of its joints: a two-point link may spin about that line, and a point beside it
/// is only known up to that spin.
#[test]
fn an_axle_measured_hanging_gives_the_same_answers() {
    for part in ["axle", "lower_left"] {
        let mut sample = samples::wagon_rear();
        let link = sample.links["lower_left"];
        let damper = &mut sample.coilovers.as_mut().expect("coilovers").left;
        damper.rides_on = part.to_owned();
        if part != "axle" {
            damper.lower_mount = link.body + 0.9 * (link.axle - link.body);
        }
        let pickups = sample.with_both_sides();
        let expected = axle_budget(&pickups);
        let axle = Axle::new(&pickups).expect("an axle");
        for hanging in [-38.0, 25.0] {
            let there = axle.at(AxleTravel::both(hanging)).expect("within reach");
            let mut other = pickups.clone();
            for (name, (_, end)) in there.links() {
                other.links[&name].axle = end;
            }
            let (left, right) = there.wheel_centres();
            (other.wheels.left, other.wheels.right) = (left, Some(right));
            let ends = there.damper_ends().expect("dampers");
            let dampers = other.coilovers.as_mut().expect("coilovers");
            dampers.left.lower_mount = ends[0].1;
            dampers.right.as_mut().expect("a right side").lower_mount = ends[1].1;
            other.ride_height = Some(by_travel(-hanging));
            same(&axle_budget(&other), &expected, 1e-8, part);
        }
    }
}

#[test]
fn a_length_that_the_damper_never_has_is_an_error() {
    for length in [60.0, 900.0] {
        let ride_height = Some(RideHeight {
            damper_length: Some(length),
            ..RideHeight::default()
        });
        let mut pickups = samples::wagon_front();
        pickups.ride_height = ride_height;
        let corner = Corner::new(&pickups).expect("a corner");
        let refused = check_corner_stroke(&corner, &StrokeQuestion::default());
        let Err(Error::LengthNeverReached { length_mm, .. }) = &refused else {
            panic!("{refused:?}")
        };
        assert_eq!(*length_mm, length);
        let text = refused.expect_err("an error").to_string();
        assert!(text.contains(&format!("never {length} mm")), "{text}");
        let mut axle = samples::wagon_rear();
        axle.ride_height = ride_height;
        let refused = Axle::new(&axle).expect("an axle").ride_travel();
        assert!(
            matches!(refused, Err(Error::LengthNeverReached { .. })),
            "{refused:?}"
        );
    }
}

/// The wheel 82 mm below where the pickups were measured is lower than the damper lets it hang; 82 mm above it fits.
#[test]
fn swapped_lip_heights_are_asked_about() {
    let mut pickups = samples::wagon_front();
    let told = |ride: RideHeight, pickups: &mut DoubleWishbone| {
        pickups.ride_height = Some(ride);
        let corner = Corner::new(pickups).expect("a corner");
        let answer = check_corner_stroke(&corner, &StrokeQuestion::default()).expect("an answer");
        let findings = answer.findings.iter().map(ToString::to_string);
        findings.collect::<Vec<_>>().join("\n")
    };
    let swapped = RideHeight {
        hub_to_lip: Some(484.0),
        hub_to_lip_as_measured: Some(402.0),
        ..RideHeight::default()
    };
    let words = told(swapped, &mut pickups);
    assert!(
        words.contains("Are `hub_to_lip` and `hub_to_lip_as_measured` swapped?"),
        "{words}"
    );
    let words = told(by_travel(-82.0), &mut pickups);
    assert!(words.contains("Check the mounts' unit and signs"), "{words}");
    // Far beyond, the damper fits neither way.
    let hopeless = RideHeight {
        hub_to_lip: Some(562.0),
        ..swapped
    };
    let words = told(hopeless, &mut pickups);
    assert!(words.contains("Check the mounts' unit and signs"), "{words}");
}
