//! Bump steer, and the shims under a tie-rod end that make it least.

use kin_core::checks::{
    BumpSteer, BumpSteerQuestion, RemedyKind, ShimmedEnd, TieRodShim, Verdict, check_bump_steer,
};
use kin_core::curves::CornerCurve;
use kin_core::pickups::{DoubleWishbone, Point, RideHeight};
use kin_core::{Corner, samples};

const SIXTEENTH_INCH: f64 = 25.4 / 16.0;

fn shim() -> TieRodShim {
    TieRodShim {
        end: ShimmedEnd::Outer,
        thickness: SIXTEENTH_INCH,
        direction: None,
        most: None,
    }
}

fn question(shim: Option<TieRodShim>) -> BumpSteerQuestion {
    BumpSteerQuestion {
        range: Some(50.0),
        largest_change: Some(0.15),
        shim,
    }
}

fn watched(pickups: &DoubleWishbone, question: &BumpSteerQuestion) -> BumpSteer {
    check_bump_steer(&Corner::new(pickups).expect("a corner"), question).expect("an answer")
}

/// The invented wagon with shims of 1/16 in under the outer tie-rod end, solved by an independent program: change of toe
/// over 50 mm of bump and droop (deg, printed to 0.001) and bump steer at ride height (deg per inch, to 0.0001).
#[test]
fn the_shim_table_of_the_wagon_is_as_solved_elsewhere() {
    let expected = [
        (0.563, -0.145),
        (0.423, -0.1099),
        (0.284, -0.0749),
        (0.16, -0.0399),
        (0.074, -0.005),
        (0.155, 0.0299),
        (0.273, 0.0648),
        (0.41, 0.0996),
        (0.549, 0.1344),
    ];
    let found = watched(&samples::wagon_front(), &question(Some(shim())));
    for (shims, (change, slope)) in (0..).zip(expected) {
        let row = found.rows.iter().find(|row| row.shims == shims).expect("a row");
        assert!(
            (row.toe_change.to_degrees() - change).abs() <= 0.000_51,
            "{shims}: {row:?}"
        );
        assert!(
            (row.slope.to_degrees() * 25.4 - slope).abs() <= 0.000_051,
            "{shims}: {row:?}"
        );
        assert!((row.moved - f64::from(shims) * SIXTEENTH_INCH).abs() < 1e-12);
    }
    assert_eq!(found.best.expect("shims").shims, 4);
    // No offset at all does better than the best one, and whole shims do no better than that.
    let (offset, least) = found.best_offset.expect("shims");
    assert!(found.rows.iter().all(|row| row.toe_change >= least - 1e-9));
    assert!((offset - 4.0 * SIXTEENTH_INCH).abs() < 0.5 * SIXTEENTH_INCH);
}

#[test]
fn four_shims_are_the_remedy_and_do_what_they_say() {
    let pickups = samples::wagon_front();
    let found = watched(&pickups, &question(Some(shim())));
    let finding = &found.findings[0];
    assert_eq!(finding.verdict, Verdict::Fails);
    let remedy = &finding.remedies[0];
    assert_eq!((remedy.kind, remedy.change), (RemedyKind::TieRodShims, 4.0));
    let text = finding.to_string();
    assert!(
        text.contains("4 shims of 1.59 mm") && text.contains("0.07 deg"),
        "{text}"
    );
    let mut shimmed = pickups;
    shimmed.tie_rod.outer.z -= 4.0 * SIXTEENTH_INCH;
    let again = watched(&shimmed, &question(None));
    assert_eq!(again.findings[0].verdict, Verdict::Holds);
    assert!((again.toe_change - found.best.expect("shims").toe_change).abs() < 1e-12);
}

#[test]
fn the_inner_end_is_raised_where_the_outer_one_would_be_lowered() {
    let inner = TieRodShim {
        end: ShimmedEnd::Inner,
        direction: Some(Point::new(0.0, 0.0, 1.0)),
        ..shim()
    };
    let found = watched(&samples::wagon_front(), &question(Some(inner)));
    let best = found.best.expect("shims");
    assert!(
        (3..=5).contains(&best.shims) && best.toe_change.to_degrees() < 0.15,
        "{best:?}"
    );
    assert!(
        found.findings[0].to_string().contains("raises"),
        "{}",
        found.findings[0]
    );
}

#[test]
fn toe_change_counts_what_lies_between_the_ends() {
    // With four shims toe turns round inside the range.
    let mut pickups = samples::wagon_front();
    pickups.tie_rod.outer.z -= 4.0 * SIXTEENTH_INCH;
    let found = watched(&pickups, &question(None));
    let corner = Corner::new(&pickups).expect("a corner");
    let toe = |travel: f64| {
        CornerCurve::Toe
            .value(&corner.at(travel, 0.0).expect("within reach"))
            .expect("toe")
    };
    let ends = (toe(50.0) - toe(-50.0)).abs();
    assert!(found.toe_change > ends + 1e-5);
    let all: Vec<f64> = (0..=10_000)
        .map(|step| toe(-50.0 + 0.01 * f64::from(step)))
        .collect();
    let most = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let least = all.iter().copied().fold(f64::INFINITY, f64::min);
    assert!((found.toe_change - (most - least)).abs() < 1e-9);
    assert!((toe(found.most_toe_in.1) - found.most_toe_in.0).abs() < 1e-12);
}

#[test]
fn bump_steer_is_counted_from_ride_height() {
    let mut raised = samples::wagon_front();
    raised.ride_height = Some(RideHeight {
        travel: Some(20.0),
        ..RideHeight::default()
    });
    let found = watched(&raised, &question(None));
    let corner = Corner::new(&raised).expect("a corner");
    let toe = |travel: f64| {
        CornerCurve::Toe
            .value(&corner.at(travel, 0.0).expect("within reach"))
            .expect("toe")
    };
    assert!((found.at_ride - toe(20.0)).abs() < 1e-12);
    assert!((found.most_toe_in.0 - toe(-30.0)).abs() < 1e-12);
    assert!((found.most_toe_out.0 - toe(70.0)).abs() < 1e-12);
}

#[test]
fn the_right_corner_says_the_same() {
    let left = watched(&samples::wagon_front(), &question(Some(shim())));
    let right = watched(&samples::wagon_front().mirrored(), &question(Some(shim())));
    assert!((left.toe_change - right.toe_change).abs() < 1e-12);
    assert_eq!(left.best.expect("shims").shims, right.best.expect("shims").shims);
}

#[test]
fn wrong_questions_are_refused_by_name() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let thin = |thickness: f64| question(Some(TieRodShim { thickness, ..shim() }));
    let cases = [
        (
            BumpSteerQuestion {
                range: Some(-50.0),
                ..question(None)
            },
            "range",
        ),
        (
            BumpSteerQuestion {
                largest_change: Some(0.0),
                ..question(None)
            },
            "largest_change",
        ),
        (thin(0.0), "shim.thickness"),
        (thin(f64::NAN), "shim.thickness"),
        (
            question(Some(TieRodShim {
                most: Some(0),
                ..shim()
            })),
            "shim.most",
        ),
        (
            question(Some(TieRodShim {
                direction: Some(Point::zeros()),
                ..shim()
            })),
            "shim.direction",
        ),
    ];
    for (bad, words) in cases {
        let error = check_bump_steer(&corner, &bad).expect_err(words).to_string();
        assert!(error.contains(words), "{words}: {error}");
    }
}
