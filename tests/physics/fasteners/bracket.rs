//! Brackets: hole, edge, tabs and weld.

use super::{INCH, close};
use kin_core::checks::{
    BracketForce, BracketQuestion, HoleClass, PlateEffect, RemedyKind, Verdict, Weld, check_bracket,
};
use kin_core::nalgebra::Vector3;
use kin_core::pickups::{Measured, Quantity};

/// The invented wagon's front lower bracket, with the shape of its tabs added (invented).
fn question() -> BracketQuestion {
    BracketQuestion {
        name: "front lower mount".into(),
        tabs: 2,
        thickness: 6.35,
        width: 50.0,
        height: 40.0,
        edge_distance: 25.0,
        hole: Some(13.0),
        bolt: "1/2-13".into(),
        hole_class: HoleClass::Close,
        drill_to: None,
        yielding: 250.0,
        force: BracketForce {
            outward: 6_581.0,
            across: 0.0,
            sideways: 0.0,
        },
        load_factor: 3.0,
        weld: Some(Weld {
            leg: 5.0,
            length_per_tab: 60.0,
            limit: Some(145.0),
        }),
    }
}

fn stress(question: &BracketQuestion, effect: PlateEffect) -> f64 {
    let result = check_bracket(question).expect("a bracket");
    let found = result.stresses.iter().find(|found| found.effect == effect);
    found.expect("the effect").stress
}

/// The printed stress of the invented wagon's welds (MPa), half of its last digit.
#[test]
fn the_wagons_welds() {
    for (outward, expected) in [(6_581.0, 46.5), (3_208.0, 22.7)] {
        let mut asked = question();
        asked.force.outward = outward;
        let direct = check_bracket(&asked)
            .expect("a bracket")
            .weld_direct
            .expect("a weld");
        close(direct, expected, 0.051, "weld throat");
    }
}

/// Plate formulas by hand, one direction of force at a time, for 1000 N with load factor 1.
#[test]
fn plates_by_hand() {
    let mut asked = question();
    asked.load_factor = 1.0;
    let with = |outward: f64, across: f64, sideways: f64| BracketQuestion {
        force: BracketForce {
            outward,
            across,
            sideways,
        },
        ..asked.clone()
    };
    let pulled = with(1_000.0, 0.0, 0.0);
    close(
        stress(&pulled, PlateEffect::Root),
        1_000.0 / 635.0,
        1e-9,
        "pull at the root",
    );
    close(
        stress(&pulled, PlateEffect::NetSection),
        1_000.0 / (2.0 * 37.0 * 6.35),
        1e-9,
        "net section",
    );
    close(
        stress(&pulled, PlateEffect::TearOut),
        1_000.0 / (4.0 * 6.35 * 18.5),
        1e-9,
        "tear-out",
    );
    // 40000 N mm on two section moduli of 6.35 * 50^2 / 6 = 2645.8 mm^3.
    let edgewise = with(0.0, 1_000.0, 0.0);
    close(stress(&edgewise, PlateEffect::Root), 7.559, 1e-3, "edgewise");
    // The same moment flatwise, on two of 50 * 6.35^2 / 6 = 336.0 mm^3: eight times as much.
    let flatwise = with(0.0, 0.0, 1_000.0);
    close(stress(&flatwise, PlateEffect::Root), 59.52, 1e-2, "flatwise");
    close(
        stress(&flatwise, PlateEffect::Root) / stress(&edgewise, PlateEffect::Root),
        50.0 / 6.35,
        1e-9,
        "width over thickness",
    );
    // Weld: throat 3.5355 mm; edgewise modulus 3.5355 * 3600 / 12 = 1060.7 mm^3 on each tab, flatwise
    // 3.5355 * 60 * 6.35 / 2 = 673.5 mm^3; direct 1000 / (2 * 3.5355 * 60) = 2.357 MPa.
    close(
        stress(&edgewise, PlateEffect::Weld),
        2.357 + 40_000.0 / (2.0 * 1_060.66),
        2e-3,
        "weld edgewise",
    );
    close(
        stress(&flatwise, PlateEffect::Weld),
        2.357 + 40_000.0 / (2.0 * 673.519),
        2e-3,
        "weld flatwise",
    );
}

/// Common practice, no source: a 3/8 bolt goes where a 5/16 one was loose only when the hole is drilled to suit.
#[test]
fn a_three_eighths_bolt_in_a_five_sixteenths_hole() {
    // Every hole that a 5/16 bolt may have, up to the largest loose one, 0.373 in.
    for hole in [0.328, 0.344, 0.359, 0.373] {
        let asked = BracketQuestion {
            bolt: "3/8-16".into(),
            hole: Some(hole * INCH),
            hole_class: HoleClass::Normal,
            edge_distance: 20.0,
            ..question()
        };
        let result = check_bracket(&asked).expect("a bracket");
        assert!(result.hole.drilled, "{hole}");
        close(
            result.hole.diameter / INCH,
            0.406,
            1e-12,
            "drilled to the normal fit",
        );
        close(result.hole.edge_left, 20.0 - 0.203 * INCH, 1e-9, "edge left");
        // Left as it is, the bolt does not go in, and the check says what to drill.
        let as_it_is = BracketQuestion {
            drill_to: Some(hole * INCH),
            ..asked
        };
        let finding = &check_bracket(&as_it_is).expect("a bracket").findings[0];
        assert_eq!(finding.verdict, Verdict::Fails);
        assert!(finding.margin < 0.0);
        let [remedy] = finding.remedies.as_slice() else {
            panic!()
        };
        assert_eq!(remedy.kind, RemedyKind::LargerHole);
        close(hole * INCH + remedy.change, 0.406 * INCH, 1e-9, "drill");
        assert!(finding.to_string().contains("does not go in"), "{finding}");
    }
    // And a 5/16 bolt in a hole for 3/8 rattles.
    let rattles = BracketQuestion {
        bolt: "5/16-18".into(),
        hole: Some(0.406 * INCH),
        ..question()
    };
    let finding = &check_bracket(&rattles).expect("a bracket").findings[0];
    assert_eq!(finding.verdict, Verdict::Fails);
    assert!(finding.to_string().contains("more than a loose fit"), "{finding}");
}

#[test]
fn drilling_out_uses_up_the_edge() {
    // A half-inch hole, 1.5 diameters at 0.609 in are 23.2 mm, at 0.531 in 20.2 mm.
    let asked = BracketQuestion {
        hole: None,
        hole_class: HoleClass::Loose,
        edge_distance: 21.0,
        ..question()
    };
    let finding = &check_bracket(&asked).expect("a bracket").findings[1];
    assert_eq!(finding.verdict, Verdict::Fails);
    let [remedy] = finding.remedies.as_slice() else {
        panic!("{finding}")
    };
    assert_eq!(remedy.kind, RemedyKind::SmallerHole);
    let smaller = BracketQuestion {
        drill_to: Some(0.609 * INCH + remedy.change),
        ..asked.clone()
    };
    assert_ne!(
        check_bracket(&smaller).expect("a bracket").findings[1].verdict,
        Verdict::Fails
    );
    for (edge_distance, verdict) in [
        (19.0, Verdict::Fails),
        (22.0, Verdict::Tight),
        (25.0, Verdict::Tight),
    ] {
        let asked = BracketQuestion {
            hole: None,
            edge_distance,
            ..question()
        };
        assert_eq!(
            check_bracket(&asked).expect("a bracket").findings[1].verdict,
            verdict
        );
    }
    let wide = BracketQuestion {
        hole: None,
        width: 60.0,
        edge_distance: 30.0,
        ..question()
    };
    assert_eq!(
        check_bracket(&wide).expect("a bracket").findings[1].verdict,
        Verdict::Holds
    );
    // The hole breaks through: edge left is negative, and nothing divides by it.
    let through = BracketQuestion {
        hole: None,
        edge_distance: 5.0,
        ..question()
    };
    let result = check_bracket(&through).expect("a bracket");
    assert!(result.hole.edge_left < 0.0);
    assert_eq!(result.findings[1].verdict, Verdict::Fails);
    assert!(
        result
            .findings
            .iter()
            .all(|finding| finding.value.is_finite() && finding.margin.is_finite())
    );
}

#[test]
fn remedies_just_mend() {
    let mut asked = question();
    asked.force.sideways = 2_500.0;
    let result = check_bracket(&asked).expect("a bracket");
    let mut mended = 0;
    for finding in result
        .findings
        .iter()
        .filter(|finding| finding.verdict == Verdict::Fails)
    {
        let [remedy] = finding.remedies.as_slice() else {
            panic!("{finding}")
        };
        let changed = |share: f64| {
            let mut other = asked.clone();
            match remedy.kind {
                RemedyKind::ThickerTab => other.thickness += remedy.change * share,
                RemedyKind::LongerWeld => {
                    other.weld.as_mut().expect("a weld").length_per_tab += remedy.change * share;
                }
                other => panic!("{other:?}"),
            }
            let result = check_bracket(&other).expect("a bracket");
            let same = result
                .findings
                .into_iter()
                .find(|other| other.subject == finding.subject);
            same.expect("the finding").verdict
        };
        assert_ne!(changed(1.0), Verdict::Fails, "{finding}");
        assert_eq!(changed(0.99), Verdict::Fails, "{finding}");
        assert!(finding.to_string().contains("estimate"), "{finding}");
        mended += 1;
    }
    assert_eq!(mended, 2);
}

/// A force in vehicle axes, on a bracket that hangs from the frame with its bolt fore and aft.
#[test]
fn a_mount_force_is_resolved_on_the_bracket() {
    let force = Vector3::new(120.0, -800.0, 6_500.0);
    let resolved = BracketForce::resolved(
        &force,
        &Vector3::new(2.0, 0.0, 0.0),
        &Vector3::new(0.3, 0.0, -1.0),
    );
    let expected = BracketForce {
        outward: -6_500.0,
        across: 800.0,
        sideways: 120.0,
    };
    assert_eq!(resolved, Some(expected));
    assert_eq!(
        BracketForce::resolved(&force, &Vector3::zeros(), &Vector3::z()),
        None
    );
    assert_eq!(
        BracketForce::resolved(&force, &Vector3::x(), &(Vector3::x() * 3.0)),
        None
    );
}

fn refused(change: impl Fn(&mut BracketQuestion), expected: &str) {
    let mut asked = question();
    change(&mut asked);
    let error = check_bracket(&asked).expect_err("refused").to_string();
    assert!(error.contains(expected), "{error}");
}

#[test]
fn wrong_questions_are_refused_with_sentences() {
    refused(|asked| asked.tabs = 0, "one tab or two");
    refused(|asked| asked.thickness = 0.0, "`thickness` is 0");
    refused(
        |asked| asked.edge_distance = 40.0,
        "never farther from the middle of the hole",
    );
    refused(
        |asked| asked.hole = Some(60.0),
        "a hole is smaller than the tab is wide",
    );
    refused(|asked| asked.force.sideways = f64::NAN, "`force` is NaN");
    refused(
        |asked| asked.bolt = "M13".into(),
        "no bolt of size `M13` is known here; the nearest names are `M1",
    );
    refused(
        |asked| {
            asked.bolt = "9/16-12".into();
            asked.hole = None;
        },
        "the tables have no hole for this size; give `drill_to`",
    );
    refused(
        |asked| asked.weld.as_mut().expect("a weld").leg = -5.0,
        "`weld.leg` is -5",
    );
}

#[test]
fn every_number_of_a_question_can_be_converted() {
    let mut asked = question();
    asked.drill_to = Some(14.0);
    let mut counts = [0; 3];
    asked.visit(&mut |_, quantity| match quantity {
        Quantity::Length => counts[0] += 1,
        Quantity::Stress => counts[1] += 1,
        Quantity::Force => counts[2] += 1,
        other => panic!("{other:?}"),
    });
    assert_eq!(counts, [8, 2, 3]);
    let text = serde_json::to_string(&asked).expect("JSON");
    assert_eq!(
        serde_json::from_str::<BracketQuestion>(&text).expect("a question"),
        asked
    );
}
