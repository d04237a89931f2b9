//! Who stops the suspension first: the damper, its bump stop, the suspension's own stop, a strap, or the linkage.

use super::close;
use kin_core::checks::{DamperStroke, Stopper, StrokeQuestion, Verdict, check_corner_stroke};
use kin_core::pickups::{DoubleWishbone, Point, RideHeight, Stops, Strap};
use kin_core::{Corner, samples};

fn check(pickups: &DoubleWishbone) -> DamperStroke {
    let corner = Corner::new(pickups).expect("a corner");
    check_corner_stroke(&corner, &StrokeQuestion::default()).expect("an answer")
}

const STRAP_TOP: [f64; 3] = [60.0, 420.0, 520.0];
const STRAP_FOOT: [f64; 3] = [20.0, 600.0, 190.0];

fn point([x, y, z]: [f64; 3]) -> Point {
    Point::new(x, y, z)
}

/// A strap from the frame to the lower arm that is taut at a travel: as long as its ends are apart there. Its foot
/// turns about the arm's pivots as the damper's would, so a damper in its place tells the length.
fn strap_taut_at(travel: f64) -> Strap {
    let mut pickups = samples::wagon_front();
    let damper = pickups.coilover.as_mut().expect("a coilover");
    (damper.upper_mount, damper.lower_mount) = (point(STRAP_TOP), point(STRAP_FOOT));
    let corner = Corner::new(&pickups).expect("a corner");
    let position = corner.at(travel, 0.0).expect("within reach");
    let (upper, lower) = position.damper_ends().expect("a damper");
    Strap {
        name: "limiting strap".to_owned(),
        upper_mount: point(STRAP_TOP),
        lower_mount: point(STRAP_FOOT),
        rides_on: "lower_arm".to_owned(),
        length: (upper - lower).norm(),
    }
}

fn with_stops(bump: Option<f64>, droop: Option<f64>, straps: Vec<Strap>) -> DoubleWishbone {
    let mut pickups = samples::wagon_front();
    pickups.stops = Stops { bump, droop, straps };
    pickups
}

fn named(name: &str) -> Stopper {
    Stopper::Strap(name.to_owned())
}

#[test]
fn the_first_of_all_stops_is_named() {
    // Without stops the damper tops out at 54.78 mm and meets metal at 101.6 mm.
    let bare = check(&with_stops(None, None, Vec::new()));
    assert_eq!(bare.first_in_droop.0, Stopper::Damper);
    close(
        bare.first_in_droop.1.expect("a travel"),
        54.7848,
        1e-3,
        "topping out",
    );
    assert_eq!(bare.first_in_bump.0, Stopper::Damper);
    close(bare.first_in_bump.1.expect("a travel"), 101.6, 0.1, "metal");
    // A rubber stop at 50 mm is met before.
    let rubber = check(&with_stops(Some(80.0), Some(50.0), Vec::new()));
    assert_eq!(rubber.first_in_droop, (Stopper::OwnStop, Some(50.0)));
    assert_eq!(rubber.first_in_bump, (Stopper::OwnStop, Some(80.0)));
    // One beyond the damper is not, and the damper would stop the suspension.
    let late = check(&with_stops(None, Some(60.0), Vec::new()));
    assert_eq!(late.first_in_droop.0, Stopper::Damper);
    let who = late
        .findings
        .iter()
        .find(|finding| finding.subject.contains("who stops"))
        .expect("a finding");
    assert_eq!(who.verdict, Verdict::Fails);
    close(who.margin, 54.7848 - 60.0, 1e-3, "margin");
    assert!(
        who.to_string().contains("the damper would stop the suspension"),
        "{who}"
    );
    // A strap is met before both; the shorter of two straps counts.
    let straps = vec![
        strap_taut_at(-44.0),
        Strap {
            name: "brake hose".to_owned(),
            ..strap_taut_at(-31.0)
        },
    ];
    let held = check(&with_stops(None, Some(50.0), straps));
    assert_eq!(held.first_in_droop.0, named("brake hose"));
    close(held.first_in_droop.1.expect("a travel"), 31.0, 1e-8, "strap");
    // The mock-up bar for full droop is as long as the damper is there.
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let position = corner.at(-31.0, 0.0).expect("within reach");
    let (upper, lower) = position.damper_ends().expect("a damper");
    close(
        held.mock_up.at_full_droop,
        (upper - lower).norm(),
        1e-8,
        "bar at full droop",
    );
    // A strap says nothing about bump, where it goes slack.
    assert_eq!(held.first_in_bump.0, Stopper::Damper);
}

/// A strap that is just taut at ride height stops droop there and then, but not bump: it goes slack.
#[test]
fn a_strap_taut_at_ride_height_leaves_bump_free() {
    for too_short in [0.0, 4.0] {
        let mut strap = strap_taut_at(0.0);
        strap.length -= too_short;
        let answer = check(&with_stops(None, None, vec![strap]));
        assert_eq!(
            answer.first_in_droop.0,
            named("limiting strap"),
            "{too_short} mm too short"
        );
        close(answer.first_in_droop.1.expect("a travel"), 0.0, 1e-8, "droop");
        assert_eq!(
            answer.first_in_bump.0,
            Stopper::Damper,
            "{too_short} mm too short"
        );
        close(answer.first_in_bump.1.expect("a travel"), 101.6, 0.1, "bump");
    }
}

#[test]
fn straps_count_from_ride_height() {
    let mut pickups = with_stops(None, None, vec![strap_taut_at(-31.0)]);
    pickups.ride_height = Some(RideHeight {
        travel: Some(-10.0),
        ..RideHeight::default()
    });
    let answer = check(&pickups);
    assert_eq!(answer.first_in_droop.0, named("limiting strap"));
    close(
        answer.first_in_droop.1.expect("a travel"),
        21.0,
        1e-8,
        "droop from ride height",
    );
}

/// A damper that is never in the way leaves the linkage to end by itself.
#[test]
fn a_damper_never_reached_is_no_number() {
    let mut pickups = with_stops(None, None, Vec::new());
    let damper = pickups.coilover.as_mut().expect("a coilover");
    (damper.extended, damper.compressed, damper.bump_stop) = (900.0, 60.0, 0.0);
    let reach = Corner::new(&pickups).expect("a corner").reach();
    let answer = check(&pickups);
    assert_eq!(answer.budget.bump_to_stop, None);
    assert_eq!(answer.budget.bump_to_metal, None);
    assert_eq!(answer.budget.droop_to_top_out, None);
    assert_eq!(answer.budget.bump_share(), None);
    assert_eq!(answer.first_in_bump, (Stopper::Linkage, reach.highest));
    assert_eq!(
        answer.first_in_droop,
        (Stopper::Linkage, reach.lowest.map(|lowest| -lowest))
    );
    for finding in &answer.findings {
        assert_ne!(finding.verdict, Verdict::Fails, "{finding}");
        assert!(!finding.to_string().contains("NaN"), "{finding}");
    }
}

/// At ride height the bump stop is touched already: bump to it is negative, and says how far back it lies.
#[test]
fn a_bump_stop_touched_at_ride_height() {
    let mut pickups = samples::wagon_front();
    let plain = check(&pickups);
    let to_stop = plain.budget.bump_to_stop.expect("met");
    pickups.ride_height = Some(RideHeight {
        travel: Some(to_stop + 6.0),
        ..RideHeight::default()
    });
    let answer = check(&pickups);
    close(
        answer.budget.bump_to_stop.expect("met"),
        -6.0,
        1e-8,
        "bump to the stop",
    );
    let to_metal = answer.budget.bump_to_metal.expect("met");
    close(
        to_metal,
        plain.budget.bump_to_metal.expect("met") - to_stop - 6.0,
        1e-8,
        "bump to metal",
    );
    assert_eq!(answer.budget.bump_share(), None);
    let bump = &answer.findings[0];
    assert_eq!(bump.verdict, Verdict::Fails);
    close(bump.value, -6.0, 1e-8, "value");
    assert!(bump.to_string().contains("already past"), "{bump}");
    // And past its extended length, when it sits 5 mm too high.
    pickups.ride_height = Some(RideHeight {
        travel: Some(-plain.budget.droop_to_top_out.expect("met") - 5.0),
        ..RideHeight::default()
    });
    let answer = check(&pickups);
    close(answer.budget.droop_to_top_out.expect("met"), -5.0, 1e-8, "droop");
    assert_eq!(answer.findings[1].verdict, Verdict::Fails);
    assert!(answer.budget.stroke_used_at_ride < 0.0);
}

/// A strap shorter than its mounts are apart at ride height is said to be, with how much is missing.
#[test]
fn a_strap_too_short_for_ride_height_fails() {
    let mut strap = strap_taut_at(0.0);
    let apart = strap.length;
    let about_the_strap = |strap: &Strap| {
        let answer = check(&with_stops(None, None, vec![strap.clone()]));
        let findings = answer.findings.into_iter();
        findings
            .filter(|finding| finding.subject.contains("`limiting strap` at ride height"))
            .collect::<Vec<_>>()
    };
    assert!(about_the_strap(&strap).is_empty());
    strap.length = apart - 12.34;
    let findings = about_the_strap(&strap);
    let [finding] = &findings[..] else {
        panic!("{findings:?}")
    };
    assert_eq!(finding.verdict, Verdict::Fails);
    close(finding.margin, -12.34, 1e-8, "margin");
    let text = finding.to_string();
    assert!(text.contains("too short for ride height"), "{text}");
    assert!(text.contains("12.4 mm longer"), "{text}");
}
