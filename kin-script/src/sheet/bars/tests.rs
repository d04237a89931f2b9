use super::*;

fn chart(values: &[f64]) -> BarChart {
    BarChart {
        title: "What moves it".into(),
        name: "Change".into(),
        axis: "deg/in per mm".into(),
        bars: values
            .iter()
            .enumerate()
            .map(|(place, value)| Bar {
                label: format!("upper arm front pivot {place}, forward"),
                value: *value,
                text: format!("{value:.4}"),
            })
            .collect(),
        ..BarChart::default()
    }
}

/// Left and right end of every text, and its height (CSS pixels), as the picture places it.
fn texts(svg: &str) -> Vec<(String, Rect)> {
    let document = roxmltree::Document::parse(svg).expect("an XML document");
    let number = |node: &roxmltree::Node<'_, '_>, name| -> f64 {
        node.attribute(name)
            .and_then(|text| text.parse().ok())
            .expect("a number")
    };
    let texts = document.descendants().filter(|node| node.has_tag_name("text"));
    texts
        .map(|node| {
            let words = node.text().unwrap_or_default().trim().to_owned();
            let (x, y, size) = (number(&node, "x"), number(&node, "y"), number(&node, "font-size"));
            let wide = Type::plain(size).width(&words);
            let left = match node.attribute("text-anchor") {
                Some("end") => x - wide,
                Some("middle") => x - wide / 2.0,
                _ => x,
            };
            (
                words,
                Rect::new(left, y - size / 2.0, left + wide, y + size / 2.0),
            )
        })
        .collect()
}

#[test]
fn no_text_lies_on_another_or_beyond_the_edge() {
    for values in [
        vec![0.0262, -0.0221, 0.018, -0.0129, 0.0001],
        vec![-3.0, -2.0],
        vec![0.5],
        vec![0.0, 0.0],
        vec![2e-5, -1e-6],
        vec![4e7, 1.0],
    ] {
        for width in [360.0, 900.0] {
            let svg = BarChart {
                width,
                ..chart(&values)
            }
            .svg()
            .expect("a chart");
            let texts = texts(&svg);
            for (place, (words, own)) in texts.iter().enumerate() {
                assert!(own.left >= 0.0 && own.right <= width, "{words} at {width}");
                for (others, other) in texts.iter().take(place) {
                    assert!(!own.overlaps(other), "{words} on {others} at {width}");
                }
            }
        }
    }
}

#[test]
fn bars_point_the_way_of_their_sign_and_are_told_in_words() {
    let svg = chart(&[1.0, -2.0]).svg().expect("a chart");
    let document = roxmltree::Document::parse(&svg).expect("an XML document");
    let ends: Vec<f64> = document
        .descendants()
        .filter(|node| node.has_tag_name("polygon"))
        .map(|node| {
            let points = node.attribute("points").expect("points");
            let xs: Vec<f64> = points
                .split(' ')
                .filter_map(|pair| pair.split(',').next()?.parse().ok())
                .collect();
            xs[1] - xs[0]
        })
        .collect();
    assert_eq!(ends.len(), 2);
    assert!(
        ends[0] > 0.0 && (ends[1] + 2.0 * ends[0]).abs() < 0.05,
        "{ends:?}"
    );
    assert!(svg.contains("<title>") && svg.contains("<desc>") && svg.contains("deg/in per mm"));
}

#[test]
fn what_cannot_be_drawn_is_refused() {
    assert!(matches!(chart(&[]).svg(), Err(PictureError::Empty { .. })));
    assert!(matches!(
        chart(&[f64::NAN]).svg(),
        Err(PictureError::NotFinite { .. })
    ));
    assert!(matches!(chart(&[1.0; 61]).svg(), Err(PictureError::Empty { .. })));
}
