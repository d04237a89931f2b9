use proptest::prelude::*;

use super::samples::{one_view, wishbone};
use super::*;
use crate::sheet::PictureError;
use crate::sheet::text_walker::Picture;

fn read(drawing: &Drawing) -> Picture {
    Picture::read(&drawing.svg().expect("the drawing can be made"))
}

#[test]
fn views_directions_dimensions_and_key_are_labelled() {
    let picture = read(&wishbone());
    picture.check_legible();
    for words in [
        "Front left corner",
        "Front view",
        "Side view",
        "Top view",
        "left",
        "up",
        "forward",
        "half track 757 mm",
        "centre 320 mm",
        "damper 316.2 mm",
        "upper ball joint",
        "ride height",
        "droop 80 mm",
        "bump 80 mm",
        "200 mm",
    ] {
        // A label may stand on two lines.
        let wrapped = words.contains(' ') && picture.words().join(" ").contains(words);
        assert!(
            picture.has(words) || wrapped,
            "`{words}` missing among {:?}",
            picture.words()
        );
    }
    assert_eq!(
        picture.description,
        "Double wishbone corner in front, side and top view"
    );
    assert!(
        picture.words().iter().any(|words| words.starts_with("← instant")),
        "{:?}",
        picture.words()
    );
}

#[test]
fn drawings_are_legible_at_every_width() {
    for make in [wishbone, one_view] {
        for width in [360.0, 500.0, 620.0, 900.0, 1300.0, 2000.0] {
            read(&Drawing { width, ..make() }).check_legible();
        }
    }
}

#[test]
fn lengths_on_the_sheet_are_to_scale() {
    // One bar of 400 mm and its scale bar: pixels over millimetres must agree between the two.
    let bar = Bar {
        from: (0.0, 0.0),
        to: (400.0, 0.0),
        style: BarStyle::TieRod,
        label: None,
    };
    let view = View {
        layers: vec![Layer {
            pose: Pose::Main,
            name: String::new(),
            shapes: vec![Shape::Bar(bar)],
        }],
        ..View::new("Front view", Direction::new("left"), Direction::new("up"))
    };
    let drawing = Drawing {
        views: vec![view],
        scale_unit: ScaleUnit::inch(),
        ..Drawing::default()
    };
    let svg = drawing.svg().unwrap();
    let document = roxmltree::Document::parse(&svg).unwrap();
    let lengths: Vec<f64> = document
        .descendants()
        .filter(|node| node.has_tag_name("line") && node.attribute("y1") == node.attribute("y2"))
        .map(|node| {
            let end = |name| node.attribute(name).unwrap().parse::<f64>().unwrap();
            end("x2") - end("x1")
        })
        .collect();
    let longest = lengths.iter().copied().fold(0.0, f64::max);
    let scale_bar = lengths.last().unwrap();
    let inches: f64 = Picture::read(&svg)
        .words()
        .iter()
        .find_map(|words| words.strip_suffix(" in"))
        .unwrap()
        .parse()
        .unwrap();
    assert!(
        (longest / 400.0 - scale_bar / (inches * 25.4)).abs() < 1e-3,
        "{longest} {scale_bar} {inches}"
    );
}

#[test]
fn ghosts_differ_from_the_main_pose_and_from_each_other_in_dash() {
    let svg = one_view().svg().unwrap();
    assert!(svg.contains("stroke-dasharray=\"9 4\"") && svg.contains("stroke-dasharray=\"1.8 3\""));
}

#[test]
fn hostile_and_long_names_stay_text() {
    let mut drawing = wishbone();
    let name = "</text><script>alert(1)</script>\u{0}&\"'".repeat(5);
    drawing.title = name.clone();
    drawing.description = name.clone();
    drawing.scale_unit.name = name.clone();
    for view in &mut drawing.views {
        view.name = name.clone();
        view.horizontal.words = name.clone();
        view.layers[0].name = name.clone();
    }
    if let Some(Shape::Joint(joint)) = drawing.views[0].layers[2].shapes.get_mut(9) {
        joint.label = Some(name);
    }
    let svg = drawing.svg().unwrap();
    assert!(!svg.contains("<script"));
    Picture::read(&svg).check_legible();
}

#[test]
fn labels_without_room_are_told_in_the_description() {
    let shapes = (0..400)
        .map(|index| {
            Shape::Joint(Joint {
                at: (f64::from(index % 20), f64::from(index / 20)),
                label: Some(format!("joint {index}")),
            })
        })
        .collect();
    let view = View {
        layers: vec![Layer {
            pose: Pose::Main,
            name: String::new(),
            shapes,
        }],
        ..View::new("Front view", Direction::new("left"), Direction::new("up"))
    };
    let picture = read(&Drawing {
        views: vec![view],
        width: 400.0,
        ..Drawing::default()
    });
    picture.check_legible();
    let shown = picture
        .words()
        .iter()
        .filter(|words| words.starts_with("joint"))
        .count();
    let told = picture.description.matches("joint").count();
    assert_eq!(shown + told, 400);
    assert!(told > 0);
}

#[test]
fn the_same_drawing_gives_the_same_bytes() {
    assert_eq!(wishbone().svg().unwrap(), wishbone().svg().unwrap());
}

#[test]
fn what_cannot_be_drawn_is_an_error_that_says_what() {
    let empty = Drawing {
        views: Vec::new(),
        ..Drawing::default()
    };
    assert_eq!(empty.svg(), Err(PictureError::ViewCount { count: 0 }));
    let bare = View::new("Front view", Direction::new("left"), Direction::new("up"));
    let bare = Drawing {
        views: vec![bare],
        ..Drawing::default()
    };
    assert_eq!(
        bare.svg(),
        Err(PictureError::Empty {
            place: "view `Front view`".into()
        })
    );
    let broken = |shape: Shape| {
        let mut drawing = one_view();
        drawing.views[0].layers[2].shapes.push(shape);
        drawing.svg().unwrap_err()
    };
    let bar = |to, style| {
        Shape::Bar(Bar {
            from: (0.0, 0.0),
            to,
            style,
            label: None,
        })
    };
    let wheel = |plane| {
        Shape::Wheel(Wheel::Edge {
            centre: (0.0, 0.0),
            radius: 1.0,
            width: 1.0,
            plane,
        })
    };
    assert!(matches!(
        broken(bar((f64::NAN, 0.0), BarStyle::Arm)),
        PictureError::NotFinite { .. }
    ));
    assert!(matches!(
        broken(bar((1e200, 0.0), BarStyle::Arm)),
        PictureError::TooLarge { .. }
    ));
    assert!(matches!(
        broken(bar((1.0, 0.0), BarStyle::Damper { body: 0.0 })),
        PictureError::NotPositive { .. }
    ));
    assert!(matches!(
        broken(bar(
            (1.0, 0.0),
            BarStyle::Spring {
                diameter: 60.0,
                coils: 4_000_000
            }
        )),
        PictureError::TooLarge { .. }
    ));
    assert!(matches!(
        broken(wheel((0.0, 0.0))),
        PictureError::NotPositive { .. }
    ));
    let error = broken(Shape::Ground(f64::INFINITY)).to_string();
    assert!(
        error.contains("ground") && error.contains("Front view"),
        "{error}"
    );
}

#[test]
fn a_view_of_one_point_and_a_huge_one_are_drawn() {
    for reach in [0.0, 1e-9, 1e12, 1e100] {
        let joint = |at| {
            Shape::Joint(Joint {
                at,
                label: Some("joint".into()),
            })
        };
        let view = View {
            layers: vec![Layer {
                pose: Pose::Main,
                name: String::new(),
                shapes: vec![joint((0.0, 0.0)), joint((reach, 0.0))],
            }],
            ..View::new("Front view", Direction::new("left"), Direction::new("up"))
        };
        read(&Drawing {
            views: vec![view],
            ..Drawing::default()
        })
        .check_legible();
    }
}

fn any_place() -> impl Strategy<Value = (f64, f64)> {
    let number = || prop_oneof![8 => -900.0..900.0, 1 => any::<f64>(), 1 => Just(0.0)];
    (number(), number())
}

proptest! {
    #[test]
    fn any_places_give_a_legible_drawing_or_an_error(
        places in proptest::collection::vec(any_place(), 4..24),
        plane in any_place(),
        size in -10.0..400.0,
        width in 360.0..1500.0,
    ) {
        let mut drawing = wishbone();
        drawing.width = width;
        for (view, pair) in drawing.views.iter_mut().zip(places.chunks_exact(2).cycle()) {
            let (from, to) = (pair[0], pair[1]);
            view.layers[2].shapes.extend([
                Shape::Bar(Bar { from, to, style: BarStyle::Damper { body: size }, label: Some("damper".into()) }),
                Shape::Wheel(Wheel::Edge { centre: to, radius: size, width: 10.0, plane }),
                Shape::Marker(Marker { at: to, label: "marker".into() }),
            ]);
        }
        for pair in places.chunks_exact(2) {
            let shapes = &mut drawing.views[0].layers[2].shapes;
            shapes.push(Shape::Joint(Joint { at: pair[0], label: Some("a joint".into()) }));
            for place in [DimensionPlace::Below, DimensionPlace::Left, DimensionPlace::Right, DimensionPlace::Along] {
                let (from, to) = (pair[0], pair[1]);
                shapes.push(Shape::Dimension(Dimension { from, to, place, text: "a distance".into() }));
            }
        }
        if let Ok(svg) = drawing.svg() {
            prop_assert!(!svg.contains("NaN") && !svg.contains("inf"));
            Picture::read(&svg).check_legible();
        }
    }
}
