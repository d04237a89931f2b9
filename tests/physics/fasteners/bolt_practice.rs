//! What a careful reader of a bolt check trips over: loose torque, tight holes, signs, and numbers copied from a remedy.

use super::{INCH, KSI, POUND_FOOT, close};
use kin_core::checks::{
    BoltCheck, BoltQuestion, BoltTab, Finding, Grade, RemedyKind, Shear, ThreadCondition, Verdict, check_bolt,
};

/// A half-inch bolt of grade 8 in double shear under 1500 lb (invented).
fn question() -> BoltQuestion {
    BoltQuestion {
        name: "lower eye".into(),
        size: "1/2-13".into(),
        grade: Grade::Grade8,
        shear: Shear::Double,
        force: 6_672.3,
        load_factor: 3.0,
        lever: None,
        threads_in_shear_plane: false,
        shear_limit: None,
        bending_limit: None,
        tab: None,
        torque: None,
        condition: ThreadCondition::ZincPlated,
    }
}

fn tab(thickness: f64, hole: f64) -> BoltTab {
    BoltTab {
        thickness: thickness * INCH,
        bearing_limit: None,
        tensile: Some(58.0 * KSI),
        hole: Some(hole * INCH),
        edge_distance: Some(0.5 * INCH),
    }
}

fn checked(question: &BoltQuestion) -> BoltCheck {
    check_bolt(question).expect("a bolt")
}

#[track_caller]
fn about<'a>(check: &'a BoltCheck, subject: &str) -> &'a Finding {
    let found = check
        .findings
        .iter()
        .find(|found| found.subject.ends_with(subject));
    found.unwrap_or_else(|| panic!("nothing about {subject}: {:?}", check.findings))
}

/// Common practice, no source: below half of the usual clamp a joint is tight, below a quarter it fails.
#[test]
fn far_too_little_torque_is_no_joint() {
    let usual = checked(&question()).usual;
    for (share, verdict, serves) in [
        (0.05, Verdict::Fails, false),
        (0.249, Verdict::Fails, false),
        (0.251, Verdict::Tight, true),
        (0.499, Verdict::Tight, true),
        (0.501, Verdict::Holds, true),
        (1.0, Verdict::Holds, true),
    ] {
        let asked = BoltQuestion {
            torque: Some(share * usual.torque),
            ..question()
        };
        let check = checked(&asked);
        let found = about(&check, ": clamp");
        assert_eq!(found.verdict, verdict, "{share}: {found}");
        assert_eq!(check.torque_serves(), serves, "{share}");
        if verdict == Verdict::Holds {
            assert!(found.remedies.is_empty());
            continue;
        }
        let [remedy] = found.remedies.as_slice() else {
            panic!("{found}")
        };
        assert_eq!(remedy.kind, RemedyKind::MoreTorque);
        assert!(remedy.sentence.to_string().starts_with("Tighten to "), "{found}");
        let mended = BoltQuestion {
            torque: Some(share * usual.torque + remedy.change),
            ..asked
        };
        assert_eq!(about(&checked(&mended), ": clamp").verdict, Verdict::Holds);
    }
    // By hand: 5 lb-ft are 60 lb-in, over 0.2 and half an inch 600 lb; 120 ksi on 0.1419 in^2 are 17028 lb: 4 %.
    let five = checked(&BoltQuestion {
        torque: Some(5.0 * POUND_FOOT),
        ..question()
    });
    close(
        five.clamp.expect("a clamp").share_of_proof,
        600.0 / 17_028.0,
        1e-3,
        "share",
    );
}

#[test]
fn a_bolt_does_not_go_into_a_smaller_hole() {
    let asked = |hole: f64| BoltQuestion {
        tab: Some(BoltTab {
            edge_distance: Some(0.75 * INCH),
            ..tab(0.25, hole)
        }),
        ..question()
    };
    let check = checked(&asked(0.4));
    let found = about(&check, "bolt in its hole");
    assert_eq!(found.verdict, Verdict::Fails);
    close(found.margin, -0.1 * INCH, 1e-9, "too thick by");
    // ASME B18.2.8, close fit for half an inch: 17/32 in (from memory).
    close(0.4 * INCH + found.remedies[0].change, 0.531 * INCH, 1e-9, "drill");
    assert!(
        checked(&asked(0.531))
            .findings
            .iter()
            .all(|found| !found.subject.ends_with("in its hole"))
    );
}

#[test]
fn bearing_without_a_limit_is_said_not_to_be_judged() {
    let check = checked(&BoltQuestion {
        tab: Some(BoltTab {
            tensile: None,
            ..tab(0.25, 0.531)
        }),
        ..question()
    });
    let said = about(&check, "shear of the bolt").to_string();
    assert!(said.contains("is not judged: give a `bearing_limit`"), "{said}");
    assert!(!said.contains("what rules here"), "{said}");
}

/// Push and pull shear a bolt alike.
#[test]
fn the_sign_of_the_force_does_not_matter() {
    let pushed = BoltQuestion {
        force: -question().force,
        ..question()
    };
    let (push, pull) = (checked(&pushed), checked(&question()));
    assert_eq!(push.force, pull.force);
    assert!(push.force > 0.0);
    assert_eq!(push.findings, pull.findings);
}

/// The thickness that is written in inches, put in as written, holds; and no list starts with another choice.
#[test]
fn thicknesses_hold_as_written_in_inches() {
    for thickness in [0.06, 0.1, 0.12, 0.125, 0.13] {
        let asked = BoltQuestion {
            tab: Some(tab(thickness, 0.5625)),
            ..question()
        };
        let check = checked(&asked);
        let found = about(&check, "bearing on the tab");
        assert_eq!(found.verdict, Verdict::Fails, "{found}");
        let text = |remedy: &kin_core::checks::Remedy| {
            remedy
                .sentence
                .render(|value, _, rounding| rounding.text(value / INCH, INCH, 2))
        };
        assert!(!text(&found.remedies[0]).starts_with("Or "), "{found}");
        assert!(
            found.remedies[1..]
                .iter()
                .all(|remedy| text(remedy).starts_with("Or ")),
            "{found}"
        );
        let remedy = found
            .remedies
            .iter()
            .find(|remedy| remedy.kind == RemedyKind::ThickerTab);
        let said = text(remedy.expect("a thickness"));
        let written: f64 = said
            .split(' ')
            .find_map(|word| word.parse().ok())
            .expect("a number");
        let mended = BoltQuestion {
            tab: Some(tab(written, 0.5625)),
            ..asked
        };
        assert_ne!(
            about(&checked(&mended), "bearing on the tab").verdict,
            Verdict::Fails,
            "{said}"
        );
    }
}
