//! What a drawing is made of. Places are millimetres in the plane of the view: along its horizontal direction, then along
//! its vertical one.

/// A drawing: one to three views at the same scale.
///
/// Views that share the horizontal direction stand below each other, aligned; views that share the vertical one, side by side.
#[derive(Debug, Clone)]
pub struct Drawing {
    /// Title, also the `<title>` of the picture.
    pub title: String,
    /// A line below the title.
    pub subtitle: Option<String>,
    /// What the drawing shows, in words, for the `<desc>` of the picture; when empty, the views are listed.
    pub description: String,
    /// Width (CSS pixels), 360 to 4000.
    pub width: f64,
    /// Unit of the scale bar.
    pub scale_unit: ScaleUnit,
    /// One to three views.
    pub views: Vec<View>,
}

impl Default for Drawing {
    fn default() -> Self {
        Self {
            title: String::new(),
            subtitle: None,
            description: String::new(),
            width: 900.0,
            scale_unit: ScaleUnit::millimetre(),
            views: Vec::new(),
        }
    }
}

/// The unit a reader measures with.
#[derive(Debug, Clone, PartialEq)]
pub struct ScaleUnit {
    /// Its sign, such as `mm`.
    pub name: String,
    /// Its length (mm).
    pub millimetres: f64,
}

impl ScaleUnit {
    /// The millimetre.
    pub fn millimetre() -> Self {
        Self {
            name: "mm".into(),
            millimetres: 1.0,
        }
    }

    /// The inch, 25.4 mm.
    pub fn inch() -> Self {
        Self {
            name: "in".into(),
            millimetres: 25.4,
        }
    }
}

/// One view.
#[derive(Debug, Clone)]
pub struct View {
    /// Name, such as `Front view`.
    pub name: String,
    /// Where the first number of a place grows to.
    pub horizontal: Direction,
    /// Where the second number of a place grows to.
    pub vertical: Direction,
    /// Poses, drawn in order, the main one on top.
    pub layers: Vec<Layer>,
    /// Places (mm) that the view reaches besides its parts, such as the middle of the car.
    pub reaches: Vec<(f64, f64)>,
}

impl View {
    /// An empty view.
    pub fn new(name: impl Into<String>, horizontal: Direction, vertical: Direction) -> Self {
        Self {
            name: name.into(),
            horizontal,
            vertical,
            layers: Vec::new(),
            reaches: Vec::new(),
        }
    }
}

/// What growing numbers mean along a direction of a view.
#[derive(Debug, Clone, PartialEq)]
pub struct Direction {
    /// Such as `left`, `up`, `forward`.
    pub words: String,
    /// Growing numbers run to the left, or downwards, on the sheet.
    pub reversed: bool,
}

impl Direction {
    /// Growing numbers run to the right, or upwards, on the sheet.
    pub fn new(words: impl Into<String>) -> Self {
        Self {
            words: words.into(),
            reversed: false,
        }
    }

    /// Growing numbers run to the left, or downwards, on the sheet.
    pub fn reversed(words: impl Into<String>) -> Self {
        Self {
            words: words.into(),
            reversed: true,
        }
    }
}

/// The shapes of one pose.
#[derive(Debug, Clone)]
pub struct Layer {
    /// Drawn in full or as a ghost.
    pub pose: Pose,
    /// Name, such as `droop 80 mm`; shown in the key, and at a ghost's wheel.
    pub name: String,
    /// Shapes.
    pub shapes: Vec<Shape>,
}

/// How a pose is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pose {
    /// In full.
    Main,
    /// A ghost in long dashes.
    Low,
    /// A ghost in dots.
    High,
}

/// A part of a view.
#[derive(Debug, Clone)]
pub enum Shape {
    /// A straight part.
    Bar(Bar),
    /// A joint.
    Joint(Joint),
    /// The outline of a wheel.
    Wheel(Wheel),
    /// The ground, at a height along the vertical direction (mm).
    Ground(f64),
    /// A measured distance.
    Dimension(Dimension),
    /// A thin line that is no part.
    Construction(Construction),
    /// A point that is no joint.
    Marker(Marker),
    /// The outline of a solid.
    Outline(Outline),
}

/// A straight part between two places.
#[derive(Debug, Clone)]
pub struct Bar {
    /// One end (mm).
    pub from: (f64, f64),
    /// Other end (mm).
    pub to: (f64, f64),
    /// What it is.
    pub style: BarStyle,
    /// Label at its middle.
    pub label: Option<String>,
}

/// What a straight part is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BarStyle {
    /// A link with a joint at each end.
    Link,
    /// A leg of an arm.
    Arm,
    /// The upright, or a spindle on it.
    Upright,
    /// A tie rod.
    TieRod,
    /// The tube of an axle.
    AxleTube,
    /// A damper: its body begins at `from` and is this long (mm); the rod goes on to `to`.
    Damper {
        /// Length of the body (mm).
        body: f64,
    },
    /// A coil spring.
    Spring {
        /// Outer diameter (mm).
        diameter: f64,
        /// Number of coils, 1 to 40.
        coils: u32,
    },
}

/// A joint, drawn as an open circle.
#[derive(Debug, Clone)]
pub struct Joint {
    /// Place (mm).
    pub at: (f64, f64),
    /// Label.
    pub label: Option<String>,
}

/// The outline of a wheel.
#[derive(Debug, Clone, Copy)]
pub enum Wheel {
    /// Seen edge on: a rounded rectangle.
    Edge {
        /// Centre (mm).
        centre: (f64, f64),
        /// Tyre radius (mm).
        radius: f64,
        /// Width (mm).
        width: f64,
        /// A direction in the plane of the wheel, of any length: (sin, cos) of the lean for a wheel seen from the front.
        plane: (f64, f64),
    },
    /// Seen from the side: a circle.
    Round {
        /// Centre (mm).
        centre: (f64, f64),
        /// Tyre radius (mm).
        radius: f64,
    },
}

/// A measured distance with arrowheads; the text is ready for the reader, unit included.
#[derive(Debug, Clone)]
pub struct Dimension {
    /// One measured place (mm).
    pub from: (f64, f64),
    /// Other measured place (mm).
    pub to: (f64, f64),
    /// Where its line stands.
    pub place: DimensionPlace,
    /// Text, such as `half track 757 mm`.
    pub text: String,
}

/// Where the line of a dimension stands, and so which way it measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DimensionPlace {
    /// Below the view, measuring along the horizontal.
    Below,
    /// Left of the view, measuring along the vertical.
    Left,
    /// Right of the view, measuring along the vertical.
    Right,
    /// Beside the two places, measuring between them.
    Along,
}

/// A thin dash-dot line. It does not count for the size of the view and is cut at its edge.
#[derive(Debug, Clone)]
pub struct Construction {
    /// One end (mm).
    pub from: (f64, f64),
    /// Other end (mm).
    pub to: (f64, f64),
    /// Label at its middle.
    pub label: Option<String>,
}

/// A point that is no joint, such as an instant centre, drawn as a cross in a circle. One far outside does not widen the
/// view: its label then stands at the edge with an arrow.
#[derive(Debug, Clone)]
pub struct Marker {
    /// Place (mm).
    pub at: (f64, f64),
    /// Label.
    pub label: String,
}

/// The outline of a solid, closed from its last place to its first.
#[derive(Debug, Clone)]
pub struct Outline {
    /// Places along it (mm), three at least.
    pub places: Vec<(f64, f64)>,
    /// What it is.
    pub kind: OutlineKind,
    /// Label.
    pub label: Option<String>,
    /// Middle, and half the width and height, of a window that the outline was cut to (mm): along its edges no line is
    /// drawn, since the solid does not end there.
    pub window: Option<((f64, f64), (f64, f64))>,
}

/// What an outline is of. The two differ in line and in tint.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OutlineKind {
    /// A part that moves: a thin line.
    Part,
    /// What stands in its way: a thick line.
    Obstacle,
}
