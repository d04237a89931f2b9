//! Invented drawings for the tests.

use super::*;

type Place = [f64; 3];

/// An invented double wishbone, left corner (mm forward, left, up).
struct Corner {
    upper_ball: Place,
    lower_ball: Place,
    tie_outer: Place,
    wheel: Place,
    damper_lower: Place,
    lean: f64,
}

const UPPER_FRONT: Place = [150.0, 400.0, 449.0];
const UPPER_REAR: Place = [-170.0, 395.0, 433.0];
const LOWER_FRONT: Place = [150.0, 275.0, 205.0];
const LOWER_REAR: Place = [-165.0, 265.0, 200.0];
const TIE_INNER: Place = [-120.0, 302.0, 214.0];
const DAMPER_UPPER: Place = [-4.0, 478.0, 492.0];
const RADIUS: f64 = 320.0;
const WIDTH: f64 = 225.0;

/// The corner raised by about `z`; good enough for a picture.
fn corner(z: f64) -> Corner {
    let inward = z * z * 2.4e-4;
    Corner {
        upper_ball: [-16.0, 652.0 - z * 0.10 - 2.0 * inward, 462.0 + z],
        lower_ball: [6.0, 690.0 + z * 0.03 - inward, 190.0 + z],
        tie_outer: [-140.0, 668.0 - inward, 211.0 + z],
        wheel: [0.0, 757.0 - z * 0.05 - inward, 320.0 + z],
        damper_lower: [0.0, 540.0 - inward * 0.6, 182.0 + z * 0.66],
        lean: -0.01 - z * 0.000_45,
    }
}

/// Picks the two numbers of a view.
type Pick = fn(Place) -> (f64, f64);

fn parts(corner: &Corner, pick: Pick, wheel: Wheel, labelled: bool) -> Vec<Shape> {
    let label = |text: &str| labelled.then(|| text.to_owned());
    let bar = |from: Place, to: Place, style| {
        Shape::Bar(Bar {
            from: pick(from),
            to: pick(to),
            style,
            label: None,
        })
    };
    let joint = |at: Place, text: &str| {
        Shape::Joint(Joint {
            at: pick(at),
            label: label(text),
        })
    };
    vec![
        Shape::Wheel(wheel),
        bar(corner.lower_ball, corner.upper_ball, BarStyle::Upright),
        bar(UPPER_FRONT, corner.upper_ball, BarStyle::Arm),
        bar(UPPER_REAR, corner.upper_ball, BarStyle::Arm),
        bar(LOWER_FRONT, corner.lower_ball, BarStyle::Arm),
        bar(LOWER_REAR, corner.lower_ball, BarStyle::Arm),
        bar(TIE_INNER, corner.tie_outer, BarStyle::TieRod),
        bar(
            corner.damper_lower,
            DAMPER_UPPER,
            BarStyle::Damper { body: 170.0 },
        ),
        bar(
            corner.damper_lower,
            DAMPER_UPPER,
            BarStyle::Spring {
                diameter: 62.0,
                coils: 9,
            },
        ),
        joint(UPPER_FRONT, "upper front pivot"),
        joint(UPPER_REAR, "upper rear pivot"),
        joint(LOWER_FRONT, "lower front pivot"),
        joint(LOWER_REAR, "lower rear pivot"),
        joint(corner.upper_ball, "upper ball joint"),
        joint(corner.lower_ball, "lower ball joint"),
        joint(TIE_INNER, "tie rod inner"),
        joint(corner.tie_outer, "tie rod outer"),
        joint(corner.damper_lower, "damper lower mount"),
        joint(DAMPER_UPPER, "damper upper mount"),
    ]
}

fn view(name: &str, ways: (Direction, Direction), pick: Pick, wheel: fn(&Corner, Pick) -> Wheel) -> View {
    let layer = |pose, name: &str, z: f64, labelled| {
        let corner = corner(z);
        Layer {
            pose,
            name: name.into(),
            shapes: parts(&corner, pick, wheel(&corner, pick), labelled),
        }
    };
    View {
        layers: vec![
            layer(Pose::Low, "droop 80 mm", -80.0, false),
            layer(Pose::High, "bump 80 mm", 80.0, false),
            layer(Pose::Main, "ride height", 0.0, true),
        ],
        ..View::new(name, ways.0, ways.1)
    }
}

pub(super) fn wishbone() -> Drawing {
    let edge = |corner: &Corner, pick: Pick| Wheel::Edge {
        centre: pick(corner.wheel),
        radius: RADIUS,
        width: WIDTH,
        plane: (corner.lean.sin(), corner.lean.cos()),
    };
    let round = |corner: &Corner, pick: Pick| Wheel::Round {
        centre: pick(corner.wheel),
        radius: RADIUS,
    };
    let above = |corner: &Corner, pick: Pick| Wheel::Edge {
        centre: pick(corner.wheel),
        radius: RADIUS,
        width: WIDTH,
        plane: (0.003, 1.0),
    };
    let mut front = view(
        "Front view",
        (Direction::new("left"), Direction::new("up")),
        |p| (p[1], p[2]),
        edge,
    );
    let dimension = |from, to, place, text: &str| {
        Shape::Dimension(Dimension {
            from,
            to,
            place,
            text: text.into(),
        })
    };
    front.layers[2].shapes.extend([
        Shape::Ground(0.0),
        Shape::Construction(Construction {
            from: (652.0, 462.0),
            to: (-900.0, 380.0),
            label: None,
        }),
        Shape::Construction(Construction {
            from: (690.0, 190.0),
            to: (-900.0, 246.0),
            label: None,
        }),
        Shape::Marker(Marker {
            at: (-3100.0, 322.0),
            label: "instant centre 3.9 m inboard".into(),
        }),
        Shape::Marker(Marker {
            at: (0.0, 66.0),
            label: "roll centre 66 mm".into(),
        }),
        dimension(
            (0.0, 0.0),
            (757.0, 0.0),
            DimensionPlace::Below,
            "half track 757 mm",
        ),
        dimension(
            (265.0, 200.0),
            (690.0, 190.0),
            DimensionPlace::Below,
            "lower arm 425 mm",
        ),
        dimension(
            (757.0, 0.0),
            (757.0, 320.0),
            DimensionPlace::Right,
            "centre 320 mm",
        ),
        dimension(
            (540.0, 182.0),
            (478.0, 492.0),
            DimensionPlace::Along,
            "damper 316.2 mm",
        ),
    ]);
    let mut side = view(
        "Side view",
        (Direction::reversed("forward"), Direction::new("up")),
        |p| (p[0], p[2]),
        round,
    );
    side.layers[2].shapes.push(Shape::Ground(0.0));
    let top = view(
        "Top view",
        (Direction::new("left"), Direction::new("forward")),
        |p| (p[1], p[0]),
        above,
    );
    Drawing {
        title: "Front left corner".into(),
        subtitle: Some("Ride height with droop and bump as ghosts; invented data".into()),
        description: "Double wishbone corner in front, side and top view".into(),
        views: vec![front, side, top],
        ..Drawing::default()
    }
}

pub(super) fn one_view() -> Drawing {
    let mut drawing = wishbone();
    drawing.views.truncate(1);
    drawing.scale_unit = ScaleUnit::inch();
    drawing
}
