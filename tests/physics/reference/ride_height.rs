//! Where two invented corners sit on their springs, for seven seats: cases D of the reference.

use super::case::{list, load, number};
use super::corner::pickups;
use super::tolerance::POSITION_MM;
use kin_core::Corner;
use kin_core::checks::{
    GRAVITY, LoadPoint, RideHeightQuestion, SprungLoad, Standing, check_corner_ride_height,
};
use kin_core::pickups::{DoubleWishbone, Spring};
use serde_json::Value;

const CASES: [&str; 2] = ["D_dw_s1_coilover_lower_arm", "D_dw_s2_coilover_upper_arm"];
/// Forces and rates come from travel by rates of 30 to 70 N/mm: relative.
const RELATIVE: f64 = 1e-9;

/// The corner of a case with the seat of one of its results.
fn sprung(case: &Value, result: &Value) -> DoubleWishbone {
    let parameters = &case["parameters"];
    DoubleWishbone {
        spring: Some(Spring {
            rate: number(parameters, "spring_rate_N_per_mm"),
            free_length: Some(number(parameters, "spring_free_length_mm")),
            upper_seat: 0.0,
            // The reference takes both seats off the damper at once.
            lower_seat: number(result, "seat_offset"),
            upper_mount: None,
            lower_mount: None,
            rides_on: None,
        }),
        ..pickups(&case["geometry"])
    }
}

fn standing(corner: &DoubleWishbone, mass: f64, load_point: LoadPoint) -> Standing {
    let question = RideHeightQuestion {
        load: SprungLoad::of_sprung_mass(mass),
        load_point,
        ..RideHeightQuestion::default()
    };
    let corner = Corner::new(corner).expect("a good corner");
    let ride = check_corner_ride_height(&corner, &question).expect("an answer");
    ride.standing.expect("a balance")
}

fn every(mut check: impl FnMut(&DoubleWishbone, f64, &Value)) {
    let mut seen = 0;
    for name in CASES {
        let case = load(name);
        let mass = number(&case["parameters"], "sprung_corner_mass_kg");
        assert_eq!(number(&case["parameters"], "gravity_m_per_s2"), GRAVITY);
        for result in list(&case, "results") {
            assert_eq!(result["equilibrium_in_range"], Value::Bool(true));
            check(&sprung(&case, result), mass, result);
            seen += 1;
        }
    }
    assert_eq!(seen, 7, "four seats and three");
}

fn close(found: f64, expected: f64, what: &str) {
    let allowed = RELATIVE * expected.abs().max(1.0);
    assert!(
        (found - expected).abs() <= allowed,
        "{what}: {found} against {expected}"
    );
}

#[test]
fn a_corner_sits_where_the_reference_says_with_its_weight_at_the_wheel_centre() {
    every(|corner, mass, result| {
        let found = standing(corner, mass, LoadPoint::WheelCentre);
        for (value, key) in [
            (found.travel, "travel"),
            (found.between_mounts, "damper_length"),
            (found.installed_length, "spring_length"),
        ] {
            let expected = number(result, key);
            assert!(
                (value - expected).abs() < POSITION_MM,
                "{key}: {value} against {expected}"
            );
        }
        close(found.force, number(result, "spring_force"), "force");
        close(found.motion_ratio, number(result, "motion_ratio"), "motion ratio");
        close(
            found.motion_ratio_slope,
            number(result, "dmotion_ratio_dtravel"),
            "slope of the motion ratio",
        );
        close(
            found.wheel_rate.total(),
            number(result, "wheel_rate"),
            "wheel rate",
        );
        close(
            found.wheel_rate.from_spring,
            number(result, "wheel_rate_spring_term"),
            "spring term",
        );
        close(
            found.wheel_rate.geometric.expect("a known force"),
            number(result, "wheel_rate_geometric_term"),
            "geometric term",
        );
        close(
            found.frequency.expect("a frequency"),
            number(result, "ride_frequency_hz"),
            "frequency",
        );
    });
}

#[test]
fn a_corner_sits_where_the_reference_says_with_its_weight_at_the_contact_point() {
    every(|corner, mass, result| {
        let found = standing(corner, mass, LoadPoint::ContactPoint);
        for (value, key) in [
            (found.travel, "travel_contact_point_exact"),
            (found.between_mounts, "damper_length_contact_point_exact"),
            (found.installed_length, "spring_length_contact_point_exact"),
        ] {
            let expected = number(result, key);
            assert!(
                (value - expected).abs() < POSITION_MM,
                "{key}: {value} against {expected}"
            );
        }
        close(
            found.force,
            number(result, "spring_force_contact_point_exact"),
            "force",
        );
        close(
            found.motion_ratio,
            number(result, "motion_ratio_contact_point_exact"),
            "motion ratio",
        );
        let contact = found.contact_point;
        close(contact.rise, number(result, "dz_contact_dtravel"), "rise");
        close(contact.rate, number(result, "contact_rate"), "rate");
        close(
            contact.frequency.expect("a frequency"),
            number(result, "contact_ride_frequency_hz"),
            "frequency",
        );
    });
}

#[test]
fn a_spring_goes_loose_where_the_reference_says() {
    every(|pickups, mass, result| {
        let Some(loose_at) = result["spring_loose_at_travel"].as_f64() else {
            return;
        };
        // With the droop ended just there, the spring is left without force.
        let mut stopped = pickups.clone();
        stopped.stops.droop = Some(-loose_at);
        let question = RideHeightQuestion {
            load: SprungLoad::of_sprung_mass(mass),
            ..RideHeightQuestion::default()
        };
        let corner = Corner::new(&stopped).expect("a good corner");
        let ride = check_corner_ride_height(&corner, &question).expect("an answer");
        let at_full_droop = ride.at_full_droop.1.expect("an end of droop");
        assert!(at_full_droop.compression.abs() < POSITION_MM);
    });
}
