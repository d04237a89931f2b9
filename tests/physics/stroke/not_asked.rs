//! Where nobody said how much travel is wanted, nothing is said of fit; what cannot be right still fails.

use kin_core::checks::{DamperStroke, StrokeQuestion, Verdict, check_axle_stroke, check_corner_stroke};
use kin_core::pickups::{DoubleWishbone, RideHeight, Wanted};
use kin_core::{Axle, Corner, samples};

fn nothing_wanted() -> DoubleWishbone {
    let mut pickups = samples::wagon_front();
    pickups.wanted = None;
    pickups.stops.droop = None;
    pickups
}

fn check(pickups: &DoubleWishbone, question: &StrokeQuestion) -> DamperStroke {
    let corner = Corner::new(pickups).expect("a corner");
    check_corner_stroke(&corner, question).expect("an answer")
}

#[test]
fn nothing_asked_is_no_fit() {
    let answer = check(&nothing_wanted(), &StrokeQuestion::default());
    assert_eq!(answer.verdict(), Verdict::NotAsked);
    for (finding, way) in answer.findings.iter().zip(["bump", "droop"]) {
        assert_eq!(finding.verdict, Verdict::NotAsked, "{finding}");
        let text = finding.to_string();
        assert!(text.contains("nothing is said of fit"), "{text}");
        assert!(
            text.contains(&format!("write it as `{way}` under `wanted`")),
            "{text}"
        );
    }
    let mut axle = samples::wagon_rear();
    axle.wanted = None;
    let axle = Axle::new(&axle).expect("an axle");
    let answers = check_axle_stroke(&axle, &StrokeQuestion::default()).expect("an answer");
    assert!(answers.iter().all(|answer| answer.verdict() == Verdict::NotAsked));
    // Nor is anything said where the suspension's own stop is only just met first, as at 50 mm of droop here.
    let mut stopped = nothing_wanted();
    stopped.stops.droop = samples::wagon_front().stops.droop;
    let answer = check(&stopped, &StrokeQuestion::default());
    assert!(
        answer
            .findings
            .iter()
            .any(|finding| finding.verdict == Verdict::Tight)
    );
    assert_eq!(answer.verdict(), Verdict::NotAsked);
    // A margin alone asks for no travel.
    let mut pickups = nothing_wanted();
    pickups.wanted = Some(Wanted {
        margin: Some(3.0),
        ..Wanted::default()
    });
    assert_eq!(
        check(&pickups, &StrokeQuestion::default()).verdict(),
        Verdict::NotAsked
    );
}

/// Zero is an answer: the owner wants none.
#[test]
fn zero_is_asked() {
    let none = StrokeQuestion {
        bump: Some(0.0),
        droop: Some(0.0),
        margin: None,
    };
    assert_eq!(check(&nothing_wanted(), &none).verdict(), Verdict::Holds);
}

#[test]
fn one_way_asked_is_answered() {
    let bump = StrokeQuestion {
        bump: Some(60.0),
        ..StrokeQuestion::default()
    };
    let answer = check(&nothing_wanted(), &bump);
    assert_eq!(answer.findings[0].verdict, Verdict::Holds);
    assert_eq!(answer.findings[1].verdict, Verdict::NotAsked);
    assert_ne!(answer.verdict(), Verdict::NotAsked);
}

/// A damper past its stroke at ride height fails whatever is asked, and so does one that is too long to go in.
#[test]
fn impossible_fits_fail_unasked() {
    let mut pickups = nothing_wanted();
    pickups.ride_height = Some(RideHeight {
        travel: Some(80.0),
        ..RideHeight::default()
    });
    let answer = check(&pickups, &StrokeQuestion::default());
    assert_eq!(answer.verdict(), Verdict::Fails);
    let text = answer.findings[0].to_string();
    assert!(text.contains("of wheel travel below ride height."), "{text}");
    // The other end of the stroke lies above.
    pickups.ride_height = Some(RideHeight {
        travel: Some(-60.0),
        ..RideHeight::default()
    });
    let answer = check(&pickups, &StrokeQuestion::default());
    assert_eq!(answer.verdict(), Verdict::Fails);
    let text = answer.findings[1].to_string();
    assert!(text.contains("of wheel travel above ride height."), "{text}");
}

/// Beyond the linkage's reach: what can be had is said, and it can be asked for.
#[test]
fn what_the_linkage_gives_is_said() {
    let wish = |bump| StrokeQuestion {
        bump: Some(bump),
        droop: Some(0.0),
        margin: None,
    };
    let reach_findings = |bump: f64| -> Vec<String> {
        let answer = check(&nothing_wanted(), &wish(bump));
        let findings = answer.findings.iter();
        findings
            .filter(|finding| finding.subject.contains("reach of the linkage"))
            .map(ToString::to_string)
            .collect()
    };
    let told = reach_findings(900.0);
    let [text] = &told[..] else { panic!("{told:?}") };
    let (_, rest) = text
        .split_once("no damper gives more bump than ")
        .expect("what can be had");
    let (most, _) = rest.split_once(" mm").expect("a unit");
    let most: f64 = most.parse().expect("a number");
    assert!(most > 100.0, "{text}");
    assert_eq!(reach_findings(most), Vec::<String>::new());
    // And what would mend the rest is then told.
    let answer = check(&nothing_wanted(), &wish(most));
    assert!(!answer.findings[0].remedies.is_empty(), "{}", answer.findings[0]);
}
