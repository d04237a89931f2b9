use proptest::prelude::*;

use super::samples::{camber, damper_length, three_panels, two_models};
use super::*;
use crate::sheet::PictureError;
use crate::sheet::text_walker::Picture;

fn read(figure: &Figure) -> Picture {
    Picture::read(&figure.svg().expect("the figure can be drawn"))
}

#[test]
fn names_units_and_direction_words_are_on_the_picture() {
    let picture = read(&two_models());
    picture.check_legible();
    for words in [
        "Camber over wheel travel",
        "Camber (deg)",
        "Wheel travel (mm)",
        "← droop",
        "bump →",
        "← leans in",
        "leans out →",
        "ride height",
        "stop contact",
        "−80",
    ] {
        assert!(
            picture.has(words),
            "`{words}` missing among {:?}",
            picture.words()
        );
    }
    assert_eq!(picture.title, "Camber over wheel travel");
    assert!(picture.description.contains("original arms"));
}

#[test]
fn every_sample_figure_is_legible_at_every_width() {
    for make in [two_models, damper_length, three_panels] {
        for width in [360.0, 480.0, 700.0, 900.0, 1400.0] {
            let picture = read(&Figure { width, ..make() });
            assert_eq!(picture.size.0, width);
            picture.check_legible();
        }
    }
}

#[test]
fn stroke_zones_and_marks_are_labelled() {
    let picture = read(&damper_length());
    for words in [
        "beyond compressed",
        "on the bump stop",
        "beyond extended",
        "extended 371 mm",
        "tops out at −68.8 mm",
    ] {
        assert!(
            picture.has(words),
            "`{words}` missing among {:?}",
            picture.words()
        );
    }
}

#[test]
fn hostile_names_stay_text() {
    let mut figure = two_models();
    let name = "</text><script>alert(1)</script>\u{0}\u{202e}&\"'";
    figure.title = name.into();
    figure.subtitle = Some(name.into());
    figure.description = name.into();
    figure.x.name = name.into();
    figure.panels[0].series[0].name = name.into();
    figure.panels[0].y.low_words = Some(name.into());
    figure.limits[0].label = name.into();
    let svg = figure.svg().unwrap();
    assert!(!svg.contains("<script"));
    let picture = Picture::read(&svg);
    picture.check_legible();
    assert_eq!(picture.title, "</text><script>alert(1)</script> &\"'");
}

#[test]
fn long_names_are_wrapped_or_shortened_with_the_whole_kept() {
    let mut figure = three_panels();
    let long =
        "a lower arm lengthened by 25 mm with the outer ball joint moved forward and the upper mount raised "
            .repeat(4);
    figure.title = long.clone();
    figure.x.name = long.clone();
    for panel in &mut figure.panels {
        panel.y.name = long.clone();
        panel.y.high_words = Some(long.clone());
        panel.series[0].name = long.clone();
        panel.marks.push(Mark {
            at: (10.0, panel.series[0].points[20].1),
            label: long.clone(),
        });
    }
    figure.limits[1].label = long.clone();
    let picture = read(&figure);
    picture.check_legible();
    assert!(
        picture
            .whole_texts
            .iter()
            .filter(|text| text.as_str() == long.trim())
            .count()
            >= 8
    );
}

#[test]
fn the_same_figure_gives_the_same_bytes() {
    assert_eq!(three_panels().svg().unwrap(), three_panels().svg().unwrap());
}

#[test]
fn crowded_and_odd_figures_stay_legible() {
    let mut figure = two_models();
    figure.panels[0].series = (0..12)
        .map(|index| Series::new(format!("arm {index}"), camber(0.01, 0.0)))
        .collect();
    figure.limits = (0..7)
        .map(|index| Limit {
            at: f64::from(index),
            label: format!("limit number {index}"),
            kind: LimitKind::Stop,
        })
        .collect();
    figure.panels[0].marks = (0..9)
        .map(|index| Mark {
            at: (f64::from(index), -0.6),
            label: format!("mark {index}"),
        })
        .collect();
    read(&figure).check_legible();
}

#[test]
fn constant_huge_and_tiny_curves_have_readable_axes() {
    for (value, slope) in [
        (0.0, 0.0),
        (-1.25, 0.0),
        (3.0e7, 4.0e5),
        (0.0, 2.0e-9),
        (1.0e5, 1.0e-3),
        (-1e140, 1e130),
    ] {
        let mut figure = two_models();
        figure.panels[0].envelopes.clear();
        let points = (-8..=8).map(f64::from).map(|z| (z, value + slope * z)).collect();
        figure.panels[0].series = vec![Series {
            end_values: true,
            ..Series::new("curve", points)
        }];
        let picture = read(&figure);
        picture.check_legible();
        let numbers = picture
            .texts
            .iter()
            .filter(|text| text.words.ends_with(|last: char| last.is_ascii_digit()));
        assert!(numbers.count() >= 10, "{value} {slope}: {:?}", picture.words());
    }
}

#[test]
fn missing_numbers_break_the_curve() {
    let count = |svg: &str| svg.matches("<polyline").count();
    let mut figure = two_models();
    figure.panels[0].series.truncate(1);
    let whole = count(&figure.svg().unwrap());
    figure.panels[0].series[0].points[10].1 = f64::NAN;
    figure.panels[0].series[0].points[20].0 = f64::INFINITY;
    assert_eq!(count(&figure.svg().unwrap()), whole + 2);
}

#[test]
fn limits_beyond_an_asked_range_are_still_told() {
    let mut figure = damper_length();
    figure.panels[0].y.range = Some((290.0, 350.0));
    figure.x.range = Some((10.0, 40.0));
    let picture = read(&figure);
    picture.check_legible();
    for words in ["↑ extended 371 mm", "↓ compressed 270 mm", "← ride height"] {
        assert!(
            picture.has(words),
            "`{words}` missing among {:?}",
            picture.words()
        );
    }
}

#[test]
fn what_cannot_be_drawn_is_an_error_that_says_what() {
    let nothing = Figure {
        panels: Vec::new(),
        ..two_models()
    };
    assert_eq!(nothing.svg(), Err(PictureError::PanelCount { count: 0 }));
    let mut figure = two_models();
    figure.panels[0].series[1]
        .points
        .iter_mut()
        .for_each(|point| point.1 = f64::NAN);
    let error = figure.svg().unwrap_err().to_string();
    assert!(
        error.contains("longer upper arm") && error.contains("Camber"),
        "{error}"
    );
    let mut figure = two_models();
    figure.panels[0].series.clear();
    figure.panels[0].envelopes.clear();
    assert_eq!(
        figure.svg(),
        Err(PictureError::Empty {
            place: "panel `Camber`".into()
        })
    );
    for width in [0.0, -1.0, f64::NAN, 1e9] {
        assert!(matches!(
            Figure {
                width,
                ..two_models()
            }
            .svg(),
            Err(PictureError::Width { .. })
        ));
    }
    for range in [(3.0, 3.0), (4.0, 1.0), (1e9, 1e9 + 1e-7)] {
        let mut figure = two_models();
        figure.x.range = Some(range);
        assert!(
            matches!(figure.svg(), Err(PictureError::BadRange { .. })),
            "{range:?}"
        );
    }
    let mut figure = two_models();
    figure.limits[0].at = f64::NAN;
    assert!(matches!(figure.svg(), Err(PictureError::NotFinite { .. })));
    let mut figure = two_models();
    figure.panels[0].series[0].points[3].1 = 1e200;
    assert!(matches!(figure.svg(), Err(PictureError::TooLarge { .. })));
}

/// Numbers of every size, now and then not a number.
fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![6 => -500.0..500.0, 1 => any::<f64>(), 1 => Just(f64::NAN), 1 => Just(0.0)]
}

fn any_points() -> impl Strategy<Value = Vec<(f64, f64)>> {
    proptest::collection::vec((any_number(), any_number()), 0..40)
}

proptest! {
    #[test]
    fn any_numbers_give_a_legible_picture_or_an_error(
        curves in proptest::collection::vec(any_points(), 1..6),
        (zone_low, zone_high, limit, across) in (any_number(), any_number(), any_number(), any_number()),
        mark in (-500.0..500.0, -500.0..500.0),
        width in 360.0..1500.0,
    ) {
        let mut figure = damper_length();
        figure.width = width;
        figure.limits.push(Limit { at: across, label: "somewhere".into(), kind: LimitKind::Stop });
        let panel = &mut figure.panels[0];
        panel.series = curves
            .into_iter()
            .map(|points| Series { end_values: true, ..Series::new("any curve", points) })
            .collect();
        panel.bands.push(Band { from: zone_low, to: zone_high, label: "a zone".into(), kind: BandKind::Wanted });
        panel.limits.push(Limit { at: limit, label: "a limit".into(), kind: LimitKind::Reference });
        panel.marks.push(Mark { at: mark, label: "a point".into() });
        if let Ok(svg) = figure.svg() {
            prop_assert!(!svg.contains("NaN") && !svg.contains("inf"));
            Picture::read(&svg).check_legible();
        }
    }
}
