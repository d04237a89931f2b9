//! What a spherical bearing can swing, and whether it goes into its bracket.

use kin_core::Error;
use kin_core::checks::{BearingInBracket, RemedyKind, SphericalBearing, Verdict, check_bearing_in_bracket};

fn bearing(ball_diameter: f64, ball_width: f64, housing_width: f64) -> SphericalBearing {
    SphericalBearing {
        ball_diameter,
        ball_width,
        housing_width,
        housing_diameter: None,
        housing_chamfer: 0.0,
        spacer_diameter: None,
        spacer_length: 0.0,
    }
}

fn limit_deg(bearing: &SphericalBearing) -> f64 {
    bearing.swing_limit().expect("a bearing").to_degrees()
}

/// Radial spherical plain bearings of ISO 12240-1: bore, width of the ball, width of the housing, ball diameter and the
/// tabulated swing (deg), all from memory. Tables give whole degrees, rounded down.
#[test]
fn radial_spherical_plain_bearings_swing_as_tabulated() {
    for (bore, width, housing, ball, computed, tabulated) in [
        (15, 12.0, 9.0, 22.0, 8.91, 8.0),
        (17, 14.0, 10.0, 25.0, 10.48, 10.0),
        (20, 16.0, 12.0, 29.0, 9.04, 9.0),
        (25, 20.0, 16.0, 35.5, 7.50, 7.0),
        (30, 22.0, 18.0, 40.7, 6.47, 6.0),
    ] {
        let found = limit_deg(&bearing(ball, width, housing));
        assert!((found - computed).abs() < 0.005, "bore {bore}: {found}");
        assert!(
            (tabulated..tabulated + 1.0).contains(&found),
            "bore {bore}: {found}"
        );
    }
}

/// Catalogue of spherical bearings P-1930-BG, formula for a bare pin of the bore's diameter. The catalogue prints asin(B/E); a
/// point at the ball's radius reaches the pin's where its height is that radius times the sine of acos(B/E).
#[test]
fn a_bare_pin_stops_the_edge_of_the_housing() {
    let (ball, housing, pin) = (22.0_f64, 9.0_f64, 12.0_f64);
    let bare = SphericalBearing {
        spacer_diameter: Some(pin),
        ..bearing(ball, 12.0, housing)
    };
    let expected = (pin / ball).acos() - (housing / ball).asin();
    assert!((limit_deg(&bare) - expected.to_degrees()).abs() < 1e-12);
}

/// Walks the housing's corners round the ball in small steps until one of them enters the spacer or the bracket.
fn swing_by_walking(bearing: &SphericalBearing) -> f64 {
    let (ball, width) = (0.5 * bearing.ball_diameter, 0.5 * bearing.ball_width);
    let half_housing = 0.5 * bearing.housing_width;
    let cheek = width + bearing.spacer_length;
    let spacer = bearing
        .spacer_diameter
        .map_or(f64::INFINITY, |diameter| 0.5 * diameter);
    let edge = ((ball * ball - half_housing * half_housing).sqrt(), half_housing);
    let mut corners = vec![];
    if let Some(diameter) = bearing.housing_diameter {
        let (radius, chamfer) = (0.5 * diameter, bearing.housing_chamfer);
        corners = vec![(radius - chamfer, half_housing), (radius, half_housing - chamfer)];
    }
    let step = 1e-5;
    let mut swing: f64 = 0.0;
    loop {
        let turned = |(radius, height): (f64, f64)| {
            let (sine, cosine) = swing.sin_cos();
            (radius * cosine - height * sine, radius * sine + height * cosine)
        };
        let (radius, height) = turned(edge);
        let meets_spacer = height > width && radius < spacer;
        let meets_bracket = corners.iter().any(|corner| turned(*corner).1 > cheek);
        if meets_spacer || meets_bracket {
            return swing;
        }
        swing += step;
    }
}

#[test]
fn spacers_and_chamfered_heads_stop_where_a_walk_round_the_ball_stops() {
    let plain = bearing(22.0, 12.0, 9.0);
    let cases = [
        plain,
        // A wide spacer hides the face of the ball; a slim one lets the edge pass it.
        SphericalBearing {
            spacer_diameter: Some(20.0),
            ..plain
        },
        SphericalBearing {
            spacer_diameter: Some(15.0),
            spacer_length: 8.0,
            ..plain
        },
        // The head meets the bracket before the edge meets the spacer.
        SphericalBearing {
            spacer_diameter: Some(13.0),
            spacer_length: 2.0,
            housing_diameter: Some(34.0),
            ..plain
        },
        SphericalBearing {
            spacer_diameter: Some(13.0),
            spacer_length: 2.0,
            housing_diameter: Some(34.0),
            housing_chamfer: 3.0,
            ..plain
        },
        SphericalBearing {
            spacer_diameter: Some(13.0),
            spacer_length: 9.0,
            housing_diameter: Some(34.0),
            housing_chamfer: 1.0,
            ..plain
        },
    ];
    for case in cases {
        let found = case.swing_limit().expect("a bearing");
        let walked = swing_by_walking(&case);
        assert!(
            (found - walked).abs() < 2e-5,
            "{case:?}: {found} against {walked}"
        );
    }
}

#[test]
fn sizes_that_cannot_be_a_bearing_are_refused_by_name() {
    let good = bearing(22.0, 12.0, 9.0);
    for (bad, field) in [
        (bearing(f64::NAN, 12.0, 9.0), "ball_diameter"),
        (bearing(-22.0, 12.0, 9.0), "ball_diameter"),
        (bearing(22.0, 25.0, 9.0), "ball_width"),
        (bearing(22.0, 12.0, 14.0), "housing_width"),
        (
            SphericalBearing {
                spacer_diameter: Some(30.0),
                ..good
            },
            "spacer_diameter",
        ),
        (
            SphericalBearing {
                spacer_length: -1.0,
                ..good
            },
            "spacer_length",
        ),
        (
            SphericalBearing {
                housing_diameter: Some(20.0),
                ..good
            },
            "housing_diameter",
        ),
    ] {
        let error = bad.swing_limit().expect_err(field).to_string();
        assert!(error.contains(field), "{error}");
    }
}

fn bracket(bearing_width: f64, spacer_length: f64, bracket_width: f64) -> BearingInBracket {
    BearingInBracket {
        name: String::new(),
        bearing_width,
        spacer_length,
        bracket_width,
        bearing_tolerance: 0.0,
        spacer_tolerance: 0.0,
        bracket_tolerance: 0.0,
        largest_gap: None,
    }
}

/// Common practice, no source: a bearing with spacers 1.5 in wide goes into a bracket 1.5 in wide.
#[test]
fn an_inch_and_a_half_goes_into_an_inch_and_a_half() {
    let inch = 25.4;
    // 22.2 mm of bearing and two spacers to 1.5 in: sums of such numbers are off in their last digits.
    let spacer = 0.5 * (1.5 * inch - 22.2);
    let fit = check_bearing_in_bracket(&bracket(22.2, spacer, 1.5 * inch)).expect("widths");
    assert_eq!(fit.findings[0].verdict, Verdict::Holds);
    assert_eq!(fit.clearance, 0.0);
    let text = fit.findings[0].to_string();
    assert!(text.contains("0.00 mm of clearance"), "{text}");
}

#[test]
fn tolerances_add_up_at_their_worst() {
    let fit = check_bearing_in_bracket(&BearingInBracket {
        bearing_tolerance: 0.1,
        spacer_tolerance: 0.05,
        bracket_tolerance: 0.2,
        ..bracket(22.2, 7.8, 38.1)
    })
    .expect("widths");
    // 38.1 - 37.8 = 0.3, give or take 0.1 + 2 x 0.05 + 0.2
    assert!((fit.clearance - 0.3).abs() < 1e-12);
    assert!((fit.least_clearance + 0.1).abs() < 1e-12);
    assert!((fit.largest_clearance - 0.7).abs() < 1e-12);
    // Parts at the wrong end of their tolerance do not go in, and whoever builds has no other ones.
    let finding = &fit.findings[0];
    assert_eq!(finding.verdict, Verdict::Fails);
    assert!(finding.to_string().contains("at worst"), "{finding}");
}

/// Both remedies, done exactly as they are written in inches, hold with the tolerances at their worst; a little less or
/// more does not.
#[test]
fn remedies_count_the_tolerances() {
    const INCH: f64 = 25.4;
    let asked = |spacer: f64, width: f64| BearingInBracket {
        bracket_tolerance: 0.01 * INCH,
        ..bracket(1.5 * INCH, spacer * INCH, width * INCH)
    };
    let verdict =
        |question: &BearingInBracket| check_bearing_in_bracket(question).expect("widths").findings[0].verdict;
    let mut seen = Vec::new();
    // Too wide as it is; too wide at worst; too loose at worst; far too loose; without a spacer.
    for (spacer, width) in [
        (0.25, 1.99),
        (0.245, 1.9937),
        (0.24, 2.0037),
        (0.2, 2.1),
        (0.0, 1.6),
    ] {
        let question = asked(spacer, width);
        let fit = check_bearing_in_bracket(&question).expect("widths");
        let finding = &fit.findings[0];
        assert_eq!(finding.verdict, Verdict::Fails, "{finding}");
        assert!(!finding.remedies.is_empty(), "{finding}");
        for remedy in &finding.remedies {
            let said = remedy
                .sentence
                .render(|value, _, rounding| rounding.text(value / INCH, INCH, 3));
            let numbers: Vec<f64> = said.split(' ').filter_map(|word| word.parse().ok()).collect();
            let [least, most] = numbers.as_slice() else {
                panic!("{said}")
            };
            assert!(least <= most, "{said}");
            let changed = |by: f64| {
                let mut other = question.clone();
                match remedy.kind {
                    RemedyKind::ShorterSpacers => other.spacer_length -= by * INCH,
                    RemedyKind::LongerSpacers => other.spacer_length += by * INCH,
                    RemedyKind::WiderBracket => other.bracket_width += by * INCH,
                    kind => panic!("{kind:?}"),
                }
                verdict(&other)
            };
            assert_eq!([changed(*least), changed(*most)], [Verdict::Holds; 2], "{said}");
            assert_eq!(
                [changed(least - 0.002), changed(most + 0.002)],
                [Verdict::Fails; 2],
                "{said}"
            );
            seen.push(remedy.kind);
        }
    }
    for kind in [
        RemedyKind::ShorterSpacers,
        RemedyKind::LongerSpacers,
        RemedyKind::WiderBracket,
    ] {
        assert!(seen.contains(&kind), "{kind:?}");
    }
}

/// An inch either way is more than any gap that tightening may close.
#[test]
fn tolerances_wider_than_the_gap_have_no_remedy_but_closer_ones() {
    let fit = check_bearing_in_bracket(&BearingInBracket {
        bracket_tolerance: 25.4,
        ..bracket(38.1, 0.0, 38.1)
    })
    .expect("widths");
    let finding = &fit.findings[0];
    assert_eq!(finding.verdict, Verdict::Fails);
    assert!(finding.remedies.is_empty(), "{finding}");
    assert!(
        finding.to_string().contains("until they are held closer"),
        "{finding}"
    );
}

#[test]
fn too_wide_fails_and_says_by_how_much_to_shorten() {
    let question = bracket(22.2, 8.2, 38.1);
    let fit = check_bearing_in_bracket(&question).expect("widths");
    let finding = &fit.findings[0];
    assert_eq!(finding.verdict, Verdict::Fails);
    let change = finding.remedies[0].change;
    assert!((change + 0.25).abs() < 1e-12, "{change}");
    let mended = BearingInBracket {
        spacer_length: question.spacer_length + change,
        ..question
    };
    let again = check_bearing_in_bracket(&mended).expect("widths");
    assert_eq!(again.findings[0].verdict, Verdict::Holds);
}

#[test]
fn a_wide_gap_fails_since_tightening_bends_the_bracket() {
    let fit = check_bearing_in_bracket(&bracket(22.2, 6.0, 38.1)).expect("widths");
    assert_eq!(fit.findings[0].verdict, Verdict::Fails);
    assert!(fit.findings[0].to_string().contains("washer"));
}

#[test]
fn negative_and_broken_widths_are_refused_by_name() {
    for (question, field) in [
        (bracket(0.0, 7.0, 38.1), "bearing_width"),
        (bracket(22.2, -7.0, 38.1), "spacer_length"),
        (bracket(22.2, 7.0, f64::INFINITY), "bracket_width"),
    ] {
        let error: Error = check_bearing_in_bracket(&question).expect_err(field);
        assert!(error.to_string().contains(field), "{error}");
    }
}
