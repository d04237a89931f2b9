//! Springs that cannot be: geometry says so, with or without the solid length.

use super::support::{finding, wagon_corner, wagon_front};
use kin_core::checks::{
    ListedSpring, RideHeightQuestion, SeatPosition, SpringRide, Verdict, check_corner_ride_height,
    choose_corner_spring,
};
use kin_core::pickups::DoubleWishbone;
use kin_core::{Corner, samples};

/// The wagon's question without solid length and without thread, its seat where ride height needs it.
fn unmeasured() -> RideHeightQuestion {
    RideHeightQuestion {
        solid_length: None,
        seat_thread: None,
        seat: SeatPosition::ForRideHeight,
        ..wagon_front()
    }
}

fn ride(change: impl FnOnce(&mut DoubleWishbone), question: &RideHeightQuestion) -> SpringRide {
    let mut pickups = samples::wagon_front();
    change(&mut pickups);
    let corner = Corner::new(&pickups).expect("a good corner");
    check_corner_ride_height(&corner, question).expect("an answer")
}

fn rate(pickups: &mut DoubleWishbone, rate: f64) {
    pickups.spring.as_mut().expect("a spring").rate = rate;
}

/// Geometry: what is compressed by more than its free length has no length left.
#[test]
fn a_spring_compressed_by_more_than_its_length_fails() {
    let soft = ride(|pickups| rate(pickups, 1.0), &unmeasured());
    let standing = soft.standing.expect("a balance of numbers");
    assert!(standing.installed_length < 0.0);
    assert!(!soft.possible);
    for subject in ["ride height", "room for the spring"] {
        let found = finding(&soft.findings, subject);
        assert_eq!(found.verdict, Verdict::Fails, "{found}");
        assert!(found.remedies.is_empty(), "{found}");
    }
    let said = finding(&soft.findings, "ride height").to_string();
    assert!(said.contains("cannot hold the car"), "{said}");
}

/// At ride height there is length left, at full bump none: the least rate is where both meet, by halving.
#[test]
fn full_bump_counts_where_ride_height_would_do() {
    let full_bump = |k: f64| {
        let found = ride(|pickups| rate(pickups, k), &unmeasured());
        let state = found.at_full_bump.1.expect("a place");
        (found, state.installed_length)
    };
    let (mut low, mut high) = (1.0, 96.32);
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if full_bump(middle).1 > 0.0 {
            high = middle;
        } else {
            low = middle;
        }
    }
    let (fails, _) = full_bump(low * 0.999);
    let (just, _) = full_bump(high * 1.001);
    assert!(fails.standing.expect("a balance").installed_length > 0.0);
    assert_eq!(
        finding(&fails.findings, "room for the spring").verdict,
        Verdict::Fails
    );
    assert!(!fails.possible);
    assert_eq!(
        finding(&just.findings, "room for the spring").verdict,
        Verdict::Tight
    );
    assert!(just.possible);
}

#[test]
fn without_the_solid_length_coil_bind_is_not_judged_and_that_is_said() {
    let found = ride(|_| {}, &unmeasured());
    let room = finding(&found.findings, "room for the spring");
    assert_eq!(room.verdict, Verdict::Holds, "{room}");
    assert!(
        room.to_string()
            .contains("coil bind is not judged without the solid length"),
        "{room}"
    );
    let known = ride(
        |_| {},
        &RideHeightQuestion {
            solid_length: Some(114.0),
            ..unmeasured()
        },
    );
    assert!(
        known
            .findings
            .iter()
            .all(|found| !found.subject.ends_with("room for the spring"))
    );
}

/// An upper seat that comes down so far that the lower one would have to stand below its mount.
#[test]
fn a_seat_beyond_its_own_mount_fails() {
    let needed = ride(|_| {}, &unmeasured()).needed.seat;
    let lower = |more: f64| {
        ride(
            |pickups| pickups.spring.as_mut().expect("a spring").upper_seat += needed + more,
            &unmeasured(),
        )
    };
    let beyond = lower(5.0);
    let found = finding(&beyond.findings, "seat beside its mount");
    assert_eq!(found.verdict, Verdict::Fails);
    assert!((found.margin + 5.0).abs() < 1e-6, "{found}");
    assert!(
        found.to_string().contains("5.0 mm beyond its own mount"),
        "{found}"
    );
    assert!(!beyond.possible);
    assert!(lower(-5.0).possible);
}

fn listed(name: &str, rate: f64, solid_length: Option<f64>) -> ListedSpring {
    ListedSpring {
        name: name.into(),
        rate,
        free_length: 254.0,
        solid_length,
        helper: None,
    }
}

#[test]
fn a_list_counts_no_impossible_spring_and_says_what_was_not_judged() {
    let list = [
        listed("far too soft", 10.0, None),
        listed("not measured", 96.32, None),
        listed("measured", 96.32, Some(114.0)),
    ];
    let choice = choose_corner_spring(&wagon_corner(), &list, &unmeasured()).expect("an answer");
    let fitting: Vec<&str> = choice.fitting().map(|spring| spring.name.as_str()).collect();
    assert!(!fitting.contains(&"far too soft"), "{fitting:?}");
    let said = choice.findings[0].to_string();
    assert!(!said.contains("keep every limit;"), "{said}");
    assert!(
        said.contains("Coil bind is not judged without the solid length: not measured."),
        "{said}"
    );
    let choice = choose_corner_spring(&wagon_corner(), &list[2..], &unmeasured()).expect("an answer");
    assert!(choice.findings[0].to_string().contains("keep every limit;"));
}

#[test]
fn two_springs_of_one_name_are_refused() {
    let list = [listed("x", 90.0, None), listed("x", 100.0, None)];
    let error = choose_corner_spring(&wagon_corner(), &list, &unmeasured()).expect_err("one name twice");
    let said = error.to_string();
    assert!(
        said.contains("springs[1].name") && said.contains("springs[0]"),
        "{said}"
    );
}

/// The solid length that is written in inches, taken as written, keeps the allowance: it is written to the safe side.
#[test]
fn a_solid_length_holds_as_written_in_inches() {
    const INCH: f64 = 25.4;
    for solid in [121.0, 126.0, 131.7, 140.0] {
        let asked = |solid_length: f64| RideHeightQuestion {
            solid_length: Some(solid_length),
            ..wagon_front()
        };
        let found = ride(|_| {}, &asked(solid));
        let bind = finding(&found.findings, "coil bind at full bump");
        let [remedy] = bind.remedies.as_slice() else {
            panic!("{bind}")
        };
        let said = remedy
            .sentence
            .render(|value, _, rounding| rounding.text(value / INCH, INCH, 2));
        let written: f64 = said
            .split(' ')
            .find_map(|word| word.parse().ok())
            .expect("a number");
        let mended = ride(|_| {}, &asked(written * INCH));
        let bind = finding(&mended.findings, "coil bind at full bump");
        assert_eq!(bind.verdict, Verdict::Holds, "{said}: {bind}");
    }
}
