//! What a figure is made of: finished numbers and words, nothing computed.

/// A figure: panels one above the other over the same horizontal axis.
#[derive(Debug, Clone)]
pub struct Figure {
    /// Title, also the `<title>` of the picture.
    pub title: String,
    /// A line below the title.
    pub subtitle: Option<String>,
    /// What the picture shows, in words, for the `<desc>` of the picture; when empty, the axes and curves are listed.
    pub description: String,
    /// Width (CSS pixels), 360 to 4000.
    pub width: f64,
    /// The axis all panels share.
    pub x: Axis,
    /// Zones of the shared axis, through all panels.
    pub bands: Vec<Band>,
    /// Positions on the shared axis, as lines through all panels.
    pub limits: Vec<Limit>,
    /// One to six panels, from top to bottom.
    pub panels: Vec<Panel>,
}

impl Default for Figure {
    fn default() -> Self {
        Self {
            title: String::new(),
            subtitle: None,
            description: String::new(),
            width: 900.0,
            x: Axis::default(),
            bands: Vec::new(),
            limits: Vec::new(),
            panels: Vec::new(),
        }
    }
}

/// An axis: its name and unit, the words at its ends, and the range to show.
#[derive(Debug, Clone, Default)]
pub struct Axis {
    /// Name, such as `Camber`.
    pub name: String,
    /// Unit, such as `deg`; empty for a plain ratio.
    pub unit: String,
    /// What lower numbers mean, such as `leans in`.
    pub low_words: Option<String>,
    /// What higher numbers mean, such as `leans out`.
    pub high_words: Option<String>,
    /// Range to show, low and high; from the numbers when not given.
    pub range: Option<(f64, f64)>,
    /// Narrowest range worth showing, so that rounding noise is not blown up; zero for none.
    pub least_span: f64,
}

impl Axis {
    /// An axis by name and unit.
    pub fn new(name: impl Into<String>, unit: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            unit: unit.into(),
            ..Self::default()
        }
    }

    /// The same axis with words for its low and its high end.
    pub fn with_words(mut self, low: impl Into<String>, high: impl Into<String>) -> Self {
        self.low_words = Some(low.into());
        self.high_words = Some(high.into());
        self
    }
}

/// One panel of a figure.
#[derive(Debug, Clone, Default)]
pub struct Panel {
    /// The panel's own axis.
    pub y: Axis,
    /// Curves.
    pub series: Vec<Series>,
    /// Areas between a low and a high curve.
    pub envelopes: Vec<Envelope>,
    /// Zones of the panel's axis.
    pub bands: Vec<Band>,
    /// Values on the panel's axis, as lines across.
    pub limits: Vec<Limit>,
    /// Single points with a label.
    pub marks: Vec<Mark>,
}

impl Panel {
    /// An empty panel with its axis.
    pub fn new(y: Axis) -> Self {
        Self { y, ..Self::default() }
    }
}

/// A curve.
#[derive(Debug, Clone, Default)]
pub struct Series {
    /// Name, written at the curve's end; empty for none.
    pub name: String,
    /// Points in drawing order. A point with a number that is not finite interrupts the curve.
    pub points: Vec<(f64, f64)>,
    /// Weight of the line.
    pub emphasis: Emphasis,
    /// Which hue and dash: the same number looks the same in every panel and figure. By position when not given.
    pub look: Option<usize>,
    /// Write the numbers at both ends of the curve.
    pub end_values: bool,
}

impl Series {
    /// A curve by name and points, at normal weight.
    pub fn new(name: impl Into<String>, points: Vec<(f64, f64)>) -> Self {
        Self {
            name: name.into(),
            points,
            ..Self::default()
        }
    }
}

/// Weight of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Emphasis {
    /// The one the reader came for.
    Strong,
    /// Normal.
    #[default]
    Normal,
    /// For comparison only.
    Quiet,
}

/// The area between a low and a high curve, such as a share of builds within tolerance.
#[derive(Debug, Clone, Default)]
pub struct Envelope {
    /// Name, written beside the panel; empty for none.
    pub name: String,
    /// Position, low value, high value, in drawing order; numbers that are not finite interrupt the area.
    pub points: Vec<(f64, f64, f64)>,
    /// Hue, as for [`Series::look`]; by position when not given.
    pub look: Option<usize>,
}

/// A zone of an axis. Ends may be infinite: then it runs to the edge of the panel.
#[derive(Debug, Clone)]
pub struct Band {
    /// Low end (unit of the axis).
    pub from: f64,
    /// High end (unit of the axis).
    pub to: f64,
    /// What the zone is.
    pub label: String,
    /// How it is drawn.
    pub kind: BandKind,
}

/// How a zone is drawn. Kinds differ in hatching as well as in tint.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BandKind {
    /// Where one wants to be: a plain light tint.
    Wanted,
    /// Allowed with care, such as running on the bump stop: wide hatching one way.
    Care,
    /// Cannot be or must not be, such as beyond a damper's length: close hatching both ways.
    Barred,
}

/// A value worth a line across the panel.
#[derive(Debug, Clone)]
pub struct Limit {
    /// Value (unit of the axis).
    pub at: f64,
    /// What it is, with the number and unit as the reader should see them; empty for none.
    pub label: String,
    /// How it is drawn.
    pub kind: LimitKind,
}

/// How a line across is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LimitKind {
    /// A hard end: a continuous line.
    Stop,
    /// A position to compare with, such as ride height: a dash-dot line.
    Reference,
}

/// A single point with a label. One outside the range of its panel is left out.
#[derive(Debug, Clone)]
pub struct Mark {
    /// Position on the shared axis and on the panel's axis.
    pub at: (f64, f64),
    /// Short label.
    pub label: String,
}
