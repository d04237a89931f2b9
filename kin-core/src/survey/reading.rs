//! One reading: what was measured, the number, and how far it is trusted.

use super::words::point_words;

/// One of the vehicle axes, by what a person measures along it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Axis {
    /// Along the car, forward positive: the station.
    X,
    /// Across the car, left positive: the offset from the centreline.
    Y,
    /// Up: the height above the floor.
    Z,
}

impl Axis {
    /// All three, in the order of coordinates.
    pub const ALL: [Self; 3] = [Self::X, Self::Y, Self::Z];

    /// Its place in a point: 0, 1 or 2.
    #[must_use]
    pub const fn index(self) -> usize {
        match self {
            Self::X => 0,
            Self::Y => 1,
            Self::Z => 2,
        }
    }

    /// What is measured along it: station, offset, height.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::X => "station",
            Self::Y => "offset",
            Self::Z => "height",
        }
    }

    /// The letter of the coordinate.
    #[must_use]
    pub const fn letter(self) -> &'static str {
        match self {
            Self::X => "x",
            Self::Y => "y",
            Self::Z => "z",
        }
    }
}

/// The kinds of readings, each with a standard deviation of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// A distance between two points.
    Tape,
    /// A height above the floor, or over another point.
    Height,
    /// A distance from the centreline, left positive.
    Offset,
    /// A distance along the car, forward positive.
    Station,
    /// The angle of a line to level.
    Angle,
    /// Two points that mirror each other.
    Same,
    /// A length that holds at any travel.
    Rigid,
}

impl Kind {
    /// All kinds.
    pub const ALL: [Self; 7] = [
        Self::Tape,
        Self::Height,
        Self::Offset,
        Self::Station,
        Self::Angle,
        Self::Same,
        Self::Rigid,
    ];

    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Tape => "tape",
            Self::Height => "height",
            Self::Offset => "offset",
            Self::Station => "station",
            Self::Angle => "angle",
            Self::Same => "same",
            Self::Rigid => "rigid",
        }
    }
}

/// What a reading is of. Points are named.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Observed {
    /// The straight distance between two points (mm).
    Distance {
        /// One end.
        from: String,
        /// The other end.
        to: String,
    },
    /// A coordinate of a point (mm), counted from the axes' origin or from another point.
    Coordinate {
        /// The point.
        of: String,
        /// Height, offset or station.
        axis: Axis,
        /// The point it is counted from; none for floor, centreline and axle line.
        from: Option<String>,
    },
    /// The angle of the line between two points to level (rad), positive when `to` is higher.
    Angle {
        /// One end.
        from: String,
        /// The other end.
        to: String,
    },
    /// Two points are mirror images along one axis: no number is read, the value is 0 (mm).
    Mirror {
        /// The point on the left.
        left: String,
        /// The point on the right.
        right: String,
        /// The coordinate that is the same, or opposite for Y.
        axis: Axis,
    },
    /// Two pairs of points are equally far apart: the same arm at two travels, or the arms of both sides. No number is
    /// read, the value is 0 (mm).
    Rigid {
        /// One pair.
        first: [String; 2],
        /// The other pair.
        second: [String; 2],
    },
}

impl Observed {
    /// The kind it belongs to.
    #[must_use]
    pub const fn kind(&self) -> Kind {
        match self {
            Self::Distance { .. } => Kind::Tape,
            Self::Coordinate { axis: Axis::X, .. } => Kind::Station,
            Self::Coordinate { axis: Axis::Y, .. } => Kind::Offset,
            Self::Coordinate { axis: Axis::Z, .. } => Kind::Height,
            Self::Angle { .. } => Kind::Angle,
            Self::Mirror { .. } => Kind::Same,
            Self::Rigid { .. } => Kind::Rigid,
        }
    }

    /// The points it is about.
    #[must_use]
    pub fn points(&self) -> Vec<&str> {
        match self {
            Self::Distance { from, to } | Self::Angle { from, to } => vec![from, to],
            Self::Coordinate { of, from, .. } => {
                std::iter::once(of.as_str()).chain(from.as_deref()).collect()
            }
            Self::Mirror { left, right, .. } => vec![left, right],
            Self::Rigid { first, second } => first.iter().chain(second).map(String::as_str).collect(),
        }
    }

    /// It in words, such as "the tape from lower rear pivot to lower ball joint".
    #[must_use]
    pub fn words(&self) -> String {
        let say = |name: &str| point_words(name);
        match self {
            Self::Distance { from, to } => format!("the tape from {} to {}", say(from), say(to)),
            Self::Coordinate { of, axis, from: None } => format!("the {} of {}", axis.word(), say(of)),
            Self::Coordinate {
                of,
                axis,
                from: Some(from),
            } => format!("the {} of {} from {}", axis.word(), say(of), say(from)),
            Self::Angle { from, to } => {
                format!("the angle to level of the line from {} to {}", say(from), say(to))
            }
            Self::Mirror { left, right, axis } => {
                let (left, right) = (say(left), say(right));
                format!("the same {} of {left} and {right}", axis.word())
            }
            Self::Rigid {
                first: [a, b],
                second: [c, d],
            } => {
                let (a, b, c, d) = (say(a), say(b), say(c), say(d));
                format!("the same length from {a} to {b} as from {c} to {d}")
            }
        }
    }
}

/// A reading as written in the notebook.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// What was measured.
    pub observed: Observed,
    /// The number read (mm, or rad for angles).
    pub value: f64,
    /// What is added to the number to get from where the tape touched to the centres meant (mm): minus the height of a bolt
    /// head for a height read to its top, plus half a tube's diameter for one read to its underside.
    pub offset: f64,
    /// Its standard deviation (mm or rad); the default of its kind when absent.
    pub standard_deviation: Option<f64>,
    /// What its standard deviation is multiplied by, to down-weight a reading by hand; 1 as read.
    pub loosened: f64,
    /// Where it was written, such as `front.csv, line 12`; every message names it.
    pub label: String,
}

impl Reading {
    /// A reading as it stands, without offset, with the standard deviation of its kind.
    #[must_use]
    pub fn new(observed: Observed, value: f64) -> Self {
        Self {
            observed,
            value,
            offset: 0.0,
            standard_deviation: None,
            loosened: 1.0,
            label: String::new(),
        }
    }

    /// A tape between two points (mm).
    #[must_use]
    pub fn tape(from: &str, to: &str, value: f64) -> Self {
        let (from, to) = (from.to_owned(), to.to_owned());
        Self::new(Observed::Distance { from, to }, value)
    }

    /// A coordinate of a point (mm).
    #[must_use]
    pub fn coordinate(of: &str, axis: Axis, value: f64) -> Self {
        let observed = Observed::Coordinate {
            of: of.to_owned(),
            axis,
            from: None,
        };
        Self::new(observed, value)
    }

    /// A height above the floor (mm).
    #[must_use]
    pub fn height(of: &str, value: f64) -> Self {
        Self::coordinate(of, Axis::Z, value)
    }

    /// An offset from the centreline, left positive (mm).
    #[must_use]
    pub fn offset(of: &str, value: f64) -> Self {
        Self::coordinate(of, Axis::Y, value)
    }

    /// A station along the car, forward positive (mm).
    #[must_use]
    pub fn station(of: &str, value: f64) -> Self {
        Self::coordinate(of, Axis::X, value)
    }

    /// How much higher (or further left, further forward) one point is than another (mm).
    #[must_use]
    pub fn difference(of: &str, axis: Axis, from: &str, value: f64) -> Self {
        let observed = Observed::Coordinate {
            of: of.to_owned(),
            axis,
            from: Some(from.to_owned()),
        };
        Self::new(observed, value)
    }

    /// With a standard deviation of its own (mm or rad).
    #[must_use]
    pub fn with_deviation(mut self, standard_deviation: f64) -> Self {
        self.standard_deviation = Some(standard_deviation);
        self
    }

    /// With the place it was written at.
    #[must_use]
    pub fn with_label(mut self, label: impl Into<String>) -> Self {
        self.label = label.into();
        self
    }

    /// It in words, with where it was written.
    #[must_use]
    pub fn words(&self) -> String {
        if self.label.is_empty() {
            self.observed.words()
        } else {
            format!("{} ({})", self.observed.words(), self.label)
        }
    }
}
