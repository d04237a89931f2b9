//! A progressive bump stop on the wagon's front damper.

use super::support::{close, finding, wagon_corner, wagon_front};
use kin_core::checks::{
    BumpStopQuestion, StopEnd, StopPoint, Verdict, check_axle_bump_stop, check_corner_bump_stop,
};
use kin_core::curves::CornerCurve;
use kin_core::pickups::AxleSides;
use kin_core::{Axle, samples};

/// An invented stop: 300 N at 5 mm, 900 N at 10 mm, then steeply to the end given.
fn table(end: f64, force: f64) -> Vec<StopPoint> {
    [(5.0, 300.0), (10.0, 900.0), (end, force)]
        .map(|(compression, force)| StopPoint { compression, force })
        .to_vec()
}

fn question(end: f64, force: f64) -> BumpStopQuestion {
    BumpStopQuestion {
        table: table(end, force),
        load_factor: None,
    }
}

#[test]
fn the_stop_works_over_the_last_third_of_the_bump_travel() {
    let work = check_corner_bump_stop(&wagon_corner(), &wagon_front(), &question(20.0, 12_000.0))
        .expect("an answer");
    // The scenario: 69.2 mm to the stop, 101.6 mm to metal.
    close(work.contact, 69.2, 0.05);
    close(work.end, 101.6, 0.05);
    assert_eq!(work.ends_at, StopEnd::Metal);
    close(
        work.share_of_bump.expect("clear at ride height"),
        32.4 / 101.6,
        1e-3,
    );
    close(work.share_of_stroke, 20.0 / 95.25, 1e-12);
    assert!(
        work.findings
            .iter()
            .all(|finding| finding.verdict == Verdict::Holds),
        "{:?}",
        work.findings
    );
}

/// Closed form: `(k c + F) m` with compression c and motion ratio m read from the curves at that travel.
#[test]
fn the_wheel_feels_spring_and_stop_through_the_motion_ratio() {
    let corner = wagon_corner();
    let work = check_corner_bump_stop(&corner, &wagon_front(), &question(20.0, 12_000.0)).expect("an answer");
    let force_at = |travel: f64| {
        let position = corner.at(travel, 0.0).expect("within reach");
        let length = CornerCurve::DamperLength.value(&position).expect("a damper");
        let ratio = CornerCurve::MotionRatio.value(&position).expect("a damper");
        let pressed: f64 = 274.0 - length;
        let stop = if pressed <= 5.0 {
            60.0 * pressed
        } else if pressed <= 10.0 {
            300.0 + 120.0 * (pressed - 5.0)
        } else {
            900.0 + 1_110.0 * (pressed - 10.0)
        };
        (96.32 * (254.0 - (length - 55.0 - 75.46)) + stop.max(0.0)) * ratio
    };
    assert_eq!(work.rows.len(), 4);
    for row in &work.rows {
        close(row.wheel_force, force_at(row.travel), 1e-6 * row.wheel_force);
        if row.compression < 20.0 {
            // Into the stop: a difference of 1e-3 mm, with its error of 1e-3 times half the second rate.
            let rate = (force_at(row.travel + 1e-3) - force_at(row.travel)) / 1e-3;
            close(row.wheel_rate, rate, 1e-3 * rate);
        }
    }
    let carried = work.carries_load_factor_at.expect("before metal");
    close(force_at(carried), 3.0 * 406.0 * 9.80665, 1e-3);
}

#[test]
fn a_weak_stop_ends_in_a_blow() {
    let work =
        check_corner_bump_stop(&wagon_corner(), &wagon_front(), &question(14.0, 2_000.0)).expect("an answer");
    assert_eq!(work.ends_at, StopEnd::Flat);
    assert!(work.end < 101.0, "flat before metal");
    assert_eq!(work.carries_load_factor_at, None);
    let end = finding(&work.findings, "stops the wheel before the travel ends");
    assert_eq!(end.verdict, Verdict::Fails);
    assert!(end.to_string().contains("the rest comes as a blow"), "{end}");
}

#[test]
fn a_stop_that_is_pressed_at_ride_height_fails() {
    let mut pickups = samples::wagon_front();
    pickups.coilover.as_mut().expect("a coilover").bump_stop = 70.0;
    let corner = kin_core::Corner::new(&pickups).expect("a good corner");
    let work = check_corner_bump_stop(&corner, &wagon_front(), &question(60.0, 9_000.0)).expect("an answer");
    assert!(work.contact < 0.0);
    assert_eq!(work.share_of_bump, None);
    assert_eq!(
        finding(&work.findings, "clear at ride height").verdict,
        Verdict::Fails
    );
}

#[test]
fn both_stops_of_an_axle_answer_alike() {
    let axle = Axle::new(&samples::wagon_rear()).expect("a good axle");
    let sides = AxleSides {
        left: kin_core::checks::RideHeightQuestion {
            load: kin_core::checks::SprungLoad::of_sprung_mass(322.0),
            ..Default::default()
        },
        right: None,
    };
    let both = check_axle_bump_stop(&axle, &sides, &question(20.0, 9_000.0)).expect("an answer");
    let [left, right] = both.as_slice() else {
        panic!("two sides: {both:?}");
    };
    // The scenario: 52.7 mm to the stop, 73.0 mm to metal.
    close(left.contact, 52.7, 0.05);
    close(left.end, 73.0, 0.05);
    close(left.contact, right.contact, 1e-8);
    close(left.end, right.end, 1e-8);
}
