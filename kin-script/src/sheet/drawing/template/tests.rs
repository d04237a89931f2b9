use super::*;
use crate::sheet::text_walker::Picture;

/// An invented bracket: three columns of five holes at three quarters of an inch.
fn pattern(page: Page) -> Template {
    let pitch = 19.05;
    let holes = (0..15)
        .map(|index| Hole {
            name: format!("{}{}", ["A", "B", "C"][index / 5], index % 5 + 1),
            at: (
                25.4 + pitch * (index / 5) as f64,
                30.0 + pitch * (index % 5) as f64,
            ),
            diameter: 12.7,
        })
        .collect();
    Template {
        title: "Upper mount, invented".into(),
        notes: vec!["Cut 2.".into()],
        unit: ScaleUnit::inch(),
        page,
        width: 88.9,
        length: 130.0,
        corner_radius: 10.0,
        holes,
    }
}

#[test]
fn a_pattern_is_legible_on_both_papers() {
    for page in [Page::A4, Page::Letter] {
        let picture = Picture::read(&pattern(page).svg().unwrap());
        picture.check_legible();
        assert!(picture.whole_texts.is_empty(), "{:?}", picture.whole_texts);
        assert!(picture.has("C5") && picture.has("0.75") || picture.has("1.75"));
    }
}

#[test]
fn the_picture_has_the_size_of_its_paper_and_its_lines_are_to_scale() {
    let svg = pattern(Page::A4).svg().unwrap();
    let document = roxmltree::Document::parse(&svg).unwrap();
    let root = document.root_element();
    assert_eq!(
        (root.attribute("width"), root.attribute("height")),
        (Some("210mm"), Some("297mm"))
    );
    let view: Vec<f64> = root
        .attribute("viewBox")
        .unwrap()
        .split(' ')
        .map(|part| part.parse().unwrap())
        .collect();
    let millimetres = 210.0 / view[2];
    let circles: Vec<(f64, f64, f64)> = document
        .descendants()
        .filter(|node| node.has_tag_name("circle"))
        .map(|node| {
            ["cx", "cy", "r"].map(|name| node.attribute(name).unwrap().parse::<f64>().unwrap() * millimetres)
        })
        .map(|[x, y, radius]| (x, y, radius))
        .filter(|circle| circle.2 > 2.0)
        .collect();
    assert_eq!(circles.len(), 15);
    // Places are written to a hundredth of a pixel: 0.0026 mm.
    for circle in &circles {
        assert!((circle.2 - 6.35).abs() < 0.003);
    }
    let (first, last) = (circles[0], circles[14]);
    assert!((last.0 - first.0 - 2.0 * 19.05).abs() < 0.006);
    assert!((first.1 - last.1 - 4.0 * 19.05).abs() < 0.006);
}

#[test]
fn the_check_square_has_its_size() {
    for (unit, edge) in [(ScaleUnit::millimetre(), 50.0), (ScaleUnit::inch(), 50.8)] {
        let template = Template {
            unit,
            ..pattern(Page::Letter)
        };
        let svg = template.svg().unwrap();
        let document = roxmltree::Document::parse(&svg).unwrap();
        let lines = document.descendants().filter(|node| node.has_tag_name("line"));
        let long = |node: roxmltree::Node<'_, '_>| {
            let [x1, y1, x2, y2] =
                ["x1", "y1", "x2", "y2"].map(|name| node.attribute(name).unwrap().parse::<f64>().unwrap());
            (x2 - x1).hypot(y2 - y1) * 25.4 / 96.0
        };
        let edges = lines.filter(|node| (long(*node) - edge).abs() < 0.006).count();
        assert!(edges >= 4, "{edges} lines of {edge} mm");
    }
}

#[test]
fn a_plate_too_large_is_told_its_page() {
    let large = Template {
        length: 220.0,
        ..pattern(Page::A4)
    };
    let error = large.svg().unwrap_err().to_string();
    assert!(
        error.contains("A4") && error.contains("on A3 (297 x 420 mm) it does"),
        "{error}"
    );
    let huge = Template {
        length: 2000.0,
        ..pattern(Page::A4)
    };
    assert!(huge.svg().unwrap_err().to_string().contains("none of"));
}

#[test]
fn a_long_plate_lies_on_its_side() {
    let wide = Template {
        width: 200.0,
        length: 60.0,
        holes: vec![Hole {
            name: "1".into(),
            at: (100.0, 30.0),
            diameter: 12.0,
        }],
        ..pattern(Page::A4)
    };
    let svg = wide.svg().unwrap();
    assert!(svg.contains("width=\"297mm\"") && svg.contains("on its side"));
    Picture::read(&svg).check_legible();
}

#[test]
fn holes_that_cannot_be_are_refused() {
    let with = |at: (f64, f64)| {
        let mut template = pattern(Page::A4);
        template.holes[0].at = at;
        template.svg().unwrap_err().to_string()
    };
    assert!(with((4.0, 30.0)).contains("A1 breaks out"));
    assert!(with((44.0, 30.0)).contains("A1 runs into hole B1"));
    // In the rounded corner the straight edges are far enough, the arc is not.
    let mut cornered = pattern(Page::A4);
    cornered.corner_radius = 40.0;
    cornered.holes[0].at = (10.0, 120.0);
    assert!(cornered.svg().unwrap_err().to_string().contains("breaks out"));
}

#[test]
fn one_hole_in_a_narrow_tab_keeps_its_numbers_apart() {
    let tab = Template {
        unit: ScaleUnit::millimetre(),
        width: 24.0,
        length: 40.0,
        corner_radius: 12.0,
        holes: vec![Hole {
            name: "1".into(),
            at: (12.0, 28.0),
            diameter: 10.5,
        }],
        ..pattern(Page::A4)
    };
    let picture = Picture::read(&tab.svg().unwrap());
    picture.check_legible();
    assert!(picture.has("12 mm") && picture.has("50 mm x 50 mm"));
    assert!((tab.edge_distance(&tab.holes[0]) - 12.0).abs() < 1e-12);
}
