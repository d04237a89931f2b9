//! Remedies of brackets that are far from their limits, and bolts that only just go in.

use super::{INCH, KSI};
use kin_core::checks::{
    BracketForce, BracketQuestion, Finding, HoleClass, RemedyKind, Verdict, check_bracket,
};

/// One thin tab under a large force across it (invented).
fn overloaded() -> BracketQuestion {
    BracketQuestion {
        name: "tab".into(),
        tabs: 1,
        thickness: 0.1 * INCH,
        width: 1.0 * INCH,
        height: 1.25 * INCH,
        edge_distance: 0.5 * INCH,
        hole: Some(0.53 * INCH),
        bolt: "1/2-13".into(),
        hole_class: HoleClass::Close,
        drill_to: None,
        yielding: 36.0 * KSI,
        force: BracketForce {
            outward: 444.8,
            across: 8_896.4,
            sideways: 0.0,
        },
        load_factor: 3.0,
        weld: None,
    }
}

fn findings(question: &BracketQuestion) -> Vec<Finding> {
    check_bracket(question).expect("a bracket").findings
}

fn same<'a>(findings: &'a [Finding], subject: &str) -> Option<&'a Finding> {
    findings.iter().find(|found| found.subject == subject)
}

fn with(question: &BracketQuestion, kind: RemedyKind, change: f64) -> BracketQuestion {
    let mut other = question.clone();
    match kind {
        RemedyKind::ThickerTab => other.thickness += change,
        RemedyKind::WiderTab => other.width += change,
        RemedyKind::SecondTab => other.tabs = 2,
        RemedyKind::MoreEdge => {
            other.edge_distance += change;
            // The edge is all round the hole.
            other.width = other.width.max(2.0 * other.edge_distance);
        }
        other => panic!("{other:?}"),
    }
    other
}

/// What fails has a remedy that mends it, and says so where no thickness does.
#[test]
fn far_beyond_the_limit_another_shape_is_named() {
    let asked = overloaded();
    let mut kinds = Vec::new();
    for failing in findings(&asked)
        .iter()
        .filter(|found| found.verdict == Verdict::Fails)
    {
        assert!(!failing.remedies.is_empty(), "{failing}");
        for remedy in &failing.remedies {
            let mended = findings(&with(&asked, remedy.kind, remedy.change * 1.000_001));
            let after = same(&mended, &failing.subject).expect("the finding");
            assert_ne!(after.verdict, Verdict::Fails, "{failing}");
            kinds.push(remedy.kind);
        }
        if !failing.subject.ends_with("edge beside the hole") {
            let said = failing.to_string();
            assert!(said.contains("No tab up to 4 times as thick serves"), "{said}");
        }
    }
    assert_eq!(
        kinds,
        [RemedyKind::MoreEdge, RemedyKind::WiderTab, RemedyKind::MoreEdge],
        "edge, root, tear-out"
    );
}

/// A tab that a second one relieves enough.
#[test]
fn a_second_tab_is_offered_to_a_single_one() {
    let mut asked = overloaded();
    asked.force = BracketForce {
        outward: 4_000.0,
        across: 0.0,
        sideways: 0.0,
    };
    asked.yielding = 300.0;
    let found = findings(&asked);
    let failing = found
        .iter()
        .find(|found| found.subject.ends_with("section through the hole"))
        .expect("net section");
    assert_eq!(failing.verdict, Verdict::Fails);
    let kinds: Vec<RemedyKind> = failing.remedies.iter().map(|remedy| remedy.kind).collect();
    assert_eq!(kinds, [RemedyKind::ThickerTab, RemedyKind::SecondTab]);
    let mended = findings(&with(&asked, RemedyKind::SecondTab, 0.0));
    assert_ne!(
        same(&mended, &failing.subject).expect("it").verdict,
        Verdict::Fails
    );
}

/// Common practice, no source: a bolt needs a tenth of a millimetre to go in by hand.
#[test]
fn a_hole_of_the_bolts_own_size_is_tight() {
    for (hole, verdict) in [
        (12.7, Verdict::Tight),
        (12.79, Verdict::Tight),
        (12.81, Verdict::Holds),
    ] {
        let asked = BracketQuestion {
            hole: Some(hole),
            ..overloaded()
        };
        assert_eq!(findings(&asked)[0].verdict, verdict, "{hole}");
    }
}

#[test]
fn a_yield_in_psi_is_questioned() {
    let asked = BracketQuestion {
        yielding: 36_000.0 * KSI,
        ..overloaded()
    };
    let said = check_bracket(&asked).expect_err("a slip").to_string();
    assert!(
        said.contains("`yielding`") && said.contains("psi, ksi or MPa?"),
        "{said}"
    );
}
